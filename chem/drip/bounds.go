package drip

import (
	"cmp"
	"math"
	"slices"
)

// size is a number of acts, with a bound that no schedule with as many acts can beat
// and the places where the bounding schedule acts.
type size struct {
	acts  int
	bound float64
	ways  []float64
}

// sizes returns every number of acts that could be best, the most promising first.
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

// size bounds the schedules with a number of acts. The best schedule that may set the
// valve and pour off at every act, and ignores the rim, beats all others of that size.
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

// loosely solves an order without the rim.
func (s *search) loosely(m *model, o order, ways []float64) (p *program, x []float64, value, missing float64) {
	p = m.newProgram(newLayout(o, m.ends))
	p.loose = true
	x = make([]float64, p.size)
	p.begin(x, ways)
	value, missing = s.in.solve(p, x)
	return p, x, value, missing
}

// leastWater is the least new water of any schedule, found with as many pour-offs as
// are allowed; 0 if it cannot be found.
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

// inexact is the relative error allowed for in the least water. The solver stops only
// when a step promises far less than that.
const inexact = 5e-4

// worth is a bound on the objective of schedules with a number of acts that draw at
// least so much water: they last at least as long as the fastest flow needs for it.
func (s *search) worth(acts int, water float64) float64 {
	return s.Objective.of(water/s.fastest, float64(acts+2+s.refills(acts+1)), water)
}
