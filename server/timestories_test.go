package server_test

import (
	"strings"
	"testing"
)

// Whoever came late reads before anything drips again, whatever else was done to the jug or the clamp
// meanwhile.
func TestLateStandsUntilSomethingIsRead(t *testing.T) {
	t.Parallel()
	const late, refilled, touched = `{"event": "late"}`, `{"event": "refilled"}`, `{"event": "clamp_touched"}`
	holds(t, map[string]story{
		"filled up":         {plan: keeperBody, steps: []step{{3, "event", late}, {3.05, "event", refilled}}, now: "Leave the clamp closed, and read", then: "You came late at 12:00.", not: "Look again at", next: "Leave the clamp closed"},
		"the clamp touched": {plan: keeperBody, steps: []step{{3, "event", late}, {3.05, "event", touched}}, now: "Close the clamp, then read", then: "You came late at 12:00.", not: "Count the drops", next: "Close the clamp"},
		"and read":          {plan: keeperBody, steps: []step{{3, "event", late}, {3.05, "event", refilled}, {3.1, "", read(7.2, 3.3, "")}}, not: "You came late"},
		"the power is back": {plan: keeperBody, steps: []step{{1, "event", `{"event": "power_off"}`}, {1.2, "event", `{"event": "power_back"}`}, {1.3, "event", refilled}}, now: "Leave the clamp closed", not: "Look again at"},
	})
}

// A time is printed as it was reported, in every view and on every clock.
func TestTimesAreThoseReported(t *testing.T) {
	t.Parallel()
	for start, times := range map[string][2]string{
		"2026-12-01T09:03:00Z": {"2026-12-01T10:58:00Z", "10:58"}, "2026-12-01T09:14:00Z": {"2026-12-01T10:54:00Z", "10:54"}, "2026-12-01T09:33:00Z": {"2026-12-01T11:10:00Z", "11:10"},
	} {
		s := savePlanOf(t, strings.Replace(keeperBody, "{", `{"start": "`+start+`", `, 1))
		is := s.event(t, 3, `{"event": "animals_look_wrong", "behaviour": "gasping", "time": "`+times[0]+`"}`, "").told(t)
		if !strings.HasPrefix(is.why, "You saw a sign of distress (gasping) at "+times[1]+".") {
			t.Errorf("%s: %+v", times[0], is)
		}
	}
}
