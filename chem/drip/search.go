package drip

import (
	"context"
	"math"
	"slices"
)

// search is a branch and bound: over orders, over the side of a break or of quiet hours
// on which a leg or act lies, and over flows that can be counted. Inside it, each program
// is solved for its best times and sizes.
type search struct {
	*model
	ctx    context.Context
	in     inner
	tried  int
	landed int   // solutions from scattered points
	spent  bool  // the budget is used up
	partly bool  // not all orders were looked at
	ideal  *node // the best if every flow could be counted

	open  []*node
	best  *node // nil if there is none yet
	least *node // the one that breaks a constraint least
}

// node is a program with its solution, whose value bounds every branch of it.
type node struct {
	*program
	x     []float64
	value float64
	// missing is by how much the worst limit is broken. A node where it is more than
	// feasible is useless.
	missing float64
}

// relativeTolerance is the part of the objective by which the best schedule found may
// be worse than one that the search has skipped.
const relativeTolerance = 3e-3

func (s *search) stopped() bool {
	if s.tried > s.Evaluations {
		s.spent = true
	}
	return s.spent || s.AnyWillDo && s.best != nil || s.ctx.Err() != nil
}

// pruned reports whether nothing with this bound is worth looking at.
func (s *search) pruned(bound float64) bool {
	return s.best != nil && bound >= s.best.value*(1-relativeTolerance)
}

// run looks at all orders with the valve open throughout. If visits or constraints ask
// for a wait for which even the slowest drip is too fast, it also looks at those in which
// the valve is shut for a while.
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
			return !s.pruned(z.bound) && !s.stopped()
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

// look calls at with each size that could be best.
func (s *search) look(sizes []size, at func(size)) {
	for _, z := range sizes {
		if s.pruned(z.bound) || s.stopped() {
			return
		}
		at(z)
		s.drain()
	}
}

// waits reports whether it could help to shut the valve for a while. If not, a slower
// drip does as well with one act less.
func (s *search) waits() bool {
	if s.Visits.Quiet == nil && s.Constraints == nil {
		return false
	}
	if s.best == nil {
		return true
	}
	return slices.ContainsFunc(s.best.flow, func(k int) bool { return k >= 0 && math.Exp(s.best.x[k]) < s.LeastFlow*slowest })
}

// slowest times the least flow is the flow up to which a drip is assumed to be held back
// by the least flow. Countable flows lie less than 5 % apart.
const slowest = 1.06

// root solves an order before anything is branched on. It returns the objective, or more
// than any objective if there is no schedule.
//
// A leg that comes out as short as allowed suggests that its acts belong together. That
// may be true of one local minimum and not of another, so the order is then solved from
// other points as well.
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
		return noSchedule + n.missing
	}
	return n.value
}

// collapsed reports whether a leg of the solution is as short as allowed, or whether there
// is no solution.
func (n *node) collapsed(legs []Leg) bool {
	if n.missing > feasible {
		return true
	}
	if n.apart(1) > n.Visits.Spacing { // the visits, not the spacing, make legs this short
		return false
	}
	for i := range legs {
		if legs[i].Hours < n.apart(i)*(1+shortest) {
			return true
		}
	}
	return false
}

// shortest is the relative excess up to which a leg counts as being as short as allowed.
const shortest = 1e-3

// others are further points from which to solve an order: where the acts come, as parts
// of the way, and how many times as much the pour-offs leave.
var others = [...]struct{ way, left float64 }{{1, 2}, {0.7, 1}, {0.85, 4}}

// otherwise returns the best solution of an order from those points.
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

// noSchedule is more than any objective, for orders without a schedule.
const noSchedule = 1e9

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

// keep stores a solved node if it can still lead to something better.
func (s *search) keep(n *node) {
	if n.missing > feasible {
		if len(n.taken) > 0 && (s.least == nil || n.missing < s.least.missing) {
			s.least = n
		}
		return
	}
	if s.pruned(n.value) {
		return
	}
	s.open = append(s.open, n)
}

// drain takes the most promising node again and again, until none is left that could lead
// to something better.
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
		for n != nil && !s.pruned(n.value) && !s.stopped() {
			n = s.plunge(n)
		}
	}
}

// plunge branches on a limit that a node's solution breaks. It returns the best of the
// branches, to go on with; the others stay open. A solution that breaks nothing becomes
// the best so far if it is better.
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

// child is a copy of a node to which a condition can be added.
func (n *node) child() *node {
	p := *n.program
	p.lo, p.hi, p.cuts, p.bend = slices.Clone(p.lo), slices.Clone(p.hi), slices.Clone(p.cuts), slices.Clone(p.bend)
	p.taken, p.units = slices.Clone(p.taken), slices.Clone(p.units)
	return &node{program: &p, x: slices.Clone(n.x)}
}
