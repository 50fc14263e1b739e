package drip

import "math"

// carryOut follows an order forwards in time. It returns the objective, and by how much
// in all it breaks limits. It is long because each limit is checked where it can be broken.
func (e *exhaustive) carryOut(word []byte, x []float64) (value, broken float64) {
	p := &e.p
	gap, mass, clock, water, flow := p.Gap, p.Mass, 0.0, 0.0, 0.0
	if p.Overflow != nil {
		mass = p.Overflow(gap)
	}
	states := make([][]float64, len(p.Constraints))
	for i, c := range p.Constraints {
		states[i] = c.Start
	}
	follow := func(of func(c *Constraint, next, state []float64) float64) {
		for i := range p.Constraints {
			next := make([]float64, len(states[i]))
			broken += max(0, -of(&p.Constraints[i], next, states[i]))
			states[i] = next
		}
	}
	acts := 2.0 // start and end
	for i := range len(word) + 1 {
		act := Act{Time: clock, Gap: gap, FromMass: mass, ToMass: mass, Set: i == 0}
		hours, slow, more := x[genes*i], x[genes*i+1], x[genes*i+2]
		if i > 0 {
			acts++
			w := word[i-1]
			act.Set, act.Close = w == 's' || w == 'b', w == 'c'
			if w == 'p' || w == 'b' {
				act.Pour = true
				least := max(p.LeastMass(gap), p.LeastFlow*gap/p.Rate.At(gap))
				if w == 'p' {
					least = max(least, flow*gap/p.Rate.At(gap))
				}
				mass = min(mass, least*math.Exp(max(0, more)))
				act.ToMass = mass
			}
		}
		fastest := min(p.MostFlow, mass*p.Rate.At(gap)/gap)
		if act.Set {
			flow = fastest * math.Exp(-max(0, slow))
			if flow = max(flow, p.LeastFlow); p.Countable != nil {
				below, above := p.Countable(flow)
				if flow = below; flow < p.LeastFlow {
					flow = above
				}
			}
		}
		if act.Close {
			flow = 0
		}
		broken += max(0, flow/fastest-1-1e-9)
		act.Flow = flow
		follow(func(c *Constraint, next, state []float64) float64 { return c.act(next, state, act) })
		leg := e.leg(gap, mass, flow, clock, e.once*math.Exp(hours), i, i == len(word))
		if leg.Flow != flow && leg.Flow > 0 {
			if !act.Set {
				broken += flow/leg.Flow - 1
			}
			flow = leg.Flow
		}
		if p.Overflow == nil {
			broken += max(0, leg.ToMass/p.MostMass(leg.ToGap)-1-1e-9)
		}
		broken += e.late(leg, i)
		acts += e.refills(leg)
		follow(func(c *Constraint, next, state []float64) float64 { return c.leg(next, state, leg) })
		gap, mass, clock, water = leg.ToGap, leg.ToMass, leg.End(), water+leg.Flow*leg.Hours
	}
	broken += max(0, gap/p.Tolerance-1-1e-9)
	end := Act{Time: clock, Gap: gap, FromMass: mass, ToMass: mass, Close: true, End: true}
	follow(func(c *Constraint, next, state []float64) float64 { return c.act(next, state, end) })
	switch p.Objective {
	case Duration:
		return clock, broken
	case FewestVisits:
		return acts + 1e-3*clock, broken
	case LeastWater:
		return water + 1e-3*clock, broken
	}
	return clock + acts/4, broken
}

// leg drips for some hours, or for less if the container fills up or the limit drops and
// forbids the flow from there on. The last leg drips to the tolerance. It is long because
// each thing that ends a leg depends on the one checked before it.
func (e *exhaustive) leg(gap, mass, flow, clock, hours float64, i int, last bool) Leg {
	p := &e.p
	l := Leg{Start: clock, FromGap: gap, FromMass: mass, Flow: flow, Overflow: p.Overflow != nil}
	if flow == 0 {
		l.Hours, l.ToGap, l.ToMass, l.Overflow = max(hours, e.apart(i)), gap, mass, false
		return l
	}
	to := p.Tolerance
	if !last {
		to = e.after(gap, mass, flow, max(hours, e.apart(i)))
		if full := gap * mass / p.MostMass(to); p.Overflow == nil && to < full {
			to = full
		}
	}
	for _, b := range p.Rate.Breaks {
		if b > gap || b <= to*(1+1e-9) {
			continue
		}
		at := mass * gap / b // the mass then
		if p.Overflow != nil {
			at = p.Overflow(b)
		}
		if most := at * p.Rate.At(b*(1-1e-9)) / b; flow > most*(1+1e-9) {
			if !last && b < gap {
				to = b
				break
			}
			if l.Flow = most; p.Countable != nil {
				l.Flow, _ = p.Countable(most)
			}
			flow = l.Flow
		}
	}
	l.ToGap = to
	e.time(&l)
	if last && l.Hours < e.apart(i) { // it may drip on
		l.Hours = e.apart(i)
	}
	for _, q := range p.Visits.Quiet {
		if last && l.End() > q[0] && l.End() < q[1] {
			l.Hours = q[1] - l.Start
		}
	}
	if l.ToGap = e.after(gap, mass, l.Flow, l.Hours); p.Overflow == nil {
		l.ToMass = mass + l.Flow*l.Hours
	} else {
		l.ToMass = p.Overflow(l.ToGap)
	}
	return l
}

// refills is how often the jug is refilled in a leg: each time that as much has run in as
// one filling may hold.
func (e *exhaustive) refills(l Leg) float64 {
	p := &e.p
	if p.Filling == nil || l.Flow == 0 {
		return 0
	}
	n, gap := 0.0, l.FromGap
	for n < 100 {
		mass := l.FromMass * l.FromGap / gap
		if p.Overflow != nil {
			mass = p.Overflow(gap)
		}
		if gap = p.Filling(gap, mass); gap <= l.ToGap*(1+1e-9) {
			break
		}
		n++
	}
	return n
}

func (e *exhaustive) apart(i int) float64 {
	if i == 0 {
		return max(e.spacing, e.p.Visits.First)
	}
	return max(e.spacing, e.p.Visits.Every)
}

// after is the gap after some hours of drip.
func (e *exhaustive) after(gap, mass, flow, hours float64) float64 {
	if e.p.Overflow == nil {
		return gap * mass / (mass + flow*hours)
	}
	const steps = 64 // by the midpoint of each
	for range steps {
		mid := gap * math.Exp(-flow*hours/steps/2/e.p.Overflow(gap))
		gap *= math.Exp(-flow * hours / steps / e.p.Overflow(mid))
	}
	return gap
}

// time is how long a leg takes to its gap.
func (e *exhaustive) time(l *Leg) {
	if e.p.Overflow == nil {
		l.Hours = l.FromMass * (l.FromGap/l.ToGap - 1) / l.Flow
		return
	}
	const steps = 64
	ratio := math.Log(l.FromGap / l.ToGap)
	l.Hours = 0
	for i := range steps {
		l.Hours += ratio / steps * e.p.Overflow(l.FromGap*math.Exp(-ratio*(float64(i)+0.5)/steps)) / l.Flow
	}
}

// late is by how much a leg ends too early or at a time when nobody comes.
func (e *exhaustive) late(l Leg, i int) float64 {
	broken := max(0, 1-l.Hours/e.apart(i)-1e-9)
	for _, q := range e.p.Visits.Quiet {
		if l.End() > q[0]+1e-9 && l.End() < q[1]-1e-9 {
			broken += min(l.End()-q[0], q[1]-l.End()) / (q[1] - q[0])
		}
	}
	return broken
}
