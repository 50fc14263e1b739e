package followup

import (
	"math"
	"slices"
	"time"

	"saltlock/chem/quantity"
)

// release is logged when a transfer ends; nobody reports it.
const release Event = "released"

// Release is the entry of a log that says when the animals were moved into the new water.
func Release(at time.Time) LogEntry { return LogEntry{Time: &at, Event: new(release)} }

// untilRelease cuts the log at the release, after which the animals are in the new water, also
// where the plan was stopped before.
func (f *following) untilRelease() {
	i := slices.IndexFunc(f.log, func(e LogEntry) bool { return e.is(release) })
	if i < 0 {
		return
	}
	i = f.releaseBefore(i)
	f.since, f.log, f.released = f.log[i+1:], f.log[:i+1], true
	f.state = f.stateNow()
}

// releaseBefore moves the release, at a place in the log, before what is dated within the minute
// before it, unless that was read in the container or closed its clamp. Phones tell the time to the
// minute, so a report just after the release seems to come before it. It returns the new place.
func (f *following) releaseBefore(i int) int {
	minute := f.log[i].Time.Truncate(time.Minute)
	to := i
	for to > 0 && !f.log[to-1].Time.Before(minute) && !f.log[to-1].is(Restarted) {
		to--
	}
	within, numbers := slices.Clone(f.log[to:i+1]), slices.Clone(f.number[to:i+1])
	place := func(of func(LogEntry) bool) {
		for k, e := range within {
			if of(e) {
				f.log[to], f.number[to] = e, numbers[k]
				to++
			}
		}
	}
	inside := func(e LogEntry) bool {
		return !e.is(release) && (e.read() || e.Drops != nil || e.is(Stop)) && !e.Distressed()
	}
	place(inside)
	released := to
	place(func(e LogEntry) bool { return e.is(release) })
	place(func(e LogEntry) bool { return !e.is(release) && !inside(e) })
	return released
}

// presumeRelease takes animals in distress to be in the new water if that was the last thing read
// before, at or after the time of the release. To look for them in the container, where nothing
// was read, would lead them back too far.
func (f *following) presumeRelease() error {
	if f.released || f.state.stopped < 0 || !f.leg().InContainer() || f.log[f.state.stopped].is(Stop) {
		return nil
	}
	for i := f.state.stopped - 1; i >= 0 && !f.log[i].is(Restarted); i-- {
		e := f.log[i]
		if e.Volume != nil || e.Level != nil {
			return nil
		}
		if e.Salinity == nil {
			continue
		}
		sa, err := e.salinity(f.base.Request)
		if err != nil || !f.over(e) || math.Abs(float64(sa.Value)-f.base.To) >= unlikely*float64(sa.U) || math.Abs(f.base.Gap) <= unlikely*float64(sa.U) {
			return err
		}
		f.since, f.log, f.released, f.presumed = f.log[i+1:], f.log[:i+1], true, true
		f.last = e.hours(f.base.Request)
		return nil
	}
	return nil
}

