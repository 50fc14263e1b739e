package transfer

import (
	"errors"
	"math"

	"saltlock/chem/bucket"
	"saltlock/chem/quantity"
)

// offCourse is by how much, at the least, a drip must be off to be set anew: as
// much as drops that are counted round a drip.
const offCourse = 0.05

// unlikely is from how many standard deviations on a drop is worth a warning.
const unlikely = 2

// value is a number of the moment and its standard uncertainty.
func (f *following) value(shows func(truth) (float64, error)) (value, u float64, err error) {
	value, noValue := shows(f.fit.x)
	slope, noSlope := f.fit.slope(shows)
	return value, math.Sqrt(f.fit.variance(slope)), errors.Join(noValue, noSlope)
}

// tell puts the estimates of the moment into the course.
func (f *following) tell() error {
	c, m, last := f.course, f.moment, f.last
	sa, uSa, noSa := f.value(func(x truth) (float64, error) { return f.trail.salinity(x, f.trail.at(x, last)), nil })
	gap, uGap, noGap := f.value(func(x truth) (float64, error) {
		from, to := f.trail.salinities(x)
		return math.Abs(from-to) * f.trail.at(x, last).left, nil
	})
	_, uVolume, noVolume := f.value(func(x truth) (float64, error) {
		at := f.trail.at(x, last)
		return nearer(m.volume, at.volume, at.other), nil
	})
	level, noLevel := f.task.level(m.volume)
	if err := errors.Join(noSa, noGap, noVolume, noLevel); err != nil {
		return err
	}
	c.PracticalSalinity = new(quantity.Of[quantity.Salinity](sa*float64(practicalUnit), uSa*float64(practicalUnit)))
	c.Gap = new(quantity.Of[quantity.AbsoluteSalinity](gap, uGap))
	c.Volume = new(quantity.Of[quantity.Volume](m.volume, uVolume))
	c.Level = level
	return f.tellDrip()
}

// tellDrip compares the drip that runs with the one that the keeper was told.
func (f *following) tellDrip() error {
	c := f.course
	told := f.moment.told.Drip
	if told == 0 {
		told = f.lastDrip(f.now)
	}
	assumed := float64(f.leg().Request.Line.withDefaults().DropVolume.Value)
	of := func(what func(x truth) float64) (v, u float64) {
		v, u, _ = f.value(func(x truth) (float64, error) { return what(x), nil })
		return v, u
	}
	drop, uDrop := of(func(x truth) float64 { return f.trail.vat.drop * math.Exp(x[dropOff]) })
	drip, uDrip := of(func(x truth) float64 { return told * math.Exp(x[dripOff]) })
	flow, uFlow := of(func(x truth) float64 { return told * f.trail.vat.drop * math.Exp(x[dripOff]+x[dropOff]) * 60000 })
	planned := told * assumed * 60000 // mL/min
	c.DropVolume = new(quantity.Of[quantity.Volume](drop, uDrop))
	c.Drip, c.PlannedDrip = new(quantity.Of[quantity.DripRate](drip, uDrip)), new(drops(told))
	c.Flow, c.PlannedFlow = new(quantity.Of[quantity.Flow](flow, uFlow)), new(quantity.Exactly(quantity.Flow(planned)))
	c.DripRatio = new(quantity.Of[quantity.Fraction](flow/planned, uFlow/planned))
	if math.Abs(f.fit.x[dropOff]) > unlikely*f.fit.doubts[dropOff] {
		c.warn(noteOf("drop_unlikely", *c.DropVolume, litres(f.trail.vat.drop)))
	}
	return nil
}

// judged lists every number of the log against what it should have been.
func (f *following) judged(sights []sight) error {
	off := 0
	for _, s := range sights {
		shown, err := s.shows(f.fit.x)
		if err != nil {
			return err
		}
		j := Judged{Entry: s.entry, Time: hours(s.hours), What: s.what, Deviation: s.off, Suspect: s.aside,
			Read: quantity.Measure{Value: s.value, Unit: s.unit, Uncertainty: s.u}, Expected: quantity.Measure{Value: shown, Unit: s.unit}}
		if s.aside {
			off++
			n := noteOf("suspect_"+s.what, j.Read, j.Expected, math.Round(math.Abs(s.off)*10)/10)
			j.Why = &n
			f.course.warn(n)
		}
		f.course.Readings = append(f.course.Readings, j)
	}
	if off > 1 && 3*off > len(sights) {
		f.course.warn(noteOf("readings_contradict", off, len(sights)))
	}
	return nil
}

