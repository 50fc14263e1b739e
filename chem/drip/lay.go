package drip

import "math"

// lay writes the legs of a schedule and returns how long they take.
func (m *model) lay(l *layout, x []float64, legs []Leg) float64 {
	clock, from, left := 0.0, m.Gap, m.deficit
	for i := range legs {
		leg := &legs[i]
		*leg = Leg{Start: clock, FromGap: from, ToGap: m.Tolerance}
		if at := l.ways[i]; at >= 0 {
			leg.ToGap = m.gapAt(x[at])
		}
		if at := l.left[i]; at >= 0 {
			left = math.Exp(x[at])
		}
		switch {
		case l.wait[i] >= 0:
			leg.Hours, leg.ToGap = x[l.wait[i]], from
		default:
			leg.Flow = math.Exp(x[l.flow[i]])
		}
		if m.Overflow != nil {
			leg.FromMass, leg.ToMass, leg.Overflow = m.Overflow(from), m.Overflow(leg.ToGap), leg.Flow > 0
		} else {
			leg.FromMass, leg.ToMass = left/from, left/leg.ToGap
		}
		if leg.Flow > 0 {
			leg.Hours = m.inflow(leg) / leg.Flow
		}
		clock, from = clock+leg.Hours, leg.ToGap
	}
	return clock
}

// legs returns the legs of a node's solution.
func (m *model) legs(n *node) []Leg {
	legs := make([]Leg, len(n.order)+1)
	m.lay(n.layout, n.x, legs)
	return legs
}

// inflow is the new water of a leg.
func (m *model) inflow(leg *Leg) float64 {
	if m.Overflow != nil {
		return m.flushed(leg.FromGap, leg.ToGap)
	}
	return leg.ToMass - leg.FromMass
}

// Nodes and weights of the three-point rule of Gauss and Legendre on [−1, 1].
var (
	gaussNodes   = [3]float64{-math.Sqrt(0.6), 0, math.Sqrt(0.6)}
	gaussWeights = [3]float64{5. / 9, 8. / 9, 5. / 9}
)

// panel is how much of the gap's logarithm one application of the rule covers. The mass
// changes by a few per cent at most over the whole drip.
const panel = 0.5

// flushed is the new water that takes the gap from one value to another while an
// overflow keeps the volume constant: d(gap)/gap = −inflow/mass, so it is the integral
// of the mass over the gap's logarithm.
func (m *model) flushed(from, to float64) float64 {
	way := math.Log(from / to)
	n := max(1, math.Ceil(math.Abs(way)/panel))
	half, sum := way/n/2, 0.0
	for i := range int(n) {
		mid := (2*float64(i) + 1) * half
		for k, x := range gaussNodes {
			sum += gaussWeights[k] * half * m.Overflow(from*math.Exp(-mid-half*x))
		}
	}
	return sum
}
