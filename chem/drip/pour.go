package drip

import (
	"container/heap"
	"math"
	"slices"
)

// poured is the last cup of a list, linked to the one before.
type poured struct {
	Cup
	before        *poured
	mass          float64
	rounds, pours int
	cups          int
	water         float64
	states        [][]float64 // of the constraints after the cup, if they are followed
	bound         float64
}

// run returns the best list, or nil if there is none.
func (c *cupSearch) run() *poured {
	start := &poured{Cup: Cup{ToGap: c.p.Gap, Time: -mostInterval}, mass: c.p.Mass}
	for _, con := range c.p.Constraints {
		start.states = append(start.states, con.Start)
	}
	c.open, c.reached = lists{start}, map[kind][]*poured{}
	for len(c.open) > 0 {
		n := heap.Pop(&c.open).(*poured)
		if n.ToGap <= c.p.Tolerance*(1+near) {
			return n
		}
		if c.tried > c.p.Evaluations {
			c.spent = true
			return nil
		}
		if c.ctx.Err() != nil {
			return nil
		}
		c.grow(n)
	}
	return nil
}

// grow adds each cup that may come next.
func (c *cupSearch) grow(n *poured) {
	if n.before != nil {
		c.add(n, n.Every, n.Mass, n.mass, n.rounds)
	}
	if n.rounds < max(c.p.Settings, 1)+n.pours {
		c.begin(n, n.mass)
	}
	if least := c.p.LeastMass(n.ToGap); n.pours < c.pours && least < n.mass*(1-slight) {
		c.begin(n, least)
		c.level(n, least)
	}
}

// begin adds the first cups of new rounds, with a mass left in the container. A longer
// interval that allows no larger cup is useless, unless the limit drops further on or
// a constraint asks for a slower change.
func (c *cupSearch) begin(n *poured, left float64) {
	last := 0.0
	for _, every := range c.intervals {
		size := c.largest(n.ToGap, left, every, true)
		if size > last || c.following || c.drops(n.ToGap) {
			c.add(n, every, size, left, n.rounds+1)
		}
		if last = size; !c.following {
			continue
		}
		before := 0.0
		for i := range parts {
			smaller := max(c.marks(size*float64(i+1)/(parts+1)), c.p.Mark)
			if smaller > before*(1+near) && smaller < size*(1-near) {
				c.add(n, every, smaller, left, n.rounds+1)
			}
			before = smaller
		}
	}
}

// drops reports whether the limit drops at a gap still to come.
func (c *cupSearch) drops(gap float64) bool {
	return slices.ContainsFunc(c.p.Rate.Breaks, func(b float64) bool { return b < gap && b > c.p.Tolerance })
}

// level adds rounds after a pour-off that leaves just the mass at which a cup of a size
// on the measure is allowed, so that rounding to the marks of the measure wastes nothing.
func (c *cupSearch) level(n *poured, least float64) {
	for _, every := range c.intervals {
		from, to := c.largest(n.ToGap, least, every, true), c.largest(n.ToGap, n.mass, every, false)
		by := max(1, math.Round((to-from)/c.p.Mark/levels)) * c.p.Mark
		for size := from + by; size <= to*(1+near); size += by {
			if left := c.lowest(n.ToGap, size, every, least, n.mass); left < n.mass*(1-slight) {
				c.add(n, every, size, left, n.rounds+1)
			}
		}
	}
}

// levels is about how many sizes of cup level tries at an interval.
const levels = 4

