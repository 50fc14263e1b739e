package drip

import (
	"cmp"
	"math"
	"slices"
)

// Constraints can split the feasible region into parts, and the part nearest to the
// unconstrained solution need not hold the best. So each order is evaluated at a number
// of scattered points, and solved from the most promising of them.
const (
	scattered = 64
	landings  = 3
)

// mostLandings is how often in all an order is solved from a scattered point.
const mostLandings = 240

// priceOfLack weighs a broken limit against the objective when scattered points are
// compared.
const priceOfLack = 10

// merit ranks a point; less is better.
func (in *inner) merit(p *program, x []float64, unit float64) float64 {
	in.ready(p)
	return in.eval(x, in.margins)/unit + priceOfLack*lack(in.margins)
}

// tryElsewhere solves a node that has just taken constraints from scattered points. The
// argument without is its objective without them.
func (s *search) tryElsewhere(n *node, without float64) {
	if s.landed >= mostLandings || s.stopped() {
		return
	}
	type point struct {
		x     []float64
		merit float64
	}
	var best []point
	for k := range scattered {
		x := make([]float64, n.size)
		n.scatter(x, sequence(k, len(n.order)+1))
		p := point{x, s.in.merit(n.program, x, without)}
		i, _ := slices.BinarySearchFunc(best, p, func(a, b point) int { return cmp.Compare(a.merit, b.merit) })
		if best = slices.Insert(best, i, p); len(best) > landings {
			best = best[:landings]
		}
	}
	for _, p := range best {
		s.landed++
		c := n.child()
		c.x, c.bend = p.x, nil
		s.try(c)
	}
}

// sequence returns the k-th point of a sequence that fills a cube evenly, with three
// coordinates for each leg. It is additive, with the powers of the root of
// x^(d+1) = x+1 as increments.
func sequence(k, legs int) func() float64 {
	d := float64(3 * legs)
	root := 1.0
	for range 30 {
		root = math.Pow(1+root, 1/(d+1))
	}
	step := 1.0
	return func() float64 {
		step /= root
		_, part := math.Modf(0.5 + float64(k+1)*step)
		return part
	}
}

// scatter fills in the unknowns of an order leg by leg from three numbers between 0 and 1
// for each: how long it lasts, how much a pour-off leaves, and how fast it drips. Half
// of the time a value is at the end of its range, where good schedules lie.
func (p *program) scatter(x []float64, number func() float64) {
	deficit, gap, flow := p.deficit, p.Gap, 0.0
	once := p.need(p.Gap) * (1/p.Tolerance - 1/p.Gap)
	for i := range len(p.order) + 1 {
		long, left, slow := number(), number(), number()
		if k := p.left[i]; k >= 0 && i > 0 && k != p.left[i-1] {
			least := max(p.LeastMass(gap)*gap, p.LeastFlow*p.need(gap))
			deficit = min(deficit, least*math.Exp(3*max(0, left-0.5)))
			x[k] = math.Log(deficit)
		}
		if k := p.flow[i]; k >= 0 && (i == 0 || p.flow[i-1] != k) {
			x[k] = math.Log(p.allowed(gap, deficit)) - 4*max(0, slow-0.5)
			x[k] = min(max(x[k], p.lo[k]), p.hi[k])
			flow = math.Exp(x[k])
		}
		if k := p.wait[i]; k >= 0 {
			x[k] = p.apart(i) * math.Exp(2*long)
		} else if i < len(p.order) {
			gap = max(p.gapAfter(gap, deficit, flow, max(p.apart(i), once*math.Exp(5*(min(1, 2*long)-1)))), p.Tolerance)
		}
		if k := p.ways[i]; k >= 0 {
			x[k] = min(max(p.wayOf(gap), p.lo[k]), p.hi[k])
		}
	}
}

// gapAfter is the gap after some hours of drip, or at the time the container is full.
func (m *model) gapAfter(gap, deficit, flow, hours float64) float64 {
	if m.Overflow != nil {
		return gap * math.Exp(-flow*hours/m.Overflow(gap))
	}
	return max(deficit/(deficit/gap+flow*hours), deficit/m.MostMass(gap))
}
