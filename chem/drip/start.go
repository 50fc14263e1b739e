package drip

import "math"

// fills returns where each filling ends, as ln(gap at the start/gap), if each goes up to
// the rim and each pour-off goes as low as allowed. That takes the fewest pour-offs. It
// stops after the most allowed; the last entry then says how far they reach.
func (m *model) fills() []float64 {
	var ends []float64
	deficit, gap := m.deficit, m.Gap
	for range MostPourOffs + 1 {
		for range 20 { // the mass at the rim hardly depends on the gap, so this converges at once
			gap = deficit / m.MostMass(gap)
		}
		ends = append(ends, math.Log(m.Gap/gap))
		if gap <= m.Tolerance*(1+near) {
			break
		}
		deficit = max(m.LeastMass(gap)*gap, m.LeastFlow*m.need(gap))
	}
	return ends
}

// begin fills in the unknowns of an order to start from: acts at the given ways,
// pour-offs as low as allowed, flows as fast as the limits allow.
func (p *program) begin(x, ways []float64) {
	n := len(p.order)
	for i, at := range ways {
		if k := p.ways[i]; k >= 0 {
			x[k] = at
		}
	}
	deficit, gap := p.deficit, p.Gap
	for i := range n + 1 {
		if i > 0 {
			gap = p.gapAt(x[p.ways[i-1]])
			if p.order[i-1]&pour != 0 {
				deficit = p.LeastMass(gap) * gap * (1 + 1e-3)
				x[p.left[i]] = math.Log(deficit)
			}
		}
		if k := p.flow[i]; k >= 0 {
			flow := math.Log(p.allowed(gap, deficit))
			if i > 0 && p.flow[i-1] == k {
				flow = min(flow, x[k])
			}
			x[k] = min(max(flow, p.lo[k]), p.hi[k])
		}
		if k := p.wait[i]; k >= 0 {
			x[k] = p.apart(i)
		}
	}
}

// allowed is the flow that the hourly limit allows at a gap.
func (m *model) allowed(gap, deficit float64) float64 {
	if m.Overflow != nil {
		deficit = m.Overflow(gap) * gap
	}
	return deficit / m.need(gap)
}

// ladder returns where the gap should be, as ln(gap at the start/gap), at the end of each
// of several legs of one filling, so that together they take the least time under a
// constant hourly limit.
//
// A leg that takes the gap from g to g/ρ at the flow that its start allows lasts
// g·(ρ−1)/rate. The total is stationary in the gaps between the legs when
// ρ' = (1+ρ²)/2 from each leg to the next. The first ρ follows from the ratio of the
// whole by bisection, since the total rises with it.
func ladder(legs int, way float64) []float64 {
	rungs := make([]float64, legs)
	lo, hi := 0.0, way
	for range 40 {
		first := (lo + hi) / 2
		total := 0.0
		for i := range rungs {
			rungs[i] = first
			total += first
			first = math.Log((1 + math.Exp(min(2*first, 600))) / 2) // kept finite
		}
		if total > way {
			hi = (lo + hi) / 2
		} else {
			lo = (lo + hi) / 2
		}
	}
	at := 0.0
	for i, rung := range rungs {
		at += rung
		rungs[i] = at
	}
	return rungs
}
