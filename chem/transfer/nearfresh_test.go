package transfer

import (
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// ofFresh is the animal as one that comes from fresh water, which needs no day's rest before it.
func ofFresh(a Animal) Animal {
	from := tolerance.Band[quantity.Salinity]{Min: new(quantity.Exactly[quantity.Salinity](0))}
	a.Known = &Known{Stage: tolerance.Stage{Preferred: &tolerance.Sourced[quantity.Salinity]{Band: from}}}
	return a
}

// On every way down into fresh water, animals from other waters spend at least a day at 1 to 2
// ppt; freshwater fish need not.
func TestRestBeforeFresh(t *testing.T) {
	for _, class := range []tolerance.Class{tolerance.Hardy, tolerance.Moderate, tolerance.Delicate, tolerance.Invertebrate} {
		for _, from := range []string{"2 ppt", "2.2 ppt", "4 ppt", "7 ppt", "12 ppt"} {
			for name, describe := range map[string]func(*Request){
				"tanks": func(r *Request) { r.HoldingTanks = &HoldingTanks{Volume: read[quantity.Volume](t, "100 L")} },
				"home": func(r *Request) {
					r.HomeTank, r.Route = &HomeTank{Volume: *read[quantity.Volume](t, "100 L")}, new(Ramped)
				},
			} {
				r := crossing(t, from, "0.2 ppt", animal(class))
				r.Line.GreatestDrip = read[quantity.DripRate](t, "20 drops/s")
				describe(&r)
				p := plan(t, r)
				if got := restedNearFresh(p); got < restingDay {
					t.Errorf("%s from %s, %s: %.1f h at 1 to 2 ppt, want a day", class, from, name, got)
				}
			}
		}
	}
	if p := plan(t, crossing(t, "10 ppt", "0.2 ppt", ofFresh(animal(tolerance.Hardy)))); p.Route != Drip {
		t.Errorf("a fish of fresh water goes by %s, want a drip", p.Route)
	}
}

// restedNearFresh is the longest time without a change at 1 to 2 ppt, h.
func restedNearFresh(p Plan) float64 {
	longest, since := 0.0, 0.0
	for _, x := range p.Phases {
		if in := x.FromSalinity.Value; x.Kind != Hold && in >= 1 && in <= 2 {
			longest = max(longest, float64(x.Start.Value)-since)
		}
		if x.Kind != Hold {
			since = float64(x.Start.Value + x.Duration.Value)
		}
	}
	return longest
}
