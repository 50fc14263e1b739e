package drip

import "math"

// program is the inner problem: the best times and sizes for one order. It has the
// unknowns of a layout, each within bounds, and a margin for every limit.
type program struct {
	*model
	*layout
	lo, hi []float64
	cuts   []cut
	taken  []int // indexes of the constraints that are followed
	// units scale their margins. A step is judged by the worst violation, so all limits
	// should be broken by numbers of the same size when a constraint is taken.
	units []float64
	// loose ignores the rim and allows a pour-off to leave more than there is. The best
	// solution then bounds every order with as many acts.
	loose bool
	// bend is the curvature with which the solution of its parent ended; nil at a root.
	bend []float64
	// settled is the first leg for which branches with fewer fillings of the jug are still
	// to be looked at.
	settled int
}

// cut is a condition on one leg that a branch of the search adds.
type cut struct {
	leg   int
	kind  cutKind
	value float64
}

type cutKind uint8

const (
	passes  cutKind = iota // the leg is slow enough where the gap has passed this break
	endsBy                 // the leg ends at this time or before
	endsNot                // the leg ends at this time or later
	lasts                  // this many fillings of the jug are enough for the leg
)

// tight is the margin with which every limit is kept, so that the tolerance of the inner
// solver breaks none.
const tight = 1e-7

// newProgram is the inner problem of an order before anything is branched on.
func (m *model) newProgram(l *layout) *program {
	p := &program{model: m, layout: l, lo: make([]float64, l.size), hi: make([]float64, l.size)}
	for i, at := range l.ways {
		switch {
		case at < 0:
		case i == len(l.order):
			p.lo[at], p.hi[at] = m.way, m.way+freeWay
		default:
			p.lo[at], p.hi[at] = 0, m.way
		}
	}
	for i := range l.left {
		if at := l.left[i]; at >= 0 {
			p.lo[at] = math.Log(m.LeastMass(m.Tolerance)*m.Tolerance) - 1
			p.hi[at] = math.Log(max(m.deficit, m.MostMass(m.Gap)*m.Gap))
		}
		if at := l.flow[i]; at >= 0 {
			p.lo[at], p.hi[at] = math.Log(m.LeastFlow), math.Log(m.fastest)
		}
		if at := l.wait[i]; at >= 0 {
			p.lo[at], p.hi[at] = 0, longestWait
		}
	}
	p.hi[l.flow[0]] = math.Log(m.first)
	return p
}

// freeWay is how far beyond the tolerance a drip may go, as a logarithm of the gap, and
// longestWait how long the valve may be shut, h.
const (
	freeWay     = 1.5
	longestWait = 72
)

// rows is the number of limits.
func (p *program) rows() int {
	all := 2*(len(p.order)+1) + len(p.cuts) + p.constraintRows()
	switch {
	case p.Overflow != nil:
	case p.loose:
		all += p.order.count(pour)
	default:
		all += 3*p.order.count(pour) + 1
	}
	return all
}

// constraintRows is how many of the rows, the last ones, are margins of constraints.
func (p *program) constraintRows() int { return len(p.taken) * (2*len(p.order) + 3) }

// pace is ln(deficit/flow) of a leg at a gap. Only an overflow changes the deficit within
// a leg.
func (p *program) pace(leg *Leg, gap float64) float64 {
	deficit := leg.FromMass * leg.FromGap
	if p.Overflow != nil {
		deficit = p.Overflow(gap) * gap
	}
	return math.Log(deficit / leg.Flow)
}

// surely is the least deficit per flow that a leg needs if it starts at a gap. If the limit
// drops at a break and the branch does not yet say on which side the leg starts, the
// limit before the drop counts. The program thus has no jump, and its solution bounds
// both branches.
func (p *program) surely(i int, gap float64) float64 {
	need := p.need(gap)
	if i == 0 || len(p.breaks) == 0 || gap >= p.breaks[0] {
		return need
	}
	for _, b := range p.breaks {
		if gap >= b {
			break
		}
		if p.lo[p.ways[i-1]] < p.wayOf(b) {
			need = min(need, gap*gap/p.Rate.At(b))
		}
	}
	return need
}

// apart is the least time of a leg.
func (m *model) apart(i int) float64 {
	if i == 0 {
		return max(m.Visits.Spacing, m.Visits.First)
	}
	return max(m.Visits.Spacing, m.Visits.Every)
}

