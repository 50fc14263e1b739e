package followup

import (
	"math"
	"slices"

	"saltlock/chem/quantity"
)

// saltAfter is the latest salinity that was read in the new water, and the one before it.
type saltAfter struct {
	read   LogEntry
	sa     reading // g/kg; without an uncertainty, none was read
	before reading
}

// newTank returns what was read of the salinity in the new water.
func (f *following) newTank() (s saltAfter, err error) {
	for _, e := range f.log[f.entered:] {
		if e.Salinity == nil {
			continue
		}
		sa, err := e.salinity(f.base.Request)
		if err != nil {
			return s, err
		}
		s.before, s.sa, s.read = s.sa, reading{float64(sa.Value), float64(sa.U)}, e
	}
	return s, nil
}

// twice reports whether two readings in the new water agree: they differ by less than a third of what
// the latest is off.
func (s saltAfter) twice(planned float64) bool {
	return s.before.u > 0 && 3*math.Abs(s.sa.value-s.before.value) < math.Abs(s.sa.value-planned)
}

// tankDiffers says how the water that the animals went into differs from the planned one, and names a
// jump beyond the limit from the container that they left.
func (f *following) tankDiffers(s saltAfter) (why []quantity.Note, over bool) {
	b := f.base
	if s.sa.u == 0 || math.Abs(s.sa.value-b.To) <= max(b.Tolerance, unlikely*math.Hypot(s.sa.u, b.Doubts[1])) {
		return nil, false
	}
	if s.twice(b.To) {
		why = append(why, noteOf("why_salinity_twice", *s.read.Salinity))
	}
	why = append(why, noteOf("why_tank_differs", *s.read.Salinity, practical(b.To)))
	jump := math.Abs(s.sa.value - f.movedFrom)
	if over = jump > max(b.AtOnce, b.Tolerance)+s.sa.u; over {
		why = append(why, noteOf("why_tank_jump", practical(f.movedFrom), salinity(jump), salinity(b.AtOnce)))
	}
	return why, over
}

// judgeNewTank compares the salinity that was read in the new water with the planned one. Other water
// is read again, and then brought to what was planned no faster than the limit allows.
func (f *following) judgeNewTank() error {
	c, b := f.course, f.base
	s, err := f.newTank()
	if err != nil || s.sa.u == 0 {
		return err
	}
	f.tellSalinity(s.sa.value, s.sa.u)
	why, over := f.tankDiffers(s)
	if len(why) == 0 {
		return nil
	}
	c.Why = append(c.Why, why...)
	towards := noteOf("then_tank_towards", practical(b.To), salinity(b.PerHour(s.sa.value)))
	if c.Now = noteOf("now_read_tank_again"); s.twice(b.To) {
		c.Now = noteOf("act_tank_towards", practical(b.To), salinity(b.PerHour(s.sa.value)))
	} else {
		c.Then = append(c.Then, towards)
	}
	if over && !tells(c.Then, "then_keep_old_water") {
		c.Then = append(c.Then, noteOf("then_keep_old_water"))
	}
	return nil
}

// distressInOtherWater names, beside signs of distress, new water that is not what was planned. How far
// it is off is read again before a step back.
func (f *following) distressInOtherWater() error {
	if f.presumed || f.tub.Density == nil {
		return nil
	}
	s, err := f.newTank()
	if err != nil {
		return err
	}
	c := f.course
	why, _ := f.tankDiffers(s)
	if c.Why = append(c.Why, why...); len(why) > 0 && !s.twice(f.base.To) && c.StepBack != nil {
		c.Then = slices.Insert(c.Then, max(0, len(c.Then)-1), noteOf("now_read_tank_again"))
	}
	return nil
}

// wentTo uses the salinities that were read in the new water up to the first sign of distress there, at
// a place in the log: what they show is where the animals were, whatever was planned.
func (f *following) wentTo(place int) {
	for _, e := range f.log[f.entered:max(f.entered, place+1)] {
		if e.Salinity == nil {
			continue
		}
		if sa, err := e.salinity(f.base.Request); err == nil {
			f.tellSalinity(float64(sa.Value), float64(sa.U))
			f.furthest, f.reread = float64(sa.Value), true
			if (f.movedFrom-f.furthest)*f.toward() > 0 && f.tub.Density != nil {
				f.furthest = f.movedFrom
			}
		}
	}
}
