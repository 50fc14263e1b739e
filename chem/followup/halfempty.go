package followup

import (
	"math"

	"saltlock/chem/quantity"
)

// least is the least volume that a leg leaves in the container, of the least planned at first, L.
func (l Leg) least(planned float64) float64 {
	if v := l.Request.Container.LeastVolume; v != nil {
		return min(planned, float64(v.Value))
	}
	return planned
}

// lowVolumes are those read since the plan began, the latest first, as long as they are much less
// than the container may hold at any time of the plan.
func (f *following) lowVolumes() (low []float64) {
	least := f.leg().least(f.tub.Least)
	for i := len(f.log) - 1; i >= 0 && !f.log[i].is(Restarted); i-- {
		switch v, err := f.volumeRead(f.log[i]); {
		case err != nil || v.value*fuller >= least:
			return low
		case v.u > 0:
			low = append(low, v.value)
		}
	}
	return low
}

// halfEmpty answers if the container was read to hold much less than it may. The clamp is closed
// until a second reading agrees, because the drip planned for more water would change too fast
// what is left. If the level goes on falling, it leaks.
func (f *following) halfEmpty() bool {
	c, low := f.course, f.lowVolumes()
	switch {
	case f.falls(low):
		c.pause(noteOf("act_look_under"))
		c.because(noteOf("why_level_falls", f.mark(low[1]), f.mark(low[0])))
		if f.mayGoBack() {
			c.Then = append(c.Then, noteOf("then_top_up"))
		}
		c.Then = append(c.Then, noteOf("then_read_all"))
	case len(low) == 1:
		c.pause(noteOf("now_read_volume"))
	case f.fellBelow():
		c.pause(noteOf("now_read_volume"))
		c.Then = append(c.Then, noteOf("then_look_under"))
	default:
		return false
	}
	return true
}

// lastVolumes are the latest volume that was read since the plan began, and the one before it; 0 where
// none was read.
func (f *following) lastVolumes() (latest, before float64, place int) {
	for i := len(f.log) - 1; i >= 0 && !f.log[i].is(Restarted); i-- {
		v, err := f.volumeRead(f.log[i])
		switch {
		case err != nil || v.u == 0:
		case latest == 0:
			latest, place = v.value, i
		default:
			return latest, v.value, place
		}
	}
	return latest, 0, place
}

// Shares of the water, below which a level is no reading error: of the least that the plan leaves, and
// after a stop, when nobody pours off, of what was read before. Proposed here.
const (
	belowLeast = 0.9
	muchLess   = 0.8
)

// fellBelow reports whether the water fell below the least that the plan leaves, though not far below:
// it was poured off too far, or it leaks.
func (f *following) fellBelow() bool {
	latest, before, _ := f.lastVolumes()
	return latest > 0 && latest < belowLeast*f.leg().least(f.tub.Least) && latest < belowLeast*before
}

// loses reports whether the container goes on losing water: low levels fall, or a level fell far after
// a stop.
func (f *following) loses() (latest, before float64, loses bool) {
	if f.released {
		return 0, 0, false
	}
	if low := f.lowVolumes(); f.falls(low) {
		return low[0], low[1], true
	}
	latest, before, place := f.lastVolumes()
	return latest, before, f.tub.Density != nil && f.state.stopped >= 0 && place >= f.state.stopped && latest < muchLess*before
}

// stoodStill is how long a level must stand still to show that a container filled up after a leak is
// tight, h. Proposed here.
const stoodStill = 0.2

// maybeLeaks answers after hardly any water, or a level that went on falling, was read: whatever was filled
// up since, nothing drips before two levels show that the container is tight.
func (f *following) maybeLeaks() bool {
	least := f.leg().least(f.tub.Least)
	var since []float64  // when a level was read that was high enough, h, the latest first
	low, later := 0., 0. // the level after the one that is looked at, if it was low, and if it was not
	for i := len(f.log) - 1; i >= 0 && !f.log[i].is(Restarted); i-- {
		v, err := f.volumeRead(f.log[i])
		if err != nil || v.u == 0 {
			continue
		}
		switch enough := v.value*fuller >= least; {
		case !enough && len(since) == 0, enough && low > 0, enough && later > 0 && later < (1-usualMarks)*v.value:
			return false // which other rules answer
		case enough:
			since, later = append(since, f.log[i].hours(f.base.Request)), v.value
		case v.value < nearlyDry*least, low > 0 && f.falls([]float64{low, v.value}):
			if since[0]-since[len(since)-1] >= stoodStill-soon {
				return false
			}
			f.course.pause(noteOf("now_read_volume"))
			f.course.because(noteOf("why_was_low", f.mark(v.value), f.when(f.log[i])))
			f.course.Then = append(f.course.Then, noteOf("then_look_under"))
			return true
		default:
			low = v.value
		}
	}
	return false
}

