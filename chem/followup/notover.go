package followup

import (
	"math"

	"saltlock/chem/transfer"
)

// nearRelease is how long before the hour of the release, h, a keeper may have the net in hand.
const nearRelease = 2.

// notOver keeps animals in distress near the end of a transfer from being moved into the new water,
// which would be another change.
func (f *following) notOver(seen signs) {
	c, leg := f.course, f.leg()
	near := leg.Plan != nil && seen.last.hours(f.base.Request) > leg.At+float64(leg.Plan.Release.Time.Value)-nearRelease
	if near && !f.inTank() && !leg.outOfBag() && (f.now > 0 || leg.Plan.Route != transfer.Direct) && !f.released && !f.rescue && seen.well == nil && float64(c.Gap.Value) > unlikely*float64(c.Gap.U) {
		c.Then = append(c.Then, noteOf("then_not_over"))
	}
}

// readTwice believes a salinity that was read at a stop, or after it, much as before the stop, whatever
// was due by the clock.
func (f *following) readTwice() {
	var before reading
	for i, e := range f.log {
		now, _, err := f.readOf(e)
		if err != nil || now.u == 0 {
			continue
		}
		if f.state.stopped >= 0 && i >= f.state.stopped && before.u > 0 && math.Abs(now.value-before.value) < math.Hypot(now.u, before.u) {
			f.believes(f.number[i])
		}
		before = now
	}
}

// believes takes back that the salinity of an entry fits nothing.
func (f *following) believes(entry int) {
	for i := range f.course.Readings {
		if j := &f.course.Readings[i]; j.Entry == entry && j.What == "salinity" {
			j.Suspect, j.Why = false, nil
		}
	}
}
