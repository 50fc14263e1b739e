package transfer

import (
	"context"
	"errors"
	"math"
	"time"

	"saltlock/chem/drip"
	"saltlock/chem/quantity"
)

// explain says what prevents a drip, and each smallest change, of those tried, that alone would
// allow it.
func (t *task) explain(ctx context.Context, p problem, v vat, o *drip.Obstacle) error {
	switch o.Kind {
	case drip.TooFast:
		t.tooFast(v, max(o.Value, 1+inside))
	case drip.OverRim:
		t.refuse("container.start_volume", noteOf("start_leaves_no_room", litres(v.start), litres(v.brim)), startTo(roundedDown(v.brim*usualStart)))
	case drip.OutOfReach:
		return t.outOfReach(ctx, p, v, o.Value)
	case drip.NoVisit:
		return t.explainVisits(ctx, p, v)
	case drip.Broken:
		err := t.explainBroken(ctx, p, v, p.kinds[o.Constraint])
		if err == nil && len(t.faults) == 0 {
			return t.searchEnded(ctx, v)
		}
		return err
	default:
		return t.explainUnsettled(ctx, p, v)
	}
	return nil
}

// explainUnsettled says what is in the way if the search ended before it found a plan: the limits
// broken by a drip that ignores everything else.
func (t *task) explainUnsettled(ctx context.Context, p problem, v vat) error {
	for _, kind := range p.kinds {
		err := t.explainBroken(ctx, p, v, kind)
		if err != nil || len(t.faults) > 0 {
			return err
		}
	}
	return t.searchEnded(ctx, v)
}

// searchEnded refuses what has no plan although no single limit forbids it, and offers what makes
// it easier: a stream or cups, a container kept warm, more water.
func (t *task) searchEnded(ctx context.Context, v vat) error {
	found, err := t.offerUncounted(ctx, v, Fault{Where: "line.settings", Note: noteOf("search_ended_without_a_plan")})
	if err != nil {
		return err
	}
	if !found {
		t.refuse("line.settings", noteOf("search_ended_without_a_plan"))
	}
	t.offerEasier(v)
	return nil
}

// offerEasier offers a container kept warm, and one with more water at the start.
func (t *task) offerEasier(v vat) {
	if t.unheld() {
		t.offer("container.heated", noteOf("heating_would_do"), heated())
	}
	t.offer("container.start_volume", noteOf("needs_more_water", litres(roundedUp(v.start*moreAtStart))), t.moreWater(v, v.start*moreAtStart)...)
}

// moreAtStart is how many times the water at the start is offered if nothing was found. Proposed
// here.
const moreAtStart = 1.5

// explainBroken says which limit every schedule breaks: it solves the drip without the limit and
// then checks the result against it.
func (t *task) explainBroken(ctx context.Context, p problem, v vat, kind constraintKind) error {
	free := p.without(kind)
	for pours := 0; pours <= morePours && len(t.faults) == 0; pours += morePours {
		s, err := t.solve(ctx, free, drip.Duration, v.settings, pours)
		if o, ok := errors.AsType[*drip.Obstacle](err); ok && o.Kind == drip.Unsettled {
			return nil
		} else if ok {
			return t.explain(ctx, free, v, o)
		}
		if err != nil {
			return err
		}
		if err := t.explainKind(ctx, free, s, v, kind); err != nil {
			return err
		}
	}
	return nil
}

// explainKind checks what was found without a limit against that limit.
func (t *task) explainKind(ctx context.Context, free problem, s *solved, v vat, kind constraintKind) error {
	switch kind {
	case ofLife:
		return t.explainLife(ctx, free, s, v)
	case ofHunger:
		return t.checkHeld(ctx, s, v)
	}
	return t.check(&Plan{}, s, v)
}

