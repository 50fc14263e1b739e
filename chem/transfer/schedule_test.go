package transfer

import (
	"cmp"
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"
)

// even is a limit of 1 g/kg/h everywhere.
func even(float64) float64 { return 1 }

// small is a drip in units of its own: a gap of 1, a mass of 1, a limit of 1.
func small(ratio, least, most, leastFlow, mostFlow float64, settings int) *drip {
	return &drip{ended: func() error { return nil }, gap: 1, tolerance: 1 / ratio, mass: 1, speed: speedLimit{at: even},
		leastMass: func(float64) float64 { return least }, mostMass: func(float64) float64 { return most },
		leastFlow: leastFlow, mostFlow: mostFlow, settings: settings}
}

// The condition ρ' = (1+ρ²)/2 worked by hand for a ratio of 3: one stage takes
// 2, two take ρ = 1.6344 (the root of ρ + ρ³ = 6) and so 1.1456 in units of gap
// over rate.
func TestLadder(t *testing.T) {
	for settings, want := range map[int]float64{1: 2, 2: 1.1456} {
		d := small(3, 1, 4, 0, 1e9, settings)
		if _, got := d.optimum(d.fewestPours(mostPours)); math.Abs(got-want) > 1e-4 {
			t.Errorf("%d settings: %.5f, want %.4f", settings, got, want)
		}
	}
	rungs := ladder(4, math.Log(9))
	for i := range rungs[:3] {
		if got, want := math.Exp(rungs[i+1]), (1+math.Exp(2*rungs[i]))/2; math.Abs(got-want) > 1e-9 {
			t.Errorf("rung %d of ladder(4, ln 9) is %g, want (1+ρ²)/2 = %g", i+1, got, want)
		}
	}
}

// More settings come ever closer to the bound, (gap − tolerance)/rate.
func TestManySettings(t *testing.T) {
	d := small(3, 1, 4, 0, 1e9, 12)
	bound := 2. / 3
	if _, got := d.optimum(d.fewestPours(mostPours)); got < bound || got > 1.1*bound {
		t.Errorf("12 settings take %g, want within a tenth of the bound %g", got, bound)
	}
	if got := d.speed.hours(d.gap, d.tolerance); math.Abs(got-bound) > 1e-12 {
		t.Errorf("hours(1, 1/3) = %g, want %g", got, bound)
	}
}

// A setting of the valve that need not be used costs no time, also where the
// line drips too slowly for it to help and one pour-off is best done early.
func TestUnusedSettings(t *testing.T) {
	for _, mostFlow := range []float64{0.175, 0.2, 0.35} {
		least := math.Inf(1)
		for settings := 1; settings <= 8; settings++ {
			d := small(2.47, 0.3, 2.1, 0, mostFlow, settings)
			_, got := d.optimum(d.fewestPours(mostPours))
			if got > least*(1+1e-3) {
				t.Errorf("flow up to %g, %d settings: %.4f, with fewer %.4f", mostFlow, settings, got, least)
			}
			least = min(least, got)
		}
	}
}

// The bound where the limit slopes: dS/dt = 0.1 S from 5 to 7.5 takes 10·ln 1.5 h.
func TestSlopingBound(t *testing.T) {
	l := speedLimit{at: func(gap float64) float64 { return 0.1 * (7.5 - gap) }}
	if got, want := l.hours(2.5, 0), 10*math.Log(1.5); math.Abs(got-want) > 1e-12 {
		t.Errorf("hours(2.5, 0) = %.15g, want %.15g", got, want)
	}
	// The same up to 6, level from there on: 10·ln 1.2 + 1.5/0.6.
	l = speedLimit{at: func(gap float64) float64 { return min(0.6, 0.1*(7.5-gap)) }, breaks: []float64{1.5}}
	if got, want := l.hours(2.5, 0), 10*math.Log(1.2)+2.5; math.Abs(got-want) > 1e-12 {
		t.Errorf("hours(2.5, 0) with a bend = %.15g, want %.15g", got, want)
	}
}

