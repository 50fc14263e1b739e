package transfer

import (
	"errors"
	"math"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// NewPlan returns how to move the animals of a request, or, as an
// *InfeasibleError, what stands against it.
//
//	From, To  0 to 42 g/kg, 0 to 40 °C
//
// On the route auto the animals go over at once where the gap is within the
// limit for a step and the request describes neither a drip line nor a
// tolerance; with either, the keeper means to drip.
//
// Standard uncertainty: the plan is exact for the numbers given; drops, levels
// and readings of the keeper are not, which the checkpoints are for.
// Check value: 0.2 to 10 ppt at 2 g/kg/h from 6 L, to within 3.282 g/kg, takes
// 9.85 h with one setting of the valve, 5.64 with two, 4.70 with three (the
// recursion of package documentation).
//
// Source: conservation of salt and water; the limits are proposals, see
// tolerance.DefaultLimits.
func NewPlan(r Request) (Plan, error) {
	t, err := newTask(r.WithDefaults())
	if err != nil {
		return Plan{}, err
	}
	if !r.classed() && !t.rules.allGiven() {
		t.assumptions = append(t.assumptions, noteOf("class_assumed", string(carefulClass)))
	}
	route, reason := t.route()
	var p Plan
	if route == Direct {
		p, err = t.direct()
	} else {
		p, err = t.drip()
	}
	if err != nil {
		return Plan{}, err
	}
	if len(t.faults) > 0 {
		return Plan{}, &InfeasibleError{Faults: t.faults}
	}
	p.Route, p.Reason = route, reason
	p.Gap, p.Tolerance = salinity(t.gap), salinity(t.tolerance)
	p.Cautions, p.Assumptions, p.Warnings = t.allCautions(route), t.assumptions, t.warnings
	return p, nil
}

// route chooses, and says why.
func (t *task) route() (Route, quantity.Note) {
	atOnce, gap := salinity(t.rules.atOnce), salinity(t.gap)
	within := t.gap <= t.rules.atOnce*(1+inside)
	switch {
	case *t.request.Route == Direct && !within:
		t.fault("route", "gap_over_at_once", gap, atOnce)
		return Direct, quantity.Note{}
	case *t.request.Route == Direct:
		return Direct, noteOf("direct_as_asked", gap, atOnce)
	case t.gap <= t.tolerance && within:
		return Direct, noteOf("direct_within_tolerance", gap, salinity(t.tolerance))
	case *t.request.Route == Drip:
		return Drip, noteOf("drip_as_asked", gap)
	case !within:
		return Drip, noteOf("drip_over_at_once", gap, atOnce)
	case t.request.Line != nil || t.request.Tolerance != nil:
		return Drip, noteOf("drip_as_described", gap, atOnce)
	}
	return Direct, noteOf("direct_within_at_once", gap, atOnce)
}

// direct plans a move in one step.
func (t *task) direct() (Plan, error) {
	p := Plan{
		Duration: hours(0), ExactDuration: hours(0), LeastDuration: hours(0),
		Phases: []Phase{{Kind: Move, Start: hours(0), Duration: hours(0), FromSalinity: practical(t.from.sa), ToSalinity: practical(t.to.sa),
			Instruction: noteOf("move_over", salinity(t.gap), practical(t.to.sa))}},
		Curve:   []CurvePoint{},
		Limits:  t.limits(t.gap, nil, vat{}),
		Release: Release{Time: hours(0), Gap: salinity(t.gap), Rest: hours(t.gap / t.slowest())},
		Methods: []string{StepMethod, LimitMethod},
	}
	if brim, err := capacity(t.request.Container); err != nil {
		return p, err
	} else if brim > 0 {
		p.SetAside = &SetAside{Volume: litres(brim), Until: hours(24)}
	}
	if math.Abs(t.warmer()) >= countedDifference {
		t.warnings = append(t.warnings, noteOf("equalise_temperature_first", quantity.Exactly(quantity.Celsius(t.to.t)),
			quantity.Exactly(quantity.TemperatureDifference(math.Abs(t.warmer())))))
	}
	var err error
	p.Checkpoints, err = t.checkpoints(nil, vat{}, 0)
	return p, err
}

// slowest is the hourly limit at the end of the way, for resting after a step.
func (t *task) slowest() float64 { return t.rules.perHour(t.to.sa) }

// drip plans a drip in the container.
func (t *task) drip() (Plan, error) {
	v, err := t.newVat()
	if err != nil || len(t.faults) > 0 {
		return Plan{}, err
	}
	stages, exact, err := t.solve(v)
	if err != nil || len(t.faults) > 0 {
		return Plan{}, err
	}
	took := 0.0
	for _, s := range stages {
		took += s.hours()
	}
	least := t.rules.speed(*t).hours(t.gap, t.tolerance)
	rest := t.tolerance / t.slowest()
	p := Plan{
		Duration: hours(took), ExactDuration: hours(exact), LeastDuration: hours(least),
		BoundRatio: new(took / least),
		Limits:     t.limits(t.tolerance, stages, v),
		Release:    Release{Time: hours(took + rest), Gap: salinity(t.tolerance), Rest: hours(rest)},
		SetAside:   &SetAside{Volume: litres(v.brim), Until: hours(took + rest + 24)},
		Methods:    []string{FillMethod, LadderMethod, LimitMethod, seawater.DensityMethod, seawater.EnthalpyMethod},
	}
	for _, s := range stages {
		if s.set {
			p.Settings++
		}
		if s.pour {
			p.PourOffs++
		}
	}
	var noPhases, noCurve, noChecks, noDraw error
	p.Phases, noPhases = t.phases(stages, v, rest)
	p.Curve, noCurve = t.curve(stages, rest)
	p.Checkpoints, noChecks = t.checkpoints(stages, v, rest)
	p.Draw, noDraw = t.draw(stages)
	return p, errors.Join(noPhases, noCurve, noChecks, noDraw)
}

// draw is what the drip takes from the source.
func (t *task) draw(stages []stage) (*Draw, error) {
	mass := 0.0
	for _, s := range stages {
		mass += s.flow * s.hours()
	}
	rho, noNew := density(t.to.sa, t.to.t)
	pure, noPure := density(0, t.to.t)
	if err := errors.Join(noNew, noPure); err != nil {
		return nil, err
	}
	d := &Draw{Volume: litres(mass / rho), ReplacementSalt: quantity.Exactly(quantity.Mass(mass * t.to.sa / 1000)), PureWater: litres(mass * (1 - t.to.sa/1000) / pure)}
	source := t.request.SourceTank
	if source == nil {
		return d, nil
	}
	if d.Volume.Value > source.Volume.Value {
		t.fault("source_tank.volume", "source_runs_dry", source.Volume, d.Volume)
	}
	if source.Surface != nil {
		d.LevelDrop = new(quantity.Exactly(quantity.Length(float64(d.Volume.Value) * 1000 / float64(source.Surface.Value))))
	}
	t.warnings = append(t.warnings, noteOf("source_level_falls", d.Volume, quantity.Exactly(quantity.Fraction(d.Volume.Value/source.Volume.Value))))
	return d, nil
}

// shown is what the keeper's own instrument shows in a water; nil without one.
func (t *task) shown(s state) (*quantity.Reading, error) {
	if t.setup == nil {
		return nil, nil
	}
	r, err := instrument.Show(quantity.AbsoluteSalinity(s.sa), quantity.Celsius(s.t), *t.setup)
	return &r, err
}