// lowest is the least mass, between two masses, at which a cup is allowed.
func (c *cupSearch) lowest(gap, size, every, lo, hi float64) float64 {
	for range 30 {
		if mid := (lo + hi) / 2; c.allows(gap, gap*mid/(mid+size), every) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// allows reports whether a step may be made at an interval.
func (c *cupSearch) allows(from, to, every float64) bool {
	c.tried++
	return from-to <= c.p.AtOnce*(1+near) && c.clear(from, to) <= every*(1+near)
}

// parts is how many cups smaller than the largest are tried.
const parts = 4

// marks rounds an amount down to a mark of the measure.
func (c *cupSearch) marks(mass float64) float64 {
	return math.Floor(mass/c.p.Mark*(1+near)) * c.p.Mark
}

// largest is the largest cup that the limits on a step allow, 0 if none is. If fits is
// set, it also fits into the container.
func (c *cupSearch) largest(gap, left, every float64, fits bool) float64 {
	most := c.p.MostCup
	if c.p.AtOnce < gap {
		most = min(most, left*c.p.AtOnce/(gap-c.p.AtOnce))
	}
	for size := c.marks(most); size > c.p.Mark/2; size -= c.p.Mark {
		to := gap * left / (left + size)
		if fits && left+size > c.p.MostMass(to)*(1+near) {
			continue
		}
		if c.allows(gap, to, every) {
			return size
		}
	}
	return 0
}

// add appends a cup to a list, unless something forbids it.
func (c *cupSearch) add(n *poured, every, size, left float64, rounds int) {
	if size < c.p.Mark*(1-near) {
		return
	}
	gap := n.ToGap
	if enough := left * (gap/c.p.Tolerance - 1); size > enough { // the last cup need not be full
		size = min(size, math.Ceil(enough/c.p.Mark*(1-near))*c.p.Mark)
	}
	m := &poured{before: n, mass: left + size, rounds: rounds, pours: n.pours, cups: n.cups + 1, water: n.water + size,
		Cup: Cup{Every: every, Mass: size, Left: left, PouredOff: n.mass - left, FromGap: gap, ToGap: gap * left / (left + size)}}
	if m.PouredOff > 0 {
		m.pours++
	}
	if !c.timed(m) || m.mass > c.p.MostMass(m.ToGap)*(1+near) {
		return
	}
	if c.following && !c.carry(m) {
		return
	}
	m.bound = c.bound(m)
	c.keep(m)
}

// bound is the least objective of the lists that continue this one. It grows a little
// with the gap that is left, so that of equally promising lists the most advanced goes on.
func (c *cupSearch) bound(m *poured) float64 {
	left := m.ToGap - c.p.Tolerance
	if left <= c.p.Tolerance*near {
		return c.value(m.Time+Pouring, m.cups, m.water)
	}
	hours := c.soonest(m.ToGap)
	if c.even {
		hours = math.Ceil(hours/intervalStep*(1-near)) * intervalStep
	}
	// A cup closes at most AtOnce of the gap, and dilutes it at most by MostCup.
	cups, water := max(left/c.p.AtOnce, math.Log(m.ToGap/c.p.Tolerance)/math.Log1p(c.p.MostCup/min(m.mass, c.p.LeastMass(m.ToGap)))), 0.0
	if m.pours == c.pours {
		water = math.Ceil(m.mass*(m.ToGap/c.p.Tolerance-1)/c.p.Mark*(1-near)) * c.p.Mark
		cups = max(cups, water/c.p.MostCup)
	}
	least := c.value(m.Time+Pouring+hours, m.cups+int(math.Ceil(cups*(1-near))), m.water+water)
	return least * (1 + c.slack*math.Log(m.ToGap/c.p.Tolerance)/math.Log(c.p.Gap/c.p.Tolerance))
}

// timed sets when a cup is poured: after the interval, clear of the cup before, at a
// time when someone comes, and within the daily limit. It reports whether a cup of this
// size is allowed.
func (c *cupSearch) timed(m *poured) bool {
	n, step := m.before, m.FromGap-m.ToGap
	if !c.allows(m.FromGap, m.ToGap, m.Every) || c.p.PerDay > 0 && step > c.p.PerDay {
		return false
	}
	if n.before == nil {
		return true // the first, at 0
	}
	m.Time = n.Time + max(m.Every, n.Every)
	if n.before.before == nil {
		m.Time = max(m.Time, c.p.Visits.First)
	}
	if c.p.PerDay > 0 {
		for sum := step; n.before != nil && n.Time > m.Time-24+near; n = n.before {
			if sum += n.FromGap - n.ToGap; sum > c.p.PerDay*(1+near) {
				m.Time = n.Time + 24
			}
		}
	}
	m.Time = c.p.Visits.next(m.Time)
	return true
}

// keep adds a list to the open ones, unless another is at least as good.
func (c *cupSearch) keep(m *poured) {
	if !c.following && !c.days {
		key := kind{m.rounds, m.pours, m.cups, m.Mass, m.Every, math.Round(m.mass * m.ToGap / (c.p.Gap * c.p.Mass) / near)}
		if slices.ContainsFunc(c.reached[key], func(o *poured) bool { return ahead(o, m) }) {
			return
		}
		c.reached[key] = append(c.reached[key], m)
	}
	heap.Push(&c.open, m)
}

// lists is a heap with the most promising list first; of equal ones, the longest.
type lists []*poured

func (l lists) Len() int { return len(l) }
func (l lists) Less(i, k int) bool {
	if l[i].bound != l[k].bound {
		return l[i].bound < l[k].bound
	}
	return l[i].cups > l[k].cups
}
func (l lists) Swap(i, k int) { l[i], l[k] = l[k], l[i] }
func (l *lists) Push(x any)   { *l = append(*l, x.(*poured)) }
func (l *lists) Pop() any {
	n := (*l)[len(*l)-1]
	*l = (*l)[:len(*l)-1]
	return n
}

// kind is what two lists must have in common to be compared.
type kind struct {
	rounds, pours, cups  int
	mass, every, deficit float64
}

// ahead reports whether list o is at least as good as m of the same kind: it has no more
// of the gap left, no later, and needs no more water in the end. Whatever can follow m
// can then follow o.
func ahead(o, m *poured) bool {
	return o.ToGap <= m.ToGap*(1+near) && o.Time <= m.Time+near && o.water-o.mass <= m.water-m.mass+near
}

// next is the first time, not before t, at which someone can come.
func (v Visits) next(t float64) float64 {
	for _, q := range v.Quiet {
		if t > q[0] && t < q[1] {
			return q[1]
		}
	}
	return t
}
