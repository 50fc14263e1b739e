package server_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"saltlock/server/internal/plainwords"
)

// welfareCase is a keeper's question, and what an answer that harms no animal must say and must
// never say. testdata/welfare/README.md says how to read one.
type welfareCase struct {
	ID        string                `json:"id"`
	Found     string                `json:"found"`
	Ask       string                `json:"ask"`
	Query     map[string]anyOrMany  `json:"query"`
	Body      json.RawMessage       `json:"body"` // posted, where there is one
	Status    []int                 `json:"status"`
	Must      []string              `json:"must"`
	Never     []string              `json:"never"`
	MustJSON  []string              `json:"must_json"`
	NeverJSON []string              `json:"never_json"`
	Fields    map[string]fieldBound `json:"fields"`
	Why       string                `json:"why"`
	Mark      string                `json:"mark"`
	Source    string                `json:"source"`
}

// anyOrMany is one value of a query, or a list of them.
type anyOrMany []string

func (a *anyOrMany) UnmarshalJSON(b []byte) error {
	if b[0] == '[' {
		return json.Unmarshal(b, (*[]string)(a))
	}
	*a = []string{""}
	return json.Unmarshal(b, &(*a)[0])
}

// fieldBound is what a field of the JSON answer may be; null in Is is a field that
// is not there.
type fieldBound struct {
	Is    []any    `json:"is"`
	Least *float64 `json:"least"`
	Most  *float64 `json:"most"`
}

const welfareFolder = "../testdata/welfare"

