package server_test

import (
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"
)

// event reports an event at an hour.
func (s savedPlan) event(t testing.TB, hours float64, body, query string, header ...string) answered {
	t.Helper()
	*s.now = nine.Add(time.Duration(hours * float64(time.Hour)))
	return s.call(t, http.MethodPost, s.path+"/events"+query, body, append(header, "Authorization", "Bearer "+s.key)...)
}

// Each event is one call, and its first line is one act.
func TestEventsAreAnsweredByOneAct(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ event, act, verdict string }{
		{"stop", "Close the clamp.", "stopped"},
		{"animals_look_wrong", "Close the clamp.", "stopped"},
		{"power_off", "Close the clamp.", "paused"},
		{"power_back", "Close the clamp.", "paused"},
		{"late", "Close the clamp, then read the salinity and how full the container is.", "paused"},
		{"clamp_touched", "Count the drops: it should be 40 in 10 s.", "on_course"},
		{"refilled", "Read the salinity, the temperature and how full the container is.", "on_course"},
	} {
		s := savePlan(t)
		a := s.event(t, 2, `{"event": "`+c.event+`"}`, "")
		if a.status != http.StatusCreated || a.field(t, "course.now.text") != c.act || a.field(t, "course.verdict") != c.verdict {
			t.Errorf("%s: %d %v, %v", c.event, a.status, a.field(t, "course.verdict"), a.field(t, "course.now.text"))
		}
		if text := s.get(t, s.path+"/now?format=text").body; !strings.HasPrefix(text, c.act+"\n") || strings.Count(text, "\n") != 3 {
			t.Errorf("%s: now says\n%s", c.event, text)
		}
	}
}

// Whatever else is wrong with a report, it is accepted, and the rest is named.
func TestReportsAreNeverRefused(t *testing.T) {
	t.Parallel()
	for name, body := range map[string]string{
		"no temperature":   `{"event": "animals_look_wrong", "salinity": "1.004 SG", "instrument": {"kind": "hydrometer"}}`,
		"unknown unit":     `{"event": "animals_look_wrong", "volume": "three buckets"}`,
		"unknown field":    `{"event": "animals_look_wrong", "mood": "bad"}`,
		"wrong types":      `{"event": "animals_look_wrong", "salinity": 4, "drops": "many", "note": 3}`,
		"no such time":     `{"event": "animals_look_wrong", "time": "just now"}`,
		"ahead":            `{"event": "animals_look_wrong", "time": "2027-01-01T00:00:00Z"}`,
		"before the start": `{"event": "animals_look_wrong", "time": "2026-11-01T00:00:00Z"}`,
		"level, no shape":  `{"event": "animals_look_wrong", "level": "12 cm", "volume": "7 L"}`,
		"brine":            `{"event": "animals_look_wrong", "salinity": "60 g/kg"}`,
		"twice":            `{"event": "animals_look_wrong", "note": "a", "note": "b"}`,
		"behaviour":        `{"event": "animals_look_wrong", "behaviour": "lying down"}`,
		"event unknown":    `{"event": "help", "behaviour": "gasping"}`,
		"huge number":      `{"event": "animals_look_wrong", "drops": 1e999, "drops_in": "10 s"}`,
	} {
		s := savePlan(t)
		a := s.call(t, http.MethodPost, s.path+"/events", body, "Authorization", "Bearer "+s.key)
		if a.status != http.StatusCreated || a.field(t, "course.verdict") != "stopped" || !strings.Contains(a.body, "left_out") || strings.Contains(a.body, ".. ") || strings.Contains(a.body, `..\n`) {
			t.Errorf("%s: %d\n%.700s", name, a.status, a.body)
		}
	}
	for name, header := range map[string][]string{
		"as text":           {"Content-Type", "text/plain"},
		"of no form":        {"Content-Type", ""},
		"for a browser":     {"Accept", "text/html"},
		"for nobody at all": {"Accept", "image/png;q=0.5, application/json;q=0"},
	} {
		s := savePlan(t)
		a := s.call(t, http.MethodPost, s.path+"/events", `{"event": "stop"}`, append(header, "Authorization", "Bearer "+s.key)...)
		if a.status != http.StatusCreated || a.field(t, "course.verdict") != "stopped" {
			t.Errorf("a stop %s: %d\n%.700s", name, a.status, a.body)
		}
	}
	s := savePlan(t)
	a := s.logs(t, 2, `{"behaviour": "gasping", "salinity": "1.004 SG", "instrument": {"kind": "hydrometer"}}`, "")
	if a.status != http.StatusCreated || a.field(t, "course.verdict") != "stopped" || !strings.Contains(a.body, "left_out") {
		t.Errorf("distress without a temperature: %d\n%.700s", a.status, a.body)
	}
	for body, status := range map[string]int{`{"event": "party"}`: 400, `{}`: 400, `{"note": "x"}`: 400, `no`: 400} {
		if a := s.event(t, 2, body, ""); a.status != status {
			t.Errorf("%s: %d\n%.300s", body, a.status, a.body)
		}
	}
	if a := s.call(t, http.MethodPost, s.path+"/events", `{"event": "stop"}`); a.status != http.StatusUnauthorized {
		t.Errorf("without a key: %d", a.status)
	}
}

