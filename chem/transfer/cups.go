package transfer

import (
	"context"
	"errors"
	"math"

	"saltlock/chem/drip"
	"saltlock/chem/lifesupport"
	"saltlock/chem/seawater"
)

// A measuring jug as kitchens have it: a litre, with a mark every 50 mL. Cups come in two sizes,
// each at one interval, so that a keeper can remember them; a pour-off may begin another size.
// Common practice, no source.
const (
	usualCup  = 1.0  // L
	usualMark = 0.05 // L
	cupRounds = 2
)

// cupped is a change of water by cups, in two forms: as a drip that runs a minute for each cup,
// and as the cups.
type cupped struct {
	*solved
	cups []drip.Cup
}

// byCups plans measured cups in the container.
func (t *task) byCups(ctx context.Context) (Plan, error) {
	v, p, err := t.prepareCups(nil)
	if err != nil || len(t.faults) > 0 {
		return Plan{}, err
	}
	s, err := t.solveCups(ctx, p, v, t.budget.share())
	if o, none := errors.AsType[*drip.Obstacle](err); none && t.trying {
		return Plan{}, t.none()
	} else if none {
		return Plan{}, t.explainCups(ctx, p, v, o)
	}
	if err != nil {
		return Plan{}, err
	}
	if most := t.mostHeld(); s.released > most*(1+inside) {
		t.refuse("route", noteOf("cups_too_long", hours(s.released), hours(most)))
		return Plan{}, nil
	}
	plan := t.frameOfCups(s, v)
	if err := t.check(&plan, s.solved, v); err != nil || len(t.faults) > 0 {
		return plan, err
	}
	return plan, t.fillInCups(&plan, s, v)
}

// prepareCups resolves what cups depend on, with another container or other visits if need be, and
// states the problem.
func (t *task) prepareCups(change func(*vat)) (vat, problem, error) {
	if t.runsOver() {
		change := overflowing(false)
		if t.surely(needsLand) { // a container that fills up is none for them
			change = routeTo(Drip)
		}
		t.refuse("container.overflow", noteOf("no_cups_with_overflow"), change)
	}
	t.request.Line = nil // cups need no line
	v := vat{drop: 1, visits: t.visits}
	rho, err := density(t.to)
	v.dropMass = rho
	if err = errors.Join(err, t.holdIn(&v)); err != nil || len(t.faults) > 0 {
		return v, problem{}, err
	}
	if change != nil {
		change(&v)
	}
	p, err := t.stateProblem(v)
	return v, p, err
}

// cupsFit reports whether there is a plan by cups.
func (t *task) cupsFit(ctx context.Context, change func(*vat)) (bool, error) {
	v, p, err := t.prepareCups(change)
	if err != nil || len(t.faults) > 0 {
		return false, err
	}
	_, err = t.solveCups(ctx, p, v, t.budget.share())
	if _, none := errors.AsType[*drip.Obstacle](err); none {
		return false, nil
	}
	return err == nil, err
}

// solveCups finds the best cups; its error is a *drip.Obstacle if there are none.
func (t *task) solveCups(ctx context.Context, p problem, v vat, work int) (*cupped, error) {
	objective := drip.DurationAndVisits
	if asked := t.request.Prefer; asked != nil {
		objective = objectives[*asked]
	}
	litre := v.dropMass
	q := drip.CupProblem{Problem: p.with(objective, cupRounds, 0), AtOnce: t.rules.atOnce, Mark: usualMark * litre, MostCup: usualCup * litre}
	weight := p.weight(1 - p.forced) // of a step
	q.Evaluations = max(1, work/weight)
	found, err := drip.SolveCups(ctx, q)
	if o, none := errors.AsType[*drip.Obstacle](err); none {
		t.budget.spend(o.Evaluations * weight)
	}
	if err != nil {
		return nil, err
	}
	t.budget.spend(found.Evaluations * weight)
	s := &solved{problem: p, legs: legsOf(found.Schedule, nil), complete: found.Complete}
	for _, l := range s.legs {
		s.rounded += l.whole()
	}
	s.exact, s.ideal = s.rounded, s.legs
	c := &cupped{s, found.Cups}
	s.released = s.rounded + v.held(s.rounded, t.restAfterCups(c))
	return c, nil
}

