package transfer

import (
	"errors"
	"math"
	"slices"

	"saltlock/chem/instrument"
	"saltlock/chem/mixing"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
	"saltlock/chem/tolerance"
)

// What a ramp is planned with where the request does not say.
const (
	usualShare    quantity.Fraction         = 0.2 // of the tank in one water change; common practice, no source
	saltiestWater quantity.AbsoluteSalinity = 60  // that is mixed for a change
)

var (
	tankVolumes = quantity.Range[quantity.Volume]{Lo: 1, Hi: 1e6}
	tankShares  = quantity.Range[quantity.Fraction]{Lo: 0.01, Hi: 0.5}
)

// ramped plans the water changes that take the whole tank over, with its
// animals and its filter in it.
func (t *task) ramped() (Plan, error) {
	home := t.request.HomeTank
	if home == nil {
		return Plan{}, &instrument.MissingError{Name: "home_tank.volume", Why: "a ramp changes the water of the tank the animals are in; say how much it holds"}
	}
	if err := errors.Join(tankVolumes.Check("home_tank.volume", home.Volume.Value), checkShare(home.GreatestShare)); err != nil {
		return Plan{}, err
	}
	t.checkBands("home_mates", t.request.HomeMates)
	s, err := t.slope(*home)
	if t.request.From.HoursInBag != nil {
		t.refuse("from.hours_in_bag", noteOf("bag_is_no_home_tank"))
	}
	if err != nil || len(t.faults) > 0 {
		return Plan{}, err
	}
	if s.along, err = t.along(home.TargetCurve); err != nil || len(t.faults) > 0 {
		return Plan{}, err
	}
	days, ok := s.days()
	if !ok {
		t.refuse("home_tank.greatest_share", noteOf("ramp_without_end", fraction(t.share(*home))))
		return Plan{}, nil
	}
	if len(days) == 0 {
		t.refuse("route", noteOf("nothing_to_ramp"))
		return Plan{}, nil
	}
	p := Plan{
		Duration: hours(24 * float64(days[len(days)-1].day)), Curve: []CurvePoint{}, Checkpoints: []Checkpoint{},
		Limits:  t.rampLimits(s, days),
		Release: Release{Time: hours(24 * float64(days[len(days)-1].day)), Gap: salinity(0), Rest: hours(0)},
		Methods: []string{RampMethod, mixing.WaterChangeMethod, seawater.DensityMethod},
	}
	p.ExactDuration, p.LeastDuration = p.Duration, hours(24*math.Max(0, math.Ceil(t.gap/s.perDay)-1))
	salt := 0.0
	for _, d := range days {
		phase, err := t.waterChange(*home, d)
		if err != nil {
			return Plan{}, err
		}
		if phase.Salt != nil {
			salt += float64(phase.Salt.Value)
		}
		p.Phases = append(p.Phases, phase)
		if err := t.lookAtTank(&p, *home, d); err != nil {
			return Plan{}, err
		}
	}
	p.TotalSalt = new(kilograms(salt))
	if s.acid != nil {
		p.Methods = append(p.Methods, seawater.CarbonateMethod)
	}
	t.tellRamp(*home, s)
	return p, nil
}

func checkShare(share *quantity.Estimate[quantity.Fraction]) error {
	if share == nil {
		return nil
	}
	return tankShares.Check("home_tank.greatest_share", share.Value)
}

func (t *task) share(h HomeTank) float64 {
	if h.GreatestShare != nil {
		return float64(h.GreatestShare.Value)
	}
	return float64(usualShare)
}

// slope takes the strictest ramp of the animals and their tank mates.
func (t *task) slope(h HomeTank) (slope, error) {
	var classes []tolerance.Class
	for _, a := range slices.Concat(t.request.Animals, t.request.HomeMates) {
		class, _ := a.class()
		classes = append(classes, class)
	}
	s, err := newSlope(t.from.sa, t.to.sa, classes, h.Filter == nil || *h.Filter)
	if err != nil {
		return s, err
	}
	s.recent = float64(t.request.RecentChange.Value)
	if s.acid = t.acid; s.acid == nil {
		s.acid, err = t.acidOf()
	}
	if err != nil {
		return s, err
	}
	if s.mostAcid, err = t.mostAcid(); err != nil {
		return s, err
	}
	source, err := sourceOf("home_tank.source", h.Source)
	if err != nil {
		return s, err
	}
	if t.to.sa < source {
		t.refuse("to.salinity", noteOf("ramp_below_the_tap", practical(t.to.sa), practical(source)))
	}
	share := t.share(h)
	s.mostByOneChange = func(at float64) float64 {
		if t.up {
			return share * (float64(saltiestWater) - at)
		}
		return share * (at - source) * denser // a share of the volume is less of the mass where the new water is lighter
	}
	return s, nil
}

// denser is less than the ratio of the densities of any two waters of a ramp.
const denser = 0.97

// sourceOf is the salinity of the water that new water is made from, g/kg; 0 where
// nobody says.
func sourceOf(where string, source *quantity.Reading) (float64, error) {
	if source == nil {
		return 0, nil
	}
	sa, err := instrument.SalinityOf(where, *source)
	return float64(sa.Value), err
}