// inNewWater answers once the animals are in the new water: a step into it that was too large is
// named, and a sign of distress since is looked into there. It is long because the latest sign decides.
func (f *following) inNewWater() error {
	c, b := f.course, f.base
	c.Verdict, c.Plan, c.Now = Ended, nil, noteOf("now_ended")
	c.Why = nil
	f.movedFrom = float64(c.PracticalSalinity.Value * quantity.GramsPerPractical)
	if f.leg().InContainer() {
		was := quantity.Exactly(c.PracticalSalinity.Value)
		step := math.Abs(b.To - float64(was.Value)*quantity.GramsPerPractical)
		if !f.presumed && step > max(b.AtOnce, b.Tolerance)+float64(c.Gap.U) {
			early := noteOf("why_moved_early", was, practical(b.To), salinity(step), salinity(b.AtOnce))
			if !slices.ContainsFunc(f.log, LogEntry.read) && f.over(f.log[len(f.log)-1]) { // it may all have gone in
				early = noteOf("why_maybe_moved_early", was, salinity(step), salinity(b.AtOnce))
			}
			c.Why = append(c.Why, early)
			c.Then = append(c.Then, noteOf("then_keep_old_water"))
		}
		c.PracticalSalinity, c.Gap, c.Volume, c.Level = new(practical(b.To)), new(salinity(0)), nil, nil
		c.noDrip()
	}
	if leg := f.leg(); f.now > 0 && leg.Held > 0 && leg.At > f.last+soon && !f.presumed { // they were to rest
		c.Why = append(c.Why, noteOf("why_moved_in_rest", f.clock(leg.At)))
		if !tells(c.Then, "then_keep_old_water") {
			c.Then = append(c.Then, noteOf("then_keep_old_water"))
		}
	}
	if f.entered = len(f.log); !f.leg().InContainer() && !f.presumed { // it is the water in which they were
		f.entered = 0
	}
	f.log = slices.Concat(f.log, f.since)
	for i := len(f.log) - 1; i >= f.broughtDistress(); i-- {
		e := f.log[i]
		if e.Behaviour != nil && !e.Distressed() && !f.presumed { // well since
			break
		}
		switch {
		case f.fasts(e):
			c.Then = append(c.Then, noteOf("then_feed_tomorrow"))
		case e.moults():
			c.Why, c.Then = append(c.Why, noteOf("moult_seen", f.when(e))), append(c.Then, noteOf("then_leave_the_moulting"))
		case e.Distressed() || e.is(LookWrong):
			f.state.stopped = i
			return f.distressInNewWater(e)
		}
	}
	if f.tub.Density != nil && !f.presumed {
		if err := f.judgeNewTank(); err != nil {
			return err
		}
	}
	return f.afterCare()
}

// broughtDistress is the place in the log from which on signs of distress count in the new water:
// animals that were moved over in distress are in distress there.
func (f *following) broughtDistress() int {
	if s := f.state.stopped; s >= 0 && s < f.entered && !f.presumed {
		return s
	}
	return f.entered
}

// foodAfter is how long after the release animals that do not eat show nothing by that, h.
const foodAfter = 24.

// fasts reports whether animals do not eat so soon after the release that it is no sign.
func (f *following) fasts(e LogEntry) bool {
	return e.Behaviour != nil && *e.Behaviour == NotFeeding && !f.presumed && e.hours(f.base.Request)-f.last < foodAfter
}

// afterCare answers to what was found out since the release without a sign of distress.
func (f *following) afterCare() error {
	c := f.course
	why, acts, err := f.standing()
	if err != nil {
		return err
	}
	if c.reasons(why); len(acts) > 0 {
		rest := acts[1:]
		if c.Now.Code != "now_ended" {
			rest = append(rest, c.Now)
		}
		c.Now, c.Then = acts[0], append(rest, c.Then...)
	}
	if f.log[len(f.log)-1].is(PowerBack) {
		c.first(noteOf("triage_air"))
		c.Then = append(c.Then, noteOf("power_canister"))
	}
	c.Then = append(c.Then, noteOf("next_aftercare"))
	return nil
}

// distressInNewWater looks for the cause where the animals are: air first, then ammonia,
// then temperature, and half a step back from there.
func (f *following) distressInNewWater(e LogEntry) error {
	c := f.course
	early := c.Why
	c.Verdict, c.Why, c.Then = Stopped, nil, nil
	seen := f.signsSince()
	if e.Behaviour != nil && *e.Behaviour == NotFeeding {
		return f.refusesFood(seen)
	}
	c.Now = noteOf("act_close_clamp")
	f.salinityAfter()
	if err := f.distress(seen); err != nil {
		return err
	}
	c.Now, c.Then = c.Then[0], c.Then[1:] // for there is no clamp
	if f.presumed {
		c.Then = slices.Insert(c.Then, 0, noteOf("now_over_or_not"))
	}
	c.Why = append(c.Why, early...)
	return f.distressInOtherWater()
}
