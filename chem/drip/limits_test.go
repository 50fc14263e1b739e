package drip

import (
	"math"
	"slices"
)

// Simple models of a container over time, to use as constraints. Each is a balance given
// in the comment of its function; none is the program's own.

// ammonia gathers at a steady output, mg/h, and is diluted by clean water: the
// concentration times the mass grows by the output. It is worst at one end of a leg.
func ammonia(start, output, limit float64) Constraint {
	return Constraint{Start: []float64{start}, Leg: func(next, state []float64, l Leg) float64 {
		load := state[0]*l.FromMass + output*l.Hours
		if l.Overflow { // what runs over carries some away: y' = (output − flow·y)/mass
			y, even := state[0], output/l.Flow
			next[0] = even + (y-even)*math.Exp(-l.Flow*l.Hours/l.FromMass)
		} else {
			next[0] = load / l.ToMass
		}
		return 1 - max(state[0], next[0])/limit
	}}
}

// oxygen comes in with the new water and through the surface, and is used up:
// o' = (even − o)·(flow + air)/mass with even = sat − use/(flow + air). If the mass changes
// linearly, the solution below is exact, and o is monotonic within a leg.
func oxygen(sat, air, use, limit float64) Constraint {
	return Constraint{Start: []float64{sat}, Leg: func(next, state []float64, l Leg) float64 {
		perMass := 1 / l.FromMass
		if grown := l.ToMass - l.FromMass; math.Abs(grown) > 1e-9*l.FromMass {
			perMass = math.Log(l.ToMass/l.FromMass) / grown
		}
		even := sat - use/(l.Flow+air)
		next[0] = even + (state[0]-even)*math.Exp(-(l.Flow+air)*l.Hours*perMass)
		return min(state[0], next[0])/limit - 1
	}}
}

// warmth comes with the new water and from the room through the walls:
// T' = (flow·(in − T) + walls·mass^⅔·(room − T))/mass; its rate of change is limited.
func warmth(start, in, room, walls, limit float64) Constraint {
	return balance(start, func(t, mass, flow, _ float64) float64 {
		return (flow*(in-t) + walls*math.Cbrt(mass*mass)*(room-t)) / mass
	}, func(_, slope float64) float64 { return 1 - math.Abs(slope)/limit })
}

// balance integrates one number over a leg and takes its margin after each step.
func balance(start float64, slope func(y, mass, flow, clock float64) float64, margin func(y, slope float64) float64) Constraint {
	return Constraint{Start: []float64{start}, Leg: func(next, state []float64, l Leg) float64 {
		const steps = 12
		y, h := state[0], l.Hours/steps
		least := math.Inf(1)
		for i := range steps + 1 {
			at := float64(i) * h
			f := func(y, later float64) float64 {
				return slope(y, l.FromMass+(l.ToMass-l.FromMass)*(at+later)/l.Hours, l.Flow, l.Start+at+later)
			}
			k1 := f(y, 0)
			least = min(least, margin(y, k1))
			if i == steps {
				break
			}
			k2 := f(y+h/2*k1, h/2)
			k3 := f(y+h/2*k2, h/2)
			k4 := f(y+h*k3, h)
			y += h * (k1 + 2*k2 + 2*k3 + k4) / 6
		}
		next[0] = y
		return least
	}}
}

// day limits the change within any 24 hours. Its state is the legs so far: how many,
// then start, hours, gaps and masses of each.
func day(limit float64) Constraint {
	const most, each = 24, 6
	gapAt := func(legs []float64, t float64, first float64) float64 {
		gap := first
		for i := 0; i+each <= len(legs); i += each {
			if t < legs[i] {
				break
			}
			l := Leg{Start: legs[i], Hours: legs[i+1], FromGap: legs[i+2], ToGap: legs[i+3], FromMass: legs[i+4], ToMass: legs[i+5]}
			if gap = l.ToGap; t < l.End() && l.Hours > 0 {
				mass := l.FromMass + (l.ToMass-l.FromMass)*(t-l.Start)/l.Hours
				gap = l.FromGap * l.FromMass / mass
			}
		}
		return gap
	}
	return Constraint{Start: make([]float64, 1+most*each), Leg: func(next, state []float64, l Leg) float64 {
		copy(next, state)
		n := int(state[0])
		copy(next[1+n*each:], []float64{l.Start, l.Hours, l.FromGap, l.ToGap, l.FromMass, l.ToMass})
		next[0]++
		legs := next[1 : 1+(n+1)*each]
		first := legs[2]
		times := []float64{l.End()}
		for i := range 8 {
			times = append(times, l.Start+l.Hours*float64(i)/8)
		}
		for i := 0; i < len(legs); i += each { // where the curve of 24 h before has a kink
			if t := legs[i] + 24; t > l.Start && t < l.End() {
				times = append(times, t)
			}
		}
		slices.Sort(times)
		margin := math.Inf(1)
		for _, t := range times {
			margin = min(margin, 1-(gapAt(legs, t-24, first)-gapAt(legs, t, first))/limit)
		}
		return margin
	}}
}

// extremes is the least margin of a constraint over a schedule.
func extremes(c Constraint, s Schedule) float64 {
	state, next := slices.Clone(c.Start), make([]float64, len(c.Start))
	least := math.Inf(1)
	for i, a := range s.Acts {
		least = min(least, c.act(next, state, a))
		state, next = next, state
		if i < len(s.Legs) {
			least = min(least, c.leg(next, state, s.Legs[i]))
			state, next = next, state
		}
	}
	return least
}

// What tightened limits, by its number; the last of the four is the day.
const (
	ofAmmonia = iota
	ofOxygen
	ofWarmth
)

// tightened adds a constraint that schedule s, the best without it, breaks. Only a part of
// the worst value in s is allowed, or, of oxygen, of its distance from saturation.
func (d dice) tightened(p Problem, s Schedule, which int) func(part float64) Problem {
	with := func(c Constraint) Problem {
		q := p
		q.Constraints = []Constraint{c}
		return q
	}
	switch which % 4 {
	case ofAmmonia:
		output := d.between(0.05, 1) * p.Mass / s.Hours
		worst := 1 - extremes(ammonia(0.1, output, 1), s)
		return func(part float64) Problem { return with(ammonia(0.1, output, worst*part)) }
	case ofOxygen:
		use := d.between(0.2, 2) * p.Mass
		air := use / d.between(1, 4)
		least := 1 + extremes(oxygen(8, air, use, 1), s)
		return func(part float64) Problem { return with(oxygen(8, air, use, 8-(8-least)*part)) }
	case ofWarmth:
		walls := d.between(0.02, 0.1)
		worst := 1 - extremes(warmth(25, 22, 25, walls, 1), s)
		return func(part float64) Problem { return with(warmth(25, 22, 25, walls, worst*part)) }
	}
	worst := 1 - extremes(day(1), s)
	return func(part float64) Problem { return with(day(worst * part)) }
}
