package drip

import "context"

// Solve returns the schedule that takes least of the problem's objective, or an
// *Obstacle, or the error of a context that ended.
func Solve(ctx context.Context, p Problem) (Schedule, error) {
	if err := ctx.Err(); err != nil {
		return Schedule{}, err
	}
	m := newModel(p)
	if excess := m.LeastFlow * m.need(m.Gap) / m.deficit; m.Overflow == nil && excess > 1+near {
		return Schedule{}, &Obstacle{Kind: TooFast, Value: excess}
	}
	if most := m.MostMass(m.Gap); m.Mass > most*(1+near) {
		return Schedule{}, &Obstacle{Kind: OverRim, Value: most}
	}
	ends := m.fills()
	if ends[len(ends)-1] < m.way-near {
		return Schedule{}, &Obstacle{Kind: OutOfReach, Value: m.gapAt(ends[len(ends)-1])}
	}
	var best Schedule
	found := false
	for settings := 1; settings <= m.Settings; settings++ {
		o, ways := m.dealt(ends, settings)
		l := newLayout(o, false)
		x := make([]float64, l.size)
		if !m.begin(l, ways, x) {
			continue
		}
		if s := m.schedule(l, x); !found || s.Objective < best.Objective {
			best, found = s, true
		}
	}
	if !found {
		return Schedule{}, &Obstacle{Kind: Unsettled}
	}
	return best, nil
}
