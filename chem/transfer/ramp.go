package transfer

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/ramp"
	"saltlock/chem/tolerance"
)

// What a ramp is planned with if the request does not say; all common practice, no source.
const (
	usualShare    quantity.Fraction         = 0.3  // of the tank that one change may take: from a quarter to a third
	usualAccuracy quantity.AbsoluteSalinity = 0.25 // of what the keeper will check the tank with, if nothing is said
	// New water is at most as salty as the sea, or this much above the target: saltier water sinks
	// to the bottom of the tank before it mixes.
	saltierThanTarget quantity.AbsoluteSalinity = 10
	// saltierForBells is the same where jellyfish drift, onto which it sinks: common practice, no source.
	saltierForBells quantity.AbsoluteSalinity = 2
)

var (
	tankVolumes = quantity.Range[quantity.Volume]{Lo: 1, Hi: 1e6}
	tankShares  = quantity.Range[quantity.Fraction]{Lo: 0.01, Hi: 0.5}
)

// mostEvaporated is the part of a tank that may evaporate in a day: more is a leak.
const mostEvaporated = 0.1

// rampProblem turns the tank and its animals into numbers.
func (t *task) rampProblem(h HomeTank) (ramp.Problem, error) {
	limits, noLimits := t.rampLimits(h)
	source, noSource := sourceOf("home_tank.source", h.Source)
	accuracy, noAccuracy := t.rampAccuracy()
	along, noCurve := t.along(h.TargetCurve)
	if err := errors.Join(noLimits, noSource, noAccuracy, noCurve); err != nil {
		return ramp.Problem{}, err
	}
	p := ramp.Problem{
		From: t.from.sa, To: t.to.sa, Tolerance: accuracy,
		Volume: float64(h.Volume.Value), Source: source, Share: float64(t.share(h)),
		Saltiest: max(quantity.ReferenceSalt, t.to.sa+float64(saltierThanTarget), source),
		Density: func(salinity float64) float64 {
			rho, err := density(state{sa: salinity, t: t.from.t})
			if err != nil {
				return math.NaN()
			}
			return rho
		},
		Limits: limits, Ahead: along,
	}
	if t.surely(medusa) { // saltier water sinks onto them
		p.Saltiest = max(t.to.sa+float64(saltierForBells), source)
	}
	if h.EvaporationPerDay != nil {
		p.Evaporation = float64(h.EvaporationPerDay.Value)
	}
	return p, nil
}

// homeTank is the tank the animals live in.
func (t *task) homeTank() (HomeTank, error) {
	h := t.request.HomeTank
	if h == nil {
		return HomeTank{}, &instrument.MissingError{Name: "home_tank.volume", Why: "a ramp changes the water of the tank the animals are in; say how much it holds", Note: quantity.Note{Code: "ramp_needs_volume"}}
	}
	faults := []error{tankVolumes.Check("home_tank.volume", h.Volume.Value)}
	if h.GreatestShare != nil {
		faults = append(faults, tankShares.Check("home_tank.greatest_share", h.GreatestShare.Value))
	}
	if e := h.EvaporationPerDay; e != nil {
		most := quantity.Range[quantity.Volume]{Lo: 0, Hi: max(mostEvaporated*h.Volume.Value, 0)}
		faults = append(faults, most.Check("home_tank.evaporation_per_day", e.Value))
	}
	return *h, errors.Join(faults...)
}

func (t *task) share(h HomeTank) quantity.Fraction {
	if h.GreatestShare != nil {
		return h.GreatestShare.Value
	}
	return usualShare
}

// sourceOf is the salinity of the water that new water is made from, g/kg; 0 if nobody says.
func sourceOf(where string, source *quantity.Reading) (float64, error) {
	if source == nil {
		return 0, nil
	}
	sa, err := instrument.SalinityOf(where, *source)
	return float64(sa.Value), err
}

