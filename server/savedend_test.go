package server_test

import (
	"net/http"
	"strings"
	"testing"
	"time"
)

// After the rest the way on is a new plan from a reading, and not before.
func TestRestart(t *testing.T) {
	s := savePlan(t)
	s.event(t, 3, `{"event": "animals_look_wrong", "salinity": "3.9(1) ppt", "instrument": {"kind": "none"}, "volume": "8 L"}`, "")
	restart := func(hours float64, body string) answered {
		*s.now = nine.Add(time.Duration(hours * float64(time.Hour)))
		return s.call(t, http.MethodPost, s.path+"/restart", body, "Authorization", "Bearer "+s.key)
	}
	const read = `{"salinity": "2.5(1) ppt", "instrument": {"kind": "none"}, "temperature": "26 C", "volume": "6.5(1) L", "behaviour": "ok"}`
	for _, at := range []float64{5, 60} {
		if a := restart(at, read); a.status != http.StatusConflict || a.problem(t).Errors[0].Where != "/behaviour" {
			t.Errorf("after %g h nobody saw them well: %d %.300s", at, a.status, a.body)
		}
	}
	s.logs(t, 22, `{"behaviour": "ok"}`, "")
	if a := restart(45, read); a.status != http.StatusConflict || a.problem(t).Errors[0].Where != "/time" {
		t.Errorf("well for 23 hours: %d %.300s", a.status, a.body)
	}
	if a := restart(60, strings.Replace(read, `, "behaviour": "ok"`, "", 1)); a.status != http.StatusBadRequest || a.problem(t).Errors[0].Where != "/behaviour" {
		t.Errorf("nobody looks now: %d %.300s", a.status, a.body)
	}
	if a := restart(60, `{"volume": "6.5 L"}`); a.status != http.StatusBadRequest {
		t.Errorf("from nothing: %d %.300s", a.status, a.body)
	}
	a := restart(60, read)
	if a.status != http.StatusCreated || a.field(t, "course.verdict") != "corrected" || a.field(t, "state") != "under_way" {
		t.Fatalf("%d %.500s", a.status, a.body)
	}
	if sp := a.number(t, "course.practical_salinity.value"); sp < 2.4 || sp > 2.6 {
		t.Errorf("it goes on from %g ppt, want 2.5", sp)
	}
	if a := restart(61, read); a.status != http.StatusConflict {
		t.Errorf("of one that is not stopped: %d", a.status)
	}
	if a := s.logs(t, 62, `{"volume": "7.0(1) L"}`, ""); a.status != http.StatusCreated || a.field(t, "course.verdict") == "stopped" {
		t.Errorf("read after it: %d %.300s", a.status, a.body)
	}
}

// A transfer that is over says so, and what goes wrong can still be logged.
func TestFinishedAndCancelled(t *testing.T) {
	for state, first := range map[string]string{"finished": "Look at the animals", "cancelled": "Close the clamp."} {
		s := savePlan(t)
		*s.now = nine.Add(time.Hour)
		a := s.call(t, http.MethodPatch, s.path, `{"state": "`+state+`"}`, "Authorization", "Bearer "+s.key)
		if a.status != http.StatusOK || a.field(t, "state") != state || strings.Contains(a.body, "Start as planned") {
			t.Errorf("%s: %d %.300s", state, a.status, a.body)
		}
		if now := s.get(t, s.path+"/now?format=text").body; !strings.HasPrefix(now, first) {
			t.Errorf("%s: now says\n%s", state, now)
		}
		if a := s.event(t, 20, `{"event": "animals_look_wrong"}`, ""); a.status != http.StatusCreated {
			t.Errorf("%s: distress after it: %d", state, a.status)
		}
	}
}

// An export has every entry, as JSON and as a table.
func TestExport(t *testing.T) {
	s := savePlan(t)
	s.logs(t, 1, `{"volume": "6.7(1) L", "salinity": "2.8 ppt", "instrument": {"kind": "none"}, "drops": 40, "drops_in": "10 s"}`, "")
	s.event(t, 2, `{"event": "late", "tan": "0.3 mg/L N", "nitrite": "0.5 mg/L NO2", "cups": 3}`, "")
	if a := s.get(t, s.path+"/export"); a.status != http.StatusOK || len(a.field(t, "log").([]any)) != 2 || len(a.field(t, "legs").([]any)) < 1 {
		t.Errorf("%d %.500s", a.status, a.body)
	}
	if a := s.get(t, s.path+"/export.csv"); a.status != http.StatusOK || strings.Count(a.body, "\r\n") != 3 || !strings.Contains(a.body, "late") || !strings.Contains(a.body, "40 in 10 s") || !strings.Contains(a.body, ",3,0.3,0.152") {
		t.Errorf("%d %s", a.status, a.body)
	}
}

// The table holds nothing of a note that a terminal obeys, and no formula behind what shows nothing.
func TestExportHoldsNothingHidden(t *testing.T) {
	s := savePlan(t)
	s.logs(t, 1, `{"behaviour": "ok", "note": "\u0000=1+1 \u001b]0;x\u0007 \u202eabc \u009b31m"}`, "")
	if a := s.get(t, s.path+"/export.csv"); a.status != http.StatusOK || !strings.Contains(a.body, ",'=1+1 ]0;x abc 31m") {
		t.Errorf("%d %q", a.status, a.body)
	}
}