// seed makes the random searches of this file the same each time.
const seed = 20

// Random search over every schedule with the same pour-offs and settings: when
// to act, what to leave in the container. Nothing of the planner's reasoning
// stands in it.
func TestAgainstBruteForce(t *testing.T) {
	random := rand.New(rand.NewSource(seed))
	halved := func(gap float64) float64 { // half the rate over the last third of the way
		if gap < 1./3 {
			return 0.5
		}
		return 1
	}
	for _, c := range []struct {
		ratio, least, most, leastFlow, mostFlow float64
		halved                                  bool
	}{
		{ratio: 3, least: 1, most: 4, mostFlow: 1e9},
		{ratio: 3, least: 1, most: 4, mostFlow: 1.8},
		{ratio: 9, least: 1, most: 10, mostFlow: 1e9, halved: true},
		{ratio: 9, least: 1, most: 4, mostFlow: 1e9},
		{ratio: 9, least: 0.5, most: 3, mostFlow: 1e9, halved: true},
		{ratio: 9, least: 1, most: 3.05, leastFlow: 0.9, mostFlow: 2},
		{ratio: 8.8, least: 0.5, most: 2.1, mostFlow: 1e9},
		{ratio: 20, least: 1, most: 3, mostFlow: 1e9},
		{ratio: 20, least: 0.3, most: 2, leastFlow: 0.5, mostFlow: 1.5},
	} {
		for settings := 1; settings <= 4; settings++ {
			d := small(c.ratio, c.least, c.most, c.leastFlow, c.mostFlow, settings)
			if c.halved {
				d.speed = speedLimit{at: halved, breaks: []float64{1. / 3}}
			}
			fills := d.fewestPours(mostPours)
			acts, got := d.optimum(fills)
			want := bruteForce(d, len(fills)-1, random)
			if !(got < 1.01*want) {
				t.Errorf("%+v, %d settings: %s take %.4f, brute force %.4f", c, settings, order(acts), got, want)
			}
			if bound := d.speed.hours(d.gap, d.tolerance); got < bound*(1-1e-9) {
				t.Errorf("%+v, %d settings: %.4f beats the bound %.4f", c, settings, got, bound)
			}
		}
	}
}

// Drips drawn at random, of one to four settings, against the same search.
func TestAgainstBruteForceByChance(t *testing.T) {
	random := rand.New(rand.NewSource(seed))
	drawn := func(lo, hi float64) float64 { return lo + (hi-lo)*random.Float64() }
	for range 40 {
		d := small(math.Exp(drawn(math.Log(2), math.Log(24))), drawn(0.3, 1), drawn(1.5, 4.5), 0, 1e9, 1+random.Intn(4))
		if random.Intn(3) == 0 {
			d.mostFlow = drawn(0.5, 2.5)
		}
		if random.Intn(3) == 0 {
			d.leastFlow = drawn(0, 0.2)
		}
		if random.Intn(3) == 0 {
			d.speed = speedLimit{at: func(gap float64) float64 {
				if gap < 1./3 {
					return 0.5
				}
				return 1
			}, breaks: []float64{1. / 3}}
		}
		fills := d.fewestPours(mostPours)
		if !d.drips() || !d.reaches(fills) {
			continue
		}
		acts, got := d.optimum(fills)
		if want := bruteForce(d, len(fills)-1, random); !(got < 1.01*want) {
			t.Errorf("ratio %.4g, flow %.3g to %.3g, %d settings, breaks %v: %s take %.4f, brute force %.4f", d.gap/d.tolerance, d.leastFlow, d.mostFlow, d.settings, d.speed.breaks, order(acts), got, want)
		}
	}
}

// deed is an act of the brute force, with the mass a pour-off leaves.
type deed struct {
	gap, left float64
	set, pour bool
}

