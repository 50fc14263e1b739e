package transfer

import (
	"errors"
	"math"

	"saltlock/chem/quantity"
)

// attended returns the fastest flow, up to that of the stage, at which every act
// of a run falls on a visit. Where even the slowest drip is too fast for that,
// the valve is first closed for the next quiet hours; the flow is 0 where that
// does not help either. The run begins at a visit, at some hour.
func (d *drip) attended(s stage, r run, at float64) (wait, flow float64) {
	if flow = d.punctual(s, r, at); flow > 0 || at == 0 {
		return 0, flow
	}
	morning := d.visits.morning(at)
	return morning - at, d.punctual(s, r, morning)
}

// mostSlowed is how often a flow is slowed down for one visit after another.
const mostSlowed = 100

// punctual is attended with the valve open from the start. A slower flow brings
// every act later, so the fastest is found from above: each act that comes
// before its visit tells how much slower the flow must at least be.
func (d *drip) punctual(s stage, r run, at float64) float64 {
	for range mostSlowed {
		slower := d.early(s, r, at)
		if slower == s.flow {
			return s.flow
		}
		if s.flow = slower; d.countable != nil {
			s.flow = d.countable(slower)
		}
		if !(s.flow >= d.leastFlow*(1-inside)) {
			return 0
		}
	}
	return 0
}

// early returns the flow at which the first act that comes before its visit
// would come no earlier, or the flow that it is given if none does.
func (d *drip) early(s stage, r run, at float64) float64 {
	now, visit := at, at
	end := r.gaps[len(r.gaps)-1]
	for i, gap := range r.gaps {
		s.to = gap
		now += s.hours()
		// What is done at once is one visit; settings that are not needed come to lie so.
		if due := d.visits.due(visit, now); now > visit+soon && due > now+soon {
			return s.flow * (now - at) / (due - at)
		}
		visit = now
		if i == len(r.acts) {
			break
		}
		var ok bool
		if s, ok = d.after(s, r.acts[i], end, r.rooms[i]); !ok {
			break // which the schedule finds out, too
		}
	}
	return s.flow
}

// worthTelling is how much longer a drip lasts for its visits before the keeper is told.
const worthTelling = 1.1

// tellVisits tells what the visits cost in time.
func (t *task) tellVisits(s *solved, v vat) error {
	if v.visits == nil {
		return nil
	}
	v.visits = nil
	free, err := t.quietly(v)
	if err == nil && free != nil && s.rounded > free.rounded*worthTelling {
		t.warn(noteOf("visits_take_longer", hours(s.rounded), hours(free.rounded)))
	}
	return err
}

// explainVisits says that no drip can be tended at these visits, and each
// smallest change, of those tried, that alone would free it.
func (t *task) explainVisits(v vat) error {
	works := func(w vat) (bool, error) {
		d, err := t.problem(w)
		if err != nil {
			return false, err
		}
		_, least := d.optimum(d.fewestPours(mostPours))
		return !math.IsInf(least, 1), nil
	}
	change := func(where string, code quantity.Code, try []vat, say func(vat) quantity.Measure) error {
		for _, w := range try {
			if ok, err := works(w); err != nil {
				return err
			} else if ok {
				t.refuse(where, noteOf(code, say(w)))
				return nil
			}
		}
		return nil
	}
	var later, sooner, larger []vat
	for h := 1.0; h < 24 && len(v.visits.quiet) > 0; h += 2 {
		w := v
		if w.visits = v.visits.shifted(h); w.visits.next(0) == 0 {
			later = append(later, w)
		}
	}
	for n := 1; n <= 4 && v.visits.every > 0; n++ {
		w, often := v, *v.visits
		often.every /= math.Exp2(float64(n))
		often.first = min(often.first, often.every)
		w.visits = &often
		sooner = append(sooner, w)
	}
	for n := 1; n <= 4; n++ {
		w := v
		w.brim = v.brim * math.Exp2(float64(n))
		larger = append(larger, w)
	}
	t.refuse("visits", noteOf("visits_do_not_suffice"))
	return errors.Join(
		change("start", "start_later_would_do", later, func(w vat) quantity.Measure { return hours(v.visits.quiet[0][0] - w.visits.quiet[0][0]).Measure() }),
		change("visits.every", "come_more_often", sooner, func(w vat) quantity.Measure { return hours(w.visits.every).Measure() }),
		change("container.capacity", "needs_larger_container", larger, func(w vat) quantity.Measure { return litres(w.brim + v.capacity - v.brim).Measure() }))
}
