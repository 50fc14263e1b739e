package drip

import (
	"context"
	"errors"
	"math"
	"testing"
)

// cups is a small problem: a few cups, one or two rounds, one pour-off at most.
func (d dice) cups(seed uint64) CupProblem {
	p := CupProblem{Problem: d.problem()}
	p.Overflow, p.Countable = nil, nil
	p.Gap, p.Mass = d.between(4, 12), d.between(2, 10)
	p.Tolerance = p.Gap / d.between(1.4, 2.6)
	room, least := d.between(1.5, 3), d.between(0.5, 1)
	mass := p.Mass
	p.MostMass = func(float64) float64 { return mass * room }
	p.LeastMass = func(float64) float64 { return mass * least }
	p.Rate = d.rate(p.Gap)
	p.AtOnce = p.Gap * d.between(0.15, 0.5)
	p.MostCup = mass * d.between(0.2, 0.5)
	p.Mark = p.MostCup / float64(2+d.IntN(4))
	p.Settings, p.PourOffs = 1+d.IntN(2), 0
	p.Objective = Objective(seed % 4)
	p.Visits.Spacing = 1.0 / 3
	if seed%5 == 0 {
		p.Visits.Quiet = [][2]float64{{d.between(0.5, 2), 6}}
	}
	return p
}

// Small problems against every possible list of cups. Every second one has a constraint
// on oxygen, ammonia, warmth or the last 24 hours that the best list without it breaks.
// It is long because each problem is made next to where it is checked.
func TestOptimumOfCups(t *testing.T) {
	tried, bound := 0, 0
	for seed := uint64(0); tried < 80 && (tried < inShort(16, 8) || exhaustively()); seed++ {
		d := newDice(seed + 5000)
		p := d.cups(seed)
		free, none := SolveCups(t.Context(), p)
		if none != nil || len(free.Cups) > 7 || free.PourOffs > 1 {
			continue
		}
		s, err := free, error(nil)
		if seed%2 == 1 {
			under := d.tightened(p.Problem, free.Schedule, int(seed/2))
			for part := d.between(0.8, 0.97); part < 0.999; part = (part + 1) / 2 {
				p.Problem = under(part)
				if s, err = SolveCups(t.Context(), p); err == nil || seed%8 == 1 {
					break
				}
			}
		}
		if err != nil {
			if _, ok := errors.AsType[*Obstacle](err); !ok {
				t.Fatal(err)
			}
			s.Objective = math.Inf(1)
		} else {
			replayCups(t, p, s)
		}
		e := &everyCup{p: p, rounds: p.Settings, pours: free.PourOffs, most: len(free.Cups) + 2, levels: 3}
		for i := 4; i <= 12; i++ {
			e.every = append(e.every, float64(i)/12)
		}
		tried++
		if len(p.Constraints) > 0 && err == nil && s.Objective > free.Objective*(1+1e-9) {
			bound++
		}
		if best := e.run(); s.Objective > best*1.01 {
			t.Errorf("problem %d, objective %d: %g (%v), %.2f %% above %g of %s", seed, p.Objective, s.Objective, err, (s.Objective/best-1)*100, best, e.bestOf)
		}
	}
	if bound == 0 && !testing.Short() || exhaustively() && bound < 10 {
		t.Errorf("a constraint bound in %d problems of %d only", bound, tried)
	}
}

