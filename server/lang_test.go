package server_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"
)

// Every operation that answers with sentences accepts their language, and names it in its ETag.
func TestLanguage(t *testing.T) {
	s := newService(t)
	for path, item := range s.doc.Paths.Map() {
		for method, op := range item.Operations() {
			query := func(name string) bool { return op.Parameters.GetByInAndName("query", name) != nil }
			if query("units") != query("lang") {
				t.Errorf("%s %s takes units: %v, lang: %v", method, path, query("units"), query("lang"))
			}
		}
	}
	for _, q := range questions {
		joint := "?"
		if strings.Contains(q.target, "?") {
			joint = "&"
		}
		plain, english := s.call(t, q.method, q.target, q.body), s.call(t, q.method, q.target+joint+"lang=en", q.body)
		if english.status != http.StatusOK || english.body != plain.body {
			t.Errorf("%s in English: %d\n%s", q.name, english.status, english.body)
		}
		if tag := english.header.Get("ETag"); q.method == http.MethodGet && (tag == "" || tag == plain.header.Get("ETag")) {
			t.Errorf("%s: the ETag %s does not name the language", q.name, tag)
		}
		if p := s.call(t, q.method, q.target+joint+"lang=tlh", q.body).problem(t); p.Status != http.StatusBadRequest || p.Errors[0].Where != "lang" || !strings.Contains(p.Errors[0].Reason, "en") {
			t.Errorf("%s in a language that is not there: %+v", q.name, p)
		}
	}
}

// Whoever asks for text is refused in text, in whichever way it was asked for.
func TestRefusalsInText(t *testing.T) {
	s := newService(t)
	const (
		wrong   = "/v1/mixes/salt?target=35&volume=100%20galons"
		refused = "/v1/transfers/plan?sensitivity=hardy&condition=sick&from_salinity=2ppt&from_temperature=26C&to_salinity=10ppt&to_temperature=26C&container_capacity=20L&container_aerated=true"
	)
	for _, c := range []struct {
		target string
		header []string
		status int
		says   []string // in lines after the first
	}{
		{wrong + "&format=text", nil, 400, []string{"Target: ", "Volume: "}},
		{strings.Replace(wrong, "salt?", "salt.txt?", 1), nil, 400, []string{"Target: "}},
		{wrong, []string{"Accept", "text/plain"}, 400, []string{"Target: "}},
		{refused + "&format=text", nil, 422, []string{"sick"}},
		{"/v1/species/unicorn?format=text", nil, 404, []string{"unicorn"}},
	} {
		a := s.get(t, c.target, c.header...)
		lines := strings.Split(strings.TrimSpace(a.body), "\n")
		if a.status != c.status || a.header.Get("Content-Type") != "text/plain; charset=utf-8" || strings.Contains(a.body, "{") {
			t.Errorf("%s: %d, %s\n%s", c.target, a.status, a.header.Get("Content-Type"), a.body)
		}
		for _, want := range c.says {
			if !slices.ContainsFunc(lines[1:], func(l string) bool { return strings.Contains(l, want) }) {
				t.Errorf("%s: no line with %q after the first in\n%s", c.target, want, a.body)
			}
		}
	}
	if a := s.get(t, wrong+"&format=text", "Accept", "*/*, application/problem+json"); a.header.Get("Content-Type") != "application/problem+json" {
		t.Errorf("a program that reads problem documents is refused in %s", a.header.Get("Content-Type"))
	}
	for _, accept := range []string{"", "*/*", "application/json", "text/html,*/*;q=0.8", "application/json, text/plain;q=0.5"} {
		if a := s.get(t, wrong, "Accept", accept); a.header.Get("Content-Type") != "application/problem+json" {
			t.Errorf("accepting %q: %s", accept, a.header.Get("Content-Type"))
		}
	}
}
