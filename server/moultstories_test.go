package server_test

import (
	"strings"
	"testing"
)

// An animal that moults is soft for two days. Whatever else is reported, it is left alone, or moved
// in a cup where all have to move; and no water is exchanged around it for a step back.
func TestAMoultOutlivesOtherReports(t *testing.T) {
	t.Parallel()
	const moult, gasping = `{"behaviour": "moult"}`, `{"behaviour": "loss_of_balance"}`
	const leaveIt, cup = "Do not touch it, move it or step back.", "Move the one that moulted in a cup of its water."
	low := func(litres string) string { return `{"volume": "` + litres + `", "behaviour": "ok"}` }
	holds(t, map[string]story{
		"distress, then a moult": {plan: keeperBody, steps: []step{{1, "", gasping}, {2, "", moult}}, then: leaveIt, not: "half a step back"},
		"a moult, then distress": {plan: keeperBody, steps: []step{{1, "", moult}, {2, "", gasping}}, then: leaveIt, not: "half a step back", next: "See that the air stone runs"},
		"and two days later":     {plan: keeperBody, steps: []step{{1, "", moult}, {50, "", gasping}}, now: "Leave the clamp closed.", not: leaveIt},
		"a moult and ammonia":    {plan: keeperBody, steps: []step{{1, "", moult}, {2, "", `{"tan": "8 mg/L N", "temperature": "26 C", "behaviour": "ok"}`}}, now: "Change half of the water", then: leaveIt, not: "Move the animals"},
		"a moult and a leak":     {plan: keeperBody, steps: []step{{1, "", moult}, {1.2, "", low("4 L")}, {1.3, "", low("3 L")}}, now: "Close the clamp and look under the container.", then: cup, not: leaveIt},
	})
}

// A third of new water is enough where the limit is just exceeded. Of more poison half is changed,
// again and again; and out of a container that leaks they move once, into clean water.
func TestHowMuchPoisonAsksFor(t *testing.T) {
	t.Parallel()
	foul := func(tan string) string { return `{"tan": "` + tan + `", "temperature": "26 C", "behaviour": "ok"}` }
	holds(t, map[string]story{
		"a little too much": {plan: rampScat, steps: []step{{20, "", foul("0.35 mg/L N")}}, now: "Change a third of the water", next: "Change a third of the water"},
		"far too much":      {plan: rampScat, steps: []step{{20, "", foul("4 mg/L N")}}, now: "Change half of the water for clean, dechlorinated water of the same salinity and temperature. Do it again every hour", next: "again every hour"},
		"in a leaking container": {plan: keeperBody, steps: []step{{1, "", foul("8 mg/L N")}, {1.2, "", `{"volume": "4 L"}`}, {1.3, "", `{"volume": "3 L"}`}},
			now: "Close the clamp.", then: "Move the animals into clean, dechlorinated water", not: "with their water into another", next: "Move the animals into clean"},
	})
}

// Where no clamp lets water run, animals in distress need air first.
func TestAirFirstWithoutAClamp(t *testing.T) {
	t.Parallel()
	stories := map[string]story{}
	for name, plan := range map[string]string{"cups": cupsScat, "a ramp": rampScat, "combined": combinedScat} {
		for what, report := range map[string]string{"gasping": `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "something": `{"event": "animals_look_wrong"}`} {
			stories[strings.Join([]string{name, what}, ": ")] = story{plan: plan, steps: []step{{1, "event", report}}, now: "See that the air stone runs", then: "Change the salinity no further.", not: "Change no more water", next: "Change the salinity no further."}
		}
	}
	holds(t, stories)
}