// waterChange is the change of one day: a share of the tank, for new water
// that brings it where the day should end.
func (t *task) waterChange(h HomeTank, d day) (Phase, error) {
	absolute := func(g float64) quantity.Reading {
		return quantity.Reading{Value: g, Scale: quantity.AbsoluteScale}
	}
	target, share := absolute(d.to), t.share(h)
	source, err := sourceOf("home_tank.source", h.Source)
	if err != nil {
		return Phase{}, err
	}
	if t.up && source > d.from { // so much of the tap water alone would do
		share = min(share, (d.to-d.from)/(source-d.from)*denser)
	}
	change, err := mixing.Change(mixing.WaterChangeRequest{
		Volume: h.Volume, Salinity: absolute(d.from), Target: &target, Source: h.Source,
		Change:      new(litres(share * float64(h.Volume.Value))),
		Temperature: new(celsius(t.from.t)),
	})
	if err != nil {
		return Phase{}, err
	}
	n := float64(d.day)
	p := Phase{Kind: WaterChange, Start: hours(24 * n), Duration: hours(0), FromSalinity: practical(d.from), ToSalinity: practical(d.to),
		TakeOut: &change.TakeOut, PutIn: &change.PutIn, NewWater: &change.NewWaterSalinity.Practical, Salt: change.Salt}
	p.Instruction = noteOf("change_water", d.day, *p.TakeOut, *p.PutIn, *p.NewWater, *p.Salt, p.ToSalinity)
	return p, nil
}

// lookAtTank adds the reading that each change should lead to.
func (t *task) lookAtTank(p *Plan, h HomeTank, d day) error {
	after := state{sa: d.to, t: t.from.t}
	reading, err := t.shown(after)
	if err != nil {
		return err
	}
	c := Checkpoint{Time: hours(24*float64(d.day) + 1), Volume: &h.Volume, PracticalSalinity: practical(d.to), Temperature: celsius(t.from.t), Reading: reading}
	c.Why = noteOf("look_after_change", c.shows())
	p.Checkpoints = append(p.Checkpoints, c)
	for _, sa := range []float64{d.from, d.to} {
		p.Curve = append(p.Curve, CurvePoint{Time: hours(24 * float64(d.day)), Volume: h.Volume, PracticalSalinity: practical(sa), Temperature: celsius(t.from.t)})
	}
	return nil
}

// rampLimits tells how close the schedule comes to its limits.
func (t *task) rampLimits(s slope, days []day) []Limit {
	mostDay, mostWeek, week := 0.0, 0.0, s.perWeek(days[0].to)
	for i, d := range days {
		mostDay = max(mostDay, math.Abs(d.to-d.from))
		if now, limit := s.week(days[:i+1], d.day), s.perWeek(d.to); limit-now < week-mostWeek || i == 0 {
			mostWeek, week = now, limit
		}
	}
	list := []Limit{
		atMost("per_day", quantity.AbsoluteSalinity(s.perDay), quantity.AbsoluteSalinity(mostDay), mostDay > s.perDay*(1-tight), quantity.Proposed),
		atMost("per_week", quantity.AbsoluteSalinity(week), quantity.AbsoluteSalinity(mostWeek), mostWeek > week*(1-0.1), quantity.Proposed),
	}
	if s.acid != nil {
		most := 0.0
		for _, d := range days {
			most = max(most, math.Abs(s.acid(d.to)-s.acid(d.from)))
		}
		list = append(list, atMost("ph_per_24_hours", quantity.PH(s.mostAcid), quantity.PH(most), most > s.mostAcid*(1-tight), quantity.Proposed))
	}
	if !math.IsInf(s.gateStep, 1) {
		steps := map[int]float64{}
		most := 0.0
		for _, d := range days {
			steps[d.gate] += math.Abs(d.to - d.from)
			most = max(most, steps[d.gate])
		}
		list = append(list, atMost("filter_step", quantity.AbsoluteSalinity(s.gateStep), quantity.AbsoluteSalinity(most), most > s.gateStep-leastChange, quantity.Proposed))
	}
	return list
}

// tellRamp says what goes with a ramp.
func (t *task) tellRamp(h HomeTank, s slope) {
	if !math.IsInf(s.gateStep, 1) {
		gate := tolerance.DefaultGate()
		t.warn(noteOf("filter_gate", quantity.Exactly(gate.TAN), quantity.Exactly(gate.Nitrite)))
	}
	if s.acid == nil {
		t.caution(noteOf("ph_of_ramp_not_known", quantity.Exactly(quantity.PH(s.mostAcid))))
	}
	if h.GreatestShare == nil {
		t.assume(noteOf("share_assumed", quantity.Exactly(usualShare)))
	}
	if h.Filter == nil {
		t.assume(noteOf("filter_assumed"))
	}
	if e := h.EvaporationPerDay; e != nil {
		drift := t.to.sa * float64(e.Value/h.Volume.Value)
		t.warn(noteOf("top_off_between", *e, salinity(drift)))
	}
}
