package drip

import (
	"container/heap"
	"math"
	"slices"
)

// poured is a list of cups, by its last.
type poured struct {
	Cup
	before        *poured
	mass          float64
	rounds, pours int
	cups          int
	water         float64
	states        [][]float64 // of the constraints after the cup, where they are followed
	bound         float64
}

// run returns the best list, nil where there is none.
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

// begin adds the first cups of rounds, with so much left in the container. What the
// shortest interval allows, a longer one does no better, but where the limit drops
// further on, or a constraint wants it slower.
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

// drops tells whether the limit drops at a gap still to come.
func (c *cupSearch) drops(gap float64) bool {
	return slices.ContainsFunc(c.p.Rate.Breaks, func(b float64) bool { return b < gap && b > c.p.Tolerance })
}

// level adds rounds after pouring off no further than a cup of some size needs to be
// allowed: there no room is lost between what the limits allow and what the measure shows.
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

// levels is about how many sizes of cups that is done for at an interval.
const levels = 4

// lowest is how low one may pour off for a cup to be allowed, between two masses.
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

// allows tells whether a step may be made at an interval.
func (c *cupSearch) allows(from, to, every float64) bool {
	c.tried++
	return from-to <= c.p.AtOnce*(1+near) && c.clear(from, to) <= every*(1+near)
}

// parts is how many smaller cups there may be beside the largest.
const parts = 4

// marks is what the measure shows of so much water, or a little less.
func (c *cupSearch) marks(mass float64) float64 {
	return math.Floor(mass/c.p.Mark*(1+near)) * c.p.Mark
}

// largest is the largest cup that the limits on a step allow, 0 where none is, and if so
// asked also the container.
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

// add puts a cup on a list, if nothing forbids it.
func (c *cupSearch) add(n *poured, every, size, left float64, rounds int) {
	if size < c.p.Mark*(1-near) {
		return
	}
	gap := n.ToGap
	if enough := left * (gap/c.p.Tolerance - 1); size > enough { // the last need not be full
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

// bound is what no list can beat that goes on from this one, and a little more the more
// of the way is left: so of many that promise as much the longest goes on.
func (c *cupSearch) bound(m *poured) float64 {
	left := m.ToGap - c.p.Tolerance
	if left <= c.p.Tolerance*near {
		return c.value(m.Time+Pouring, m.cups, m.water)
	}
	hours := c.soonest(m.ToGap)
	if c.even {
		hours = math.Ceil(hours/intervalStep*(1-near)) * intervalStep
	}
	// Each cup closes so much at most, or thins so much.
	cups, water := max(left/c.p.AtOnce, math.Log(m.ToGap/c.p.Tolerance)/math.Log1p(c.p.MostCup/min(m.mass, c.p.LeastMass(m.ToGap)))), 0.0
	if m.pours == c.pours {
		water = math.Ceil(m.mass*(m.ToGap/c.p.Tolerance-1)/c.p.Mark*(1-near)) * c.p.Mark
		cups = max(cups, water/c.p.MostCup)
	}
	least := c.value(m.Time+Pouring+hours, m.cups+int(math.Ceil(cups*(1-near))), m.water+water)
	return least * (1 + c.slack*math.Log(m.ToGap/c.p.Tolerance)/math.Log(c.p.Gap/c.p.Tolerance))
}

// timed sets when a cup is poured: after the interval, clear of the one before, when
// someone comes, and when the day leaves room for it. It tells whether the cup
// may be as large as it is.
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

// keep puts a list among the open ones, unless it is behind another.
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

// lists is a heap, with the most promising list first, and of those as good the longest.
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

// kind is what lists have in common that are compared with each other.
type kind struct {
	rounds, pours, cups  int
	mass, every, deficit float64
}

// ahead tells whether what may follow one list may follow another of its kind as well, and
// does no worse there: with less gap, sooner, and for no more water in the end.
func ahead(o, m *poured) bool {
	return o.ToGap <= m.ToGap*(1+near) && o.Time <= m.Time+near && o.water-o.mass <= m.water-m.mass+near
}

// next is the first time from one on at which someone comes.
func (v Visits) next(t float64) float64 {
	for _, q := range v.Quiet {
		if t > q[0] && t < q[1] {
			return q[1]
		}
	}
	return t
}