// check follows room, source and line through a drip that was found.
func (t *task) check(p *Plan, s *solved, v vat) error {
	if err := t.followRoom(s, v); err != nil {
		return err
	}
	var err error
	if p.Draw, err = t.draw(s.drawn()); err != nil {
		return err
	}
	t.feed(p.Draw, s, v)
	return t.plumb(p, s, v)
}

// feasible reports whether a drip would have a plan with another request, or with another
// container, line or visits.
func (t *task) feasible(ctx context.Context, r Request, change func(*vat)) (bool, error) {
	trial, err := newTask(r)
	if err != nil {
		return false, nil // something is out of range
	}
	trial.visits = t.visits
	if route := trial.request.Route; route != nil && *route == ByCups {
		trial.budget = newBudget() // with little to spend a search for cups finds none
		return trial.cupsFit(ctx, change)
	}
	v, err := trial.newVat()
	if err != nil || len(trial.faults) > 0 {
		return false, nil
	}
	if change != nil {
		change(&v)
	}
	if trial.keep, err = trial.newKeep(); err != nil {
		return false, nil
	}
	p, err := trial.problem(v)
	if err != nil {
		return false, err
	}
	trial.budget = t.budget
	// What a single setting of the valve can do is settled quickly, and is hardly less than more
	// settings can do.
	for settings := 1; settings <= min(fewSettings, v.settings); settings++ {
		q := p.with(drip.Duration, settings, morePours)
		q.AnyWillDo = true
		_, err = trial.solveWithin(ctx, p, q, trial.budget.share())
		if _, none := errors.AsType[*drip.Obstacle](err); !none {
			return err == nil, err
		}
	}
	return false, nil
}

// explainVisits says that no drip can be tended at these visits, and for each kind of change the
// smallest one tried that is enough. It is long because it lists the kinds of change.
func (t *task) explainVisits(ctx context.Context, p problem, v vat) error {
	offer := func(where string, code quantity.Code, n int, change func(i int, w *vat), say func(w vat) (quantity.Measure, Change)) error {
		for i := range n {
			var tried vat
			ok, err := t.feasible(ctx, t.request, func(w *vat) { change(i, w); tried = *w })
			if err != nil {
				return err
			}
			if ok {
				told, to := say(tried)
				t.offer(where, noteOf(code, told), to)
				return nil
			}
		}
		return nil
	}
	if found, err := t.offerUncounted(ctx, v, Fault{Where: "visits", Note: noteOf("visits_do_not_suffice")}); err != nil || found {
		return err
	}
	t.refuse("visits", noteOf("visits_do_not_suffice"))
	var starts []float64 // h later
	for h := 1.0; h < 24 && len(v.visits.quiet) > 0; h += 2 {
		if v.visits.shifted(h).next(0) == 0 {
			starts = append(starts, h)
		}
	}
	halved := 0
	if v.visits.every > 0 {
		halved = 4
	}
	return errors.Join(
		offer("start", "start_later_would_do", len(starts), func(i int, w *vat) { w.visits = v.visits.shifted(starts[i]) },
			func(w vat) (quantity.Measure, Change) {
				later := hours(v.visits.quiet[0][0] - w.visits.quiet[0][0])
				return later.Measure(), startingAt(t.request.Start.Add(time.Duration(float64(later.Value) * float64(time.Hour))))
			}),
		offer("visits.every", "come_more_often", halved, func(i int, w *vat) {
			often := *v.visits
			often.every /= math.Exp2(float64(i + 1))
			often.first = min(often.first, often.every)
			w.visits = &often
		}, func(w vat) (quantity.Measure, Change) {
			return hours(w.visits.every).Measure(), visitsEvery(w.visits.every)
		}),
		offer("container.capacity", "needs_larger_container", 4, func(i int, w *vat) { w.brim = v.brim * math.Exp2(float64(i+1)) },
			func(w vat) (quantity.Measure, Change) {
				room := w.brim + v.capacity - v.brim
				return litres(room).Measure(), capacityTo(roundedUp(room))
			}))
}
