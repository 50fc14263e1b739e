package drip

import (
	"context"
	"errors"
	"math"
	"testing"
)

// replay carries out a schedule by the classical method of Runge and Kutta on the balance
// of salt alone, and checks at every step that no limit of the problem is broken. It is
// long because each check is next to the step that could fail it.
func replay(t testing.TB, p Problem, s Schedule) {
	t.Helper()
	bad := func(format string, args ...any) { t.Helper(); t.Errorf(format, args...) }
	const steps, slack = 200, 1e-6
	gap, mass, clock, water, flow := p.Gap, p.Mass, 0.0, 0.0, 0.0
	if p.Overflow != nil {
		mass = p.Overflow(gap)
	}
	settings, pours := 0, 0
	spacing := p.Visits.Spacing
	if spacing == 0 {
		spacing = DefaultSpacing
	}
	if len(s.Acts) != len(s.Legs)+1 {
		t.Fatalf("%d acts around %d legs", len(s.Acts), len(s.Legs))
	}
	for i, a := range s.Acts {
		if math.Abs(a.Time-clock) > slack*(1+clock) || math.Abs(a.Gap-gap) > slack*gap || math.Abs(a.FromMass-mass) > slack*mass {
			bad("act %d is said to be at %g h, %g g/kg, %g kg; it is at %g, %g, %g", i, a.Time, a.Gap, a.FromMass, clock, gap, mass)
		}
		for _, q := range p.Visits.Quiet {
			if a.Time > q[0]+slack && a.Time < q[1]-slack {
				bad("act %d at %g h lies in quiet hours", i, a.Time)
			}
		}
		if a.Pour {
			pours++
			mass = a.ToMass
			if mass < p.LeastMass(gap)*(1-slack) || mass > a.FromMass {
				bad("act %d pours off to %g kg; %g must stay", i, mass, p.LeastMass(gap))
			}
		} else if a.ToMass != a.FromMass && math.Abs(a.ToMass/a.FromMass-1) > slack {
			bad("act %d changes the mass without a pour-off", i)
		}
		if i == len(s.Legs) {
			break
		}
		leg := s.Legs[i]
		apart := max(spacing, p.Visits.Every)
		if i == 0 {
			apart = max(spacing, p.Visits.First)
		}
		if leg.Hours < apart*(1-slack) {
			bad("leg %d lasts %g h, less than %g", i, leg.Hours, apart)
		}
		switch {
		case a.Set:
			settings++
			flow = leg.Flow
		case a.Close:
			flow = 0
		}
		if math.Abs(flow-leg.Flow) > slack*flow {
			bad("leg %d flows at %g kg/h; the valve was last set to %g", i, leg.Flow, flow)
		}
		if flow > 0 && (flow < p.LeastFlow*(1-slack) || flow > p.MostFlow*(1+slack)) {
			bad("flow %g is not within %g to %g", flow, p.LeastFlow, p.MostFlow)
		}
		if p.Countable != nil && flow > 0 {
			if below, above := p.Countable(flow); math.Abs(below/flow-1) > slack && math.Abs(above/flow-1) > slack {
				bad("flow %g cannot be counted", flow)
			}
		}
		h := leg.Hours / steps
		for range steps {
			if rate, most := flow*gap/mass, p.Rate.At(gap); rate > most*(1+slack) {
				bad("leg %d: %g g/kg/h at %g g/kg; the limit is %g", i, rate, gap, most)
				break
			}
			fall := func(g, later float64) float64 {
				if p.Overflow != nil {
					return -flow * g / p.Overflow(g)
				}
				return -flow * g / (mass + flow*later)
			}
			k1 := fall(gap, 0)
			k2 := fall(gap+h/2*k1, h/2)
			k3 := fall(gap+h/2*k2, h/2)
			k4 := fall(gap+h*k3, h)
			gap += h * (k1 + 2*k2 + 2*k3 + k4) / 6
			if mass += flow * h; p.Overflow != nil {
				mass = p.Overflow(gap)
			} else if mass > p.MostMass(gap)*(1+slack) {
				bad("leg %d: %g kg; the rim is at %g", i, mass, p.MostMass(gap))
				break
			}
		}
		clock, water = clock+leg.Hours, water+flow*leg.Hours
	}
	if gap > p.Tolerance*(1+slack) {
		bad("ends at %g g/kg; the tolerance is %g", gap, p.Tolerance)
	}
	if settings > p.Settings || settings != s.Settings || pours != s.PourOffs {
		bad("%d settings and %d pour-offs; it says %d and %d, %d settings are allowed", settings, pours, s.Settings, s.PourOffs, p.Settings)
	}
	if math.Abs(clock-s.Hours) > slack*clock || math.Abs(water-s.Water) > slack*water {
		bad("takes %g h and %g kg; it says %g and %g", clock, water, s.Hours, s.Water)
	}
	for k, c := range p.Constraints {
		if margin := extremes(c, s); margin < -slack {
			bad("constraint %d is broken by %g", k, -margin)
		}
	}
}

func TestReplayed(t *testing.T) {
	for seed := range uint64(inShort(200, 16)) {
		p := newDice(seed).problem()
		p.Objective = Objective(seed % 4)
		s, err := Solve(context.Background(), p)
		if obstacle, ok := errors.AsType[*Obstacle](err); ok {
			t.Logf("problem %d: %v", seed, obstacle)
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		replay(t, p, s)
		if t.Failed() {
			t.Fatalf("problem %d", seed)
		}
	}
}
