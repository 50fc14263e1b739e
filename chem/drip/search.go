package drip

import (
	"context"
	"math"
	"slices"
)

// search is a branch and bound: over orders, over what lies on which side of a break
// of the limit and of quiet hours, and over flows that can be counted. Inside it
// each program is solved for its best times and sizes.
type search struct {
	*model
	ctx    context.Context
	in     inner
	tried  int
	landed int   // tries from scattered points
	spent  bool  // the budget is
	partly bool  // not all orders were looked at
	ideal  *node // best of those whose flows need not be countable

	open  []*node
	best  *node // nil: none yet
	least *node // that breaks a constraint least
}

// node is a program with its solution, and a bound for all that it contains.
type node struct {
	*program
	x     []float64
	value float64
	// missing is the room that limits still lack; the node is of no use where it is more
	// than feasible.
	missing float64
}

// relativeTolerance is by how much of the objective a schedule may be worse than
// what the search has not looked at.
const relativeTolerance = 3e-3

func (s *search) stopped() bool {
	if s.tried > s.Evaluations {
		s.spent = true
	}
	return s.spent || s.AnyWillDo && s.best != nil || s.ctx.Err() != nil
}

// hopeless tells whether nothing with this bound is worth looking at.
func (s *search) hopeless(bound float64) bool {
	return s.best != nil && bound >= s.best.value*(1-relativeTolerance)
}

// run looks at all orders, and then, where the slowest drip is too fast for a wait that
// visits or constraints ask for, at those in which the valve is shut for a while.
func (s *search) run() {
	sizes := s.sizes()
	s.look(sizes, func(z size) {
		if s.count(z.acts) > mostOrders {
			s.climb(z)
			return
		}
		s.orders(z.acts, func(o order) bool {
			if s.root(o, z.ways); s.best == nil {
				s.drain()
			}
			return !s.hopeless(z.bound) && !s.stopped()
		})
	})
	s.graftAll(sizes)
	if !s.waits() {
		return
	}
	s.look(sizes, func(z size) {
		if s.count(z.acts) > mostOrders {
			s.partly = true
			return
		}
		s.ordersWithHold(z.acts, func(o order) bool {
			s.root(o, z.ways)
			return !s.stopped()
		})
	})
}

// look has all sizes that could be best looked at.
func (s *search) look(sizes []size, at func(size)) {
	for _, z := range sizes {
		if s.hopeless(z.bound) || s.stopped() {
			return
		}
		at(z)
		s.drain()
	}
}

// waits tells whether to shut the valve for a while could help: else a slower drip does
// as well, with one act less.
func (s *search) waits() bool {
	if s.Visits.Quiet == nil && s.Constraints == nil {
		return false
	}
	if s.best == nil {
		return true
	}
	return slices.ContainsFunc(s.best.flow, func(k int) bool { return k >= 0 && math.Exp(s.best.x[k]) < s.LeastFlow*slowest })
}

// slowest is up to how many times the slowest flow a drip counts as one that would be
// slower if it could. Drops that are counted lie less than 5 % apart.
const slowest = 1.06

// root solves an order as if nothing had to be branched on. It returns the objective,
// or more than any where there is no schedule.
//
// A leg that comes out as short as it may be says that its acts would rather be done
// together. That can be so in one hollow of the objective and not in another, so
// the order is solved from another point as well.
func (s *search) root(o order, ways []float64) float64 {
	p := s.newProgram(newLayout(o, s.ends))
	n := &node{program: p, x: make([]float64, p.size)}
	p.begin(n.x, ways)
	n.value, n.missing = s.in.solve(p, n.x)
	if n.collapsed(s.in.laid()) {
		n = s.otherwise(n, ways)
	}
	s.keep(n)
	if n.missing > feasible {
		return hopelessly + n.missing
	}
	return n.value
}

// collapsed tells whether a leg of the solution is as short as it may be, or there is none.
func (n *node) collapsed(legs []Leg) bool {
	if n.missing > feasible {
		return true
	}
	if n.apart(1) > n.Visits.Spacing { // legs between visits are short for another reason
		return false
	}
	for i := range legs {
		if legs[i].Hours < n.apart(i)*(1+shortest) {
			return true
		}
	}
	return false
}

// shortest is by what part a leg that could be no shorter may be longer.
const shortest = 1e-3

// others are the points from where to solve an order otherwise: where acts come, as
// parts of the way, and how many times as much pour-offs leave.
var others = [...]struct{ way, left float64 }{{1, 2}, {0.7, 1}, {0.85, 4}}

// otherwise returns the best that comes of an order from those points.
func (s *search) otherwise(n *node, ways []float64) *node {
	best := n
	for _, from := range others {
		c := n.child()
		c.bend = nil
		c.begin(c.x, ways)
		c.each(c.left, func(k int) { c.x[k] += math.Log(from.left) })
		c.each(c.ways[:len(c.order)], func(k int) { c.x[k] *= from.way })
		c.value, c.missing = s.in.solve(c.program, c.x)
		if c.missing <= feasible && (best.missing > feasible || c.value < best.value) {
			best = c
		}
	}
	return best
}

// hopelessly is more than any objective.
const hopelessly = 1e9

// try solves a node and keeps it.
func (s *search) try(n *node) {
	for j := range n.lo {
		if n.lo[j] > n.hi[j]+near {
			return
		}
	}
	n.value, n.missing = s.in.solve(n.program, n.x)
	s.keep(n)
}

// keep keeps a solved node for later if it can still lead to something better.
func (s *search) keep(n *node) {
	if n.missing > feasible {
		if len(n.taken) > 0 && (s.least == nil || n.missing < s.least.missing) {
			s.least = n
		}
		return
	}
	if s.hopeless(n.value) {
		return
	}
	s.open = append(s.open, n)
}

// drain takes the most promising node, again and again, until none is left that could
// lead to something better.
func (s *search) drain() {
	for len(s.open) > 0 && !s.stopped() {
		i := 0
		for k, n := range s.open {
			if n.value < s.open[i].value {
				i = k
			}
		}
		n := s.open[i]
		s.open = slices.Delete(s.open, i, i+1)
		for n != nil && !s.hopeless(n.value) && !s.stopped() {
			n = s.plunge(n)
		}
	}
}

// plunge branches on what a node's solution breaks and returns the best of its
// branches, to go on with; the others wait. A solution that breaks nothing is the
// best so far.
func (s *search) plunge(n *node) *node {
	before := len(s.open)
	branched, sound := s.branch(n)
	if sound && (s.ideal == nil || n.value < s.ideal.value) {
		s.ideal = n
	}
	if !branched {
		n.value = s.trueValue(s.legs(n))
		if s.best == nil || n.value < s.best.value {
			s.best = n
		}
		return nil
	}
	if len(s.open) == before {
		return nil
	}
	i := before
	for k := before; k < len(s.open); k++ {
		if s.open[k].value < s.open[i].value {
			i = k
		}
	}
	n = s.open[i]
	s.open = slices.Delete(s.open, i, i+1)
	return n
}

// child is a copy of a node to add a condition to.
func (n *node) child() *node {
	p := *n.program
	p.lo, p.hi, p.cuts, p.bend = slices.Clone(p.lo), slices.Clone(p.hi), slices.Clone(p.cuts), slices.Clone(p.bend)
	p.taken, p.units = slices.Clone(p.taken), slices.Clone(p.units)
	return &node{program: &p, x: slices.Clone(n.x)}
}
