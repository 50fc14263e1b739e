package transfer

import (
	"context"
	"errors"
	"math"

	"saltlock/chem/drip"
	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
)

// solved is a drip as the keeper can set it, and the optimum it was rounded from.
type solved struct {
	problem        problem
	legs, ideal    []leg
	exact, rounded float64            // hours
	released       float64            // h, when someone can release the animals
	refills        int                // of the jug, or whatever else needs a visit between the legs
	life           lifesupport.Course // zero if nobody counts the animals
	complete       bool               // no better drip can be left
}

// solve finds the best schedule; its error is a *drip.Obstacle if there is none.
func (t *task) solve(ctx context.Context, p problem, o drip.Objective, settings, pours int) (*solved, error) {
	return t.solveWithin(ctx, p, p.with(o, settings, pours), t.budget.share())
}

// solveWithin is solve with a budget of its own.
func (t *task) solveWithin(ctx context.Context, p problem, q drip.Problem, work int) (*solved, error) {
	weight := p.weight(q.Settings + q.PourOffs)
	q.Evaluations = max(1, work/weight)
	found, err := drip.Solve(ctx, q)
	if none, ok := errors.AsType[*drip.Obstacle](err); ok {
		t.budget.spend(none.Evaluations * weight)
	}
	if err != nil {
		return nil, err
	}
	t.budget.spend(found.Evaluations * weight)
	s := &solved{problem: p, legs: legsOf(found, p.held), complete: found.Complete}
	s.ideal = s.legs
	for _, l := range s.legs { // as the phases count it, to the last digit
		s.rounded += l.whole()
	}
	s.released = s.rounded + p.visits.held(s.rounded, t.rest(t.tolerance))
	s.refills = t.refills(s)
	s.exact = s.rounded
	if found.Ideal != nil {
		s.ideal = legsOf(*found.Ideal, p.held)
		s.exact = min(s.exact, found.Ideal.Hours) // a schedule in drops is also one without
	}
	return s, nil
}

// live follows the water of the container through a drip.
func (t *task) live(animals []lifesupport.Animals, s *solved, v vat) (lifesupport.Course, error) {
	k := t.keep
	stretches, err := t.stretches(s, v, k.in)
	if err != nil {
		return lifesupport.Course{}, err
	}
	return lifesupport.Support(animals, k.start, stretches, k.care)
}

// searched says how far the search went.
func (s *solved) searched() Search {
	if s.complete {
		return Complete
	}
	return Bounded
}

// end is the gap at which the drip ends: the tolerance, or less if the end waits for a visit.
func (s *solved) end() float64 { return s.legs[len(s.legs)-1].to }

// warnOfFills says how far one filling comes if it is not enough, and how often the plan pours
// off.
func (t *task) warnOfFills(p problem, pours int) {
	if p.forced == 0 || t.runsOver() {
		return
	}
	gap := p.Gap
	for range 20 { // the mass at the rim hardly depends on the gap: this converges at once
		gap = p.Gap * p.Mass / p.MostMass(gap)
	}
	t.warn(noteOf("one_filling_leaves", fraction(gap/p.Gap), pours))
}

// refuseZero refuses a tolerance at which no drip can end, and says how far a drip comes.
func (t *task) refuseZero(p problem, v vat) {
	p.Tolerance = p.Gap * 1e-9
	reach := p.Tolerance
	if _, err := drip.Check(p.Problem); err != nil {
		if o, ok := errors.AsType[*drip.Obstacle](err); ok && o.Kind == drip.TooFast {
			t.tooFast(v, o.Value)
			return
		} else if ok && o.Kind == drip.OutOfReach {
			reach = o.Value
		}
	}
	if t.runsOver() {
		t.refuseWith("tolerance", noteOf("overflow_never_ends", salinity(t.rules.atOnce/2)), noteOf("drip_never_ends"), toleranceTo(roundedUp(t.rules.atOnce/2)))
	} else {
		last := max(roundedUp(reach*comfort), roundedDown(t.rules.atOnce/2))
		t.refuseWith("tolerance", noteOf("tolerance_of_zero", salinity(last)), noteOf("drip_never_ends"), toleranceTo(last))
	}
}

// worthTelling is how much longer the visits must make a drip before the keeper is told.
const worthTelling = 1.1

