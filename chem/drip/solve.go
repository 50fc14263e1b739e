package drip

import (
	"context"
	"math"
)

// Solve returns the schedule that minimises the problem's objective, or an *Obstacle, or
// the error of a context that ended.
func Solve(ctx context.Context, p Problem) (Schedule, error) {
	if err := ctx.Err(); err != nil {
		return Schedule{}, err
	}
	m := newModel(p)
	if err := m.obstacle(); err != nil {
		return Schedule{}, err
	}
	s := &search{model: m, ctx: ctx}
	s.in.s = s
	s.run()
	if err := ctx.Err(); err != nil {
		return Schedule{}, err
	}
	if s.best == nil {
		o := s.explain()
		o.Evaluations = s.tried
		return Schedule{}, o
	}
	best := s.schedule(s.best)
	best.Evaluations, best.Complete = s.tried, !s.spent && !s.partly && !s.AnyWillDo
	if s.Countable != nil {
		ideal := s.schedule(s.ideal)
		best.Ideal = &ideal
	}
	return best, nil
}

// obstacle returns the obstacle that can be found without a search, or nil.
func (m *model) obstacle() error {
	if m.Overflow != nil {
		if excess := m.LeastFlow * m.need(m.Gap) / (m.Gap * m.Overflow(m.Gap)); excess > 1+near {
			return &Obstacle{Kind: TooFast, Value: excess}
		}
		if m.Tolerance <= 0 {
			return &Obstacle{Kind: OutOfReach}
		}
		return nil
	}
	if most := m.MostMass(m.Gap); m.Mass > most*(1+near) {
		return &Obstacle{Kind: OverRim, Value: most}
	}
	if excess := m.LeastFlow * m.need(m.Gap) / m.deficit; excess > 1+near {
		return &Obstacle{Kind: TooFast, Value: excess}
	}
	ends := m.fills()
	m.forced = len(ends) - 1
	if reach := m.gapAt(ends[m.forced]); !(reach <= m.Tolerance*(1+near)) {
		return &Obstacle{Kind: OutOfReach, Value: reach}
	}
	return nil
}

// explain returns why the search found nothing.
func (s *search) explain() *Obstacle {
	switch {
	case s.spent:
		return &Obstacle{Kind: Unsettled}
	case s.least != nil:
		return s.broken(s.least)
	case len(s.Visits.Quiet) > 0 || s.Visits.Every > s.Visits.Spacing || s.Visits.First > s.Visits.Spacing:
		return &Obstacle{Kind: NoVisit}
	}
	return &Obstacle{Kind: TooFast, Value: 1}
}

// broken returns the worst constraint of a node as an obstacle.
func (s *search) broken(n *node) *Obstacle {
	legs := s.legs(n)
	o := &Obstacle{Kind: Broken, Margin: math.Inf(1)}
	margins := make([]float64, 2*len(legs)+1)
	for _, c := range n.taken {
		s.constraintMargins(legs, []int{c}, asTheyAre, margins)
		for k, r := range margins {
			if r >= o.Margin {
				continue
			}
			o.Constraint, o.Margin, o.Time = c, r, 0
			if k > 0 {
				o.Time = legs[(k-1)/2].End()
			}
		}
	}
	return o
}
