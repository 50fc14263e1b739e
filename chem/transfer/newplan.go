package transfer

import (
	"context"
	"errors"
	"math"

	"saltlock/chem/hydraulics"
	"saltlock/chem/instrument"
	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// NewPlan returns how to move the animals of a request. Its error is an
// *InfeasibleError where something stands against every plan that is asked
// for; it then names each field whose change would free it.
//
//	From, To  0 to 42 g/kg, 0.5 to 39.5 °C
//
// Which route auto takes stands at route.
//
// A drip takes the least time that its settings of the valve allow with the
// fewest pour-offs. It counts until the tolerance is reached; the rest before
// the release comes on top.
//
// Standard uncertainty: the plan is exact for the numbers given. Drops, level
// marks and instruments of the keeper are not, which the checkpoints are for.
// Check value: from 0.2 to 10 ppt in 6 L and more, at 2 g/kg/h to within 3.282
// g/kg, takes 9.85 h with one setting of the valve, 5.64 with two, 4.70 with
// three, and not under 3.28 (the recursion of ladder, worked by hand).
//
// Source: conservation of salt, water and enthalpy. The limits are proposals;
// see tolerance.DefaultLimits.
func NewPlan(ctx context.Context, r Request) (Plan, error) {
	t, err := newTask(r.WithDefaults())
	if err != nil {
		return Plan{}, err
	}
	t.ended = ctx.Err
	t.checkBands("animals", r.Animals)
	route, reason := t.route()
	p, err := t.carry(ctx, route)
	if err := errors.Join(ctx.Err(), err); err != nil { // what was found when time ran out is no plan
		return Plan{}, err
	}
	if len(t.faults) > 0 {
		return Plan{}, &InfeasibleError{Faults: t.faults}
	}
	full, err := capacity(r.Container)
	if err != nil {
		return Plan{}, err
	}
	t.addCautions(p, full)
	p.Route, p.Reason = route, reason
	p.Gap, p.Tolerance = quantity.Of[quantity.AbsoluteSalinity](t.gap, t.doubt), salinity(t.tolerance)
	p.Cautions, p.Assumptions, p.Warnings = t.cautions, t.assumptions, t.warnings
	return p, nil
}

// direct plans a move in one step.
func (t *task) direct() (Plan, error) {
	brim, noCapacity := capacity(t.request.Container)
	looks, noLooks := t.checkpoints(nil, t.visits, 0)
	if err := errors.Join(noCapacity, noLooks); err != nil {
		return Plan{}, err
	}
	p := Plan{
		Duration: hours(0), ExactDuration: hours(0), LeastDuration: hours(0),
		Phases: []Phase{{Kind: Move, Start: hours(0), Duration: hours(0), FromSalinity: practical(t.from.sa), ToSalinity: practical(t.to.sa),
			Instruction: noteOf("move_over", salinity(t.gap), practical(t.to.sa))}},
		Checkpoints: looks,
		Curve:       []CurvePoint{},
		Limits:      t.stepLimits(t.gap),
		Release:     Release{Time: hours(0), Gap: salinity(t.gap), Rest: hours(t.rest(t.gap))},
		Methods:     []string{StepMethod, LimitMethod},
	}
	if brim > 0 {
		p.SetAside = &SetAside{Volume: litres(brim), Until: hours(24)}
	}
	if apart := math.Abs(t.warmer()); t.counts() {
		t.warn(noteOf("equalise_temperature_first", celsius(t.to.t), kelvins(apart), kelvinsPerHour(t.rules.temperature), hours(apart/t.rules.temperature)))
	}
	return p, nil
}

// rest is how long a step stays clear of other change: as long as a drip under
// the hourly limit would take for it.
func (t *task) rest(step float64) float64 {
	return step / min(t.rules.perHour(t.salinityAt(step)), t.rules.perHour(t.to.sa))
}

// dripped plans a drip in the container.
func (t *task) dripped() (Plan, error) {
	v, err := t.newVat()
	if err != nil || len(t.faults) > 0 {
		return Plan{}, err
	}
	t.checkTemperature()
	if t.keep, err = t.newKeep(); err != nil {
		return Plan{}, err
	}
	s, alternatives, err := t.choose(v)
	if err != nil || len(t.faults) > 0 {
		return Plan{}, err
	}
	if err := errors.Join(t.checkBag(s.rounded), t.tellVisits(s, v), t.followRoom(s, v)); err != nil {
		return Plan{}, err
	}
	least := s.drip.speed.hours(t.gap, t.tolerance)
	rest, held := t.rest(t.tolerance), v.held(s.rounded, t.rest(t.tolerance))
	p := Plan{
		Duration: hours(s.rounded), ExactDuration: hours(s.exact), LeastDuration: hours(least),
		BoundRatio: new(s.rounded / least),
		Release:    Release{Time: hours(s.rounded + held), Gap: salinity(t.tolerance), Rest: hours(rest)},
		SetAside:   &SetAside{Volume: litres(v.brim), Until: hours(s.rounded + held + 24)},
		Methods:    []string{FillMethod, LadderMethod, LimitMethod, seawater.DensityMethod, seawater.EnthalpyMethod},
	}
	p.Alternatives, p.Settings, p.PourOffs = alternatives, s.settings(), s.pours()
	fastest := 0.0
	for _, stage := range s.stages {
		fastest = max(fastest, stage.flow)
	}
	if drip := v.drip(fastest); drip > float64(usualMostDrip)*(1+inside) {
		t.warn(noteOf("too_fast_to_count", drops(drip), quantity.Exactly(usualMostDrip)))
	}
	var noPhases, noCurve, noLooks, noDraw, noLimits error
	p.Phases, noPhases = t.phases(s.stages, v, held)
	p.Curve, noCurve = t.curve(s.stages, held)
	p.Checkpoints, noLooks = t.checkpoints(s.stages, v.visits, held)
	p.Draw, noDraw = t.draw(s.drawn())
	p.Limits, noLimits = t.dripLimits(s, v)
	noDraw = errors.Join(noDraw, t.plumb(&p, s, v))
	if t.runsOver() {
		p.Methods = append([]string{OverflowMethod}, p.Methods[2:]...)
		if noDraw == nil && p.Draw != nil {
			noDraw = t.tellWaste(&p, s)
		}
	}
	if t.request.From.HoursInBag != nil {
		p.Methods = append(p.Methods, lifesupport.BagWaterMethod)
	}
	if t.keep != nil {
		p.LifeSupport = t.lifeSupport(s.life)
		p.Limits = append(p.Limits, t.lifeLimitsKept(s.life)...)
		p.Methods = append(p.Methods, t.lifeMethods(s.life)...)
		addLife(p.Curve, s.life)
		t.caution(noteOf("without_air", p.LifeSupport.WithoutAir))
	}
	return p, errors.Join(noPhases, noCurve, noLooks, noDraw, noLimits)
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
		code := quantity.Code("temperature_over_24_hours") // what is offered is rounded to the side on which it will do
		if t.warmer() < 0 {
			code = "temperature_over_24_hours_down"
		}
		t.refuse("to.temperature", noteOf(code, kelvins(math.Abs(t.warmer())), kelvins(day), celsius(nearest)))
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
	t.warn(noteOf("source_level_falls", d.Volume, fraction(float64(d.Volume.Value/source.Volume.Value))))
	return d, nil
}

// shown is what the keeper's own instrument shows in a water; nil without one,
// and where the water is beyond its scale, which is told.
func (t *task) shown(s state) (*quantity.Reading, error) {
	if t.request.Instrument == nil {
		return nil, nil
	}
	r, err := instrument.Show(quantity.AbsoluteSalinity(s.sa), quantity.Celsius(s.t), *t.request.Instrument)
	if t.offScale(err) {
		return nil, nil
	}
	return &r, onInstrument(err)
}

// offScale tells whether an instrument cannot show a water, and warns of it.
func (t *task) offScale(err error) bool {
	if _, off := errors.AsType[*quantity.RangeError](err); !off {
		return false
	}
	kind := instrument.None
	if named := t.request.Instrument.Kind; named != nil {
		kind = *named
	}
	name := string(kind)
	if kind == instrument.ConductivityMeter { // conductivity is also what it measures
		name = "conductivity_meter"
	}
	t.warn(noteOf("instrument_off_scale", name))
	return true
}

// onInstrument names the instrument where what is said of it does not fit.
func onInstrument(err error) error {
	if conflict, ok := errors.AsType[*instrument.ConflictError](err); ok {
		return &instrument.ConflictError{Name: "instrument." + conflict.Name, Other: "instrument.kind", Why: conflict.Why}
	}
	return err
}
