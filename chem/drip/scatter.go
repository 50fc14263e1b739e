package drip

import (
	"cmp"
	"math"
	"slices"
)

// Constraints part what is allowed into regions with hills between, so the best that
// lies downhill from where an order would go without them may be far from the best. From
// so many scattered points each order is looked at, and from the most promising of them
// it is solved.
const (
	scattered = 64
	landings  = 3
)

// mostLandings is how often in all it is solved from a scattered point.
const mostLandings = 240

// priceOfRoom is how many times the objective room that is missing counts where
// scattered points are compared.
const priceOfRoom = 10

// merit is less for a better point.
func (in *inner) merit(p *program, x []float64, unit float64) float64 {
	in.ready(p)
	return in.eval(x, in.rooms)/unit + priceOfRoom*lack(in.rooms)
}

// tryElsewhere solves a node that has just taken constraints from scattered points.
// Without the constraints it takes so much of the objective.
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

// sequence returns the k-th point of a sequence that fills a cube evenly, three
// coordinates for each leg: additive, by the powers of the root of x^(d+1) = x+1.
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

// scatter fills in the unknowns of an order by following it: each leg has three numbers
// between 0 and 1, which say how long it lasts, how much a pour-off leaves, how fast it
// drips. Each half the time is at an end of what it may be: there good schedules lie.
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

// gapAfter is the gap after some hours of drip, or when the container is full.
func (m *model) gapAfter(gap, deficit, flow, hours float64) float64 {
	if m.Overflow != nil {
		return gap * math.Exp(-flow*hours/m.Overflow(gap))
	}
	return max(deficit/(deficit/gap+flow*hours), deficit/m.MostMass(gap))
}