// replayCups carries out cups with salt and water and checks every limit. It is long
// because each limit is checked at the cup that could break it.
func replayCups(t *testing.T, p CupProblem, s CupSchedule) {
	t.Helper()
	salt, mass, water, before := 0.0, p.Mass, 0.0, 0.0
	for i, c := range s.Cups {
		gap := p.Gap - salt/mass
		salt *= 1 - c.PouredOff/mass
		mass -= c.PouredOff
		if c.PouredOff > 0 && mass < p.LeastMass(gap)*(1-1e-9) {
			t.Errorf("cup %d: poured off to %g kg", i, mass)
		}
		salt, mass, water = salt+c.Mass*p.Gap, mass+c.Mass, water+c.Mass
		to := p.Gap - salt/mass
		slow := math.Inf(1)
		for k := range 129 {
			slow = min(slow, p.Rate.At(to+(gap-to)*float64(k)/128))
		}
		marks := c.Mass / p.Mark
		switch apart := c.Time - before; {
		case math.Abs(gap-c.FromGap) > 1e-9 || math.Abs(to-c.ToGap) > 1e-9:
			t.Errorf("cup %d: the gap goes from %g to %g, not from %g to %g", i, gap, to, c.FromGap, c.ToGap)
		case gap-to > p.AtOnce*(1+1e-6), mass > p.MostMass(to)*(1+1e-6), c.Mass > p.MostCup*(1+1e-6), math.Abs(marks-math.Round(marks)) > 1e-6:
			t.Errorf("cup %d: %g kg, a step of %g, %g kg then", i, c.Mass, gap-to, mass)
		case i > 0 && (apart < (gap-to)/slow*(1-1e-6) || apart < (s.Cups[i-1].FromGap-gap)/slow*(1-1e-6) && p.Rate.Breaks == nil || apart < p.Visits.Spacing*(1-1e-6)):
			t.Errorf("cup %d comes %g h after the one before", i, apart)
		}
		for _, q := range p.Visits.Quiet {
			if c.Time > q[0]+1e-9 && c.Time < q[1]-1e-9 {
				t.Errorf("cup %d comes at %g h, when nobody does", i, c.Time)
			}
		}
		before = c.Time
	}
	if last := p.Gap - salt/mass; last > p.Tolerance*(1+1e-6) || math.Abs(water-s.Water) > 1e-9 {
		t.Errorf("the gap ends at %g after %g kg", last, water)
	}
	for _, c := range p.Constraints {
		if margin := extremes(c, s.Schedule); margin < -1e-6 {
			t.Errorf("a constraint is broken by %g", -margin)
		}
	}
}

// bucket is young animals in 6 L, from 2 to 10 g/kg, 20 L to the rim, by cups of up
// to a litre.
func bucket() CupProblem {
	p := CupProblem{Problem: typical(), AtOnce: 5, PerDay: 12, Mark: 0.05, MostCup: 1}
	p.Gap, p.Rate.At = 8, func(float64) float64 { return 3 }
	return p
}

// Change beyond a day's limit waits for the next day.
func TestCupsOfDays(t *testing.T) {
	p := bucket()
	p.PerDay, p.Settings = 4, 2
	s, err := SolveCups(t.Context(), p)
	if err != nil {
		t.Fatal(err)
	}
	replayCups(t, p, s)
	for i, c := range s.Cups {
		sum := 0.0
		for _, b := range s.Cups[:i+1] {
			if b.Time > c.Time-24+1e-6 {
				sum += b.FromGap - b.ToGap
			}
		}
		if sum > p.PerDay*(1+1e-6) {
			t.Errorf("%g g/kg in the 24 h before %g h", sum, c.Time)
		}
	}
	if s.Hours < 24 {
		t.Errorf("5.5 g/kg take %g h at 4 g/kg a day", s.Hours)
	}
}

func TestObstaclesOfCups(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(p *CupProblem)
		want   Obstacle
	}{
		// A cup of 1 kg into 6 is a step of 8/7 g/kg, which 0.5 g/kg/h allow after 2.29 h.
		{"too large a measure", func(p *CupProblem) { p.Mark, p.Rate.At = 1, func(float64) float64 { return 0.5 } }, Obstacle{Kind: TooFast, Value: 8.0 / 7 / 0.5}},
		{"over the rim", func(p *CupProblem) { p.Mass = 19 }, Obstacle{Kind: OverRim, Value: 18}},
		{"out of reach", func(p *CupProblem) { p.MostMass = func(float64) float64 { return 6.4 } }, Obstacle{Kind: OutOfReach, Value: 8 * math.Pow(6/6.4, 13)}},
		{"broken", func(p *CupProblem) {
			p.Settings = 1
			p.Constraints = []Constraint{{Leg: func(_, _ []float64, l Leg) float64 { return 1 - l.End() }}}
		}, Obstacle{Kind: Broken}},
		{"unsettled", func(p *CupProblem) { p.Evaluations = 10 }, Obstacle{Kind: Unsettled}},
	} {
		p := bucket()
		c.change(&p)
		_, err := SolveCups(t.Context(), p)
		got, ok := errors.AsType[*Obstacle](err)
		if !ok || got.Kind != c.want.Kind || math.Abs(got.Value-c.want.Value) > 1e-6 {
			t.Errorf("%s: %v, want %+v", c.name, err, c.want)
		}
	}
	p := bucket()
	p.Tolerance = p.Gap
	if s, err := SolveCups(t.Context(), p); err != nil || len(s.Cups) != 0 || s.Hours != 0 {
		t.Errorf("a gap within the tolerance: %v, %v", s, err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := SolveCups(ctx, bucket()); !errors.Is(err, context.Canceled) {
		t.Errorf("after the end: %v", err)
	}
}
