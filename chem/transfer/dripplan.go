package transfer

import (
	"context"
	"errors"
	"math"
	"slices"

	"saltlock/chem/drip"
	"saltlock/chem/hydraulics"
	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// dripped plans a drip in the container. It is long because each step of planning may end it.
func (t *task) dripped(ctx context.Context) (Plan, error) {
	v, p, err := t.prepare()
	if err != nil || len(t.faults) > 0 {
		return Plan{}, err
	}
	full := v.start
	if err := t.pourFirst(ctx, &p, &v); err != nil {
		return Plan{}, err
	}
	s, alternatives, err := t.choose(ctx, p, v)
	if o, none := errors.AsType[*drip.Obstacle](err); none && t.trying {
		return Plan{}, t.none()
	} else if none {
		return Plan{}, t.explain(ctx, p, v, o)
	}
	if err != nil {
		return Plan{}, err
	}
	if err := t.checkHeld(ctx, s, v); err != nil || len(t.faults) > 0 {
		return Plan{}, err
	}
	t.warnOfFills(p, s.pours())
	if t.trying && !t.partial { // part of a longer move goes on from where this ends
		return Plan{}, t.check(&Plan{}, s, v)
	}
	if err := t.tellVisits(ctx, s, p, v); err != nil {
		return Plan{}, err
	}
	plan := t.frame(s, v)
	plan.Alternatives, plan.Settings, plan.PourOffs, plan.Visits = alternatives, s.settings(), s.pours(), s.visits()
	if err := t.check(&plan, s, v); err != nil || len(t.faults) > 0 {
		return plan, err
	}
	if err := t.fillIn(&plan, s, v); err != nil {
		return plan, err
	}
	if v.start < full {
		plan.PourFirst(full)
	}
	if slices.ContainsFunc(plan.Limits, func(l Limit) bool { return l.Name == "greatest_drip" && l.Binding }) {
		return plan, t.sayWhatSetsTheTime(ctx, &plan, v)
	}
	return plan, nil
}

// pourFirst starts with as little water as the animals need, if the container holds more and the
// drip is better for it.
func (t *task) pourFirst(ctx context.Context, p *problem, v *vat) error {
	if t.runsOver() || t.request.Underway || v.least >= v.start*(1-inside) {
		return nil
	}
	w := *v
	w.start, w.first = w.least, 1
	q, err := t.problem(w)
	if err != nil {
		return err
	}
	value := func(p problem) (float64, error) {
		s, err := t.solveWithin(ctx, p, p.with(t.objective(), v.settings, morePours), t.budget.aside())
		if _, none := errors.AsType[*drip.Obstacle](err); none {
			return math.Inf(1), nil
		} else if err != nil {
			return 0, err
		}
		return s.value(t.objective()), nil
	}
	little, noLittle := value(q)
	much, noMuch := value(*p)
	if little < much {
		*p, *v = q, w
	}
	return errors.Join(noLittle, noMuch)
}

// checkHeld refuses to keep animals for days in a container without a filter, and offers ways that
// count no drops.
func (t *task) checkHeld(ctx context.Context, s *solved, v vat) error {
	lasting, most := s.released, t.mostHeld()
	if lasting <= most*(1+inside) {
		return nil
	}
	found, err := t.offerUncounted(ctx, v, Fault{Where: "line.greatest_drip", Note: noteOf("too_long_without_food_in_drops", drops(v.mostDrip), hours(lasting), hours(most))})
	if err == nil && !found {
		t.refuse("line.greatest_drip", noteOf("too_long_without_food", hours(lasting), hours(most)))
	}
	return err
}

// mostHeld is how long animals may be held in the container, h.
func (t *task) mostHeld() float64 {
	if t.keep != nil || t.youngDown() { // they may take two days on the way down
		return longestHeld
	}
	return longestUnwatched
}

// prepare resolves what a drip depends on and states the problem.
func (t *task) prepare() (vat, problem, error) {
	v, err := t.newVat()
	if err != nil || len(t.faults) > 0 {
		return v, problem{}, err
	}
	p, err := t.stateProblem(v)
	return v, p, err
}

// stateProblem judges what does not depend on a line, and states the problem.
func (t *task) stateProblem(v vat) (problem, error) {
	t.checkTemperature()
	if t.runsOver() && v.visits != nil {
		t.refuse("visits", noteOf("no_visits_with_overflow"), noVisits(t.request.Visits)...)
	}
	var err error
	if t.keep, err = t.newKeep(); err != nil || len(t.faults) > 0 {
		return problem{}, err
	}
	p, err := t.problem(v)
	if err == nil && t.tolerance == 0 {
		t.refuseZero(p, v)
	}
	return p, err
}

// frame is a plan of the drip without what happens in it.
func (t *task) frame(s *solved, v vat) Plan {
	least := s.problem.rate.hours(t.gap, t.tolerance)
	rest, held := t.rest(t.tolerance), v.held(s.rounded, t.rest(t.tolerance))
	p := Plan{
		Duration: hours(s.rounded), ExactDuration: hours(s.exact), LeastDuration: hours(least),
		BoundRatio: new(s.rounded / least), Search: s.searched(),
		Release:  Release{Time: hours(s.rounded + held), Gap: salinity(s.end()), Rest: hours(rest)},
		SetAside: &SetAside{Volume: litres(v.brim), Until: hours(s.rounded + held + 24)},
		Methods:  []string{FillMethod, LadderMethod, LimitMethod, seawater.DensityMethod, seawater.EnthalpyMethod},
	}
	if t.runsOver() {
		p.Methods = append([]string{OverflowMethod}, p.Methods[2:]...)
	}
	fastest := 0.0
	for _, l := range s.legs {
		fastest = max(fastest, l.flow)
	}
	if drip := v.drip(fastest); drip > float64(usualMostDrip)*(1+inside) {
		t.warn(noteOf("too_fast_to_count", drops(drip), quantity.Exactly(usualMostDrip)))
	}
	return p
}

// fillIn writes what happens in the drip, when to look, and how close it comes to the limits.
func (t *task) fillIn(p *Plan, s *solved, v vat) error {
	held := v.held(s.rounded, t.rest(t.tolerance))
	var noPhases, noCurve, noLooks, noLimits, noWaste error
	p.Phases, noPhases = t.phases(s.legs, v, held)
	p.Curve, noCurve = t.curve(s.legs, held)
	p.Checkpoints, noLooks = t.checkpoints(s.legs, v.visits, held)
	p.Limits, noLimits = t.dripLimits(s, v)
	if t.runsOver() {
		noWaste = t.tellWaste(p, s)
	}
	noWaste = errors.Join(noWaste, t.fail(p.Draw, s, v), t.lookAtJug(p, s, v))
	p.lookAtHose()
	if t.request.From.HoursInBag != nil {
		p.Methods = append(p.Methods, lifesupport.BagWaterMethod)
	}
	if err := errors.Join(noPhases, noCurve, noLooks, noLimits, noWaste); err != nil {
		return err
	}
	return t.tellLife(p, s, v)
}

// tellLife follows the animals through what was found, and says what it means for them.
func (t *task) tellLife(p *Plan, s *solved, v vat) (err error) {
	if t.keep == nil {
		return nil
	}
	if s.life, err = t.live(t.keep.animals, s, v); err != nil {
		return err
	}
	p.LifeSupport = t.lifeSupport(s.life)
	p.Limits = append(p.Limits, t.lifeLimitsKept(s.life)...)
	p.Methods = append(p.Methods, t.lifeMethods(s.life)...)
	addLife(p.Curve, s.life)
	t.caution(noteOf("without_air", p.LifeSupport.WithoutAir))
	return nil
}

// checkTemperature refuses a drip that changes the temperature by more than a
// day allows, and warns of what is left for the release.
func (t *task) checkTemperature() {
	if !t.counts() {
		return
	}
	day := t.rules.temperatureOfDay
	if math.Abs(t.warmer()) > day*(1+inside) {
		nearest := t.from.t + math.Copysign(day, t.warmer())
		code, offer := quantity.Code("temperature_over_24_hours"), math.Floor(nearest*10)/10 // an offer is rounded to the side on which it works
		if t.warmer() < 0 {
			code, offer = "temperature_over_24_hours_down", math.Ceil(nearest*10)/10
		}
		t.refuse("to.temperature", noteOf(code, kelvins(math.Abs(t.warmer())), kelvins(day), celsius(nearest)), warmthTo(offer))
	}
	if left := math.Abs(t.warmer()) * t.tolerance / t.gap; left >= countedDifference && !t.unheld() {
		t.warn(noteOf("temperature_left_at_release", kelvins(left)))
	}
}

// draw is what a drip of so many kg takes from the source.
func (t *task) draw(mass float64) (*Draw, error) {
	rho, noNew := density(t.to)
	pure, noPure := density(state{0, t.to.t, 0})
	if err := errors.Join(noNew, noPure); err != nil {
		return nil, err
	}
	salt := mass * t.to.sa / 1000
	d := &Draw{Volume: litres(mass / rho), ReplacementSalt: kilograms(salt), PureWater: litres((mass - salt) / pure)}
	source := t.request.SourceTank
	if source == nil {
		return d, nil
	}
	if d.Volume.Value > source.Volume.Value {
		t.refuse("source_tank.volume", noteOf("source_runs_dry", source.Volume, d.Volume))
	}
	if source.Surface != nil {
		d.LevelDrop = new(quantity.Exactly(hydraulics.FallOf(d.Volume.Value, source.Surface.Value)))
	}
	falls := quantity.Code("source_level_falls")
	if *t.request.Route == ByCups {
		falls = "cups_from_source"
	}
	t.warn(noteOf(falls, d.Volume, fraction(float64(d.Volume.Value/source.Volume.Value))))
	return d, nil
}
