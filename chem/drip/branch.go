package drip

import (
	"math"
	"slices"
)

// branch finds something that the solution of a node breaks and that its program does
// not know of, and tries the ways to mend it; false where there is nothing.
func (s *search) branch(n *node) bool {
	legs := slices.Clone(s.in.legs[:0])
	legs = append(legs, make([]Leg, len(n.order)+1)...)
	s.lay(n.layout, n.x, legs)
	return s.branchOnBreaks(n, legs) || s.takeConstraints(n, legs) || s.branchOnVisits(n, legs) || s.branchOnFlows(n)
}

// branchOnBreaks finds a leg that is too fast for the limit past a break: it must end
// before the break, begin after it, or be slower.
func (s *search) branchOnBreaks(n *node, legs []Leg) bool {
	for i := range legs {
		leg := &legs[i]
		for _, b := range s.breaks {
			if leg.Flow == 0 || b > leg.FromGap*(1+near) || b <= leg.ToGap*(1+1e-7) {
				continue
			}
			need := math.Log(s.needAt(b))
			if n.pace(leg) >= need-near {
				continue
			}
			at := math.Log(s.Gap / b)
			if k := n.ways[i]; k >= 0 && i < len(n.order) {
				c := n.child()
				c.hi[k] = min(c.hi[k], at)
				s.try(c)
			}
			if i > 0 {
				c, k := n.child(), n.ways[i-1]
				c.lo[k] = max(c.lo[k], at+2e-9)
				s.try(c)
			}
			c := n.child()
			c.cuts = append(c.cuts, cut{i, paced, need})
			s.try(c)
			return true
		}
	}
	return false
}

// takeConstraints has the program look at the constraints that it breaks.
func (s *search) takeConstraints(n *node, legs []Leg) bool {
	var c *node
	rooms := make([]float64, 2*len(legs)+1)
	for i := range s.Constraints {
		if slices.Contains(n.taken, i) {
			continue
		}
		if s.margins(legs, []int{i}, rooms); lack(rooms) <= tight {
			continue
		}
		if c == nil {
			c = n.child()
		}
		c.taken = append(c.taken, i)
	}
	if c != nil {
		s.try(c)
	}
	return c != nil
}

// branchOnVisits finds an act in quiet hours, which must come before or after them.
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

// branchOnFlows finds a flow that cannot be counted, which must be slower or faster.
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
		slower, faster := n.child(), n.child()
		if math.Abs(below/flow-1) < near || math.Abs(above/flow-1) < near {
			if math.Abs(below/flow-1) >= near {
				below = above
			}
			fixed := n.child()
			fixed.lo[k], fixed.hi[k], fixed.x[k] = math.Log(below), math.Log(below), math.Log(below)
			s.try(fixed)
			return true
		}
		slower.hi[k], slower.x[k] = math.Log(below), math.Log(below)
		faster.lo[k], faster.x[k] = math.Log(above), math.Log(above)
		if below > 0 {
			s.try(slower)
		}
		if !math.IsInf(above, 1) {
			s.try(faster)
		}
		return true
	}
	return false
}
