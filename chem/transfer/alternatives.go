package transfer

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"saltlock/chem/drip"
	"saltlock/chem/quantity"
)

// Preference says what a drip should take least of.
type Preference string

// The preferences.
const (
	PreferTime   Preference = "time"
	PreferVisits Preference = "visits"
	PreferWater  Preference = "water"
)

// Alternative is a drip that takes least of one thing, and what it costs in the others.
type Alternative struct {
	Prefer   Preference                           `json:"prefer"`
	Duration quantity.Estimate[quantity.Duration] `json:"duration"`
	Visits   int                                  `json:"visits"` // to set the valve, pour off and release
	Settings int                                  `json:"settings"`
	PourOffs int                                  `json:"pour_offs"`
	Water    quantity.Estimate[quantity.Volume]   `json:"water"`  // drawn from the source
	Chosen   bool                                 `json:"chosen"` // always false: what was chosen is the plan itself
}

// worthAVisit is how much longer a drip may last to spare its keeper a visit,
// where the request prefers nothing.
const worthAVisit = 1.02

// worthListing is by what part an alternative must take less of what it is for.
const worthListing = 0.01

// Gains tells whether an alternative takes less of what it is named for than another.
func (a Alternative) Gains(on Alternative) bool {
	switch a.Prefer {
	case PreferTime:
		return a.Duration.Value < on.Duration.Value
	case PreferVisits:
		return a.Visits < on.Visits
	}
	return a.Water.Value < on.Water.Value
}

// objectives are what the preferences ask the search for.
var objectives = map[Preference]drip.Objective{PreferTime: drip.Duration, PreferVisits: drip.FewestVisits, PreferWater: drip.LeastWater}

// choose solves the drip as it is asked for, and lists what else is worth a look.
//
// Without a preference it is the fastest with the fewest pour-offs, or one that
// spares a setting for a few minutes. To pour off more often than the container
// forces can be faster still, since a valve left alone then drips faster for
// what is in it; but it is more work, and so for the keeper to choose.
func (t *task) choose(ctx context.Context, p problem, v vat) (*solved, []Alternative, error) {
	var chosen *solved
	var err error
	if asked := t.request.Prefer; asked != nil {
		chosen, err = t.find(ctx, p, objectives[*asked], v.settings, morePours)
	} else {
		chosen, err = t.usual(ctx, p, v)
	}
	if err != nil || t.partial {
		return chosen, nil, err // a stretch of a longer way lists no alternatives
	}
	pool, err := t.others(ctx, p, v, chosen)
	if err != nil {
		return nil, nil, err
	}
	list := []Alternative{}
	for _, prefer := range []Preference{PreferTime, PreferVisits, PreferWater} {
		best := least(append(pool, chosen), func(s *solved) float64 { return s.cost(prefer) })
		a := t.alternative(prefer, best, v)
		if best.better(chosen, prefer) && !slices.ContainsFunc(list, a.alike) {
			list = append(list, a)
		}
	}
	return chosen, list, nil
}

// others are drips worth a look beside the one chosen: one that weighs time against
// visits, with more pour-offs, and one with the fewest visits. Each takes less of
// something, though perhaps not the least: that takes a search of its own, which
// who prefers it asks for.
func (t *task) others(ctx context.Context, p problem, v vat, chosen *solved) ([]*solved, error) {
	var pool []*solved
	add := func(o drip.Objective, pours int) error {
		s, err := t.solve(ctx, p, o, v.settings, pours)
		if _, none := errors.AsType[*drip.Obstacle](err); none {
			return nil // the budget ended first
		}
		if err == nil {
			pool = append(pool, s)
		}
		return err
	}
	err := add(drip.DurationAndVisits, morePours)
	if forced, _ := drip.Check(p.Problem); err == nil && chosen.visits() > forced+2 { // at the start, at each pour-off, at the release
		err = add(drip.FewestVisits, 0)
	}
	if err == nil && t.request.Prefer != nil {
		err = add(drip.Duration, 0)
	}
	return pool, err
}

