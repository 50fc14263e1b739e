package server_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
)

// step is what a keeper reports at an hour: an event, a restart, a change of the transfer, or, without
// any of these, a reading.
type step struct {
	hours float64
	kind  string
	body  string
}

// plays reports one step after another and returns the last answer.
func (s savedPlan) plays(t testing.TB, steps []step) (last answered) {
	t.Helper()
	for _, x := range steps {
		*s.now = nine.Add(hoursOf(x.hours))
		switch x.kind {
		case "event":
			last = s.event(t, x.hours, x.body, "")
		case "restart":
			last = s.call(t, http.MethodPost, s.path+"/restart", x.body, "Authorization", "Bearer "+s.key)
		case "change":
			last = s.call(t, http.MethodPatch, s.path, x.body, "Authorization", "Bearer "+s.key)
		default:
			last = s.logs(t, x.hours, x.body, "")
		}
	}
	return last
}

// story is what a keeper reports, and what the answer says then.
type story struct {
	plan  string
	steps []step
	now   string // the beginning of the first line
	then  string // what comes after that
	not   string // what is not said at all
	next  string // what /now says
}

// holds plays stories.
func holds(t *testing.T, stories map[string]story) {
	t.Helper()
	for name, x := range stories {
		s := savePlanOf(t, x.plan)
		is := s.plays(t, x.steps).told(t)
		now := s.get(t, s.path+"/now?format=text").body
		if all := is.now + is.why + is.then + is.warnings; !strings.HasPrefix(is.now, x.now) || !strings.Contains(is.then+is.why+is.warnings, x.then) || x.not != "" && strings.Contains(all, x.not) || !strings.Contains(now, x.next) {
			t.Errorf("%s: %+v\nnow says\n%s", name, is, now)
		}
	}
}

// A container of unknown volume is dripped into by marks, and its log is answered like any other.
func TestADripByMarksIsAnswered(t *testing.T) {
	t.Parallel()
	body := strings.Replace(keeperBody, `"capacity": "20 L", "start_volume": "6 L", `, "", 1)
	if body == keeperBody {
		t.Fatal("the container's volume is not where it was")
	}
	const gasping, ok = `{"event": "animals_look_wrong", "behaviour": "gasping"}`, `{"behaviour": "ok"}`
	holds(t, map[string]story{
		"gasping":           {plan: body, steps: []step{{0.5, "event", gasping}}, now: "Close the clamp.", then: "See that the air stone runs", next: "Close the clamp."},
		"stopped":           {plan: body, steps: []step{{0.5, "event", `{"event": "stop"}`}}, now: "Close the clamp."},
		"no power":          {plan: body, steps: []step{{0.5, "event", `{"event": "power_off"}`}}, now: "Close the clamp.", then: "Run a battery air pump"},
		"the power is back": {plan: body, steps: []step{{0.5, "event", `{"event": "power_off"}`}, {0.6, "event", `{"event": "power_back"}`}}, now: "Leave the clamp closed and read the temperature", then: "See that the air stone runs"},
		"late":              {plan: body, steps: []step{{0.5, "event", `{"event": "late"}`}}, now: "Close the clamp"},
		"all is well":       {plan: body, steps: []step{{0.5, "", ok}}},
		"too salty twice":   {plan: body, steps: []step{{0.5, "", read(6, 5, "")}, {0.6, "", read(6, 5, "")}}},
		"the end":           {plan: body, steps: []step{{0.5, "", ok}, {5, "change", `{"state": "finished"}`}}, now: "Look at the animals"},
		"gasping after it":  {plan: body, steps: []step{{5, "change", `{"state": "finished"}`}, {6, "event", gasping}}, now: "See that the air stone runs"},
	})
}

// Who lives in a tank between two drips, or before one, has no clamp to close and is not caught.
func TestInATankThereIsNoClamp(t *testing.T) {
	t.Parallel()
	combined := strings.Replace(rampBody, `"route": "ramp"`, `"route": "combined", "container": {"capacity": "20 L", "aerated": true}, "line": {"drop_volume": "0.05 mL"}`, 1)
	combined = strings.NewReplacer(`"12 ppt"`, `"30 ppt"`, `"sensitivity": "hardy"`, `"sensitivity": "hardy", "count": 2, "mass": "1 g"`).Replace(combined)
	s := savePlanOf(t, stagedBody)
	released, into := 0.0, 0.0
	for _, p := range s.get(t, s.path).phases(t) {
		if p.Kind == "release" {
			released, into = p.Start.Value, p.ToSalinity.Value
			break
		}
	}
	const ammonia, off = `{"tan": "2 mg/L N", "temperature": "26 C", "behaviour": "ok"}`, `{"event": "power_off"}`
	holds(t, map[string]story{
		"ammonia, as read":      {plan: stagedBody, steps: []step{{released + 1, "", fmt.Sprintf(`{"salinity": "%.1f ppt", "temperature": "26 C", "behaviour": "ok"}`, into)}, {released + 1.5, "", ammonia}}, now: "Change half of the water", not: "lamp", next: "Change half of the water"},
		"ammonia, long after":   {plan: stagedBody, steps: []step{{released + 6, "", ammonia}}, now: "Change half of the water", not: "lamp"},
		"ammonia in the drip":   {plan: stagedBody, steps: []step{{released - 2, "", ammonia}}, now: "Close the clamp.", then: "Move the animals into clean"},
		"no power, long after":  {plan: stagedBody, steps: []step{{released + 6, "event", off}}, now: "Run a battery air pump", not: "lamp"},
		"gasping, long before":  {plan: combined, steps: []step{{30, "event", `{"event": "power_off", "behaviour": "gasping"}`}}, now: "Run a battery air pump", not: "lamp", next: "Run a battery air pump"},
		"the power is back":     {plan: stagedBody, steps: []step{{2, "event", off}, {2.2, "event", `{"event": "power_back"}`}}, now: "Leave the clamp closed and read the temperature"},
		"back, and it was read": {plan: stagedBody, steps: []step{{2, "event", off}, {2.2, "event", `{"event": "power_back"}`}, {2.3, "", `{"temperature": "26 C"}`}}, not: "Read the temperature of the water"},
	})
}