// decide says how the transfer stands and what to do.
func (f *following) decide() error {
	c := f.course
	for _, e := range f.log {
		if e.distressed() {
			return f.stop(*e.Behaviour)
		}
	}
	arrived := float64(c.Gap.Value) <= f.task.tolerance*(1+inside)
	needed, err := f.offCourse()
	if err != nil {
		return err
	}
	if arrived || needed {
		return f.goOnAnew(arrived)
	}
	c.Verdict, c.Legs = OnCourse, c.Legs[:f.now+1]
	if c.Plan, err = f.leg().plan(f.now == 0); err != nil {
		return err
	}
	m := f.moment
	switch {
	case m.next > 0 && m.wait == 0:
		c.Now = noteOf("now_pour", litres(m.volume-m.next), litres(m.next))
	case m.told.Drip == 0:
		c.Now = noteOf("now_wait", *c.Gap)
	default:
		c.Now = noteOf("now_go_on", litres(m.told.Until), hours(m.wait))
	}
	return nil
}

// offCourse tells whether the rest must be planned anew. A drip that is too fast
// can hurt, so less doubt excuses it than one that is too slow.
func (f *following) offCourse() (bool, error) {
	ratio, u := float64(f.course.DripRatio.Value), float64(f.course.DripRatio.U)
	if ratio-1 > max(offCourse, u) || 1-ratio > max(offCourse, 2*u) || f.moment.told.Drip == 0 {
		return true, nil
	}
	speed, err := f.task.speed()
	if err != nil {
		return false, err
	}
	gap := float64(f.course.Gap.Value)
	fastest := f.trail.flow(f.moment.told, f.fit.x) * gap / f.moment.mass
	return fastest > (1+offCourse)*speed.at(min(gap, f.task.gap)), nil
}

// goOnAnew plans the rest from where the container is, unless that was done
// when this very log came in.
func (f *following) goOnAnew(arrived bool) error {
	c := f.course
	if f.now+1 == len(c.Legs) || c.Legs[f.now+1].Entries != len(f.log) {
		c.Legs = c.Legs[:f.now+1]
		if dropRange.Check("", c.DropVolume.Value) != nil {
			c.Verdict, c.Now = NoWayOn, noteOf("now_read_again")
			c.warn(noteOf("drop_unbelievable", *c.DropVolume))
			return nil
		}
		leg, err := f.continuation()
		if refused, ok := errors.AsType[*InfeasibleError](err); ok {
			c.Verdict, c.Now = NoWayOn, noteOf("now_no_way_on", quantity.Exactly(min(c.Flow.Value, c.PlannedFlow.Value)))
			for _, fault := range refused.Faults {
				c.warn(fault.Note)
			}
			return nil
		}
		if err != nil {
			return err
		}
		c.Legs = append(c.Legs, leg)
	}
	leg := c.Legs[f.now+1]
	p, err := leg.plan(false)
	if err != nil {
		return err
	}
	c.Plan = p
	if arrived || len(leg.Steps) == 0 {
		c.Verdict, c.Now = Arrived, noteOf("now_arrived", *c.Gap, p.Release.Rest)
		return nil
	}
	c.Verdict = Corrected
	p.Reason = noteOf("continuation", *c.DripRatio, *c.Gap)
	first := leg.Steps[0]
	to := countable(first.Drip)
	if first.PourTo > 0 {
		c.Now = noteOf("now_pour_and_set", litres(leg.Full-first.PourTo), litres(first.PourTo), int(to.drops), int(to.seconds), litres(first.Until))
		return nil
	}
	was := countable(float64(c.PlannedDrip.Value))
	if was == to {
		c.Now = noteOf("now_same_drip", *c.DripRatio, litres(first.Until))
		return nil
	}
	c.Now = noteOf("now_set_drip", *c.DripRatio, int(to.drops), int(to.seconds), int(was.drops), int(was.seconds), litres(first.Until))
	return nil
}