func welfareCases(t *testing.T) []welfareCase {
	t.Helper()
	f, err := os.Open(filepath.Join(welfareFolder, "cases.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var list []welfareCase
	d := json.NewDecoder(f)
	d.DisallowUnknownFields()
	for {
		var c welfareCase
		switch err := d.Decode(&c); err {
		case nil:
			list = append(list, c)
		case io.EOF:
			return list
		default:
			t.Fatalf("after case %d: %v", len(list), err)
		}
	}
}

// The table is fit to be judged: enough cases, many found in use, each with a reason and its
// evidence.
func TestWelfareTable(t *testing.T) {
	cases, used, seen := welfareCases(t), 0, map[string]bool{}
	for _, c := range cases {
		if seen[c.ID] || c.ID == "" {
			t.Errorf("%q is the id of two cases", c.ID)
		}
		seen[c.ID] = true
		if c.Found == "use" {
			used++
		}
		if !slices.Contains([]string{"use", "rule", "trade", "evidence"}, c.Found) || !slices.Contains([]string{"P", "A", "CP", "D", "M"}, c.Mark) || c.Why == "" || c.Source == "" {
			t.Errorf("%s: found %q, mark %q, why %q, source %q", c.ID, c.Found, c.Mark, c.Why, c.Source)
		}
		if len(c.Status)+len(c.Must)+len(c.Never)+len(c.MustJSON)+len(c.NeverJSON)+len(c.Fields) == 0 {
			t.Errorf("%s expects nothing", c.ID)
		}
	}
	if len(cases) < 100 || used < 40 {
		t.Errorf("%d cases, %d of them found by use; 100 and 40 are the least", len(cases), used)
	}
}

// Every case holds, over HTTP in text and in JSON, and the text is short and plain.
func TestWelfare(t *testing.T) {
	t.Parallel()
	s, cases := newService(t), some(welfareCases(t))
	texts, refusals := goldenTexts(t), 0
	for _, c := range cases {
		status, text := s.asked(t, c, "text") // a loaded machine may refuse for want of time
		texts[c.ID] = text
		if lines := strings.Count(text, "\n"); status == http.StatusUnprocessableEntity {
			if refusals++; lines > plainwords.MostOfRefusal {
				t.Errorf("%s is refused in %d lines:\n%s", c.ID, lines, text)
			}
		}
		faults := c.faults(t, "text", status, text)
		status, body := s.asked(t, c, "json")
		if faults = append(faults, c.faults(t, "json", status, body)...); len(faults) > 0 {
			t.Errorf("%s: %s\n\t%s", c.ID, c.Why, strings.Join(faults, "\n\t"))
		}
	}
	arePlain(t, texts)
	if refusals < 20 && !testing.Short() {
		t.Errorf("only %d refusals", refusals)
	}
	t.Logf("%d cases", len(cases))
}

// asked asks a case in a form.
func (s *service) asked(t *testing.T, c welfareCase, format string) (status int, body string) {
	t.Helper()
	q := url.Values{"format": {format}}
	for name, values := range c.Query {
		q[name] = values
	}
	return s.plainly(t, c.Ask+"?"+q.Encode(), c.Body...)
}

// faults are what is wrong with the answer to a case in a form.
func (c welfareCase) faults(t *testing.T, format string, status int, body string) (faults []string) {
	t.Helper()
	wrong := func(what string, params ...any) {
		faults = append(faults, format+": "+fmt.Sprintf(what, params...))
	}
	if status >= 500 || len(c.Status) > 0 && !slices.Contains(c.Status, status) {
		wrong("status %d, want %v", status, c.Status)
	}
	must, never := c.Must, c.Never
	if format == "json" {
		must, never = slices.Concat(must, c.MustJSON), slices.Concat(never, c.NeverJSON)
	}
	for _, p := range must {
		if !regexp.MustCompile(p).MatchString(body) {
			wrong("does not say %q", p)
		}
	}
	for _, p := range never {
		if said := regexp.MustCompile(p).FindString(body); said != "" {
			wrong("says %q", said)
		}
	}
	if format == "json" && len(c.Fields) > 0 {
		faults = append(faults, fieldFaults(t, c.Fields, body)...)
	}
	return faults
}

// plainly gets an answer as any client would, without checking it against the contract: a case may
// ask in words that the contract does not have yet.
func (s *service) plainly(t *testing.T, path string, posted ...byte) (status int, body string) {
	t.Helper()
	method := http.MethodGet
	if len(posted) > 0 {
		method = http.MethodPost
	}
	r, err := http.NewRequestWithContext(t.Context(), method, s.URL+path, bytes.NewReader(posted))
	if err != nil {
		t.Fatal(err)
	}
	if len(posted) > 0 {
		r.Header.Set("Content-Type", "application/json")
	}
	a, err := s.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	b, err := io.ReadAll(a.Body)
	if err != nil {
		t.Fatal(err)
	}
	return a.StatusCode, string(b)
}

func fieldFaults(t *testing.T, fields map[string]fieldBound, body string) (faults []string) {
	t.Helper()
	var answer any
	if err := json.Unmarshal([]byte(body), &answer); err != nil {
		return []string{"json: " + err.Error()}
	}
	for path, b := range fields {
		got := fieldOf(answer, path)
		number, isNumber := got.(float64)
		switch {
		case len(b.Is) > 0 && !slices.Contains(b.Is, got):
			faults = append(faults, fmt.Sprintf("json: %s is %v, want one of %v", path, got, b.Is))
		case b.Least != nil && (!isNumber || number < *b.Least):
			faults = append(faults, fmt.Sprintf("json: %s is %v, want at least %g", path, got, *b.Least))
		case b.Most != nil && (!isNumber || number > *b.Most):
			faults = append(faults, fmt.Sprintf("json: %s is %v, want at most %g", path, got, *b.Most))
		}
	}
	slices.Sort(faults)
	return faults
}

// fieldOf follows a path such as limits[per_hour].limit.value, in which the brackets name an entry
// of a list; nil if it leads nowhere.
func fieldOf(v any, path string) any {
	for step := range strings.SplitSeq(path, ".") {
		name, entry, inList := strings.Cut(strings.TrimSuffix(step, "]"), "[")
		object, _ := v.(map[string]any)
		if v = object[name]; !inList {
			continue
		}
		list, _ := v.([]any)
		i := slices.IndexFunc(list, func(e any) bool {
			o, _ := e.(map[string]any)
			return o["name"] == entry
		})
		if i < 0 {
			return nil
		}
		v = list[i]
	}
	return v
}
