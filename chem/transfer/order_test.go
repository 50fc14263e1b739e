package transfer

import (
	"errors"
	"slices"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// What works with the container at hand is offered before another container: a stream, more water,
// cups or fewer animals. Offers come after the reasons. It is long because the requests are next
// to what is expected of them.
func TestOrderOfOffers(t *testing.T) {
	crowded := crossing(t, "2 ppt", "10 ppt", animal(tolerance.Hardy))
	crowded.Container = Container{Capacity: read[quantity.Volume](t, "20 L"), StartVolume: read[quantity.Volume](t, "6 L"), Aerated: new(true)}
	crowded.Line = nil // four drops a second at most
	crowded.Animals[0].Count, crowded.Animals[0].Mass = new(6), read[quantity.Mass](t, "3 g")
	fast := sixLitres(t, "20 L", "3.282 g/kg", 2)
	fast.Line.LeastDrip = read[quantity.DripRate](t, "9 drops/s")
	narrow := sixLitres(t, "6.5 L", "0.5 g/kg", 2)
	narrow.Animals = []Animal{animal(tolerance.Hardy)}
	full := crowded
	full.Animals = []Animal{animal(tolerance.Hardy)}
	full.Animals[0].Count, full.Animals[0].Mass, full.Route = new(30), read[quantity.Mass](t, "3 g"), new(ByCups)
	firsts := map[quantity.Code]bool{}
	for name, r := range map[string]Request{"crowded": crowded, "fast": fast, "narrow": narrow, "full": full} {
		none, ok := errors.AsType[*InfeasibleError](second(NewPlan(t.Context(), r)))
		if !ok {
			t.Fatalf("%s: no refusal", name)
		}
		var bought, hinted bool
		for _, f := range none.Faults {
			buys := slices.ContainsFunc(f.Offer, func(c Change) bool { return c.Where == "container.capacity" })
			switch {
			case !f.hint && hinted:
				t.Errorf("%s: the reason %s stands after an offer", name, f.Note.Code)
			case f.hint && len(f.Offer) > 0 && !buys && bought:
				t.Errorf("%s: %s stands after another container", name, f.Note.Code)
			}
			bought, hinted = bought || buys && f.hint, hinted || f.hint
		}
		i := slices.IndexFunc(none.Faults, func(f Fault) bool { return len(f.Offer) > 0 })
		if i < 0 {
			t.Errorf("%s: nothing is offered: %v", name, none)
			continue
		}
		firsts[none.Faults[i].Note.Code] = true
	}
	for _, code := range []quantity.Code{"stream_would_do", "needs_slower_drip", "too_much_ammonia"} {
		if !firsts[code] {
			t.Errorf("%s is not offered first: %v", code, firsts)
		}
	}
}
