package server_test

import (
	"strings"
	"testing"
)

// Animals in distress on the way out of water that they do not live in go half way at once, as
// their plan said before it began, and do not wait for half a day where they die.
func TestDistressDuringARescue(t *testing.T) {
	t.Parallel()
	for name, x := range map[string]struct{ plan, log, to string }{
		"sea fish in 5 ppt": {`{"animals": [{"species": "zebrasoma-flavescens"}], "from": {"salinity": "5 ppt", "temperature": "26 C"}, "to": {"salinity": "34 ppt", "temperature": "26 C"}}`,
			`{"event": "animals_look_wrong", "behaviour": "loss_of_balance"}`, "ppt at 26 °C"},
		"neon in 9 ppt": {`{"animals": [{"species": "paracheirodon-innesi"}], "from": {"salinity": "10 ppt", "temperature": "26 C"}, "to": {"salinity": "0.2 ppt", "temperature": "26 C"}}`,
			`{"event": "animals_look_wrong", "behaviour": "not_feeding", "salinity": "9 ppt"}`, "at 26 °C"},
	} {
		s := savePlanOf(t, x.plan)
		is := s.event(t, 1, x.log, "").told(t)
		if !strings.HasPrefix(is.now, "Move them now into clean, aerated water") || !strings.Contains(is.now, x.to) || !strings.Contains(is.then, "Check the temperature") {
			t.Errorf("%s: %+v", name, is)
		}
		if now := s.get(t, s.path+"/now?format=text").body; !strings.Contains(now, "Move them now into clean, aerated water") {
			t.Errorf("%s: now says\n%s", name, now)
		}
	}
}

// Where poison is the cause that was found they leave that water for clean water: no water set aside
// is poured into it for a step back.
func TestPoisonNeedsNoStepBack(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, `{"animals": [{"species": "lysmata-amboinensis"}], "from": {"salinity": "33 ppt", "temperature": "25 C"}, "to": {"salinity": "36 ppt", "temperature": "25 C"}, "container": {"capacity": "10 L", "start_volume": "4 L", "aerated": true}}`)
	s.logs(t, 1, `{"tan": "2 mg/L N", "temperature": "25 C"}`, "")
	is := s.event(t, 1.1, `{"event": "animals_look_wrong", "behaviour": "gasping"}`, "").told(t)
	if said := is.now + " " + is.then; !strings.Contains(said, "Move the animals into clean, dechlorinated water") || strings.Contains(said, "half a step back") {
		t.Errorf("%+v", is)
	}
}

// A moult where nothing drips starts no drip again.
func TestMoultInATub(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, `{"animals": [{"species": "lysmata-amboinensis"}], "from": {"salinity": "30 ppt", "temperature": "25 C"}, "to": {"salinity": "34 ppt", "temperature": "25 C"}}`)
	a := s.logs(t, 1, `{"behaviour": "moult"}`, "")
	if strings.Contains(a.body, "Start the drip again") || !strings.Contains(a.body, "Plan again then, from what the water reads") {
		t.Errorf("%.900s", a.body)
	}
}

// Out of a cold bag, the cold of the bag is not what they are to stay in.
func TestColdAfterTheBag(t *testing.T) {
	t.Parallel()
	const body = `{"animals": [{"species": "scatophagus-argus", "origin": "captive"}], "from": {"salinity": "3 ppt", "temperature": "18 C", "hours_in_bag": "30 h", "tan": "5 mg/L N", "ph": "6.5"}, "to": {"salinity": "12 ppt", "temperature": "26 C"}}`
	holds(t, map[string]story{
		"well":       {plan: body, steps: []step{{5, "", `{"temperature": "17 C", "behaviour": "ok"}`}}, now: "Warm the water to 26 °C"},
		"distressed": {plan: body, steps: []step{{5, "", `{"temperature": "17 C", "behaviour": "loss_of_balance"}`}}, then: "Warm the water to 26 °C"},
		"warm again": {plan: body, steps: []step{{5, "", `{"temperature": "17 C", "behaviour": "ok"}`}, {20, "", `{"temperature": "22 C", "behaviour": "ok"}`}}, not: "Warm the water"},
	})
}

// What is to be done at the next change is said with its time, lest somebody does it now.
func TestTheNextChangeHasATime(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, rampScat)
	is := s.logs(t, 1, `{"salinity": "2 ppt", "temperature": "26 C", "behaviour": "ok"}`, "").told(t)
	if !strings.HasPrefix(is.now, "All is going to plan. Change nothing until ") || !strings.HasPrefix(is.then, "Next at ") {
		t.Errorf("%+v", is)
	}
	if now := s.get(t, s.path+"/now?format=text&lang=de").body; !strings.Contains(now, "\nAls Nächstes ") {
		t.Errorf("now says\n%s", now)
	}
}

// Whoever moves animals over while they are to rest from a change that was too fast is told so; and
// what was cooled out of the heat is not warmed back to its edge.
func TestMovedInTheirRest(t *testing.T) {
	t.Parallel()
	const shrimp = `{"animals": [{"species": "palaemon-varians", "origin": "captive"}], "container": {"aerated": true, "capacity": "30 L", "start_volume": "8 L"}, "line": {"drop_volume": "0.05 mL"},
		"from": {"salinity": "5 ppt", "temperature": "26 C"}, "to": {"salinity": "7 ppt", "temperature": "26 C"}, "start": "2026-12-01T08:00:00Z"}`
	holds(t, map[string]story{
		"in their rest":  {plan: jugBody, steps: []step{{1, "", read(6.7, 2.9, "")}, {1.5, "", read(9.5, 4.9, "")}, {1.7, "change", `{"state": "finished"}`}}, then: "before their rest was over at", next: "before their rest was over"},
		"cooled further": {plan: shrimp, steps: []step{{1, "", `{"temperature": "21.5 C", "behaviour": "ok"}`}}, not: "Warm the water"},
		"too cold":       {plan: shrimp, steps: []step{{1, "", `{"temperature": "3 C", "behaviour": "ok"}`}}, then: "Warm the water"},
	})
}
