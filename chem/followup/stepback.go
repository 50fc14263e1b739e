package followup

import (
	"math"
	"slices"

	"saltlock/chem/quantity"
)

// backStep is the share of a step by which animals in distress are moved back. Proposed here;
// a whole step would be another shock.
const backStep = 0.5

// mostTakenOut is the most of the container's water that is taken out with the animals in it.
// For more, the step back is mixed in another vessel.
const mostTakenOut = 0.5

// leastMixed is the least share of their own water that is mixed into a step back.
const leastMixed = 0.05

// event answers if an event decides, without any plan. It is not done if none does.
func (f *following) event() (done bool, err error) {
	if f.released {
		return true, f.inNewWater()
	}
	if s := f.state; s.stopped < 0 && !f.powerOut() {
		if done, err := f.poisoned(); done || err != nil {
			return done, err
		}
	}
	switch s := f.state; {
	case s.stopped >= 0:
		return true, f.stop(f.stopper())
	case f.cooled() > warmFirstFrom && !f.powerOut():
		c := f.course
		c.Verdict, c.Plan = Paused, nil
		if c.Now = noteOf("act_warm_first"); f.leg().Steps == nil {
			c.Now = noteOf("act_only_warm")
		}
		c.Why = append(c.Why, noteOf("why_cooled", celsiusApart(f.cooled())))
		c.Then = append(c.Then, noteOf("triage_air"))
		if w := f.warmthNow(); w.apart() {
			c.Then = append(c.Then, f.putRight(w))
		}
		c.Then = append(c.Then, noteOf("then_salt_later", hours(saltAfterWarmth)))
		return true, nil
	case s.latest >= 0 && f.log[s.latest].is(ClampTouched, Late, Refilled) && f.stillShut():
		return true, nil
	case s.latest >= 0:
		f.answer(f.log[s.latest])
		return true, f.alsoPoisoned()
	case s.paused >= 0: // read after the power failed, and it is off still
		f.answer(f.log[s.paused])
		return true, f.alsoPoisoned()
	}
	return f.warmthOff(), nil
}

// After a power failure: how much colder the water must be to be warmed first, and how long
// after that the salinity may change again.
const (
	warmFirstFrom   = 1.0 // degrees
	saltAfterWarmth = 12  // h
)

// stopper is the entry that stopped the plan; after a stop without distress, or at a moult, the
// first sign of it since.
func (f *following) stopper() LogEntry {
	since := f.log[f.state.stopped:]
	i := slices.IndexFunc(since, func(e LogEntry) bool { return (e.distressed() || e.is(LookWrong)) && !e.moults() })
	return since[max(i, 0)]
}

// stop ends the plan: nothing drips, and nothing moves nearer to the target. At a sign
// of distress the other causes are looked for first, and then half a step back is
// offered.
func (f *following) stop(e LogEntry) error {
	c, b := f.course, f.base
	c.Verdict, c.Plan = Stopped, nil
	if e.Behaviour != nil && *e.Behaviour == NotFeeding && f.over(e) {
		return f.refusesFood(e)
	}
	c.Now = f.toStop(e)
	f.readAfter()
	at := f.clock(e.hours(b.Request))
	if e.is(Stop) && !e.distressed() {
		c.Why = append(c.Why, noteOf("why_stopped", at))
		if c.WayOn = (&WayOn{Earliest: *c.Time, Advice: noteOf("way_on_from_reading")}); f.log[len(f.log)-1].Salinity == nil {
			c.Then = append(c.Then, noteOf("then_read_all"))
			c.WayOn.Advice = noteOf("way_on_after_stop")
		}
		return nil
	}
	if e.moults() {
		c.Why, c.Then = append(c.Why, noteOf("moult_seen", at)), append(c.Then, noteOf("then_leave_the_moulting"))
		c.WayOn = &WayOn{Earliest: hours(e.hours(b.Request) + restAfterMoult), Advice: noteOf("way_on_after_moult", hours(2*restAfterMoult))}
		return nil
	}
	return f.distressed(e)
}

// distressed looks for the causes of a sign of distress, and then offers the way back.
func (f *following) distressed(e LogEntry) error {
	c, b := f.course, f.base
	at := f.clock(e.hours(b.Request))
	if e.distressed() {
		c.Why = append(c.Why, noteOf("distress_seen", string(*e.Behaviour), at))
	} else {
		c.Why = append(c.Why, noteOf("distress_seen", "something looks wrong", at))
	}
	if err := f.triage(); err != nil {
		return err
	}
	if f.rescue {
		c.Then = append(c.Then, noteOf("then_no_way_back"))
		c.WayOn = &WayOn{Earliest: hours(e.hours(b.Request) + restInRescue), Advice: noteOf("way_on_in_rescue", hours(restInRescue))}
		return nil
	}
	rest := max(leastRest, b.Hold)
	c.WayOn = &WayOn{Earliest: hours(e.hours(b.Request) + rest), Advice: noteOf("way_on_after_distress", hours(rest))}
	return f.back()
}

// toStop is the act that stops the change of water.
func (f *following) toStop(e LogEntry) quantity.Note {
	switch since := f.log[f.state.stopped+1:]; {
	case f.leg().outOfBag() && !e.is(Stop):
		return noteOf("bag_open")
	case f.leg().Steps == nil:
		return noteOf("act_change_nothing")
	case dripped(since):
		return noteOf("act_not_closed")
	case len(since) > 0 && since[len(since)-1].is(ClampTouched):
		return noteOf("act_close_clamp")
	case len(since) > 0, f.powerOut() && !e.is(PowerOff):
		return noteOf("act_leave_closed")
	}
	return noteOf("act_close_clamp")
}

