package followup

import (
	"slices"
	"time"

	"saltlock/chem/quantity"
)

// A drip may begin somewhat before its planned start, and trouble this long before is no slip of a
// date. Proposed here.
const (
	mayBegin = 15 * time.Minute
	soonest  = 24 * time.Hour
)

// early reports whether an entry is from before a start that lies ahead.
func (e LogEntry) early(start, now time.Time) bool {
	return now.Before(start) && e.Time.Before(start) && now.Sub(*e.Time) < soonest
}

// when is the time of an entry on the keeper's clock, be it before the start.
func (f *following) when(e LogEntry) string {
	return f.clock(e.Time.Sub(*f.base.Request.Start).Hours())
}

// unbegun reports whether all that was logged is from before the drip began.
func (f *following) unbegun() bool {
	return !slices.ContainsFunc(f.log, func(e LogEntry) bool {
		return !e.Time.Add(mayBegin).Before(*f.base.Request.Start) || e.is(Stop, Late, ClampTouched, Refilled, Restarted) || e.Drops != nil
	})
}

// notBegun puts the clamp of a drip that has not begun last: it is closed.
func (f *following) notBegun() {
	c := f.course
	if !f.clamped() || len(c.Then) == 0 || !f.unbegun() {
		return
	}
	for i := range c.Why {
		if c.Why[i].Code == "why_power_off" {
			c.Why[i].Code = "why_only_power_off"
		}
	}
	if c.Now.Code == "act_unplug_and_close" {
		c.Now = noteOf("act_unplug_heater")
		c.Then = append(c.Then, noteOf("act_leave_closed"))
	}
	if acts := slices.DeleteFunc(slices.Clone(c.Then), closes); closes(c.Now) && len(acts) > 0 {
		c.Now, c.Then = acts[0], append(acts[1:], noteOf("act_leave_closed"))
	}
}

// closes reports whether an act only closes the clamp or leaves it closed.
func closes(n quantity.Note) bool { return n.Code == "act_close_clamp" || n.Code == "act_leave_closed" }
