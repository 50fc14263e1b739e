package drip

import (
	"math"
	"slices"
)

// branch looks for a limit that the solution of a node breaks because its program does
// not contain it, and tries each way to keep it. It is sound if the solution keeps all
// limits, apart from flows that cannot be counted.
func (s *search) branch(n *node) (branched, sound bool) {
	legs := s.legs(n)
	if s.branchOnBreaks(n, legs) || s.takeConstraints(n, legs) || s.branchOnVisits(n, legs) || s.branchOnRefills(n, legs) {
		return true, false
	}
	return s.branchOnFlows(n), true
}

// branchOnBreaks looks for a leg that is too fast for the limit beyond a break. The leg
// must end before the break, start after it, or be slower.
func (s *search) branchOnBreaks(n *node, legs []Leg) bool {
	for i := range legs {
		leg := &legs[i]
		if s.branchOnStart(n, i, leg) {
			return true
		}
		for _, b := range s.breaks {
			if leg.Flow == 0 || b > leg.FromGap*(1+near) || b <= leg.ToGap*(1+1e-7) {
				continue
			}
			at := s.wayOf(b)
			if n.pace(leg, b) >= math.Log(s.needAt(b))-near {
				continue
			}
			if i < len(n.order) {
				ends := n.child()
				ends.before(i, at+past) // so that the next leg may start just beyond the break
				s.try(ends)
			}
			beyond := n.child()
			beyond.cuts = append(beyond.cuts, cut{i, passes, b})
			if i < len(n.order) {
				beyond.after(i, at)
			}
			if i > 0 {
				starts := n.child()
				starts.after(i-1, at+past)
				s.try(starts)
				beyond.before(i-1, at)
			}
			s.try(beyond)
			return true
		}
	}
	return false
}

// before requires act i and all earlier acts to come at a way or before it.
func (n *node) before(i int, way float64) {
	for _, k := range n.ways[:i+1] {
		n.hi[k] = min(n.hi[k], way)
	}
}

// after requires act i and all later acts to come at a way or after it.
func (n *node) after(i int, way float64) {
	for _, k := range n.ways[i:len(n.order)] {
		n.lo[k] = max(n.lo[k], way)
	}
}

// past is how far beyond a break, as a logarithm, the leg after it starts.
const past = 2 * near

// branchOnStart checks whether a leg starts beyond a break and is too fast for the limit
// there. It must start before the break, or after it and keep that limit.
func (s *search) branchOnStart(n *node, i int, leg *Leg) bool {
	if i == 0 || leg.Flow == 0 || n.pace(leg, leg.FromGap) >= math.Log(s.need(leg.FromGap))-near {
		return false
	}
	k := n.ways[i-1]
	for _, b := range s.breaks {
		if at := s.wayOf(b); n.lo[k] < at && n.x[k] > at {
			before, after := n.child(), n.child()
			before.before(i-1, at)
			after.after(i-1, at+past)
			s.try(before)
			s.try(after)
			return true
		}
	}
	return false
}

// takeConstraints adds to the program the constraints that its solution breaks.
func (s *search) takeConstraints(n *node, legs []Leg) bool {
	var c *node
	margins := make([]float64, 2*len(legs)+1)
	for i := range s.Constraints {
		if slices.Contains(n.taken, i) {
			continue
		}
		s.constraintMargins(legs, []int{i}, asTheyAre, margins)
		missing := lack(margins)
		if missing <= tight {
			continue
		}
		if c == nil {
			c = n.child()
		}
		c.taken, c.units = append(c.taken, i), append(c.units, min(max(1, scaledExcess/missing), mostUnit))
	}
	if c != nil {
		s.try(c)
		s.tryElsewhere(c, n.value)
	}
	return c != nil
}

// When a constraint is taken into a program, its margins are scaled up so that it is
// broken by scaledExcess, but by mostUnit times at most.
const (
	scaledExcess = 0.1
	mostUnit     = 1e4
)

var asTheyAre = []float64{1}

// each calls change once for every unknown at these places.
func (n *node) each(at []int, change func(k int)) {
	last := -1
	for _, k := range at {
		if k >= 0 && k != last {
			change(k)
			last = k
		}
	}
}

// branchOnVisits looks for an act within quiet hours; it must come before or after them.
func (s *search) branchOnVisits(n *node, legs []Leg) bool {
	for i := range legs {
		end := legs[i].End()
		for _, q := range s.Visits.Quiet {
			if end <= q[0] || end >= q[1] {
				continue
			}
			before, after := n.child(), n.child()
			before.cuts = append(before.cuts, cut{i, endsBy, q[0]})
			after.cuts = append(after.cuts, cut{i, endsNot, q[1]})
			s.try(before)
			s.try(after)
			return true
		}
	}
	return false
}

// branchOnFlows looks for a flow that cannot be counted; it must be slower or faster.
func (s *search) branchOnFlows(n *node) bool {
	if s.Countable == nil {
		return false
	}
	for i, k := range n.flow {
		if k < 0 || i > 0 && k == n.flow[i-1] || n.hi[k]-n.lo[k] < near {
			continue
		}
		flow := math.Exp(n.x[k])
		below, above := s.Countable(flow)
		less, more := n.child(), n.child()
		if math.Abs(below/flow-1) < near || math.Abs(above/flow-1) < near {
			if math.Abs(below/flow-1) >= near {
				below = above
			}
			fixed := n.child()
			fixed.lo[k], fixed.hi[k], fixed.x[k] = math.Log(below), math.Log(below), math.Log(below)
			s.try(fixed)
			return true
		}
		less.hi[k], less.x[k] = math.Log(below), math.Log(below)
		more.lo[k], more.x[k] = math.Log(above), math.Log(above)
		if below > 0 {
			s.try(less)
		}
		if !math.IsInf(above, 1) {
			s.try(more)
		}
		return true
	}
	return false
}
