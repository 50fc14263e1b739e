package transfer

import (
	"context"
	"errors"

	"saltlock/chem/drip"
)

// objectives are what each preference makes the search minimise; without one a visit weighs as
// much as drip.VisitTime.
var objectives = map[Preference]drip.Objective{PreferTime: drip.Duration, PreferVisits: drip.FewestVisits, PreferWater: drip.LeastWater}

// objective is what this request makes the search minimise.
func (t *task) objective() drip.Objective {
	if asked := t.request.Prefer; asked != nil {
		return objectives[*asked]
	}
	return drip.DurationAndVisits
}

// someSettings and fewSettings are how many settings of the valve are tried if a search with all
// of them does not finish: that leaves far fewer orders to look at.
const (
	someSettings = 4
	fewSettings  = 2
)

// find solves the drip. If its search does not finish, it also tries with some of the settings,
// and with few, and keeps the best.
func (t *task) find(ctx context.Context, p problem, o drip.Objective, settings, pours int) (*solved, error) {
	best, err := t.solve(ctx, p, o, settings, pours)
	none, ok := errors.AsType[*drip.Obstacle](err)
	if ok && none.Kind != drip.Unsettled || err != nil && !ok || err == nil && best.complete {
		return best, err
	}
	for n := min(settings/2, someSettings); n >= fewSettings; n /= 2 {
		q, work := p.with(o, n, pours), t.budget.share()
		if n/2 < fewSettings && best == nil {
			q, work = p.with(drip.Duration, fewSettings, 0), t.budget.rest()
		}
		few, fewErr := t.solveWithin(ctx, p, q, work)
		if _, none := errors.AsType[*drip.Obstacle](fewErr); fewErr != nil && !none {
			return nil, fewErr
		}
		if fewErr == nil && (best == nil || few.value(o) < best.value(o)) {
			few.complete = false
			best, err = few, nil
		}
	}
	return best, err
}

// value is what a search for an objective makes as small as it can.
func (s *solved) value(o drip.Objective) float64 {
	switch o {
	case drip.FewestVisits:
		return float64(s.visits())
	case drip.LeastWater:
		return s.drawn()
	case drip.DurationAndVisits:
		return s.released + drip.VisitTime*float64(s.visits())
	}
	return s.released
}

// settings counts how often the valve is set.
func (s *solved) settings() int {
	return s.count(func(x leg) bool { return x.set })
}

// pours counts how often water is poured off.
func (s *solved) pours() int {
	return s.count(func(x leg) bool { return x.pour })
}

// visits counts how often the keeper must come: to set the valve, pour off and refill the jug, to
// close the valve and to release.
func (s *solved) visits() int {
	return s.count(func(x leg) bool { return x.set || x.pour }) + s.count(func(x leg) bool { return x.wait > 0 }) + s.refills + 1
}

func (s *solved) count(is func(leg) bool) int {
	n := 0
	for _, x := range s.legs {
		if is(x) {
			n++
		}
	}
	return n
}

// drawn is the mass of new water that the drip takes.
func (s *solved) drawn() float64 {
	mass := 0.0
	for _, x := range s.legs {
		mass += x.flow * x.hours()
	}
	return mass
}