// bruteForce returns the least time that many random schedules, improved by
// random steps, take.
func bruteForce(d *drip, pours int, random *rand.Rand) float64 {
	best := math.Inf(1)
	for range 40 {
		deeds := randomDeeds(d, pours, random)
		least := taken(d, deeds)
		for step, failed := 0.5, 0; step > 1e-4 && len(deeds) > 0; {
			trial := slices.Clone(deeds)
			for i := range trial {
				if random.Intn(2) == 0 {
					trial[i].gap = min(d.gap, max(d.tolerance, trial[i].gap*math.Exp(step*random.NormFloat64())))
				}
				if random.Intn(2) == 0 {
					trial[i].left *= math.Exp(step * random.NormFloat64())
				}
			}
			if hours := taken(d, trial); hours < least {
				least, deeds, failed = hours, trial, 0
			} else if failed++; failed > 60 {
				step, failed = step*0.7, 0
			}
		}
		best = min(best, least)
	}
	return best
}

func randomDeeds(d *drip, pours int, random *rand.Rand) []deed {
	var deeds []deed
	both := 0
	if n := min(pours, d.settings-1); n > 0 {
		both = random.Intn(n + 1)
	}
	for i := range pours + d.settings - 1 - both {
		deeds = append(deeds, deed{set: i < d.settings-1, pour: i >= d.settings-1-both,
			gap:  d.gap * math.Pow(d.tolerance/d.gap, random.Float64()),
			left: d.leastMass(0) * (1 + random.Float64())})
	}
	return deeds
}

// taken follows the deeds through mass and gap and returns how long they take
// at the greatest flow allowed; a broken bound costs more than any time.
func taken(d *drip, deeds []deed) float64 {
	deeds = slices.Clone(deeds)
	slices.SortFunc(deeds, func(a, b deed) int { return cmp.Compare(b.gap, a.gap) })
	deeds = append(deeds, deed{gap: d.tolerance, set: true})
	mass, gap := d.mass, d.gap
	water, flow := 0.0, d.mostFlow
	total := 0.0
	for _, next := range deeds {
		flow = min(flow, d.speed.at(gap*(1-1e-12))*mass/gap)
		for _, b := range d.speed.breaks {
			if b < gap && b > next.gap {
				at := mass * gap / b
				flow = min(flow, d.speed.at(b*(1-1e-12))*at/b)
			}
		}
		end := mass * gap / next.gap
		water += end - mass
		mass, gap = end, next.gap
		if mass > d.mostMass(gap)*(1+1e-9) {
			return 1e9
		}
		if next.set {
			if flow < d.leastFlow*(1-1e-9) {
				return 1e9
			}
			total += water / flow
			water, flow = 0, d.mostFlow
		}
		if next.pour {
			mass = min(mass, max(next.left, d.leastMass(gap)))
		}
	}
	return total
}

// With nothing else binding the limit is met exactly wherever the valve is set.
func TestFlowMeetsLimit(t *testing.T) {
	d := small(9, 1, 4, 0, 1e9, 3)
	acts, _ := d.optimum(d.fewestPours(mostPours))
	d.hours(acts, func(s stage) {
		rate := s.flow * s.from * s.from / s.deficit
		if rate > 1+1e-9 || s.set && rate < 1-1e-9 {
			t.Errorf("stage from %.4f starts at %.6f g/kg/h, want 1", s.from, rate)
		}
	})
}

func BenchmarkOptimum(b *testing.B) {
	for _, c := range []struct {
		ratio    float64
		settings int
	}{{3, 4}, {9, 4}, {20, 4}, {20, 12}} {
		b.Run(fmt.Sprintf("ratio=%g/settings=%d", c.ratio, c.settings), func(b *testing.B) {
			d := small(c.ratio, 1, 3.05, 0, 1e9, c.settings)
			fills := d.fewestPours(mostPours)
			for b.Loop() {
				d.optimum(fills)
			}
		})
	}
}
