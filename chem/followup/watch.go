package followup

import (
	"math"

	"saltlock/chem/quantity"
)

// warmthApart is by how many degrees a temperature must differ from the plan to stop the drip:
// as much as animals tolerate at once on arrival. Proposed here.
const warmthApart = 2.

// warmthOff stops the change of water if the water was last much colder or warmer than planned. The
// temperature is put right first, and the salinity goes on 12 h later.
func (f *following) warmthOff() bool {
	leg, c := f.leg(), f.course
	if leg.outOfBag() || leg.Plan == nil || len(leg.Plan.Curve) == 0 {
		return false
	}
	w := f.warmthNow()
	if w.read == nil {
		return false
	}
	if !w.apart() {
		return f.restsAfterWarmth(w)
	}
	c.Why = append(c.Why, noteOf("why_warmth_off", *w.read, w.planned))
	switch c.pause(f.shut()); {
	case !f.clamped():
		acts := f.putRight(w)
		c.Now, c.Then = acts[0], append(append(acts[1:], noteOf("act_keep_salinity")), c.Then...)
	case w.back() < 0:
		c.Now, c.Then = noteOf("act_unplug_and_close"), append(c.Then, noteOf("triage_air"), f.backTo(w))
	default:
		c.Then = append(c.Then, f.backTo(w))
	}
	c.Then = append(c.Then, noteOf("then_salt_after_warmth", hours(saltAfterWarmth)))
	return true
}

// warmthDrifts says that the water was just read somewhat colder or warmer than planned.
func (f *following) warmthDrifts() {
	w := f.warmthNow()
	if w.read != nil && !w.apart() && math.Abs(w.back()) > warmFirstFrom && f.log[w.place].hours(f.base.Request) == f.last {
		f.course.Why = append(f.course.Why, noteOf("warmth_drifts", *w.read, w.planned))
	}
}

// restsAfterWarmth keeps the clamp closed for 12 h after the water is back at its temperature.
// It may have been back before it was read, but no sooner than the rate allows.
func (f *following) restsAfterWarmth(w warmthSeen) bool {
	r, c := f.base.Request, f.course
	back := w.place // the first entry since that shows it back
	for i := w.place - 1; i >= 0; i-- {
		was := f.warmthOf(i)
		if was.read == nil {
			continue
		}
		if !was.apart() {
			back = i
			continue
		}
		_, rate, takes, err := f.base.WayBack(float64(was.read.Value), float64(was.planned.Value))
		if err != nil {
			return false
		}
		at, seen := f.log[i].hours(r), f.log[back].hours(r)
		until := min(seen, at+takes) + saltAfterWarmth
		if f.last >= until-soon {
			return false
		}
		c.pause(f.leaveUntil(until))
		c.because(noteOf("why_rest_after_warmth", *was.read, f.clock(at), hours(saltAfterWarmth)))
		f.backTooFast(was, f.log[back], rate)
		return true
	}
	return false
}

// backTooFast warns if the water went from a temperature that was far off to that of a later entry in
// less time than the rate allows.
func (f *following) backTooFast(was warmthSeen, now LogEntry, rate float64) {
	at, seen, to := f.log[was.place].hours(f.base.Request), now.hours(f.base.Request), float64(now.Temperature.Value)
	if _, _, takes, err := f.base.WayBack(float64(was.read.Value), to); err == nil && takes > max(seen-at, 0)*rateExcess {
		moved := math.Abs(to - float64(was.read.Value))
		f.course.warn(noteOf("warmth_too_fast", celsiusApart(moved), hours(seen-at), quantity.Exactly(quantity.TemperatureRate(rate))))
	}
}

// broughtBack keeps the warning of water that was brought back to its temperature too fast while the plan
// is stopped, for as long as the salinity rests after that.
func (f *following) broughtBack() {
	w := f.warmthNow()
	if w.read == nil || w.apart() {
		return
	}
	back := w.place
	for i := w.place - 1; i >= f.entered; i-- {
		was := f.warmthOf(i)
		switch {
		case was.read == nil:
			continue
		case !was.apart():
			back = i
			continue
		}
		_, rate, _, err := f.base.WayBack(float64(was.read.Value), float64(was.planned.Value))
		if latest := f.log[len(f.log)-1].hours(f.base.Request); err == nil && latest < f.log[back].hours(f.base.Request)+saltAfterWarmth {
			f.backTooFast(was, f.log[back], rate)
		}
		return
	}
}

// over reports whether, by the plan, the animals had been moved over when an entry was made.
func (f *following) over(e LogEntry) bool {
	leg := f.leg()
	return leg.Plan != nil && e.hours(f.base.Request) >= leg.At+float64(leg.Plan.Release.Time.Value)-soon
}
