package followup

import (
	"math"

	"saltlock/chem/quantity"
)

// stateNow is the result of the events of the log.
func (f *following) stateNow() state {
	return stateOf(f.log, func(e LogEntry) float64 { return e.hours(f.base.Request) }, f.shows)
}

// overflows reports whether the container runs over while it drips.
func (f *following) overflows() bool {
	o := f.base.Request.Container.Overflow
	return o != nil && *o
}

// shows reports whether an entry says where the container is. One that runs over is as full of new
// water as of old.
func (f *following) shows(e LogEntry) bool {
	return e.Salinity != nil || e.Cups != nil || e.read() && !f.overflows()
}

// overflowHides asks for the salinity of a container that runs over, where its level was read instead.
// The drip may have run on since the clamp was to be closed, or nobody looked, and the salinity be
// anything on that way.
func (f *following) overflowHides() {
	c, e := f.course, f.log[len(f.log)-1]
	if !f.overflows() || !e.read() || f.shows(e) {
		return
	}
	c.Now = noteOf("act_close_read_salinity")
	c.because(noteOf("why_level_hides"))
	if f.bank == nil { // a drip by marks
		return
	}
	since, h := f.last, &f.bank.latest
	if b := f.bank.closing; b != nil {
		since = b.volume.hours
	}
	sa := f.bank.salt(h.x)
	on := f.base.To - (f.base.To-sa)*math.Exp(-h.ran*f.bank.perDrop*h.x[dropSize]*(f.last-since)/h.x[mass])
	u := math.Hypot(float64(c.PracticalSalinity.U)*quantity.GramsPerPractical, math.Abs(on-sa))
	f.tellSalinity(sa, u)
}
