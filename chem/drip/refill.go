package drip

// mostFillings is how often a jug is filled at most in one leg.
const mostFillings = 100

// reach is the gap to which a number of fillings of the jug brings a leg.
func (m *model) reach(leg *Leg, fillings int) float64 {
	gap := leg.FromGap
	for range fillings {
		if gap <= 0 {
			return 0
		}
		gap = m.Filling(gap, m.massIn(leg, gap))
	}
	return gap
}

// massIn is the mass in the container at a gap within a leg.
func (m *model) massIn(leg *Leg, gap float64) float64 {
	if m.Overflow != nil {
		return m.Overflow(gap)
	}
	return leg.FromMass * leg.FromGap / gap
}

// fillings is how often the jug is filled for a leg, including the filling at its start.
func (m *model) fillings(leg *Leg) int {
	if m.Filling == nil || leg.Flow == 0 {
		return 1
	}
	n, gap := 1, m.Filling(leg.FromGap, leg.FromMass)
	for ; gap > leg.ToGap*(1+near) && n < mostFillings; n++ {
		gap = m.Filling(gap, m.massIn(leg, gap))
	}
	return n
}

// refillsOf is how often the jug is refilled between acts.
func (m *model) refillsOf(legs []Leg) int {
	n := 0
	for i := range legs {
		n += m.fillings(&legs[i]) - 1
	}
	return n
}

// fewestFillings is the least number of fillings of any schedule. It lets each filling meet
// the least water allowed, in which it closes most of the gap.
func (m *model) fewestFillings() int {
	if m.Filling == nil {
		return 1
	}
	n := 0
	for gap := m.Gap; gap > m.Tolerance*(1+near) && n < mostFillings; n++ {
		mass := m.mostMass(gap)
		if m.Overflow == nil {
			mass = min(m.Mass, m.LeastMass(gap))
		}
		gap = m.Filling(gap, mass)
	}
	return max(n, 1)
}

// refills is how often at least the jug is refilled between acts, for a number of legs.
func (m *model) refills(legs int) int { return max(0, m.fewest-legs) }

// visitPrice is what one visit adds to the objective.
func (m *model) visitPrice() float64 {
	switch m.Objective {
	case DurationAndVisits:
		return VisitTime
	case FewestVisits:
		return 1
	}
	return 0
}

// trueValue is the objective of legs, including every refill that they need.
func (m *model) trueValue(legs []Leg) float64 {
	return m.value(legs) + m.visitPrice()*float64(m.refillsOf(legs)-m.refills(len(legs)))
}

// branchOnRefills looks for legs that need more than one filling of the jug. Either one of
// them manages with fewer, or all these refills count as visits.
func (s *search) branchOnRefills(n *node, legs []Leg) bool {
	if n.settled == len(legs) || s.visitPrice() == 0 || s.refillsOf(legs) <= s.refills(len(legs)) {
		return false
	}
	counted := n.child()
	counted.settled, counted.missing = len(legs), n.missing
	if counted.value = s.trueValue(legs); !s.pruned(counted.value) {
		s.open = append(s.open, counted)
	}
	for i := n.settled; i < len(legs); i++ {
		if fillings := s.fillings(&legs[i]); fillings > 1 {
			fewer := n.child()
			fewer.settled, fewer.cuts = i, append(fewer.cuts, cut{i, lasts, float64(fillings - 1)})
			s.try(fewer)
		}
	}
	return true
}
