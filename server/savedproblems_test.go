package server_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"
)

func TestSavedProblems(t *testing.T) {
	s := savePlan(t)
	bearer := []string{"Authorization", "Bearer " + s.key}
	s.logs(t, 1, `{"behaviour": "ok"}`, "")
	for _, c := range []struct {
		name, method, path, body string
		status                   int
		kind, where, says        string
	}{
		{"unknown", "GET", "/v1/transfers/abcdefghijklmnopqrstuvwxyz", "", 404, "not-found", "transfer", ""},
		{"unknown chart", "GET", "/v1/transfers/abcdefghijklmnopqrstuvwxyz/chart.png", "", 404, "not-found", "transfer", ""},
		{"unknown log", "POST", "/v1/transfers/abc/readings", `{"behaviour": "ok"}`, 404, "not-found", "transfer", ""},
		{"moved start", "PATCH", s.path, `{"start": "2026-12-01T10:00:00Z"}`, 409, "conflict", "/start", "move"},
		{"end before the start", "PATCH", s.path, `{"end": "2026-11-01T10:00:00Z"}`, 409, "conflict", "/end", "before"},
		{"end in fifty years", "PATCH", s.path, `{"end": "2076-12-01T10:00:00Z"}`, 422, "out-of-range", "/end", "more than 366 days ahead"},
		{"nothing to change", "PATCH", s.path, `{}`, 400, "invalid-request", "/", ""},
		{"unknown field", "PATCH", s.path, `{"nota": "x"}`, 400, "invalid-request", "/nota", "note"},
		{"from the future", "POST", s.path + "/readings", `{"time": "2026-12-01T12:00:00Z", "behaviour": "ok"}`, 422, "out-of-range", "/time", "in the future"},
		{"nothing read", "POST", s.path + "/readings", `{"note": "all quiet"}`, 400, "invalid-request", "/salinity", ""},
		{"drops in no time", "POST", s.path + "/readings", `{"drops": 12}`, 400, "invalid-request", "/drops_in", "10 s"},
		{"level and volume", "POST", s.path + "/readings", `{"level": "12 cm", "volume": "7 L"}`, 400, "invalid-request", "/level", "one"},
		{"wrong unit", "POST", s.path + "/readings", `{"volume": "7 C"}`, 400, "invalid-request", "/volume", ""},
		{"SG without temperature", "POST", s.path + "/readings", `{"salinity": "1.002 SG", "instrument": {"kind": "hydrometer"}}`, 400, "invalid-request", "/temperature", ""},
		{"brine", "POST", s.path + "/readings", `{"salinity": "60 g/kg", "instrument": {"kind": "none"}}`, 422, "out-of-range", "/salinity", "42"},
		{"unknown behaviour", "POST", s.path + "/readings", `{"behaviour": "fine"}`, 400, "invalid-request", "/behaviour", "gasping"},
		{"long note", "POST", s.path + "/readings", `{"behaviour": "ok", "note": "` + strings.Repeat("x", 1001) + `"}`, 400, "invalid-request", "/note", ""},
		{"starts in ten years", "POST", "/v1/transfers", strings.Replace(savedBody, "{", `{"start": "2036-12-01T09:00:00Z",`, 1), 422, "out-of-range", "/start", "more than 366 days ahead"},
		{"no plan", "POST", "/v1/transfers", strings.Replace(savedBody, `"aerated": true`, `"aerated": false`, 1), 422, "no-plan", "/container/aerated", "air stone"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := s.call(t, c.method, c.path, c.body, bearer...)
			p := a.problem(t)
			if a.status != c.status || p.Type != "/problems/"+c.kind || len(p.Errors) == 0 || p.Errors[0].Where != c.where || !strings.Contains(a.body, c.says) {
				t.Errorf("%d %s\n%.900s", a.status, p.Type, a.body)
			}
		})
	}
	s.logs(t, 2, `{"behaviour": "gasping"}`, "")
	if a := s.get(t, s.path+"/chart.svg"); a.status != http.StatusOK || !strings.Contains(a.body, "stopped") {
		t.Errorf("the chart of a transfer that was stopped: %d %.300s", a.status, a.body)
	}
	if a := s.get(t, s.path+"/calendar"); a.status != http.StatusOK || strings.Count(a.body, "STATUS:CANCELLED") < 2 || !strings.Contains(a.body, "REFRESH-INTERVAL;VALUE=DURATION:PT15M") {
		t.Errorf("the calendar of a transfer that was stopped: %d %.300s", a.status, a.body)
	}
	if a := s.call(t, http.MethodPost, "/v1/transfers", `{"from": {"salinity": "`+strings.Repeat(" ", 1<<16)+`"}}`); a.status != http.StatusRequestEntityTooLarge {
		t.Errorf("a body of more than 64 kB is answered %d", a.status)
	}
}

// Start and end are checked as a pair, whichever is moved, and a transfer is kept for 30 days
// after its end.
func TestStartAndEndOfATransfer(t *testing.T) {
	s := savePlan(t)
	change := func(body string) answered {
		return s.call(t, http.MethodPatch, s.path, body, "Authorization", "Bearer "+s.key)
	}
	if a := change(`{"end": "2027-03-01T10:00:00Z"}`); a.status != http.StatusOK || a.field(t, "expires_at") != "2027-03-31T10:00:00Z" {
		t.Fatalf("%d\n%.300s", a.status, a.body)
	}
	for body, where := range map[string][]string{
		`{"start": "2027-03-02T10:00:00Z"}`:                                {"/start"},
		`{"start": "2027-03-02T10:00:00Z", "end": "2027-03-01T10:00:00Z"}`: {"/end"},
		`{"start": "2016-12-01T10:00:00Z", "end": "2076-12-01T10:00:00Z"}`: {"/start", "/end"},
	} {
		var got []string
		a := change(body)
		for _, e := range a.problem(t).Errors {
			got = append(got, e.Where)
		}
		if !slices.Equal(got, where) {
			t.Errorf("%s: %d %v, want %v\n%s", body, a.status, got, where, a.body)
		}
	}
	if a := change(`{"start": "2027-03-02T10:00:00Z", "end": "2027-03-04T10:00:00Z"}`); a.status != http.StatusOK || a.field(t, "start") != "2027-03-02T10:00:00Z" {
		t.Errorf("both moved: %d\n%.300s", a.status, a.body)
	}
}
