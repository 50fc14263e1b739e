package server_test

import (
	"net/http"
	"strings"
	"testing"
)

// A restart outranks no distress that it did not know of: phones tell the time to the minute, so what
// is seen just after it is dated before it.
func TestARestartDidNotKnowOfDistress(t *testing.T) {
	t.Parallel()
	const stop, slime = `{"event": "stop"}`, `{"event": "animals_look_wrong", "behaviour": "heavy_mucus", "time": "2026-12-01T12:00:00Z"}`
	again := []step{{1, "event", stop}, {3 + 20./3600, "restart", read(7, 3, "")}}
	holds(t, map[string]story{
		"in the same minute": {plan: keeperBody, steps: append(again[:2:2], step{3 + 30./3600, "event", slime}), now: "Close the clamp.", then: "heavy slime", not: "Set the", next: "Close the clamp."},
		"an hour before":     {plan: keeperBody, steps: append(again[:2:2], step{3.5, "event", strings.Replace(slime, "T12", "T11", 1)}), now: "Close the clamp.", then: "heavy slime", not: "Set the"},
		"without any":        {plan: keeperBody, steps: again, not: "heavy slime"},
	})
}

// Animals that sting are moved in a tub. What is told after a power failure outlives a stop and poison
// until the temperature was read, and the test for ammonia outlives a look that finds them well.
func TestWhatMustNotBeLost(t *testing.T) {
	t.Parallel()
	const off, back = `{"event": "power_off"}`, `{"event": "power_back"}`
	const neonBody = `{"animals": [{"species": "paracheirodon-innesi"}], "from": {"salinity": "10 ppt", "temperature": "26 C"}, "to": {"salinity": "0.2 ppt", "temperature": "26 C"}}`
	poison := `{"tan": "8 mg/L N", "temperature": "26 C", "behaviour": "ok"}`
	holds(t, map[string]story{
		"a stop after the power is back":   {plan: keeperBody, steps: []step{{1, "event", off}, {1.1, "event", back}, {1.2, "event", `{"event": "stop"}`}}, then: "See that the air stone runs"},
		"and the temperature is read":      {plan: keeperBody, steps: []step{{1, "event", off}, {1.1, "event", back}, {1.2, "event", `{"event": "stop"}`}, {1.3, "", `{"temperature": "26 C", "behaviour": "ok"}`}}, not: "canister"},
		"the power is back, and poison":    {plan: keeperBody, steps: []step{{1, "", poison}, {1.1, "event", off}, {1.2, "event", back}}, now: "Close the clamp.", then: "See that the air stone runs", next: "and the surface moves. Move the animals into clean"},
		"gasping in poison":                {plan: keeperBody, steps: []step{{1, "", strings.Replace(poison, "ok", "gasping", 1)}}, now: "Close the clamp.", then: "Use a tub, never a bare hand: they sting.", not: "half a step back", next: "Close the clamp."},
		"a puffer gasping in poison":       {plan: strings.NewReplacer("scatophagus-argus", "dichotomyctere-nigroviridis", "10 ppt", "6 ppt").Replace(keeperBody), steps: []step{{1, "", strings.Replace(poison, "ok", "gasping", 1)}}, then: "clean, dechlorinated water", not: "half a step back"},
		"poison in water that kills, too":  {plan: neonBody, steps: []step{{1, "", `{"tan": "3 mg/L N", "salinity": "9 ppt"}`}}, now: "Move the animals into clean, dechlorinated water at 4.", not: "water at 9 ppt"},
		"something looks wrong":            {plan: keeperBody, steps: []step{{1, "event", `{"event": "animals_look_wrong"}`}}, then: "Take out dead animals at once."},
		"well again, ammonia never tested": {plan: keeperBody, steps: []step{{1, "event", `{"event": "animals_look_wrong"}`}, {1.2, "", `{"behaviour": "ok"}`}}, then: "Test for ammonia."},
		"well again, and it was tested":    {plan: keeperBody, steps: []step{{1, "event", `{"event": "animals_look_wrong"}`}, {1.2, "", `{"behaviour": "ok", "tan": "0 mg/L N", "temperature": "26 C"}`}}, not: "Test for ammonia."},
		"nothing leads back into a bag":    {plan: bagBody, steps: []step{{0.1, "", `{"salinity": "34.5 ppt", "temperature": "25 C", "behaviour": "ok"}`}, {0.5, "event", `{"event": "animals_look_wrong", "behaviour": "heavy_mucus"}`}}, now: "Open the bag.", not: "half a step back"},
	})
}

