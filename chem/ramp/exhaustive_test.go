package ramp

import (
	"fmt"
	"math"
	"testing"
)

// small is a ramp on a grid of tenths of a g/kg and whole days, small enough to try every
// schedule. All its limits lie on the grid, so no schedule off the grid takes fewer days
// than the best one on it.
type small struct {
	gap, perDay, atOnce, week, saltyWeek, recent int
	step, wait, saltyWait, salty                 int // salty: tenths of the way at which it lies
	up                                           bool
	far                                          float64 // from the start to the new water, g/kg
}

// tried is one schedule: what each day changes.
type tried []int

// allowed checks the last day of a schedule against the limits as they are defined, with
// sums over days.
func (c small) allowed(s tried) bool {
	n := len(s) - 1
	x := s[n]
	if x == 0 {
		return true
	}
	before := 0
	for _, y := range s[:n] {
		before += y
	}
	today, week := x, 0
	if n == 0 {
		today += c.recent
	}
	for i := max(0, n-6); i <= n; i++ {
		week += s[i]
	}
	if n < 6 {
		week += c.recent
	}
	most, wait := c.week, c.wait
	if c.isSalty(before) || c.isSalty(before+x) {
		most = c.saltyWeek
	}
	if c.isSalty(before) {
		wait = c.saltyWait
	}
	step := 0
	for _, y := range s[max(0, n-wait+1):] {
		step += y
	}
	if n-wait+1 < 0 { // the change before the plan was in the day before
		step += c.recent
	}
	return today <= c.perDay && x <= c.atOnce && week <= most && step <= c.step
}

func (c small) isSalty(way int) bool {
	if c.up {
		return way > c.salty
	}
	return way < c.salty
}

// water is what the changes take, in volumes of the tank, by the mass balance of waters of
// equal density that are far g/kg apart at the start.
func (c small) water(s tried) float64 {
	far := c.far
	sum := 0.0
	for _, x := range s {
		sum += float64(x) / 10 / far
		far -= float64(x) / 10
	}
	return sum
}

// best tries every schedule of up to a number of days; not ok if none arrives.
func (c small) best(days int) (water float64, ok bool) {
	water = math.Inf(1)
	var try func(s tried, left int)
	try = func(s tried, left int) {
		if left == 0 {
			water, ok = min(water, c.water(s)), true
			return
		}
		if len(s) > days || (days+1-len(s))*min(c.perDay, c.atOnce) < left {
			return
		}
		for x := range min(left, c.perDay) + 1 {
			if n := append(s[:len(s):len(s)], x); c.allowed(n) {
				try(n, left-x)
			}
		}
	}
	try(tried{}, c.gap)
	return water, ok
}

// problem is the same ramp in a tank so large that the scale's grain does not count.
func (c small) problem() Problem {
	sign := 1.0
	p := Problem{From: 10, Volume: 1e8, Density: func(float64) float64 { return 1 }, Saltiest: 10 + c.far, Share: 1}
	if !c.up {
		sign, p.From, p.Source, p.Saltiest = -1, 30, 30-c.far, 40
	}
	tenth := func(n int) float64 { return float64(n) / 10 }
	p.To = p.From + sign*tenth(c.gap)
	p.Limits = Limits{AtOnce: tenth(c.atOnce), PerDay: tenth(c.perDay), PerWeek: tenth(c.week), SaltyWeek: tenth(c.saltyWeek), Recent: tenth(c.recent),
		Step: tenth(c.step), Wait: c.wait, SaltyWait: c.saltyWait, Salty: p.From + sign*tenth(c.salty)}
	return p
}

// mostTried is up to how many days every schedule is tried.
const mostTried = 10

// No schedule takes fewer days than the plan. Those with the same number of days take
// hardly less water: up to 1 % if the new water is far away, up to 5 % if single changes
// go a quarter or more of the way to it.
func TestExhaustive(t *testing.T) {
	worst, compared := map[float64]float64{}, 0 // by how far the new water is
	for i, c := range smallRamps() {
		name := fmt.Sprintf("%d: %+v", i, c)
		p, err := Solve(t.Context(), c.problem())
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		days, water, ok := 0, 0.0, false
		for ; days <= min(p.Days, mostTried) && !ok; days++ {
			water, ok = c.best(days)
		}
		switch {
		case !ok && p.Days <= mostTried:
			t.Errorf("%s: the plan takes %d days, in which no schedule arrives", name, p.Days)
		case ok && days-1 < p.Days:
			t.Errorf("%s: the plan takes %d days, %d will do", name, p.Days, days-1)
		case ok:
			compared++
			worst[c.far] = max(worst[c.far], p.Water/1e8/water-1)
		}
	}
	for far, most := range map[float64]float64{30: 0.001, 5: 0.01, 1.2: 0.05} {
		if worst[far] > most {
			t.Errorf("new water %g g/kg away: a plan takes %.2f %% more water than the best of its days", far, worst[far]*100)
		}
	}
	if compared < 150 {
		t.Errorf("only %d ramps were small enough to try all", compared)
	}
	t.Logf("%d ramps tried in full, water over the best by at most %v", compared, worst)
}

// smallRamps draws limits by a fixed rule, so that each binds in some of them.
func smallRamps() []small {
	var list []small
	seed := uint32(1)
	for i := range 400 {
		pick := func(of ...int) int {
			seed = seed*1664525 + 1013904223
			return of[int(seed>>16)%len(of)]
		}
		c := small{
			gap: pick(7, 9, 6, 8, 5, 10), perDay: pick(3, 2, 4), atOnce: pick(9, 3), week: pick(6, 5, 40, 4),
			recent: pick(0, 0, 2, 1), step: pick(3, 4, 6, 3), wait: pick(3, 2, 4), salty: pick(5, 3, 6, 30, 4), up: i%2 == 0, far: []float64{30, 1.2, 5}[pick(0, 1, 2)],
		}
		c.saltyWeek = c.week - pick(0, 2, 1)
		c.saltyWait = c.wait + pick(0, 2, 3)
		list = append(list, c)
	}
	return list
}