// toTheRim returns the latest volume that was read, if it leaves less than half of the room that is
// kept under the rim.
func (f *following) toTheRim() (litres float64, full bool) {
	for i := len(f.log) - 1; i >= 0; i-- {
		if v, err := f.volumeRead(f.log[i]); err == nil && v.u > 0 {
			return v.value, f.isFull(v.value)
		}
	}
	return 0, false
}

// isFull reports whether a volume leaves less than half of the room that is kept under the rim.
func (f *following) isFull(litres float64) bool {
	c := f.base.Request.Container
	if f.tub.Density == nil || f.released || c.Capacity == nil && c.Shape == nil || c.Overflow != nil && *c.Overflow {
		return false
	}
	return litres > (f.tub.Brim+f.tub.Capacity)/2
}

// ranFull answers after the container was full to the rim, until the salinity is read: nobody knows
// how much of that ran in, and how far it changed the water.
func (f *following) ranFull() bool {
	at, next := f.fullAt()
	if at < 0 || next >= at {
		return false
	}
	v, _ := f.volumeRead(f.log[at])
	f.course.pause(noteOf("act_close_read_salinity"))
	f.course.because(noteOf("why_to_the_rim", f.mark(v.value), f.mark(f.tub.Capacity)))
	return true
}

// fullAt is the place in the log of the latest volume at the rim, and of the first salinity read
// with it or after it, -1 without one.
func (f *following) fullAt() (at, next int) {
	next = -1
	for i := len(f.log) - 1; i >= 0 && !f.log[i].is(Restarted); i-- {
		if f.log[i].Salinity != nil {
			next = i
		}
		if v, err := f.volumeRead(f.log[i]); err == nil && f.isFull(v.value) {
			return i, next
		}
	}
	return -1, -1
}

// floodBroke is the step by which the salinity changed while the container ran full, if that is more
// than may change at once. How fast it came, nobody knows.
func (f *following) floodBroke() (b Broken, broke bool) {
	at, next := f.fullAt()
	if next < 0 {
		return b, false
	}
	until := f.log[next].hours(f.base.Request)
	sa, err := f.log[next].salinity(f.base.Request)
	from := f.saltAt(f.log[at].hours(f.base.Request) - soon)
	change, limit := math.Abs(float64(sa.Value)-from), f.base.PerHour(from)
	if err != nil || change <= f.base.AtOnce {
		return b, false
	}
	hold := math.Ceil(2*change/limit) / 2
	return Broken{From: hours(until), Until: hours(until), Hold: hours(hold),
		Rate: quantity.Exactly(quantity.SalinityRate(change / leastTook)), Limit: quantity.Exactly(quantity.SalinityRate(limit)),
		Note: noteOf("flood_broken", salinity(change), salinity(f.base.AtOnce), hours(hold))}, true
}

// falls reports whether low volumes go on falling: nobody poured off once.
func (f *following) falls(low []float64) bool {
	return len(low) > 1 && low[0] < (1-usualMarks)*low[1]
}

// mayGoBack reports whether the water set aside harms nobody: neither their old water nor the
// step to it.
func (f *following) mayGoBack() bool {
	atOnce, err := f.base.AtOnceBack()
	sa := float64(f.course.PracticalSalinity.Value * quantity.GramsPerPractical)
	return err == nil && !f.rescue && math.Abs(sa-f.base.From) <= atOnce
}

// nearlyDry is the part of the least volume below which a reading is believed at once: animals
// have minutes in what is left. Proposed here.
const nearlyDry = 0.25

// driesOut reports whether a volume that was read leaves nearly nothing in the container.
func (b *bank) driesOut(h *hypothesis, v reading) bool {
	return v.u > 0 && v.value < nearlyDry*b.legs[h.leg].least(b.least)
}

// nearlyEmpty answers, before all else, if there is hardly any water left: the water set aside
// is poured in.
func (f *following) nearlyEmpty() bool {
	c, low := f.course, f.lowVolumes()
	if f.released || len(low) == 0 || low[0] >= nearlyDry*f.leg().least(f.tub.Least) {
		return false
	}
	pour := noteOf("act_pour_old_water")
	if !f.mayGoBack() {
		pour = f.cleanWater()
	}
	if f.state.stopped < 0 {
		c.Verdict, c.Plan = Paused, nil
		if !f.powerOut() {
			c.Now, c.Then = noteOf("act_close_clamp"), []quantity.Note{noteOf("triage_air"), noteOf("then_look_under"), noteOf("then_read_all")}
		}
	}
	c.because(noteOf("why_little_water", f.mark(low[0])))
	c.first(pour)
	return true
}