// What comes late, from a telephone that was offline, closed no clamp at a time of which readings came
// before: the drip ran on then.
func TestAReportThatWasOffline(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, jugBody)
	s.logs(t, 1, `{"salinity": "2.6 ppt", "volume": "6.6 L"}`, "")
	s.logs(t, 2, `{"salinity": "3.3 ppt", "volume": "7.2 L"}`, "")
	a := s.event(t, 2.02, `{"event": "power_back", "salinity": "2.3 ppt", "behaviour": "ok", "time": "2026-12-01T09:20:00Z"}`, "")
	if is := a.field(t, "course.practical_salinity.value").(float64); is < 3 {
		t.Errorf("the container is at %g, and 3.3 was read", is)
	}
}

// Where the day's change is used up, nothing drips until tomorrow.
func TestNothingDripsUntilTomorrow(t *testing.T) {
	t.Parallel()
	const body = `{"animals": [{"species": "gasterosteus-aculeatus", "origin": "captive"}], "container": {"aerated": true, "heated": true, "capacity": "30 L", "start_volume": "8 L", "least_volume": "8 L"}, "line": {"drop_volume": "0.05 mL", "settings": 3}, "from": {"salinity": "25 ppt", "temperature": "14 C"}, "to": {"salinity": "10 ppt", "temperature": "14 C"}, "instrument": {"kind": "refractometer", "temperature_compensated": true}}`
	holds(t, map[string]story{"used up": {plan: body, steps: []step{{2, "", `{"salinity": "21 ppt", "volume": "10 L", "temperature": "14 C", "behaviour": "ok"}`}},
		now: "Close the clamp.", then: "Wait until tomorrow.", not: "or less, keep the air stone"}})
}

// After distress the rest counts from the first look that found the animals well: that a day and a half
// has passed since the sign is not enough, and the refusal says until when, and what to log. A plain
// stop needs no rest.
func TestTheRestCountsFromTheFirstGoodLook(t *testing.T) {
	t.Parallel()
	const slime, good = `{"behaviour": "heavy_mucus", "salinity": "3.5 ppt", "temperature": "26 C", "volume": "7 L"}`, `{"behaviour": "ok"}`
	again := read(7, 3.5, `, "behaviour": "ok"`)
	for name, x := range map[string]struct {
		steps []step
		at    float64
		says  string // nothing if it goes on
	}{
		"nobody looked":             {[]step{{2, "", slime}}, 50, "Log how they behave; they rest from the first good look on, until 4 December 2026, 23:00 UTC"},
		"well for half an hour":     {[]step{{2, "", slime}, {49.5, "", good}}, 50, "the animals rest until 4 December 2026, 22:30 UTC"},
		"well, and slime once more": {[]step{{2, "", slime}, {4, "", good}, {30, "", slime}, {31, "", good}}, 50, "the animals rest until 4 December 2026, 04:00 UTC"},
		"well for a day and a half": {[]step{{2, "", slime}, {13, "", good}, {40, "", good}}, 50, ""},
		"not looked at now":         {[]step{{2, "", slime}, {13, "", good}}, -50, "look at the animals first"},
		"a plain stop":              {[]step{{2, "event", `{"event": "stop"}`}}, 3, ""},
	} {
		s := savePlanOf(t, keeperBody)
		s.plays(t, x.steps)
		body := again
		if x.at < 0 {
			x.at, body = -x.at, read(7, 3.5, "")
		}
		a := s.plays(t, []step{{x.at, "restart", body}})
		if x.says == "" && a.status != http.StatusCreated || x.says != "" && (a.status >= 500 || a.status < 400 || !strings.Contains(a.body, x.says)) {
			t.Errorf("%s: %d %.600s", name, a.status, a.body)
		}
	}
}
