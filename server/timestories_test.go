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
		"and cold":          {plan: keeperBody, steps: []step{{3, "event", `{"event": "late", "temperature": "21 C"}`}}, now: "Close the clamp", then: "Read the salinity, the temperature and how full the container is", next: "Close the clamp"},
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

// What happens before the drip begins is dated when it happened, and no clamp is to be closed first:
// nothing drips yet.
func TestTroubleBeforeTheStart(t *testing.T) {
	t.Parallel()
	later := strings.Replace(keeperBody, "{", `{"start": "2026-12-01T14:00:00Z", `, 1)
	const off, gasping = `{"event": "power_off"}`, `{"event": "animals_look_wrong", "behaviour": "gasping"}`
	holds(t, map[string]story{
		"no power":        {plan: later, steps: []step{{1, "event", off}}, now: "Run a battery air pump", then: "The power failed at 10:00.", not: "dripping", next: "Run a battery air pump"},
		"gasping":         {plan: later, steps: []step{{1, "event", gasping}}, now: "See that the air stone runs", then: "Leave the clamp closed.", not: "after the start", next: "See that the air stone runs"},
		"both":            {plan: later, steps: []step{{1, "event", off}, {1.5, "event", gasping}}, now: "Run a battery air pump", then: "(gasping) at 10:30", not: "Your time"},
		"too warm":        {plan: later, steps: []step{{1, "event", `{"event": "animals_look_wrong", "temperature": "31 C"}`}}, now: "Unplug the heater.", then: "Leave the clamp closed.", not: "close the clamp"},
		"a quarter early": {plan: later, steps: []step{{4.9, "event", gasping}}, now: "Close the clamp."},
		"years early":     {plan: later, steps: []step{{1, "event", strings.Replace(off, "}", `, "time": "2016-12-01T09:00:00Z"}`, 1)}}, then: "The power failed at 10:00."},
		"after its start": {plan: later, steps: []step{{1, "event", off}, {5.5, "event", gasping}}, then: "(gasping) at 14:30"},
	})
}

// While the power is off nothing goes on, and the refusal says why.
func TestNoRestartWithoutPower(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, keeperBody)
	s.event(t, 1, `{"event": "power_off"}`, "")
	a := s.plays(t, []step{{1.5, "restart", read(7, 3, "")}})
	if a.status != 409 || !strings.Contains(a.body, "the power is still off") || strings.Contains(a.body, "is not stopped") {
		t.Errorf("%d\n%s", a.status, a.body)
	}
}

// An entry that arrives hours late, and shows a drip far too fast, closes the clamp although visits were
// missed meanwhile.
func TestLateNewsOfAFastDrip(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, jugBody)
	*s.now = nine.Add(hoursOf(4.5))
	s.call(t, "POST", s.path+"/readings", `{"drops": 120, "drops_in": "10 s", "behaviour": "ok", "time": "2026-12-01T10:00:00Z"}`, "Authorization", "Bearer "+s.key)
	if now := s.get(t, s.path+"/now?format=text").body; !strings.HasPrefix(now, "Close the clamp") || !strings.Contains(now, "Nothing was logged since 10:00.") {
		t.Errorf("now says\n%s", now)
	}
	if text := s.get(t, s.path+"?format=text").body; !strings.HasPrefix(text, "Close the clamp") {
		t.Errorf("it says\n%.600s", text)
	}
}

// A few drops on a prism have its temperature, whatever that of the water: a hot container changes no
// compensated reading.
func TestAHotContainerIsReadOnAColdPrism(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, strings.NewReplacer(`"10 ppt"`, `"5 ppt"`, `"animals": [`, `"route": "direct", "instrument": {"kind": "refractometer", "temperature_compensated": true}, "animals": [`).Replace(jugBody))
	for celsius, want := range map[string]float64{"26 C": 4, "33 C": 4, "8 C": 4} {
		a := s.logs(t, 1, `{"salinity": "4 ppt", "temperature": "`+celsius+`", "behaviour": "gasping"}`, "")
		if is := a.number(t, "course.practical_salinity.value"); is < want-0.2 || is > want+0.2 {
			t.Errorf("at %s 4 ppt are %g", celsius, is)
		}
	}
}
