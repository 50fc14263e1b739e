package drip

import (
	"cmp"
	"math"
	"slices"
)

// size is a number of acts, what no schedule with as many can beat, and where such a
// schedule would act.
type size struct {
	acts  int
	bound float64
	ways  []float64
}

// sizes returns all numbers of acts that could be best, the most promising first.
func (s *search) sizes() []size {
	most := s.Settings - 1 + s.mostPours()
	if s.Visits.Quiet != nil || s.Constraints != nil {
		most++ // the valve may be shut
	}
	water := s.leastWater()
	var sizes []size
	for n := s.forced; n <= most && !s.stopped(); n++ {
		z := s.size(n)
		z.bound = max(z.bound, s.worth(n, water))
		sizes = append(sizes, z)
	}
	slices.SortStableFunc(sizes, func(a, b size) int { return cmp.Compare(a.bound, b.bound) })
	return sizes
}

func (s *search) mostPours() int {
	if s.Overflow != nil {
		return 0
	}
	return min(s.forced+max(s.PourOffs, 0), MostPourOffs)
}

// size looks at schedules that set the valve and pour off as low as they may at each of
// so many acts, under no rim: what is best of them no other with as many acts can beat.
func (s *search) size(acts int) size {
	o := make(order, acts)
	for i := range o {
		if o[i] = set | pour; s.Overflow != nil {
			o[i] = set
		}
	}
	z := size{acts, math.Inf(1), ladder(acts+1, s.way)}
	p, x, value, missing := s.loosely(s.model, o, z.ways)
	if missing > feasible {
		return z
	}
	z.bound = value
	for i, k := range p.ways {
		if k >= 0 {
			z.ways[i] = x[k]
		}
	}
	return z
}

// loosely solves an order under no rim.
func (s *search) loosely(m *model, o order, ways []float64) (p *program, x []float64, value, missing float64) {
	p = m.newProgram(newLayout(o, m.ends))
	p.loose = true
	x = make([]float64, p.size)
	p.begin(x, ways)
	value, missing = s.in.solve(p, x)
	return p, x, value, missing
}

// leastWater is what no schedule with as many pour-offs as there may be can do without;
// 0 where that cannot be said.
func (s *search) leastWater() float64 {
	if s.Overflow != nil {
		return 0
	}
	m := *s.model
	m.Objective = waterAlone
	o := make(order, s.mostPours())
	for i := range o {
		o[i] = set | pour
	}
	_, _, _, missing := s.loosely(&m, o, ladder(len(o)+1, s.way))
	if missing > feasible {
		return 0
	}
	return m.water(s.in.laid()) * (1 - inexact)
}

// inexact is by what part the search may miss the least water: it goes on until a step
// promises far less.
const inexact = 5e-4

// worth is the least objective of a schedule with so many acts that draws so much water:
// it takes at least as long as the fastest drip.
func (s *search) worth(acts int, water float64) float64 {
	hours, visits := water/s.fastest, float64(acts+2+s.refills(acts+1))
	switch s.Objective {
	case Duration:
		return hours
	case FewestVisits:
		return visits + tieOfVisits*hours
	case LeastWater:
		return water + tieOfWater*hours
	}
	return hours + VisitTime*visits
}