// continuation asks for a plan of the rest, for drops as large as they may be
// by their standard uncertainty: where they are smaller it only takes longer.
func (f *following) continuation() (Leg, error) {
	m, leg := f.moment, f.leg()
	r := f.task.request
	line := r.Line.withDefaults()
	line.DropVolume = new(litres(min(float64(f.course.DropVolume.Value+f.course.DropVolume.U), float64(dropRange.Hi))))
	line.Settings = new(max(1, *line.Settings-m.settings))
	r.Line = &line
	r.Route = new(Drip)
	at := Leg{At: f.last}
	start := m.volume
	if m.next > 0 && m.wait == 0 {
		at.Full, start = m.volume, m.next
	}
	r.Container.StartVolume = new(litres(start))
	r.Container.LeastVolume = new(litres(min(f.trail.vat.least, start)))
	left := min(1, float64(f.course.Gap.Value)/f.task.gap)
	water, err := f.task.at(left * f.task.gap)
	if err != nil {
		return at, err
	}
	sa := float64(f.course.PracticalSalinity.Value / practicalUnit)
	r.From.Salinity = quantity.Reading{Value: max(0, sa), U: float64(f.course.Gap.U), Scale: quantity.AbsoluteScale}
	r.From.Temperature = f.warmth(celsius(water.t))
	r.From.HoursInBag = nil // its ammonia goes on as such
	if r.From.TAN, err = f.ammonia(leg); err != nil {
		return at, err
	}
	r.RecentChange = new(salinity(f.recent()))
	at.Request = r
	p, err := NewPlan(r)
	if err != nil {
		return at, err
	}
	told := NewLeg(f.last, r, p)
	told.Full, told.Entries = at.Full, len(f.log)
	if told.Full > 0 && len(told.Steps) > 0 {
		told.Steps[0].PourTo = start
	}
	return told, nil
}

// warmth is the temperature of the container: as read at the latest visit, else as mixed.
func (f *following) warmth(mixed quantity.Estimate[quantity.Celsius]) quantity.Estimate[quantity.Celsius] {
	for _, e := range f.log {
		if e.Temperature != nil && e.hours(f.task.request) == f.last {
			return *e.Temperature
		}
	}
	return mixed
}

// recent is the change in the 24 hours before the moment. What was allowed for
// the whole way is not exceeded by reading the same waters more exactly.
func (f *following) recent() float64 {
	t := f.task
	if f.last < 24 {
		return max(0, t.gap-float64(f.course.Gap.Value)) + float64(t.request.RecentChange.Value)
	}
	before := f.trail.at(f.fit.x, f.last-24)
	return max(0, (before.left-f.moment.left)*t.gap)
}

// ammonia is what the container holds by now, at the greatest that the animals
// may give off, twice the likely; as the request says where nobody counts them.
// What they gave off more at first, being excited, is left out, since the plan of
// the rest counts that anew.
func (f *following) ammonia(leg Leg) (*quantity.Estimate[quantity.AmmoniaNitrogen], error) {
	p, err := leg.plan(f.now == 0)
	if err != nil || p.LifeSupport == nil {
		return f.task.request.From.TAN, err
	}
	given := func(e *quantity.Estimate[quantity.AmmoniaNitrogen]) float64 {
		if e == nil {
			return 0
		}
		return float64(e.Value)
	}
	now := float64(f.course.PracticalSalinity.Value)
	near := p.Curve[0]
	for _, at := range p.Curve {
		if math.Abs(float64(at.PracticalSalinity.Value)-now) < math.Abs(float64(near.PracticalSalinity.Value)-now) {
			near = at
		}
	}
	share := 1.0 // of the water that this leg started with
	if p.Gap.Value > 0 {
		share = min(1, float64(f.course.Gap.Value/p.Gap.Value))
	}
	brought := given(leg.Request.From.TAN)*share + given(leg.Request.To.TAN)*(1-share)
	planned := float64(near.Time.Value)
	if planned <= 0 || p.Curve[0].TAN == nil {
		return f.task.request.From.TAN, nil
	}
	hours := (f.last - leg.At) / (planned + min(planned, float64(bucket.Excitement)))
	tan := brought + 2*max(0, given(near.TAN)-brought)*hours
	return new(quantity.Exactly(quantity.AmmoniaNitrogen(tan))), nil
}

// plan is the plan of a leg as the keeper was told it. One that goes on from
// another begins with what that other left to do: to pour off, or to rest.
func (l Leg) plan(first bool) (*Plan, error) {
	p, err := NewPlan(l.Request)
	if err != nil || first {
		return &p, err
	}
	switch {
	case l.Full > 0 && len(l.Steps) > 0:
		before := Phase{ToVolume: new(litres(l.Full)), ToSalinity: p.Phases[0].FromSalinity}
		p.Phases = append([]Phase{pourOff(before, p.Phases[0])}, p.Phases...)
		p.PourOffs++
	case len(l.Steps) == 0:
		rest := float64(p.Release.Rest.Value)
		from := p.Phases[0].FromSalinity
		p.Phases[0].Start = hours(rest)
		p.Phases = append([]Phase{{Kind: Rest, Start: hours(0), Duration: hours(rest), FromSalinity: from, ToSalinity: from,
			Instruction: noteOf("rest_before_release", hours(rest))}}, p.Phases...)
		for i := range p.Checkpoints {
			p.Checkpoints[i].Time.Value += quantity.Duration(rest)
		}
		p.Release.Time = hours(rest)
	}
	return &p, nil
}
