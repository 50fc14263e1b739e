package drip

import (
	"math"
	"math/rand/v2"
)

// dice makes problems from a seed, such as keepers have, and odder ones.
type dice struct{ *rand.Rand }

func newDice(seed uint64) dice { return dice{rand.New(rand.NewPCG(seed, 11))} }

// between is uniform in the logarithm.
func (d dice) between(lo, hi float64) float64 {
	return lo * math.Exp(d.Float64()*math.Log(hi/lo))
}

func (d dice) problem() Problem {
	p := Problem{Gap: d.between(2, 30), Mass: d.between(2, 20), Settings: 1 + d.IntN(3), PourOffs: d.IntN(3), Objective: Duration}
	p.Tolerance = p.Gap / d.between(1.5, 15)
	room, least := d.between(1.4, 4), d.between(0.3, 1)
	// A density that changes by up to 3 % over the way.
	tilt := (d.Float64() - 0.5) * 0.06 / p.Gap
	mass, gap := p.Mass, p.Gap
	p.MostMass = func(g float64) float64 { return mass * room * (1 + tilt*(gap-g)) }
	p.LeastMass = func(g float64) float64 { return mass * least * (1 + tilt*(gap-g)) }
	p.Rate = d.rate(p.Gap)
	flow := p.Mass * p.Rate.At(p.Gap) / p.Gap // that the limit allows at the start
	p.LeastFlow, p.MostFlow = flow*d.between(0.01, 0.5), flow*d.between(1.2, 30)
	if d.IntN(2) == 0 {
		p.Countable = countable(flow * d.between(0.01, 0.05))
	}
	return p
}

// rate is constant, varies with the gap, or drops at a break.
func (d dice) rate(gap float64) Rate {
	r := d.between(0.5, 5)
	switch d.IntN(4) {
	case 0:
		b := gap * d.between(0.2, 0.8)
		return Rate{At: func(g float64) float64 {
			if g < b {
				return r / 2
			}
			return r
		}, Breaks: []float64{b}}
	case 1:
		tilt := d.Float64() * 0.5
		return Rate{At: func(g float64) float64 { return r * (1 - tilt*g/gap) }}
	}
	return Rate{At: func(float64) float64 { return r }}
}

// countable allows flows that are multiples of a unit.
func countable(unit float64) func(float64) (float64, float64) {
	return func(flow float64) (float64, float64) {
		n := flow / unit
		return math.Floor(n*(1+1e-12)) * unit, math.Ceil(n*(1-1e-12)) * unit
	}
}

// visited is a problem whose keeper comes every two hours at most, and not at night.
func (d dice) visited() Problem {
	p := d.problem()
	once := p.Gap * p.Gap / p.Rate.At(p.Gap) * (1/p.Tolerance - 1/p.Gap)
	p = slower(p, d.between(8, 80)/once)
	if p.Countable != nil {
		p.Countable = countable(p.Mass * p.Rate.At(p.Gap) / p.Gap * d.between(0.01, 0.05))
	}
	p.Visits = Visits{Every: 2, First: 0.5}
	night := d.Float64() * 14 // h from the start to 23:00
	for day := range 12 {
		from := night + 24*float64(day)
		p.Visits.Quiet = append(p.Visits.Quiet, [2]float64{from, from + 8})
	}
	return p
}

// slower is a problem in which everything takes so many times as long.
func slower(p Problem, times float64) Problem {
	at, count := p.Rate.At, p.Countable
	p.Rate.At = func(g float64) float64 { return at(g) / times }
	p.LeastFlow, p.MostFlow = p.LeastFlow/times, p.MostFlow/times
	if count != nil {
		p.Countable = func(flow float64) (below, above float64) {
			below, above = count(flow * times)
			return below / times, above / times
		}
	}
	return p
}
