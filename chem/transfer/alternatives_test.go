package transfer

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// Each alternative takes less than the plan of what it is named for, says how it differs, is
// better in something than each other one, and takes no less than a plan that prefers it. It is
// long because all of this is checked on the same plans.
func TestAlternatives(t *testing.T) {
	listed := 0
	for _, r := range []Request{
		sixLitres(t, "20 L", "3.282 g/kg", 4), sixLitres(t, "18 L", "0.5 g/kg", 4), sixLitres(t, "12 L", "1 g/kg", 3),
	} {
		p := plan(t, r)
		asked := map[Preference]Plan{}
		for _, prefer := range []Preference{PreferTime, PreferVisits, PreferWater} {
			with := r
			with.Prefer = &prefer
			asked[prefer] = plan(t, with)
		}
		cost := func(p Plan) map[Preference]float64 {
			return map[Preference]float64{PreferTime: float64(p.Duration.Value), PreferVisits: float64(p.visits()), PreferWater: float64(p.Draw.Volume.Value)}
		}
		for prefer, best := range asked {
			for other, plan := range asked {
				// The search ends within 0.3 % of the optimum.
				if cost(plan)[prefer] < cost(best)[prefer]*(1-3e-3) {
					t.Errorf("asked for least %s it comes to %.4g, asked for least %s to %.4g", prefer, cost(best)[prefer], other, cost(plan)[prefer])
				}
			}
		}
		for i, a := range p.Alternatives {
			listed++
			now := map[Preference]float64{PreferTime: float64(a.Duration.Value), PreferVisits: float64(a.Visits), PreferWater: float64(a.Water.Value)}
			if a.Chosen || now[a.Prefer] >= cost(p)[a.Prefer] {
				t.Errorf("least %s: %+v is no gain on the plan's %.4g", a.Prefer, a, cost(p)[a.Prefer])
			}
			if least := cost(asked[a.Prefer])[a.Prefer]; now[a.Prefer] < least*(1-3e-3) {
				t.Errorf("least %s: %.6g is listed, %.6g planned where it is asked for", a.Prefer, now[a.Prefer], least)
			}
			if len(a.Differences) == 0 {
				t.Errorf("least %s: nothing says how it differs", a.Prefer)
			}
			for k, b := range p.Alternatives {
				if k != i && float64(a.Duration.Value) <= float64(b.Duration.Value) && a.Visits <= b.Visits && a.Water.Value <= b.Water.Value {
					t.Errorf("least %s: nothing is better of %+v than of %+v", b.Prefer, b, a)
				}
			}
		}
	}
	if listed == 0 {
		t.Error("nothing is listed")
	}
}

// visits counts what the keeper must come for, the release included.
func (p Plan) visits() int {
	acts := map[float64]bool{}
	come := func(at quantity.Estimate[quantity.Duration]) { acts[math.Round(float64(at.Value)*1e6)] = true }
	for _, phase := range p.Phases {
		if phase.Kind != Free {
			come(phase.Start)
		}
	}
	for _, c := range p.Draw.Charges {
		come(c.Time)
	}
	return len(acts)
}
