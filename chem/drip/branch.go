package drip

import (
	"math"
	"slices"
)

// branch finds something that the solution of a node breaks and that its program does
// not know of, and tries the ways to mend it. It also tells whether nothing is broken but
// that flows cannot be counted.
func (s *search) branch(n *node) (branched, sound bool) {
	legs := s.legs(n)
	if s.branchOnBreaks(n, legs) || s.takeConstraints(n, legs) || s.branchOnVisits(n, legs) || s.branchOnRefills(n, legs) {
		return true, false
	}
	return s.branchOnFlows(n), true
}

// branchOnBreaks finds a leg that is too fast for the limit past a break: it must end
// before the break, begin after it, or be slower.
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
				ends.before(i, at+past) // so that the next leg may start there, beyond it
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

// before has act i, and all that come before it, come at a way or before it.
func (n *node) before(i int, way float64) {
	for _, k := range n.ways[:i+1] {
		n.hi[k] = min(n.hi[k], way)
	}
}

// after has act i, and all that come after it, come at a way or after it.
func (n *node) after(i int, way float64) {
	for _, k := range n.ways[i:len(n.order)] {
		n.lo[k] = max(n.lo[k], way)
	}
}

// past is by how much beyond a break, as a logarithm, what comes after it starts.
const past = 2 * near

// branchOnStart finds that a leg starts beyond a break too fast for the limit there: it
// starts before the break, or after it under that limit.
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

// takeConstraints has the program look at the constraints that it breaks.
func (s *search) takeConstraints(n *node, legs []Leg) bool {
	var c *node
	rooms := make([]float64, 2*len(legs)+1)
	for i := range s.Constraints {
		if slices.Contains(n.taken, i) {
			continue
		}
		s.margins(legs, []int{i}, asTheyAre, rooms)
		missing := lack(rooms)
		if missing <= tight {
			continue
		}
		if c == nil {
			c = n.child()
		}
		c.taken, c.units = append(c.taken, i), append(c.units, min(max(1, usual/missing), mostUnit))
	}
	if c != nil {
		s.try(c)
		s.tryElsewhere(c, n.value)
	}
	return c != nil
}

// usual is by what a limit is broken, in its unit, when it is taken; but a unit is no
// smaller than 1/mostUnit.
const (
	usual    = 0.1
	mostUnit = 1e4
)

var asTheyAre = []float64{1}

// each changes every unknown once that these places name.
func (n *node) each(at []int, change func(k int)) {
	last := -1
	for _, k := range at {
		if k >= 0 && k != last {
			change(k)
			last = k
		}
	}
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
