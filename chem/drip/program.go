package drip

import "math"

// program is the inner problem: the best times and sizes for one order. It has the
// unknowns of a layout, each within bounds, and the room that every limit leaves.
type program struct {
	*model
	*layout
	lo, hi []float64
	cuts   []cut
	taken  []int // constraints, by index, that are looked at
	// units are what their margins are multiplied by, so that all limits are broken
	// by numbers of one size when a constraint is taken: a step counts the worst.
	units []float64
	// loose leaves out the rim and lets a pour-off leave more than there is: what is
	// best then bounds every order with as many acts.
	loose bool
	// bend is the curvature that the search for its parent ended with; nil at a root.
	bend []float64
	// Branches that take fewer fillings of the jug were looked at of the legs before this.
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
	passes  cutKind = iota // the leg is slow enough where the gap has come down past this break
	endsBy                 // the leg ends at this time or before
	endsNot                // the leg ends at this time or later
	lasts                  // so many fillings of the jug are enough for the leg
)

// tight is what each limit is kept by, as a part, so that what the inner problem
// leaves undecided breaks none.
const tight = 1e-7

// newProgram is the inner problem of an order as long as nothing is branched on.
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

// freeWay is how much further than the tolerance a drip may go, as a logarithm of the
// gap, and longestWait how long the valve is closed at most, h.
const (
	freeWay     = 1.5
	longestWait = 72
)

// rows is the number of limits.
func (p *program) rows() int {
	all := 2*(len(p.order)+1) + len(p.cuts) + p.marginRows()
	switch {
	case p.Overflow != nil:
	case p.loose:
		all += p.order.count(pour)
	default:
		all += 3*p.order.count(pour) + 1
	}
	return all
}

// marginRows is how many of them, the last, are margins of constraints.
func (p *program) marginRows() int { return len(p.taken) * (2*len(p.order) + 3) }

// pace is ln(deficit/flow) of a leg when it comes past a gap; only an overflow changes the
// deficit within a leg.
func (p *program) pace(leg *Leg, gap float64) float64 {
	deficit := leg.FromMass * leg.FromGap
	if p.Overflow != nil {
		deficit = p.Overflow(gap) * gap
	}
	return math.Log(deficit / leg.Flow)
}

// surely is what a leg that starts at a gap needs at least. Where the limit drops at a
// break and nothing says that the leg starts beyond, it counts as it was before: so the
// program has no leap in it, and what it finds bounds both sides.
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

// rooms writes the room of every limit, and returns the objective.
func (p *program) rooms(x, rooms []float64, legs []Leg) float64 {
	p.lay(p.layout, x, legs)
	k := 0
	add := func(room float64) {
		rooms[k] = room - tight
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
	p.margins(legs, p.taken, p.units, rooms[k:])
	return p.value(legs)
}

// cut is the room that a condition of a branch leaves.
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
	last := &legs[len(legs)-1]
	hours, visits := last.End(), float64(len(legs)+1+m.refills(len(legs)))
	switch m.Objective {
	case Duration:
		return hours
	case FewestVisits:
		return visits + tieOfVisits*hours
	case LeastWater:
		return m.water(legs) + tieOfWater*hours
	case waterAlone:
		return m.water(legs)
	}
	return hours + VisitTime*visits
}

// waterAlone breaks no tie: its least is what no schedule can do without.
const waterAlone Objective = -1

// Weights of the duration against visits, and against kg of water, where those are
// what a schedule should take least of: enough to break a tie, too little to decide.
const (
	tieOfVisits = 1e-3
	tieOfWater  = 1e-3
)

func (m *model) water(legs []Leg) float64 {
	sum := 0.0
	for _, l := range legs {
		sum += l.Flow * l.Hours
	}
	return sum
}

// margins follows the states of the constraints that are named and writes their
// margins: at the start, and of each leg and the act at its end.
func (m *model) margins(legs []Leg, which []int, units, rooms []float64) {
	k := 0
	for i, c := range which {
		con := &m.Constraints[c]
		state, next := m.state[:len(con.Start)], m.next[:len(con.Start)]
		copy(state, con.Start)
		add := func(margin float64) {
			rooms[k] = min(units[i]*margin, farOff) - tight
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

// farOff is from where on it does not matter how far a limit is from being broken.
const farOff = 10

func (c *Constraint) leg(next, state []float64, l Leg) float64 {
	if c.Leg == nil || !(l.Hours > 0) { // the search may look at what runs backwards; its spacing says so

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
