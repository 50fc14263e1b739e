package transfer

import (
	"math"

	"saltlock/chem/drip"
)

// tabled is more than the error of the density table, and keeps volumes on the safe side.
const tabled = 1e-6

// rimSpare is by what share a container stays below its rim: more than the two waters shrink as
// they mix, so that a hose end which lets in no more than fits still gives all that the drip
// needs.
const rimSpare = 1e-5

// mostPours is the most pour-offs in a plan, and morePours how many beyond those that the
// container forces are tried if less time, fewer visits or less water are asked for.
const (
	mostPours = drip.MostPourOffs
	morePours = 2
)

// problem is a drip to be planned, and what each of its constraints is about.
type problem struct {
	drip.Problem
	held   *held // if an overflow keeps the volume
	visits *timetable
	// filling is the least gap after one filling of the jug; the search ignores it if there are so
	// many refills that one more or less decides nothing.
	filling func(gap, mass float64) float64
	rate    rateLimit
	kinds   []constraintKind

	forced int // pour-offs
}

// problem states the drip as numbers, every limit on it included.
func (t *task) problem(v vat) (problem, error) {
	rho, err := t.densities()
	if err != nil {
		return problem{}, err
	}
	rate, err := t.rateLimit()
	if err != nil {
		return problem{}, err
	}
	filled := func(volume float64) func(gap float64) float64 {
		return func(gap float64) float64 { return volume * rho(gap/t.gap) }
	}
	p := problem{rate: rate, visits: v.visits, Problem: drip.Problem{Gap: t.gap, Tolerance: t.tolerance, Mass: v.start * rho(1),
		LeastMass: filled(v.least * (1 + tabled)), MostMass: filled(v.brim * (1 - rimSpare)),
		Rate:      drip.Rate{At: rate.at, Breaks: rate.breaks},
		LeastFlow: v.flow(v.leastDrip), MostFlow: v.flow(v.mostDrip), Countable: v.countable, Settings: v.settings}}
	if t.runsOver() {
		p.held = &held{v.start, t.gap, rho}
		p.Overflow = p.held.mass
	}
	if v.visits != nil {
		p.Visits = drip.Visits{First: v.visits.first, Every: v.visits.every, Quiet: v.visits.ahead()}
	}
	if p.filling = t.filling(v, p.held); p.filling != nil && p.fillingsAtMost(mostWeighed) {
		p.Filling = p.filling
	}
	p.forced, _ = drip.Check(p.Problem) // solving the problem will say what is in the way
	return p, t.constrain(&p, v)
}

// mostWeighed is up to how many fillings of the jug the search counts each as a visit.
const mostWeighed = 12

// fillingsAtMost reports whether n fillings of the jug are enough for the whole change.
func (p problem) fillingsAtMost(n int) bool {
	gap := p.Gap
	for range n {
		mass := p.Mass * p.Gap / gap
		if p.held != nil {
			mass = p.held.mass(gap)
		}
		if gap = p.filling(gap, mass); gap <= p.Tolerance {
			return true
		}
	}
	return false
}

// with is the problem under another objective.
func (p problem) with(o drip.Objective, settings, pours int) drip.Problem {
	q := p.Problem
	q.Objective, q.Settings, q.PourOffs = o, settings, pours
	return q
}

// without is the problem without the constraints of one kind.
func (p problem) without(kind constraintKind) problem {
	q := p
	q.Constraints, q.kinds = nil, nil
	for i, k := range p.kinds {
		if k != kind {
			q.Constraints, q.kinds = append(q.Constraints, p.Constraints[i]), append(q.kinds, k)
		}
	}
	return q
}

// countable returns the flows next to one that can be counted; the slowest that the valve holds
// needs no counting.
func (v vat) countable(flow float64) (below, above float64) {
	least, most := v.flow(v.leastDrip), v.flow(v.mostDrip)
	c := Countable(v.drip(flow))
	below, above = v.flow(c.perSecond()), v.flow(c.perSecond())
	if below < flow*(1-inside) {
		above = v.flow(c.next().perSecond())
	}
	switch {
	case below < least && flow >= least*(1-inside):
		below = least
	case below < least:
		below, above = 0, min(above, least)
	}
	above = max(above, least)
	if above > most*(1+inside) {
		above = math.Inf(1)
	}
	return below, above
}

// densities returns the density of the mixture, kg/L, by the share of the gap that is left. The
// search needs it very often, so it is read from a table; volumes nearly add up, so a short table
// will do.
func (t *task) densities() (func(left float64) float64, error) {
	const steps = 32
	var volume [steps + 1]float64 // of a kilogram
	for i := range steps + 1 {
		s, err := t.at(t.gap * float64(i) / steps)
		if err != nil {
			return nil, err
		}
		rho, err := density(s)
		if err != nil {
			return nil, err
		}
		volume[i] = 1 / rho
	}
	return func(left float64) float64 { // by the parabola through the three points around it
		i := min(max(int(left*steps+0.5), 1), steps-1)
		x, a, b, c := left*steps-float64(i), volume[i-1], volume[i], volume[i+1]
		return 1 / (b + x*((c-a)+x*(a-2*b+c))/2)
	}, nil
}
