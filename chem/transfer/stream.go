package transfer

import (
	"context"
	"errors"
	"math"
	"slices"

	"saltlock/chem/drip"
	"saltlock/chem/quantity"
)

// mostStream is the fastest stream offered, L/min: a keeper sets it by what a measuring cup
// catches in a minute. Common practice, no source.
const mostStream = 0.25

// otherWays are ways to the same water that count no drops.
type otherWays struct {
	stream struct {
		hours, flow float64 // to the release; greatest, kg/h
		drip        float64 // drops/s that the line must be allowed
	}
	cups struct {
		count int
		hours float64
	}
}

// uncounted finds how long the same move takes by a stream and by cups; 0 h if that is not
// possible, or if the line already passes as much.
func (t *task) uncounted(ctx context.Context, v vat) (w otherWays, err error) {
	if err := t.streams(ctx, v, &w); err != nil || t.partial || t.runsOver() {
		return w, err
	}
	return w, t.byHand(ctx, &w)
}

// streams plans a stream under every limit of a drip.
func (t *task) streams(ctx context.Context, v vat, w *otherWays) error {
	most := min(mostStream/60/v.drop, float64(dripRange.Hi))
	if most <= v.mostDrip {
		return nil
	}
	line := t.request.Line.WithDefaults()
	line.GreatestDrip = new(drops(most))
	r := t.request
	r.Line = &line
	trial, err := t.trial(r)
	if err != nil {
		return err
	}
	in, p, err := trial.prepare()
	if err != nil || len(trial.faults) > 0 {
		return err
	}
	s, err := trial.find(ctx, p, t.objective(), in.settings, morePours)
	if ok, err := trial.holds(s, in, err); !ok || s.released > trial.mostHeld()*(1+inside) {
		return err
	}
	fastest := slices.MaxFunc(s.legs, func(a, b leg) int { return int(math.Copysign(1, a.flow-b.flow)) }).flow
	w.stream.flow, w.stream.drip = fastest, math.Ceil(in.drip(fastest)*(1-inside))
	w.stream.hours = s.released
	return nil
}

// byHand plans measured cups.
func (t *task) byHand(ctx context.Context, w *otherWays) error {
	trial, err := t.trial(t.request)
	if err != nil {
		return err
	}
	v, p, err := trial.prepareCups(nil)
	if err != nil || len(trial.faults) > 0 {
		return err
	}
	s, err := trial.solveCups(ctx, p, v, trial.budget.rest())
	if err != nil {
		_, err = trial.holds(nil, v, err)
		return err
	}
	if ok, err := trial.holds(s.solved, v, nil); !ok {
		return err
	}
	if s.released <= trial.mostHeld()*(1+inside) {
		w.cups.count, w.cups.hours = len(s.cups), s.released
	}
	return nil
}

// trial is the task of another request with a budget of its own: the first is spent where a search
// was hard, and there another way is wanted most.
func (t *task) trial(r Request) (*task, error) {
	trial, err := newTask(r)
	if err == nil {
		trial.visits, trial.budget, trial.partial = t.visits, &budget{mostWork * 2 / 5}, t.partial
	}
	return trial, err
}

// holds reports whether a drip that was found also passes the checks of room, source and line.
func (t *task) holds(s *solved, v vat, err error) (bool, error) {
	if _, none := errors.AsType[*drip.Obstacle](err); none {
		return false, nil
	}
	if err == nil {
		err = t.check(&Plan{}, s, v)
	}
	return err == nil && len(t.faults) == 0, err
}

// sayWhatSetsTheTime says that the line slows a drip, and which ways are faster.
func (t *task) sayWhatSetsTheTime(ctx context.Context, p *Plan, v vat) error {
	if t.partial || t.trying || t.request.Underway { // days in tanks set the time; or another line comes too late
		return nil
	}
	w, err := t.uncounted(ctx, v)
	if err != nil {
		return err
	}
	takes := float64(p.Release.Time.Value)
	if w.stream.hours > 0 && takes > w.stream.hours*worthTelling {
		t.warn(noteOf("drops_set_the_time", drops(v.mostDrip)))
		t.warn(noteOf("stream_is_faster", hours(w.stream.hours), v.stream(w)))
	}
	if w.cups.hours > 0 && w.cups.hours < takes {
		t.warn(noteOf("cups_are_faster", w.cups.count, hours(w.cups.hours)))
	}
	return nil
}

// offerStream offers a stream in place of cups.
func (t *task) offerStream(ctx context.Context) error {
	r := t.request
	r.Route = new(Drip)
	trial, err := t.trial(r)
	if err != nil {
		return err
	}
	v, err := trial.newVat()
	if err != nil || len(trial.faults) > 0 {
		return err
	}
	var w otherWays
	if err := trial.streams(ctx, v, &w); err != nil || w.stream.hours == 0 {
		return err
	}
	t.offer("line.greatest_drip", noteOf("stream_would_do", hours(w.stream.hours), v.stream(w)),
		routeTo(Drip), greatestDripTo(roundedUp(w.stream.drip)))
	return nil
}

// stream is the greatest flow of one, in mL/min.
func (v vat) stream(w otherWays) quantity.Estimate[quantity.Flow] {
	return quantity.Exactly(quantity.Flow(v.volume(w.stream.flow) / 60 * 1000))
}

// offerUncounted offers ways that count no drops in place of one too slow to have a plan, and
// reports whether there are any.
func (t *task) offerUncounted(ctx context.Context, v vat, reason Fault) (bool, error) {
	if route := t.request.Route; route != nil && *route == ByCups {
		return false, nil
	}
	w, err := t.uncounted(ctx, v)
	if err != nil || w.stream.hours == 0 && w.cups.hours == 0 {
		return false, err
	}
	t.faults = append(t.faults, reason)
	if w.stream.hours > 0 {
		t.offer("line.greatest_drip", noteOf("stream_would_do", hours(w.stream.hours), v.stream(w)), greatestDripTo(roundedUp(w.stream.drip)))
	}
	if w.cups.hours > 0 {
		t.offer("route", noteOf("cups_would_do", w.cups.count, hours(w.cups.hours)), routeTo(ByCups))
	}
	return true, nil
}
