package drip

import (
	"context"
	"errors"
	"math"
	"testing"
)

// jugged is a problem with a jug. One filling may close the gap by step, and holds lift kg.
func jugged(p Problem, step, lift float64) Problem {
	p.Filling = func(gap, mass float64) float64 {
		left := gap * mass / (mass + lift)
		if p.Overflow != nil {
			left = gap * math.Exp(-lift/p.Overflow(gap))
		}
		return max(gap-step, left, 0)
	}
	return p
}

// A refill is a visit. The schedule found is as good as that of the exhaustive search,
// which counts refills for itself, and it states as many visits as it makes.
func TestRefillsAreVisits(t *testing.T) {
	tried, refilled := 0, 0
	for seed := uint64(0); seed < 80 && !fewer(tried); seed++ {
		d := newDice(seed + 7000)
		p := d.problem()
		if seed%3 == 2 {
			held := p.Mass
			p.Overflow = func(float64) float64 { return held }
		}
		p = jugged(p, p.Gap/d.between(1.2, 6), p.Mass*d.between(0.3, 3))
		p.Objective = [...]Objective{DurationAndVisits, FewestVisits}[seed%2]
		if !matched(t, seed, p) {
			continue
		}
		tried++
		s, err := Solve(context.Background(), p)
		if _, none := errors.AsType[*Obstacle](err); none {
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		e := exhaustive{p: p}
		visits := float64(len(s.Acts))
		for _, l := range s.Legs {
			visits += e.refills(l)
		}
		if float64(s.Visits) != visits {
			t.Errorf("problem %d: it states %d visits and makes %g", seed, s.Visits, visits)
		}
		if s.Visits > len(s.Acts) {
			refilled++
		}
	}
	t.Logf("%d tried, %d refilled", tried, refilled)
	if refilled == 0 {
		t.Error("no schedule refills between its acts")
	}
}

// From a gap of 8 to 2.5, with a jug that may close 5 at once, one setting takes two
// fillings and so three visits. Two settings take no more visits and are faster.
func TestRefillAtASetting(t *testing.T) {
	p := jugged(Problem{Gap: 8, Tolerance: 2.5, Mass: 6, Settings: 4, LeastFlow: 0.01, MostFlow: 10, Objective: FewestVisits,
		LeastMass: func(float64) float64 { return 6 }, MostMass: func(float64) float64 { return 30 },
		Rate: Rate{At: func(float64) float64 { return 3 }}}, 5, 10)
	s, err := Solve(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	if s.Visits != 3 || len(s.Acts) != 3 || !s.Complete || s.Acts[1].Gap < 3 {
		t.Errorf("%d visits of %d acts, the second at a gap of %.3f", s.Visits, len(s.Acts), s.Acts[1].Gap)
	}
}