// dripped reports whether drops were seen when they were last counted.
func dripped(log []LogEntry) bool {
	for i := len(log) - 1; i >= 0; i-- {
		if n := log[i].Drops; n != nil {
			return *n > 0
		}
	}
	return false
}

// How long animals in distress are left alone, h: at least, and where their water harms them.
const leastRest, restInRescue = 24., 12.

// restAfterMoult is for how long at least nothing changes around an animal that moults, h; twice
// that is better. Common practice, no source.
const restAfterMoult = 24.

// refusesFood answers where the animals refuse food in the tank into which they were released.
// Nothing drips there, and to catch them again would be another shock.
func (f *following) refusesFood(e LogEntry) error {
	c := f.course
	p, err := f.poisonNow()
	if err != nil {
		return err
	}
	c.Volume, c.Level = nil, nil
	c.PracticalSalinity, c.Gap = new(practical(f.base.To)), new(salinity(0))
	f.readAfter()
	company := noteOf("then_look_for_bullies")
	switch {
	case len(p.why) > 0:
		c.Now, c.Then = noteOf("act_change_some"), append(c.Then, noteOf("then_test_clean"), company)
	case p.clean:
		c.Now = company
	default:
		c.Now, c.Then = noteOf("act_test_their_tank"), append(c.Then, noteOf("then_change_some"), company)
	}
	if !f.rescue {
		c.Then = append(c.Then, noteOf("then_tank_back"))
	}
	at := e.hours(f.base.Request)
	c.Why = append(append(c.Why, noteOf("distress_seen", string(NotFeeding), f.clock(at))), p.why...)
	rest := max(leastRest, f.base.Hold)
	c.WayOn = &WayOn{Earliest: hours(at + rest), Advice: noteOf("way_on_after_refusing")}
	return nil
}

// readAfter uses what was read after a stop unchanged.
func (f *following) readAfter() {
	c := f.course
	for _, e := range f.log[f.state.stopped:] {
		if e.Salinity != nil {
			if sa, err := e.salinity(f.base.Request); err == nil {
				c.PracticalSalinity = new(quantity.Of[quantity.Salinity](float64(sa.Value)/quantity.GramsPerPractical, float64(sa.U)/quantity.GramsPerPractical))
				c.Gap = new(quantity.Of[quantity.AbsoluteSalinity](math.Abs(f.base.To-float64(sa.Value)), math.Hypot(float64(sa.U), f.base.Doubts[1])))
			}
		}
		if e.Volume != nil && f.tub.Density != nil {
			c.Volume = e.Volume
			f.moment.volume = float64(e.Volume.Value)
			f.moment.mass = f.moment.volume * f.tub.Density(f.moment.left)
		}
	}
}

// back offers half a step towards the water from which the animals came: half of the largest
// step allowed, in the stricter direction, and never beyond that water.
func (f *following) back() error {
	c, b := f.course, f.base
	mass, volume := f.moment.mass, f.moment.volume
	released := f.released && f.tub.Density != nil || len(f.leg().Steps) == 0 && !f.leg().byCups()
	if released && (c.Volume != nil || f.released) { // the container is free to be filled again
		c.PracticalSalinity = new(practical(b.To))
		volume = f.tub.Start
		mass = volume * f.tub.Density(0)
	}
	sa := float64(c.PracticalSalinity.Value * quantity.GramsPerPractical)
	atOnce, err := b.AtOnceBack()
	if err != nil {
		return err
	}
	apart := math.Abs(sa - b.From)
	change := min(backStep*atOnce, apart)
	if change < 0.01 { // they are in the water from which they came
		return nil
	}
	c.StepBack = &StepBack{PracticalSalinity: practical(sa + math.Copysign(change, b.From-sa)), Change: salinity(change)}
	if c.Volume == nil && !(f.released && released) {
		c.Then = append(c.Then, noteOf("step_back_to", c.StepBack.PracticalSalinity, c.StepBack.Change))
		return nil
	}
	rho, err := b.FromDensity()
	if err != nil {
		return err
	}
	share := change / apart
	old := mass * share / rho
	if scarce := f.tub.Start / old; scarce < 1 && (released || share > mostTakenOut) { // less is mixed
		old, volume = old*scarce, volume*scarce
	} else if scarce < 1 { // the step is smaller
		old, change = old*scarce, change*scarce
		c.StepBack.PracticalSalinity, c.StepBack.Change = practical(sa+math.Copysign(change, b.From-sa)), salinity(change)
	}
	f.sayStepBack(share, old, volume, released)
	return nil
}

// sayStepBack says how the step back is made: with so much old water, which takes the place of
// a share of the volume.
func (f *following) sayStepBack(share, oldWater, volume float64, released bool) {
	c := f.course
	to, change := c.StepBack.PracticalSalinity, c.StepBack.Change
	old, rest := litres(oldWater), litres(max(0, volume-oldWater))
	c.StepBack.OldWater = &old
	n := noteOf("step_back_pour", old, old, to, change)
	switch {
	case share > 1-leastMixed: // nobody measures so little of theirs
		n = noteOf("step_back_all", to, change)
	case released || share > mostTakenOut:
		n = noteOf("step_back_mix", old, rest, to, change)
	}
	c.Then = append(c.Then, n)
}