// explainCups says what prevents cups.
func (t *task) explainCups(ctx context.Context, p problem, v vat, o *drip.Obstacle) error {
	switch o.Kind {
	case drip.TooFast:
		t.refuseWith("container.start_volume", noteOf("needs_more_water_for_cups", litres(usualMark), litres(v.start*max(o.Value, 1+inside))), noteOf("cups_change_too_fast", litres(usualMark)), t.moreWater(v, v.start*max(o.Value, 1+inside))...)
		return nil
	case drip.Broken, drip.Unsettled:
		kinds := p.kinds
		if o.Kind == drip.Broken {
			kinds = []constraintKind{p.kinds[o.Constraint]}
		}
		for _, kind := range kinds {
			free := p.without(kind)
			s, err := t.solveCups(ctx, free, v, t.budget.share())
			if _, none := errors.AsType[*drip.Obstacle](err); none {
				continue
			}
			if err == nil {
				err = t.explainWithout(ctx, free, s.solved, v, kind)
			}
			if err != nil || len(t.faults) > 0 {
				return err
			}
		}
		t.refuse("route", noteOf("search_ended_without_cups"), routeTo(Drip))
		t.offerEasier(v)
		return t.offerStream(ctx)
	}
	return t.explain(ctx, p, v, o)
}

// explainWithout checks the best cups found without a limit against that limit.
func (t *task) explainWithout(ctx context.Context, free problem, s *solved, v vat, kind constraintKind) (err error) {
	if kind != ofLife {
		return t.explainKind(ctx, free, s, v, kind)
	}
	if s.life, err = t.live(t.keep.animals, s, v); err != nil {
		return err
	}
	return t.refuseLife(ctx, s, v)
}

// frameOfCups is a plan of cups without what happens in it. The first cup may be a step at once,
// so the least time known is what the rest takes.
func (t *task) frameOfCups(s *cupped, v vat) Plan {
	least := 0.0
	if gap := t.gap - t.rules.atOnce; gap > t.tolerance {
		least = s.problem.rate.hours(gap, t.tolerance)
	}
	rest := t.restAfterCups(s)
	held := v.held(s.rounded, rest)
	p := Plan{
		Duration: hours(s.rounded), ExactDuration: hours(s.exact), LeastDuration: hours(least), Search: s.searched(), PourOffs: s.pours(),
		Release:  Release{Time: hours(s.rounded + held), Gap: salinity(s.end()), Rest: hours(rest)},
		SetAside: &SetAside{Volume: litres(v.brim), Until: hours(s.rounded + held + 24)},
		Methods:  []string{FillMethod, StepMethod, LimitMethod, seawater.DensityMethod, seawater.EnthalpyMethod},
	}
	if least > 0 {
		p.BoundRatio = new(s.rounded / least)
	}
	return p
}

// restAfterCups keeps both the last cup and the release clear of other change.
func (t *task) restAfterCups(s *cupped) float64 {
	return max(t.rest(t.tolerance), t.clear(s, s.cups[len(s.cups)-1]))
}

// clear is how long the step of a cup stays clear of other change.
func (t *task) clear(s *cupped, c drip.Cup) float64 {
	slowest := math.Inf(1)
	for _, k := range s.problem.rate.checks(c.FromGap, c.ToGap) {
		slowest = min(slowest, s.problem.rate.at(k.just))
	}
	return (c.FromGap - c.ToGap) / min(slowest, s.problem.rate.at(c.ToGap))
}

// fillInCups writes what happens, when to look, and how close it comes to the limits.
func (t *task) fillInCups(p *Plan, s *cupped, v vat) error {
	held := v.held(s.rounded, t.restAfterCups(s))
	var noPhases, noCurve, noLooks, noLimits error
	p.Phases, noPhases = t.phasesOfCups(s, v, held)
	p.Curve, noCurve = t.curve(s.legs, held)
	if err := errors.Join(noPhases, noCurve); err != nil {
		return err
	}
	p.Checkpoints, noLooks = t.checkpointsOfCups(s, p.Phases, held)
	p.Limits, noLimits = t.limitsOfCups(s, v)
	if t.request.From.HoursInBag != nil {
		p.Methods = append(p.Methods, lifesupport.BagWaterMethod)
	}
	t.assume(noteOf("cups_assumed", litres(usualCup), litres(usualMark)))
	if err := errors.Join(noLooks, noLimits); err != nil {
		return err
	}
	return t.tellLife(p, s.solved, v)
}