// least returns the drip that costs least, the faster of equals.
func least(all []*solved, cost func(*solved) float64) *solved {
	return slices.MinFunc(all, func(a, b *solved) int {
		return cmp.Or(cmp.Compare(cost(a), cost(b)), cmp.Compare(a.rounded, b.rounded))
	})
}

// cost is what a drip takes of what is preferred to be little.
func (s *solved) cost(of Preference) float64 {
	switch of {
	case PreferTime:
		return s.rounded
	case PreferVisits:
		return float64(s.visits())
	}
	return s.drawn()
}

// someSettings and fewSettings are how many settings of the valve are tried where a
// search with all does not come to its end: there are far fewer orders to look at.
const (
	someSettings = 4
	fewSettings  = 2
)

// find solves the drip; where its search does not come to an end, it does so with some
// of the settings, and with few, as well, and keeps what is best.
func (t *task) find(ctx context.Context, p problem, o drip.Objective, settings, pours int) (*solved, error) {
	best, err := t.solve(ctx, p, o, settings, pours)
	none, ok := errors.AsType[*drip.Obstacle](err)
	if ok && none.Kind != drip.Unsettled || err != nil && !ok || err == nil && best.complete {
		return best, err
	}
	for n := min(settings/2, someSettings); n >= fewSettings; n /= 2 {
		q, work := p.with(o, n, pours), t.budget.share()
		if n/2 < fewSettings && best == nil {
			q, work = p.with(o, fewSettings, 0), t.budget.rest()
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
		return s.rounded + drip.VisitTime*float64(s.visits())
	}
	return s.rounded
}

// usual is the drip that is planned where nothing is preferred.
func (t *task) usual(ctx context.Context, p problem, v vat) (*solved, error) {
	fastest, err := t.find(ctx, p, drip.Duration, v.settings, 0)
	if o, none := errors.AsType[*drip.Obstacle](err); none && (o.Kind == drip.Broken || o.Kind == drip.NoVisit) {
		return t.find(ctx, p, drip.Duration, v.settings, morePours) // what more pour-offs keep is no reason to refuse
	}
	if err != nil {
		return nil, err
	}
	chosen := fastest
	for n := fastest.settings() - 1; n > 0; n-- {
		s, err := t.solve(ctx, p, drip.Duration, n, 0)
		if _, none := errors.AsType[*drip.Obstacle](err); none {
			break
		}
		if err != nil {
			return nil, err
		}
		if s.rounded > fastest.rounded*worthAVisit {
			break // fewer settings are slower still
		}
		if s.visits() < chosen.visits() {
			chosen = s
		}
	}
	chosen.exact = min(chosen.exact, fastest.exact)
	return chosen, nil
}

// better tells whether a drip takes less of what is preferred than another, by more
// than is worth no mention.
func (s *solved) better(than *solved, by Preference) bool {
	return s.cost(by) < than.cost(by)*(1-worthListing)
}

// alike tells whether two alternatives are one to a keeper.
func (a Alternative) alike(b Alternative) bool {
	near := func(x, y float64) bool { return math.Abs(x-y) <= worthListing*max(x, y) }
	return a.Visits == b.Visits && near(float64(a.Duration.Value), float64(b.Duration.Value)) && near(float64(a.Water.Value), float64(b.Water.Value))
}

func (t *task) alternative(p Preference, s *solved, v vat) Alternative {
	return Alternative{Prefer: p, Duration: hours(s.rounded), Visits: s.visits(), Settings: s.settings(), PourOffs: s.pours(),
		Water: litres(s.drawn() / v.dropMass * v.drop)}
}

// settings counts how often the valve is set.
func (s *solved) settings() int {
	return s.count(func(x leg) bool { return x.set })
}

// pours counts how often water is poured off.
func (s *solved) pours() int {
	return s.count(func(x leg) bool { return x.pour })
}

// visits counts how often the keeper must come, the release included.
func (s *solved) visits() int {
	return s.count(func(x leg) bool { return x.set || x.pour }) + 1
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
