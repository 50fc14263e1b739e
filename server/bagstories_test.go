package server_test

import "testing"

// The bag is to be opened until something shows that the animals are out of it. From then on what is
// wrong comes first, as in any other water.
func TestOutOfTheBagTheBagIsOver(t *testing.T) {
	t.Parallel()
	const off, back, gasping = `{"event": "power_off"}`, `{"event": "power_back"}`, `{"event": "animals_look_wrong", "behaviour": "gasping"}`
	const bag, keep = "Open the bag.", "Change the salinity no further."
	early, out := step{0.1, "", `{"behaviour": "ok"}`}, step{0.5, "", `{"temperature": "26 C", "behaviour": "ok"}`}
	holds(t, map[string]story{
		"no power":                  {plan: bagBody, steps: []step{out, {0.6, "event", off}}, now: "Run a battery air pump", then: keep, not: bag, next: "Run a battery air pump"},
		"no power, read meanwhile":  {plan: bagBody, steps: []step{{0.1, "event", off}, {0.3, "", `{"temperature": "26 C"}`}}, now: "Run a battery air pump", not: bag},
		"the power is back":         {plan: bagBody, steps: []step{out, {0.6, "event", off}, {1, "event", back}}, now: "Read the temperature", then: "See that the air stone runs", not: bag},
		"gasping":                   {plan: bagBody, steps: []step{out, {0.6, "event", gasping}}, now: "See that the air stone runs", then: keep, not: bag, next: "See that the air stone runs"},
		"gasping, well and gasping": {plan: bagBody, steps: []step{{0.5, "event", gasping}, {0.7, "", `{"behaviour": "ok"}`}, {0.9, "event", gasping}}, now: "See that the air stone runs", not: bag},
		"gasping without power":     {plan: bagBody, steps: []step{out, {0.6, "event", off}, {0.7, "event", gasping}}, now: "Run a battery air pump", then: keep, not: bag},
		"cold":                      {plan: bagBody, steps: []step{{0.5, "", `{"temperature": "15 C", "behaviour": "ok"}`}}, now: "Warm the water to", not: bag},
		"ammonia":                   {plan: bagBody, steps: []step{{0.5, "", `{"tan": "3 mg/L N", "temperature": "26 C"}`}}, now: "Move the animals into clean", not: bag},
		"stopped":                   {plan: bagBody, steps: []step{out, {0.6, "event", `{"event": "stop"}`}}, now: keep, not: bag},
		"called off":                {plan: bagBody, steps: []step{out, {0.6, "change", `{"state": "cancelled"}`}}, now: "Change no more water", not: bag},

		"seen in the bag":         {plan: bagBody, steps: []step{early, {0.2, "event", off}}, now: bag, then: "Run a battery air pump", next: bag},
		"gasping in the bag":      {plan: bagBody, steps: []step{{0.5, "event", gasping}}, now: bag, then: "See that the air stone runs"},
		"called off with the bag": {plan: bagBody, steps: []step{early, {0.6, "change", `{"state": "cancelled"}`}}, now: bag},
	})
}