// After a stop nothing drips, readings are taken as they are, nothing moves nearer to
// the target, and the way on is a new plan after the rest.
func TestAStopMeansStopped(t *testing.T) {
	s := savePlan(t)
	s.logs(t, 2, `{"volume": "7.3(1) L", "salinity": "3.4(1) ppt", "instrument": {"kind": "none"}, "behaviour": "ok"}`, "")
	s.event(t, 3, `{"event": "animals_look_wrong"}`, "")
	for _, read := range [][2]float64{{4, 3.9}, {5, 3.9}, {16, 3.6}} {
		hours, ppt := read[0], read[1]
		a := s.logs(t, hours, fmt.Sprintf(`{"salinity": "%g(1) ppt", "instrument": {"kind": "none"}, "volume": "8 L"}`, ppt), "")
		if a.status != http.StatusCreated || a.field(t, "course.verdict") != "stopped" || strings.Contains(a.body, `"plan":`) {
			t.Fatalf("after %g h: %d\n%.500s", hours, a.status, a.body)
		}
	}
	a := s.get(t, s.path)
	if sp := a.number(t, "course.practical_salinity.value"); sp != 3.6 {
		t.Errorf("it read 3.6 ppt last, and %g is said", sp)
	}
	if back := a.number(t, "course.step_back.practical_salinity.value"); back >= 3.1 || back <= 2.9 {
		t.Errorf("the step back leads to %g ppt; half way from 4 to 2 is 3", back)
	}
	if earliest := a.number(t, "course.way_on.earliest.value"); earliest < 3+24 {
		t.Errorf("the way on is offered after %g h", earliest)
	}
	then := a.field(t, "course.then").([]any)
	if first := then[0].(map[string]any)["code"]; first != "triage_air" {
		t.Errorf("the triage begins with %v", first)
	}
	for _, n := range a.field(t, "course.readings").([]any) {
		if n.(map[string]any)["suspect"] == true {
			t.Errorf("a true reading is suspected: %v", n)
		}
	}
}

// Colder water is warmed first, and salted 12 h later.
func TestPowerFailure(t *testing.T) {
	s := savePlan(t)
	s.logs(t, 1, `{"volume": "6.7(1) L", "temperature": "26 C"}`, "")
	s.event(t, 2, `{"event": "power_off"}`, "")
	if a := s.logs(t, 3, `{"volume": "7.3(1) L"}`, ""); a.field(t, "course.verdict") != "paused" {
		t.Errorf("with the power off it goes on: %v", a.field(t, "course.now"))
	}
	s.event(t, 5, `{"event": "power_back"}`, "")
	if a := s.logs(t, 5.1, `{"volume": "7.3(1) L", "temperature": "23.5 C"}`, ""); a.field(t, "course.now.code") != "act_warm_first" {
		t.Errorf("2.5 degrees colder: %v", a.field(t, "course.now"))
	}
	if a := s.logs(t, 18, `{"volume": "7.3(1) L", "temperature": "25.8 C"}`, ""); a.field(t, "course.now.code") != "now_hold" {
		t.Errorf("by 15:21 at the soonest it was warm, which is less than 12 h ago: %v", a.field(t, "course.now"))
	}
	if a := s.logs(t, 18.5, `{"volume": "7.3(1) L", "temperature": "25.8 C"}`, ""); a.field(t, "course.verdict") == "paused" {
		t.Errorf("warm again: %v", a.field(t, "course.now"))
	}
}

// Readings of a phone that was offline come late, and count at the time they were made.
func TestReadingsOutOfOrder(t *testing.T) {
	s := savePlan(t)
	s.logs(t, 3, `{"volume": "8.1(1) L"}`, "")
	a := s.logs(t, 3.1, `{"volume": "7.2(1) L", "time": "2026-12-01T11:00:00Z"}`, "")
	if a.status != http.StatusCreated {
		t.Fatalf("%d\n%.500s", a.status, a.body)
	}
	readings := a.field(t, "course.readings").([]any)
	if first := readings[0].(map[string]any); first["entry"] != 2.0 {
		t.Errorf("first in time is entry %v", first["entry"])
	}
}

// A visit keeps its name from one answer to the next, and looks follow each touch of the clamp
// after 15, 30 and 60 minutes.
func TestCalendarOfATransfer(t *testing.T) {
	s := savePlan(t)
	uids := func() map[string]string {
		visits := map[string]string{}
		for _, m := range calendarEvent.FindAllStringSubmatch(s.get(t, s.path+"/calendar").body, -1) {
			visits[m[2]] = m[1]
		}
		return visits
	}
	before := uids()
	for _, at := range []string{"20261201T091500Z", "20261201T093000Z", "20261201T100000Z"} {
		if before[at] == "" {
			t.Errorf("nobody looks at %s: %v", at, before)
		}
	}
	s.event(t, 2.1, `{"event": "clamp_touched"}`, "")
	after := uids()
	for at, uid := range before {
		if after[at] != uid {
			t.Errorf("the visit of %s was %s and is %s", at, uid, after[at])
		}
	}
	for _, at := range []string{"20261201T112100Z", "20261201T113600Z", "20261201T120600Z"} {
		if after[at] == "" {
			t.Errorf("nobody looks at %s after the clamp was touched", at)
		}
	}
}

var calendarEvent = regexp.MustCompile(`UID:(\S+)\r\nDTSTAMP:\S+\r\nDTSTART:(\S+)\r\n`)

// Many clients that log to one transfer at once wait for each other, and a stop among them is
// accepted.
func TestReportsAmongMany(t *testing.T) {
	s := savePlan(t)
	var wg sync.WaitGroup
	statuses := make([]int, 24)
	for i := range statuses {
		wg.Go(func() {
			path, body := "/readings", `{"behaviour": "ok"}`
			if i%4 == 0 {
				path, body = "/events", `{"event": "stop"}`
			}
			statuses[i] = s.call(t, http.MethodPost, s.path+path, body, "Authorization", "Bearer "+s.key).status
		})
	}
	wg.Wait()
	for i, status := range statuses {
		if status != http.StatusCreated && (i%4 == 0 || status != http.StatusServiceUnavailable) {
			t.Errorf("%d: %d, want 201", i, status)
		}
	}
}
