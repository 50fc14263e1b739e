package drip

import (
	"context"
	"errors"
	"math"
	"os"
	"testing"
)

// The checks against the exhaustive search run in part, and in full for
// SALTLOCK_EXHAUSTIVE=all.
func exhaustively() bool { return os.Getenv("SALTLOCK_EXHAUSTIVE") == "all" }

// In part: the most orders that a problem may have, how many problems are tried, and
// the thrift of the exhaustive search.
const (
	fewWords   = 8
	fewCases   = 6
	fewThrift  = 0.1
	fullThrift = 0.3
)

// matched compares the solution of a problem with the exhaustive one. It returns false if
// the problem is left to the full check.
func matched(t *testing.T, seed uint64, p Problem) bool {
	t.Helper()
	thrift := fullThrift
	if !exhaustively() {
		if thrift = fewThrift; newExhaustive(p, seed, 1).size() > fewWords {
			return false
		}
	}
	s, err := Solve(context.Background(), p)
	if err != nil {
		if _, ok := errors.AsType[*Obstacle](err); !ok {
			t.Fatalf("problem %d: %v", seed, err)
		}
		s.Objective = math.Inf(1)
	} else {
		replay(t, p, s)
	}
	e := newExhaustive(p, seed, thrift)
	if best := e.run(); s.Objective > best*1.01 {
		t.Errorf("problem %d: the objective is %g (%v), %.2f %% above that of order %q, %g", seed, s.Objective, err, (s.Objective/best-1)*100, e.bestOf, best)
	}
	return true
}

// fewer reports whether enough was tried in part.
func fewer(tried int) bool { return tried >= inShort(fewCases, 1) && !exhaustively() }

// inShort is a count, or the smaller one in short tests.
func inShort(usual, short int) int {
	if testing.Short() {
		return short
	}
	return usual
}

func TestOptimum(t *testing.T) {
	tried := 0
	for seed := uint64(0); seed < 150 && !fewer(tried); seed++ {
		p := newDice(seed).problem()
		if seed%5 == 4 {
			p.Objective = Objective(seed / 5 % 4)
		}
		if seed%10 == 9 { // the overflow holds what the container starts with
			held := p.Mass
			p.Overflow = func(gap float64) float64 { return held * (1 + 0.001*gap) }
		}
		if matched(t, seed, p) {
			tried++
		}
	}
}

// Oxygen, ammonia or the last 24 hours bind at the optimum of each of 50 problems. Those
// in which warmth binds are checked on the way, but not counted.
func TestOptimumUnderConstraints(t *testing.T) {
	tried := 0
	for seed := uint64(0); tried < 50 && !fewer(tried); seed++ {
		d := newDice(seed + 1000)
		p := d.problem()
		if seed%4 == 3 {
			p = slower(p, 8) // so that it takes more than a day
		}
		if p.Settings > 2 && !exhaustively() {
			continue // too many orders
		}
		free, err := Solve(context.Background(), p)
		if err != nil {
			continue
		}
		under := d.tightened(p, free, int(seed))
		for part := d.between(0.8, 0.97); part < 0.999; part = (part + 1) / 2 {
			q := under(part)
			s, err := Solve(context.Background(), q)
			if err == nil && s.Objective > free.Objective*(1+1e-4) && matched(t, seed, q) && seed%4 != ofWarmth {
				tried++
			}
			if err == nil {
				break
			}
			// What is refused must have no schedule either.
			if seed%5 == 0 && part < 0.97 {
				matched(t, seed, q)
			}
		}
	}
}

// Someone comes every two hours at most, and not at night.
func TestOptimumWithVisits(t *testing.T) {
	tried := 0
	for seed := uint64(0); seed < 30 && !fewer(tried); seed++ {
		if matched(t, seed, newDice(seed+2000).visited()) {
			tried++
		}
	}
}