// margins writes the margin of every limit and returns the objective.
func (p *program) margins(x, margins []float64, legs []Leg) float64 {
	p.lay(p.layout, x, legs)
	k := 0
	add := func(margin float64) {
		margins[k] = margin - tight
		k++
	}
	for i := range legs {
		leg := &legs[i]
		add((leg.Hours - p.apart(i)) / p.scale)
		if leg.Flow > 0 {
			add(p.pace(leg, leg.FromGap) - math.Log(p.surely(i, leg.FromGap)))
		} else {
			add(1)
		}
		if p.Overflow != nil {
			continue
		}
		pours := i < len(p.order) && p.order[i]&pour != 0
		if (pours || i == len(p.order)) && !p.loose {
			add(math.Log(p.MostMass(leg.ToGap) / leg.ToMass))
		}
		if pours {
			left := x[p.left[i+1]]
			add(left - math.Log(p.LeastMass(leg.ToGap)*leg.ToGap))
			if !p.loose {
				add(math.Log(leg.ToMass*leg.ToGap) - left + 2*tight) // equal if nothing is poured off
			}
		}
	}
	for _, c := range p.cuts {
		add(p.cut(c, &legs[c.leg]))
	}
	p.constraintMargins(legs, p.taken, p.units, margins[k:])
	return p.value(legs)
}

// cut is the margin of a condition that a branch has added.
func (p *program) cut(c cut, leg *Leg) float64 {
	switch c.kind {
	case passes:
		return p.pace(leg, c.value) - math.Log(p.needAt(c.value))
	case endsBy:
		return (c.value - leg.End()) / p.scale
	case lasts:
		return (leg.ToGap - p.reach(leg, int(c.value))) / leg.FromGap
	}
	return (leg.End() - c.value) / p.scale
}

// value is the objective of these legs.
func (m *model) value(legs []Leg) float64 {
	visits := len(legs) + 1 + m.refills(len(legs))
	return m.Objective.of(legs[len(legs)-1].End(), float64(visits), m.water(legs))
}

// waterAlone is LeastWater without the tie-break, for a bound on the water alone.
const waterAlone Objective = -1

func (m *model) water(legs []Leg) float64 {
	sum := 0.0
	for _, l := range legs {
		sum += l.Flow * l.Hours
	}
	return sum
}

// constraintMargins follows the states of some constraints, given by index, and writes
// their margins: of the act at the start, then of each leg and the act at its end.
func (m *model) constraintMargins(legs []Leg, which []int, units, margins []float64) {
	k := 0
	for i, c := range which {
		con := &m.Constraints[c]
		state, next := m.state[:len(con.Start)], m.next[:len(con.Start)]
		copy(state, con.Start)
		add := func(margin float64) {
			margins[k] = min(units[i]*margin, farOff) - tight
			k++
			state, next = next, state
		}
		add(con.act(next, state, m.actBefore(legs, 0)))
		for i := range legs {
			add(con.leg(next, state, legs[i]))
			add(con.act(next, state, m.actBefore(legs, i+1)))
		}
	}
}

// farOff caps a margin: beyond it, how far a limit is from being broken does not matter.
const farOff = 10

func (c *Constraint) leg(next, state []float64, l Leg) float64 {
	// The solver may try a leg that runs backwards; the limit on its spacing rules it out.
	if c.Leg == nil || !(l.Hours > 0) {
		copy(next, state)
		return farOff
	}
	return c.Leg(next, state, l)
}

func (c *Constraint) act(next, state []float64, a Act) float64 {
	if c.Act == nil {
		copy(next, state)
		return farOff
	}
	return c.Act(next, state, a)
}

// actBefore is the act before leg i, or at the end of the last.
func (m *model) actBefore(legs []Leg, i int) Act {
	if i == len(legs) {
		l := &legs[i-1]
		return Act{Time: l.End(), Gap: l.ToGap, FromMass: l.ToMass, ToMass: l.ToMass, Close: l.Flow > 0, End: true}
	}
	l := &legs[i]
	a := Act{Time: l.Start, Gap: l.FromGap, FromMass: l.FromMass, ToMass: l.FromMass, Flow: l.Flow}
	if i == 0 {
		a.Set = true
		return a
	}
	a.FromMass = legs[i-1].ToMass
	a.Pour = a.ToMass < a.FromMass
	a.Close = l.Flow == 0
	a.Set = l.Flow != legs[i-1].Flow && l.Flow > 0
	return a
}
