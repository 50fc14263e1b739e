package followup

import (
	"math"
	"slices"

	"saltlock/chem/quantity"
)

// backStep is the share of a step by which animals in distress are moved back: of what was changed so
// far, and at most of what may be changed at once. Proposed here; a whole step would be another shock.
const backStep = 0.5

// leastBack is the least step back that is asked for, g/kg. Hobby instruments hardly show a smaller
// one, and half of the water is handled for it. Proposed here.
const leastBack = 0.5

// backDone is the share of a step back that may be left once it is done, as far as instruments tell.
const backDone = 0.25

// mostSwapped is the most of the container's water that is swapped, cup by cup, with the animals in it.
// A step back that needs more is made smaller, because handling harms them more than that helps.
const mostSwapped = 0.7

// leastMixed is the least share of their own water that is mixed into a step back.
const leastMixed = 0.05

// readAfter uses what was read after a stop unchanged. Of water that was filled up since, of what
// salt nobody knows, there is no telling how much must change.
func (f *following) readAfter() {
	c := f.course
	f.mixed = f.bank != nil && f.bank.latest.trace != nil && f.bank.latest.trace.unread
	f.salinityAfter()
	f.cameInAfter()
	for _, e := range f.log[f.state.stopped:] {
		if v, err := f.volumeRead(e); err == nil && v.u > 0 && f.tub.Density != nil {
			c.Volume, c.Level = e.Volume, e.Level
			if e.Volume == nil {
				c.Volume = new(quantity.Of[quantity.Volume](v.value, v.u))
			} else if c.Level, err = f.base.Request.Container.Level(e.Volume.Value); err != nil { // it runs over
				c.Level = nil
			}
			f.moment.volume, f.unmeasured = v.value, false
			f.moment.mass = f.moment.volume * f.tub.Density(f.moment.left)
		}
	}
	if f.mixed {
		c.Volume, c.Level = nil, nil
	}
}

// salinityAfter uses the salinities that were read after a stop, or after the first sign of distress
// in the new water, and keeps that which was furthest.
func (f *following) salinityAfter() {
	f.furthest = float64(f.course.PracticalSalinity.Value * quantity.GramsPerPractical)
	from := f.state.stopped
	if f.released {
		from = f.entered + slices.IndexFunc(f.log[f.entered:], func(e LogEntry) bool { return e.Distressed() || e.is(LookWrong) })
		f.wentTo(from)
	}
	cups := f.against.in
	for i, e := range f.log[from:] {
		poured := e.Cups != nil && f.leg().byCups() && *e.Cups > cups
		if poured {
			cups = *e.Cups
		}
		if e.is(Refilled) || poured {
			f.mixed = true
		}
		if e.Salinity == nil || i == 0 && f.reread {
			continue
		}
		sa, err := e.salinity(f.base.Request)
		if err != nil {
			continue
		}
		f.mixed, f.reread = false, i > 0
		f.tellSalinity(float64(sa.Value), float64(sa.U))
		if is := float64(sa.Value); i == 0 || (is-f.furthest)*f.toward() > 0 {
			f.furthest = is
		}
		f.standsOn(f.number[from+i])
	}
}

// standsOn says of a salinity that fits nothing else, but on which the state after a stop stands for want
// of another, that it is read again: it is not left out.
func (f *following) standsOn(number int) {
	c := f.course
	c.Warnings = slices.DeleteFunc(c.Warnings, func(n quantity.Note) bool { return n.Code == "suspect_but_used" })
	for i := range c.Readings {
		if j := &c.Readings[i]; j.Entry == number && j.What == "salinity" && j.Suspect {
			e := f.entry(number)
			c.Warnings = slices.DeleteFunc(c.Warnings, func(n quantity.Note) bool { return n.Code == "suspect_salinity" })
			c.warn(noteOf("suspect_but_used", *e.Salinity, f.shown(*e, j.Expected.Value)))
			j.Suspect, j.Why = false, nil
		}
	}
}

// settled is the salinity in which the animals last lived for a hold before it was changed again, g/kg;
// without one, that from which they came.
func (f *following) settled() float64 {
	sa, changed, rest, legs := f.base.From, 0., max(leastRest, f.base.Hold), f.course.Legs
	last := f.filterGate().until(f.last)
	for k, leg := range legs[:f.now+1] {
		until := last
		if k < f.now {
			until = legs[k+1].closes()
		}
		if at, stopped := f.stoppedBefore(leg); stopped {
			changed = at
		}
		if leg.Plan == nil { // long replaced: the water changed up to then
			changed = until
			continue
		}
		for _, p := range leg.Plan.Phases {
			at := leg.At + float64(p.Start.Value)
			if at > until {
				break
			}
			if p.FromSalinity.Value == p.ToSalinity.Value {
				continue
			}
			if at-changed > rest-soon {
				sa = float64(p.FromSalinity.Value * quantity.GramsPerPractical)
			}
			changed = min(until, at+float64(p.Duration.Value))
		}
	}
	return sa
}

// stoppedBefore is when the animals were last left alone before a leg that was started again, h.
func (f *following) stoppedBefore(leg Leg) (hours float64, stopped bool) {
	for _, e := range f.log {
		switch at := e.hours(f.base.Request); {
		case e.is(Restarted) && math.Abs(at-leg.closes()) < soon:
			return hours, stopped
		case e.is(Restarted):
			stopped = false
		case e.Stops():
			hours, stopped = at, true
		}
	}
	return 0, false
}

