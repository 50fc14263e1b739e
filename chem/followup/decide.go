package followup

import (
	"context"
	"errors"
	"math"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
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
	level, noLevel := f.base.Request.Container.Level(quantity.Volume(m.volume))
	if err := errors.Join(noSa, noGap, noVolume, noLevel); err != nil {
		return err
	}
	c.PracticalSalinity = new(quantity.Of[quantity.Salinity](sa/quantity.GramsPerPractical, uSa/quantity.GramsPerPractical))
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
	assumed := float64(f.leg().Request.Line.WithDefaults().DropVolume.Value)
	of := func(what func(x truth) float64) (v, u float64) {
		v, u, _ = f.value(func(x truth) (float64, error) { return what(x), nil })
		return v, u
	}
	drop, uDrop := of(func(x truth) float64 { return f.trail.drip.Drop * math.Exp(x[dropOff]) })
	drip, uDrip := of(func(x truth) float64 { return told * math.Exp(x[dripOff]) })
	flow, uFlow := of(func(x truth) float64 { return told * f.trail.drip.Drop * math.Exp(x[dripOff]+x[dropOff]) * 60000 })
	planned := told * assumed * 60000 // mL/min
	c.DropVolume = new(quantity.Of[quantity.Volume](drop, uDrop))
	c.Drip, c.PlannedDrip = new(quantity.Of[quantity.DripRate](drip, uDrip)), new(drops(told))
	c.Flow, c.PlannedFlow = new(quantity.Of[quantity.Flow](flow, uFlow)), new(quantity.Exactly(quantity.Flow(planned)))
	c.DripRatio = new(quantity.Of[quantity.Fraction](flow/planned, uFlow/planned))
	if math.Abs(f.fit.x[dropOff]) > unlikely*f.fit.doubts[dropOff] {
		c.warn(noteOf("drop_unlikely", *c.DropVolume, litres(f.trail.drip.Drop)))
	}
	return nil
}

// suspectCodes say of each thing that is read that it does not fit.
var suspectCodes = map[string]quantity.Code{
	"salinity": "suspect_salinity", "volume": "suspect_volume", "level": "suspect_level", "drops": "suspect_drops",
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
			n := noteOf(suspectCodes[s.what], j.Read, j.Expected)
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
func (f *following) decide(ctx context.Context) error {
	c := f.course
	if done, err := f.event(); done || err != nil {
		return err
	}
	arrived := float64(c.Gap.Value) <= f.base.Tolerance*(1+inside)
	if arrived || f.offCourse() {
		return f.goOnAnew(ctx, arrived)
	}
	c.Verdict, c.Legs, c.Plan = OnCourse, c.Legs[:f.now+1], f.leg().Plan
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
func (f *following) offCourse() bool {
	ratio, u := float64(f.course.DripRatio.Value), float64(f.course.DripRatio.U)
	if ratio-1 > max(offCourse, u) || 1-ratio > max(offCourse, 2*u) || f.moment.told.Drip == 0 {
		return true
	}
	gap := float64(f.course.Gap.Value)
	fastest := f.trail.flow(f.moment.told, f.fit.x) * gap / f.moment.mass
	return fastest > (1+offCourse)*f.trail.drip.Rate(min(gap, f.base.Gap))
}

// goOnAnew plans the rest from where the container is, unless that was done
// when this very log came in.
func (f *following) goOnAnew(ctx context.Context, arrived bool) error {
	c := f.course
	if f.now+1 == len(c.Legs) || c.Legs[f.now+1].Entries != len(f.log) {
		c.Legs = c.Legs[:f.now+1]
		if transfer.DropVolume.Check("", c.DropVolume.Value) != nil {
			c.Verdict, c.Now = NoWayOn, noteOf("now_read_again")
			c.warn(noteOf("drop_unbelievable", *c.DropVolume))
			return nil
		}
		leg, err := f.continuation(ctx)
		if refused, ok := errors.AsType[*transfer.InfeasibleError](err); ok {
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
	p := leg.Plan
	c.Plan = p
	if arrived || len(leg.Steps) == 0 {
		c.Verdict, c.Now = Arrived, noteOf("now_arrived", *c.Gap, p.Release.Rest)
		return nil
	}
	c.Verdict = Corrected
	p.Reason = noteOf("continuation", *c.DripRatio, *c.Gap)
	c.setAnew(leg)
	return nil
}

// setAnew says how to begin a leg that goes on from another.
func (c *Course) setAnew(leg Leg) {
	first := leg.Steps[0]
	to := transfer.Countable(first.Drip)
	if first.PourTo > 0 {
		c.Now = noteOf("now_pour_and_set", litres(leg.Full-first.PourTo), litres(first.PourTo), to.Drops, to.Seconds, litres(first.Until))
		return
	}
	was := transfer.Countable(float64(c.PlannedDrip.Value))
	if was == to {
		c.Now = noteOf("now_same_drip", *c.DripRatio, litres(first.Until))
		return
	}
	c.Now = noteOf("now_set_drip", *c.DripRatio, to.Drops, to.Seconds, was.Drops, was.Seconds, litres(first.Until))
}