// rampAccuracy is how near to the target a ramp must come: as near as the keeper's instrument can
// show. A ramp before a drip must get all the way.
func (t *task) rampAccuracy() (float64, error) {
	switch {
	case t.partial:
		return 0, nil
	case t.request.Tolerance != nil:
		return t.tolerance, nil
	}
	accuracy := float64(usualAccuracy)
	if own := t.request.Instrument; own != nil {
		u, err := instrument.DefaultUncertainty(*own, quantity.AbsoluteSalinity(t.to.sa), quantity.Celsius(t.from.t))
		if err != nil && !t.offScale(err) {
			return 0, onInstrument(err)
		}
		accuracy = cmp.Or(float64(u), accuracy)
	}
	t.assumptions = slices.DeleteFunc(t.assumptions, func(n quantity.Note) bool { return n.Code == "tolerance_assumed" })
	t.assume(noteOf("ramp_accuracy_assumed", salinity(accuracy)))
	t.tolerance = accuracy
	return accuracy, nil
}

// rampLimits takes the strictest limits of the animals and their tank mates, and the filter's step
// if the ramp must wait for a filter. One change is also a step, and all changes of a day count in
// 24 hours.
func (t *task) rampLimits(h HomeTank) (ramp.Limits, error) {
	l := ramp.Unlimited()
	l.Recent, l.Salty = float64(t.request.RecentChange.Value), float64(tolerance.SaltyFrom)
	l.AtOnce, l.PerDay = t.rules.atOnce, t.rules.perDay
	for i, a := range slices.Concat(t.request.Animals, t.request.HomeMates) {
		class, _ := a.class()
		r, noRamp := tolerance.DefaultRamp(class)
		acute, noAcute := tolerance.DefaultLimits(class, t.up, *cmp.Or(a.Origin, new(tolerance.UnknownOrigin)))
		if err := errors.Join(noRamp, noAcute); err != nil {
			return l, err
		}
		if i >= len(t.request.Animals) { // the rules are those of the animals that move
			l.AtOnce, l.PerDay = min(l.AtOnce, float64(acute.AtOnce)), min(l.PerDay, float64(acute.Per24Hours))
		}
		l.PerDay = min(l.PerDay, float64(r.PerDay))
		l.PerWeek, l.SaltyWeek = min(l.PerWeek, float64(r.PerWeek)), min(l.SaltyWeek, float64(r.PerWeekSalty))
		l.HalvedBelow = max(l.HalvedBelow, float64(acute.HalvedBelow))
		l.PHPerDay = min(l.PHPerDay, float64(acute.PHPer24Hours))
	}
	if t.returning == comesUp {
		l.AtOnce, l.PerDay, l.PerWeek, l.SaltyWeek, l.HalvedBelow = max(l.AtOnce, comingHome), comingHome, 7*comingHome, 7*comingHome, 0
	} else if h.Filter == nil || *h.Filter {
		gate := tolerance.DefaultGate()
		l.Step, l.Wait, l.SaltyWait = float64(gate.Step), int(gate.Wait/24), int(gate.WaitSalty/24)
	}
	var err error
	if l.PH = t.ph; l.PH == nil {
		l.PH, err = t.rampPH()
	}
	return l, err
}

// solveRamp plans the changes; not ok, with faults, if there are none.
func (t *task) solveRamp(ctx context.Context, p ramp.Problem) (plan ramp.Plan, ok bool, err error) {
	plan, err = ramp.Solve(ctx, p)
	o, stuck := errors.AsType[*ramp.Obstacle](err)
	switch {
	case stuck && o.Reason == ramp.BeyondWater:
		t.refuse("to.salinity", noteOf("ramp_below_the_tap", practical(t.to.sa), practical(o.Nearest)))
		return plan, false, nil
	case stuck:
		return plan, false, t.refuseEndless(ctx, p, o)
	case err != nil:
		return plan, false, err
	case len(plan.Changes) == 0:
		t.refuse("route", noteOf("nothing_to_ramp"))
		return plan, false, nil
	}
	return plan, true, nil
}

// refuseEndless says what keeps a ramp from reaching its end: the share of a change, if the
// greatest share allowed would reach it, otherwise the limits.
func (t *task) refuseEndless(ctx context.Context, p ramp.Problem, o *ramp.Obstacle) error {
	share := p.Share
	p.Share = float64(tankShares.Hi)
	_, err := ramp.Solve(ctx, p)
	switch _, stuck := errors.AsType[*ramp.Obstacle](err); {
	case err == nil:
		t.refuse("home_tank.greatest_share", noteOf("ramp_without_end", fraction(share)), anyShare())
	case stuck:
		t.refuse("to.salinity", noteOf("ramp_too_long", ramp.Longest, practical(max(0, o.Nearest))))
	default:
		return err
	}
	return nil
}