// halfBack is half a step back, g/kg: from the salinity in which the animals were furthest from home
// since the plan was stopped, so that it is not made twice; by half of what was changed since they
// were settled, and at most by half of a step that is allowed at once.
func (f *following) halfBack() (to, change float64, err error) {
	atOnce, err := f.base.AtOnceBack()
	home := f.settled()
	change = backStep * min(atOnce, math.Abs(f.furthest-home))
	return f.furthest + math.Copysign(change, home-f.furthest), change, err
}

// back offers half a step towards the water in which the animals lived, once. What that is not worth
// is left out, and so is an exchange of water where hardly any is left. It is long because the water
// may be in a container, in a tank or nowhere.
func (f *following) back() error {
	c, b := f.course, f.base
	mass, volume := f.moment.mass, f.moment.volume
	followed := f.tub.Density != nil // there is a container
	released := f.released || followed && !f.leg().InContainer() && f.over(f.log[f.state.stopped])
	if released && followed { // it is free to be filled again
		if !f.released {
			f.furthest = b.To
		}
		if !f.reread {
			c.PracticalSalinity = new(practical(b.To))
		}
		volume = f.tub.Start
		mass = volume * f.tub.Density(0)
	}
	to, whole, err := f.halfBack()
	if err != nil || f.leg().outOfBag() && !f.released { // their own water was foul
		return err
	}
	sa := float64(c.PracticalSalinity.Value * quantity.GramsPerPractical)
	change := math.Abs(to - sa)
	switch left := (sa - to) * math.Copysign(1, f.furthest-to); {
	case f.mixed, f.cameIn, followed && !released && float64(c.PracticalSalinity.U) > max(whole, 1.5*unknownInstrument): // how far, only a reading says
		c.Then = append(c.Then, noteOf("then_read_all"))
		return nil
	case whole < leastBack:
		return nil
	case f.reread && left < max(backDone*whole, min(leastBack, whole/2)):
		c.Then = append(c.Then, noteOf("then_no_further_back"))
		return nil
	case left < leastBack:
		return nil
	case followed && !released && f.toppedUp():
		return nil
	case f.unmeasured:
		c.Then = append(c.Then, noteOf("then_read_all"))
		return nil
	}
	if !followed {
		f.stepBackTo(to, change)
		n := noteOf("step_back_to", c.StepBack.PracticalSalinity, c.StepBack.Change)
		if f.inTank() { // from which nobody catches them out
			n.Code = "step_back_tank"
		}
		c.Then = append(c.Then, n)
		return nil
	}
	rho, err := b.FromDensity()
	if err != nil {
		return err
	}
	old := mass * (to - sa) / (b.From - sa) / rho // mixed with the rest of theirs
	if !released {
		old, to = f.swapped(sa, to, mass/rho, min(f.tub.Start, mostSwapped*volume))
	}
	if change = math.Abs(to - sa); old < 0 || change < leastBack {
		return nil
	}
	f.stepBackTo(to, change)
	f.sayStepBack(min(old, f.tub.Start), volume, released)
	return nil
}

// swapped is how much of so many litres is swapped, cup by cup, to bring a salinity to another with the
// animals' old water, and to which it comes if no more than most may be: each cup that is taken out
// holds some of those poured in. The level stays, and so does what room the animals have.
func (f *following) swapped(sa, to, litres, most float64) (old, reached float64) {
	old = -litres * math.Log(1-min((to-sa)/(f.base.From-sa), 1-leastMixed))
	if old > most {
		old = most
	}
	return old, sa + (f.base.From-sa)*(1-math.Exp(-old/litres))
}

// stepBackTo puts a step back to a salinity into the course, g/kg.
func (f *following) stepBackTo(to, change float64) {
	f.course.StepBack = &StepBack{PracticalSalinity: practical(to), Change: salinity(change)}
}

// toppedUp reports whether there is so little water that none is taken out. The water set aside that is
// poured in is the step back.
func (f *following) toppedUp() bool {
	low := f.lowVolumes()
	if len(low) == 0 {
		return false
	}
	if low[0] >= nearlyDry*f.leg().least(f.tub.Least) && !f.falls(low) && f.mayGoBack() { // or that is said already
		f.course.Then = append(f.course.Then, noteOf("then_top_up"))
	}
	return true
}

// sayStepBack says how the step back is made with so much of the water set aside: around the
// animals, or, after the release, in the container that they are moved back into.
func (f *following) sayStepBack(oldWater, volume float64, released bool) {
	c := f.course
	to, change := c.StepBack.PracticalSalinity, c.StepBack.Change
	old, rest := litres(oldWater), litres(volume-oldWater)
	c.StepBack.OldWater = &old
	if tells(c.Warnings, "suspect_but_used") {
		c.Then = append(c.Then, noteOf("then_read_before_back"))
	}
	n := noteOf("step_back_swap", old, to, change)
	switch {
	case released && oldWater > (1-leastMixed)*volume: // nobody measures so little of theirs
		n = noteOf("step_back_all", to, change)
	case released:
		n = noteOf("step_back_mix", old, rest, to, change)
	}
	c.Then = append(c.Then, n)
}
