package transfer

import (
	"context"
	"errors"
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

// Alternative is a drip that takes less of one thing, and what that costs in the others.
type Alternative struct {
	Prefer   Preference                           `json:"prefer"`
	Duration quantity.Estimate[quantity.Duration] `json:"duration"`
	// Release is when the animals can be released; nil in plans of earlier releases.
	Release  *quantity.Estimate[quantity.Duration] `json:"release,omitempty"`
	Visits   int                                   `json:"visits"` // to set the valve, pour off, refill the jug, close the valve and release
	Settings int                                   `json:"settings"`
	PourOffs int                                   `json:"pour_offs"`
	Water    quantity.Estimate[quantity.Volume]    `json:"water"` // drawn from the source
	// Differences say how it differs from the plan, one sentence for each.
	Differences []quantity.Note `json:"differences,omitempty"`
	Chosen      bool            `json:"chosen"` // always false: the chosen drip is the plan itself
}

// worthListing is by what share an alternative must take less of what it is listed for.
const worthListing = 0.01

// Gains reports whether an alternative takes less than another of what it is named for.
func (a Alternative) Gains(on Alternative) bool {
	switch a.Prefer {
	case PreferTime:
		return a.Duration.Value < on.Duration.Value
	case PreferVisits:
		return a.Visits < on.Visits
	}
	return a.Water.Value < on.Water.Value
}

// mostAlternatives is how many alternatives are listed at most.
const mostAlternatives = 4

// choose solves the drip as asked for, and lists what else is worth a look.
func (t *task) choose(ctx context.Context, p problem, v vat) (*solved, []Alternative, error) {
	chosen, err := t.find(ctx, p, t.objective(), v.settings, morePours)
	if err != nil || t.partial || t.trying {
		return chosen, nil, err // a stretch of a longer move lists no alternatives
	}
	pool, err := t.others(ctx, p, v, chosen)
	if err != nil {
		return nil, nil, err
	}
	list := []Alternative{}
	chosen, pool = t.best(chosen, pool)
	for _, s := range front(chosen, pool) {
		list = append(list, t.alternative(s, chosen, v))
	}
	return chosen, list, nil
}

// best replaces the chosen drip if the pool has one that is better by what was asked for: the
// search counts until the drip ends, but the animals wait for the next visit.
func (t *task) best(chosen *solved, pool []*solved) (*solved, []*solved) {
	for i, s := range pool {
		if s.value(t.objective()) < chosen.value(t.objective())*(1-worthListing) {
			s.complete = s.complete && chosen.complete
			chosen, pool[i] = s, chosen
		}
	}
	return chosen, pool
}

// others are drips worth a look beside the chosen one: what each other objective would choose.
// Each takes less of something, though perhaps not the least possible: that takes a longer search,
// for which you ask by preferring it.
func (t *task) others(ctx context.Context, p problem, v vat, chosen *solved) ([]*solved, error) {
	var pool []*solved
	for _, o := range []drip.Objective{drip.Duration, drip.DurationAndVisits, drip.FewestVisits, drip.LeastWater} {
		if o == t.objective() || o == drip.FewestVisits && chosen.visits() <= p.forced+2 { // at the start, at each pour-off, at the release
			continue
		}
		s, err := t.solveWithin(ctx, p, p.with(o, v.settings, morePours), t.budget.aside())
		if _, none := errors.AsType[*drip.Obstacle](err); none {
			continue // the budget ended first
		}
		if err != nil {
			return nil, err
		}
		pool = append(pool, s)
	}
	return pool, nil
}

// front are those of the pool that take less of something than the chosen drip and than each
// other: a Pareto front over duration, visits and water.
func front(chosen *solved, pool []*solved) []*solved {
	var kept []*solved
	for _, s := range pool {
		if chosen.covers(s) || slices.ContainsFunc(kept, func(k *solved) bool { return k.covers(s) }) {
			continue
		}
		kept = append(slices.DeleteFunc(kept, s.covers), s)
	}
	return kept[:min(len(kept), mostAlternatives)]
}

// covers reports whether another drip takes less of nothing, beyond differences not worth
// mentioning.
func (s *solved) covers(other *solved) bool {
	return !other.better(s, PreferTime) && !other.better(s, PreferVisits) && !other.better(s, PreferWater)
}

// better reports whether a drip takes less of what is preferred, beyond differences not worth
// mentioning.
func (s *solved) better(than *solved, by Preference) bool {
	return s.cost(by) < than.cost(by)*(1-worthListing)
}

// cost is how much a drip takes of what should be little.
func (s *solved) cost(of Preference) float64 {
	switch of {
	case PreferTime:
		return s.released
	case PreferVisits:
		return float64(s.visits())
	}
	return s.drawn()
}

func (t *task) alternative(s, chosen *solved, v vat) Alternative {
	a := Alternative{Duration: hours(s.rounded), Release: new(hours(s.released)), Visits: s.visits(), Settings: s.settings(), PourOffs: s.pours() + v.first, Water: litres(v.volume(s.drawn()))}
	for _, by := range []Preference{PreferTime, PreferVisits, PreferWater} {
		if a.Prefer == "" && s.better(chosen, by) {
			a.Prefer = by
		}
	}
	a.Differences = s.differences(chosen, v)
	return a
}

// differences say what a drip takes less and more of than the chosen one.
func (s *solved) differences(chosen *solved, v vat) []quantity.Note {
	var notes []quantity.Note
	if d := s.released - chosen.released; s.better(chosen, PreferTime) {
		notes = append(notes, noteOf("alternative_is_sooner", hours(-d)))
	} else if chosen.better(s, PreferTime) {
		notes = append(notes, noteOf("alternative_is_later", hours(d)))
	}
	if d := s.visits() - chosen.visits(); d < 0 {
		notes = append(notes, noteOf("alternative_has_fewer_visits", -d))
	} else if d > 0 {
		notes = append(notes, noteOf("alternative_has_more_visits", d))
	}
	if d := v.volume(s.drawn() - chosen.drawn()); s.better(chosen, PreferWater) {
		notes = append(notes, noteOf("alternative_takes_less_water", litres(-d)))
	} else if chosen.better(s, PreferWater) {
		notes = append(notes, noteOf("alternative_takes_more_water", litres(d)))
	}
	if pours := s.pours() + v.first; s.pours() != chosen.pours() && pours == 0 {
		notes = append(notes, noteOf("alternative_never_pours_off"))
	} else if s.pours() != chosen.pours() {
		notes = append(notes, noteOf("alternative_pours_off", pours, chosen.pours()+v.first))
	}
	return notes
}