// tellVisits says what the visits cost in time.
func (t *task) tellVisits(ctx context.Context, s *solved, p problem, v vat) error {
	if v.visits == nil {
		return nil
	}
	free := p
	free.Visits = drip.Visits{}
	fast, err := t.solveWithin(ctx, free, free.with(t.objective(), v.settings, morePours), t.budget.aside())
	if _, none := errors.AsType[*drip.Obstacle](err); none {
		return nil
	}
	if err == nil && s.rounded > fast.rounded*worthTelling {
		t.warn(noteOf("visits_take_longer", hours(s.rounded), hours(fast.rounded)))
	}
	return err
}

// smallestDrop is the drop of the finest infusion sets, 60 drops in 1 mL, in L.
const smallestDrop = 1e-3 / 60

// tooFast refuses a line whose slowest drip is too fast by this factor.
func (t *task) tooFast(v vat, excess float64) {
	t.refuseWith("line.least_drip", noteOf("needs_slower_drip", drops(v.leastDrip/excess)), noteOf("slowest_drip_too_fast"), leastDripTo(roundedDown(v.leastDrip/excess)))
	t.offer("container.start_volume", noteOf("needs_more_water", litres(v.start*excess)), t.moreWater(v, v.start*excess)...)
	if drop := v.drop / excess; drop >= smallestDrop {
		t.offer("line.drop_volume", noteOf("needs_smaller_drop", litres(drop)), dropTo(roundedDown(drop)))
	}
}

// moreWater starts with so much water, in a larger container if need be.
func (t *task) moreWater(v vat, start float64) []Change {
	changes := []Change{startTo(roundedUp(start))}
	if c := t.request.Container; c.Shape == nil && start > v.brim/2 {
		changes = append(changes, capacityTo(roundedUp(roundedUp(start)/usualStart+v.capacity-v.brim)))
		if c.Freeboard == nil {
			changes[1] = capacityTo(roundedUp(roundedUp(start) / usualStart / (1 - usualFreeboard)))
		}
	}
	return changes
}

// edge is by what share an offer goes beyond the very edge of what is possible, where only one
// schedule is left and a search hardly finds it.
const edge = 3e-4

// comfort is how far beyond the edge a tolerance is offered, so that a search finds a plan easily.
const comfort = 1.25

// outOfReach refuses a tolerance that the most pour-offs do not reach. It offers a container with
// room for a few, with a larger last step if it needs that too, and the last step that this
// container leaves if that is one.
func (t *task) outOfReach(ctx context.Context, p problem, v vat, reach float64) error {
	t.refuse("tolerance", noteOf("tolerance_out_of_reach", salinity(reach*(1+edge)), mostPours))
	usual := roundedDown(t.rules.atOnce / 2)
	for _, last := range []float64{t.tolerance, usual} {
		room := roundedUp(v.roomFor(p, last))
		changes := []Change{capacityTo(room)}
		if last > t.tolerance {
			changes = append(changes, toleranceTo(last))
		} else if last < t.tolerance || ContainerVolume.Check("", quantity.Volume(room)) != nil {
			continue
		}
		ok, err := plannable(ctx, t.request.with(changes), newBudget())
		if err != nil {
			return err
		}
		if ok && len(changes) > 1 {
			t.offer("container.capacity", noteOf("needs_larger_container_and_step", litres(room), salinity(last)), changes...)
		} else if ok {
			t.offer("container.capacity", noteOf("needs_larger_container", litres(room)), changes...)
			break
		}
	}
	if last := roundedUp(reach * comfort); last <= t.rules.atOnce {
		t.offer("tolerance", noteOf("larger_last_step_would_do", salinity(last)), toleranceTo(last))
	}
	return nil
}

// roomFor is the container in which a few pour-offs leave no more than a gap, L; +Inf if none is
// large enough.
func (v vat) roomFor(p problem, last float64) float64 {
	w := p.Problem
	w.Tolerance = last
	brim := smallest(v.brim, func(brim float64) bool {
		w.MostMass = func(gap float64) float64 { return p.MostMass(gap) / v.brim * brim }
		forced, err := drip.Check(w)
		return err == nil && forced <= morePours
	})
	return brim*(1+edge) + v.capacity - v.brim
}

// smallest finds how large something must be at least, starting from a value that is too small;
// +Inf if a million times as much will not do.
func smallest(from float64, works func(float64) bool) float64 {
	to := 2 * from
	for ; !works(to); to *= 2 {
		if to > 1e6*from {
			return math.Inf(1)
		}
	}
	for to-from > 1e-6*to {
		if mid := (from + to) / 2; works(mid) {
			to = mid
		} else {
			from = mid
		}
	}
	return to
}
