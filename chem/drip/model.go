package drip

import (
	"math"
	"slices"
)

// model is a problem made ready for the search.
type model struct {
	Problem
	way     float64   // ln(gap/tolerance)
	deficit float64   // gap times mass at the start
	breaks  []float64 // of the rate between gap and tolerance, the widest first
	fastest float64   // flow that the valve and the limits allow anywhere
	first   float64   // fastest flow that the limits allow at the start
	scale   float64   // h, by which the margins of times are divided
	forced  int       // pour-offs
	ends    bool      // the drip may end below the tolerance, to fit the visits
	fewest  int       // fillings of the jug

	state, next []float64 // of a constraint; scratch
}

func newModel(p Problem) *model {
	if p.Evaluations == 0 {
		p.Evaluations = DefaultEvaluations
	}
	if p.Visits.Spacing == 0 {
		p.Visits.Spacing = DefaultSpacing
	}
	m := &model{Problem: p, way: math.Log(p.Gap / p.Tolerance), deficit: p.Gap * p.Mass}
	m.takeBreaks()
	for i := range flowSamples + 1 {
		gap := m.gapAt(m.way * float64(i) / flowSamples)
		m.fastest = max(m.fastest, 2*m.mostMass(gap)*m.Rate.At(gap)/gap)
	}
	m.fastest = max(min(m.fastest, m.MostFlow), m.LeastFlow)
	m.first = min(m.fastest, m.allowed(m.Gap, m.deficit))
	m.first = max(m.first, m.LeastFlow)
	once := m.need(m.Gap) * (1/m.Tolerance - 1/m.Gap) // h, with one setting
	m.scale = max(m.Visits.Spacing, m.Visits.Every, once/10)
	m.ends = len(m.Visits.Quiet) > 0 || m.apart(0) > once/20 || m.apart(1) > once/20
	for _, c := range p.Constraints {
		m.state = grown(m.state, max(len(m.state), len(c.Start)))
	}
	m.next = make([]float64, len(m.state))
	m.fewest = m.fewestFillings()
	return m
}

// flowSamples is the number of gaps at which the allowed flow is sampled.
const flowSamples = 8

func (m *model) takeBreaks() {
	for _, b := range m.Rate.Breaks {
		if b < m.Gap*(1-near) && b > m.Tolerance*(1+near) {
			m.breaks = append(m.breaks, b)
		}
	}
	slices.Sort(m.breaks)
	slices.Reverse(m.breaks)
	m.breaks = slices.Compact(m.breaks)
}

func (m *model) mostMass(gap float64) float64 {
	if m.Overflow != nil {
		return m.Overflow(gap)
	}
	return m.MostMass(gap)
}

// near is the relative difference below which the search treats two numbers as equal.
const near = 1e-9

func (m *model) gapAt(way float64) float64 { return m.Gap * math.Exp(-way) }

func (m *model) wayOf(gap float64) float64 { return math.Log(m.Gap / gap) }

// need is the deficit, gap times mass, that each kg/h of drip requires at a gap: a flow
// q changes the salinity by q·gap/mass = q·gap²/deficit an hour.
func (m *model) need(gap float64) float64 { return gap * gap / m.Rate.At(gap) }

// needAt is need where the gap has just passed a break.
func (m *model) needAt(b float64) float64 { return b * b / m.Rate.At(b*(1-near)) }
