package server_test

import (
	"strings"
	"testing"
)

// After a power failure only water that is colder than planned is warmed, and the heaters are plugged
// in again; what was too warm before has cooled as it should.
func TestWarmWaterIsNotWarmed(t *testing.T) {
	t.Parallel()
	const off = `{"event": "power_off"}`
	at := func(celsius string) string { return `{"temperature": "` + celsius + `", "behaviour": "ok"}` }
	back := func(celsius string) string {
		return `{"event": "power_back", "temperature": "` + celsius + `", "behaviour": "ok"}`
	}
	stories := map[string]story{}
	for name, plan := range map[string]string{"drip": keeperBody, "cups": cupsScat, "a ramp": rampScat} {
		stories[name+": still too warm"] = story{plan: plan, steps: []step{{1, "", at("31 C")}, {1.1, "event", off}, {2, "event", back("28.5 C")}}, then: "Let the water cool", not: "arm the water slowly", next: "Unplug the heater"}
		stories[name+": right again"] = story{plan: plan, steps: []step{{1, "", at("30 C")}, {1.1, "event", off}, {4, "event", back("26 C")}}, then: "Plug the heaters in again", not: "arm the water slowly"}
		stories[name+": cold"] = story{plan: plan, steps: []step{{1, "", at("26 C")}, {1.1, "event", off}, {4, "event", back("23.5 C")}}, then: "arm the water"}
		stories[name+": distress before"] = story{plan: plan, steps: []step{{1, "", `{"behaviour": "heavy_mucus"}`}, {1.1, "event", off}, {9, "event", back("25 C")}}, then: "Throw away the water of a canister filter"}
	}
	holds(t, stories)
}

// Where the animals stay in the water in which they were, its end settles nothing: poison and heat
// are told until a test or a thermometer finds them gone.
func TestTheSameWaterAfterTheEnd(t *testing.T) {
	t.Parallel()
	const end = `{"state": "finished"}`
	foul, hot := `{"tan": "4 mg/L N", "temperature": "26 C", "behaviour": "ok"}`, `{"temperature": "33 C", "behaviour": "ok"}`
	direct := `{"route": "direct", "animals": [{"sensitivity": "hardy", "origin": "captive"}], "from": {"salinity": "3 ppt", "temperature": "26 C"}, "to": {"salinity": "5 ppt", "temperature": "26 C"}}`
	holds(t, map[string]story{
		"poison":          {plan: direct, steps: []step{{1, "", foul}, {2, "change", end}}, now: "Change half of the water", not: "in peace", next: "Change half of the water"},
		"a ramp's poison": {plan: rampScat, steps: []step{{1, "", foul}, {2, "change", end}}, now: "Change half of the water", not: "in peace"},
		"heat":            {plan: direct, steps: []step{{1, "", hot}, {2, "change", end}}, now: "Unplug the heater.", not: "in peace"},
		"gone":            {plan: direct, steps: []step{{1, "", foul}, {1.5, "", strings.Replace(foul, "4 mg", "0 mg", 1)}, {2, "change", end}}, now: "Look at the animals"},
	})
}
