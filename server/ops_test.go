package server_test

import (
	"encoding/json"
	"net/http"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/prometheus/client_golang/prometheus"
	"go.yaml.in/yaml/v3"

	"saltlock/server"
)

// expressions are those of the dashboard and the alert rules, by where they are.
func expressions(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	var board struct {
		Panels []struct {
			Title   string
			Targets []struct{ Expr string }
		}
	}
	text, err := os.ReadFile("ops/dashboard.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &board); err != nil {
		t.Fatal(err)
	}
	for _, p := range board.Panels {
		for _, target := range p.Targets {
			all["panel "+p.Title+": "+target.Expr] = target.Expr
		}
	}
	var rules struct {
		Groups []struct {
			Rules []struct {
				Alert, Expr, For    string
				Labels, Annotations map[string]string
			}
		}
	}
	if text, err = os.ReadFile("ops/alerts.yaml"); err != nil {
		t.Fatal(err)
	}
	if err := yaml.Unmarshal(text, &rules); err != nil {
		t.Fatal(err)
	}
	for _, r := range rules.Groups[0].Rules {
		all["alert "+r.Alert] = r.Expr
		if r.For == "" || r.Labels["severity"] == "" || r.Annotations["summary"] == "" || r.Annotations["action"] == "" {
			t.Errorf("alert %s lacks for, severity, summary or action", r.Alert)
		}
	}
	if len(board.Panels) < 5 || len(all) < 12 {
		t.Fatalf("%d panels, %d expressions", len(board.Panels), len(all))
	}
	return all
}

// The service counts what the dashboard and the alerts ask for: every metric, every label and
// every operation by name.
func TestWatchedMetricsExist(t *testing.T) {
	registry := prometheus.NewRegistry()
	s := newServiceWith(t, server.Options{Registry: registry})
	saved := s.call(t, http.MethodPost, "/v1/transfers", savedBody)
	s.get(t, saved.header.Get("Location"))
	families, err := registry.Gather()
	if err != nil {
		t.Fatal(err)
	}
	labels := map[string]map[string]bool{} // by metric
	for _, f := range families {
		known := map[string]bool{"job": true, "instance": true, "le": f.GetType().String() == "HISTOGRAM"}
		for _, m := range f.GetMetric() {
			for _, l := range m.GetLabel() {
				known[l.GetName()] = true
			}
		}
		labels[f.GetName()] = known
	}
	operations := map[string]bool{}
	for _, item := range s.doc.Paths.Map() {
		for _, o := range item.Operations() {
			operations[o.OperationID] = true
		}
	}
	name := regexp.MustCompile(`\b(?:saltlock|go|process)_\w+`)
	label := regexp.MustCompile(`(\w+)(?:=~|!~|!=|=)"`)
	grouped := regexp.MustCompile(`by \(([^)]*)\)`)
	chosen := regexp.MustCompile(`operation=~?"([^"]*)"`)
	for where, expression := range expressions(t) {
		metrics := name.FindAllString(expression, -1)
		if len(metrics) != 1 {
			t.Errorf("%s asks for %v, want one metric", where, metrics)
			continue
		}
		metric := regexp.MustCompile(`_(bucket|count|sum)$`).ReplaceAllString(metrics[0], "")
		known, ok := labels[metric]
		if !ok {
			t.Errorf("%s: there is no metric %s", where, metrics[0])
			continue
		}
		var used []string
		for _, m := range label.FindAllStringSubmatch(expression, -1) {
			used = append(used, m[1])
		}
		for _, m := range grouped.FindAllStringSubmatch(expression, -1) {
			used = append(used, strings.Split(m[1], ", ")...)
		}
		for _, l := range used {
			if !known[l] {
				t.Errorf("%s: %s has no label %q", where, metric, l)
			}
		}
		for _, m := range chosen.FindAllStringSubmatch(expression, -1) {
			for o := range strings.SplitSeq(m[1], "|") {
				if !operations[o] {
					t.Errorf("%s: the contract has no operation %q", where, o)
				}
			}
		}
	}
}

// Plans are counted by route, the database by act, and no label holds an id.
func TestMetersOfPlansAndStore(t *testing.T) {
	s := newService(t)
	saved := s.call(t, http.MethodPost, "/v1/transfers", savedBody)
	path := saved.header.Get("Location")
	s.get(t, path)
	s.get(t, "/v1/transfers/nothing0nothing0nothing0no")
	for line, want := range map[string]float64{
		`saltlock_store_duration_seconds_count{act="save",result="ok"}`:   1,
		`saltlock_store_duration_seconds_count{act="read",result="ok"}`:   1,
		`saltlock_store_duration_seconds_count{act="read",result="none"}`: 1,
		`saltlock_http_requests_in_flight`:                                1,
	} {
		if got := metric(t, s, line); got != want {
			t.Errorf("%s is %v, want %v", line, got, want)
		}
	}
	text := s.get(t, "/metrics").body
	if !regexp.MustCompile(`saltlock_plans_total\{route="\w+",search="(complete|bounded)"\} 1`).MatchString(text) {
		t.Errorf("the plan is not counted:\n%s", text)
	}
	if strings.Contains(text, strings.TrimPrefix(path, "/v1/transfers/")) {
		t.Error("the metrics hold the id of a transfer")
	}
}
