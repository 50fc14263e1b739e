package followup

import (
	"slices"

	"saltlock/chem/quantity"
)

// signs are the entries with a sign of distress since the plan was stopped.
type signs struct {
	first LogEntry // since they last looked well; of a stop without distress, or a moult, that one
	last  LogEntry
	well  *LogEntry // the first that found them well again; nil if none did
}

// signsSince goes through the log from the entry that stopped the plan on.
func (f *following) signsSince() signs {
	since := f.log[f.state.stopped:]
	s, seen := signs{first: since[0], last: since[0]}, false
	for i, e := range since {
		switch {
		case (e.is(LookWrong) || e.Distressed()) && !e.moults():
			if !seen || s.well != nil {
				s.first = e
			}
			s.last, s.well, seen = e, nil, true
		case seen && s.well == nil && e.Behaviour != nil && !e.Distressed():
			s.well = &since[i]
		}
	}
	return s
}

// byGravity are signs of distress, the gravest last. Common practice, no source.
var byGravity = []Behaviour{NotFeeding, HeavyMucus, Gasping, LossOfBalance}

// worstSign is the gravest sign of distress since the plan was stopped, or since the animals looked
// well, and of two alike the newer.
func (f *following) worstSign() LogEntry {
	since := f.log[f.state.stopped:]
	worst, gravest, well := since[0], -2, false
	for _, e := range since {
		if e.Behaviour != nil && !e.Distressed() {
			well = true
		}
		if !(e.is(LookWrong) || e.Distressed()) || e.moults() {
			continue
		}
		grave := -1
		if e.Behaviour != nil {
			grave = slices.Index(byGravity, *e.Behaviour)
		}
		if well || grave >= gravest {
			worst, gravest, well = e, grave, false
		}
	}
	return worst
}

// stop ends the plan: nothing drips, and nothing moves nearer to the target. At a sign
// of distress the other causes are looked for first, and then half a step back is
// offered.
func (f *following) stop() error {
	c, b, seen := f.course, f.base, f.signsSince()
	e := seen.first
	c.Verdict, c.Plan = Stopped, nil
	if e.Behaviour != nil && *e.Behaviour == NotFeeding && f.over(e) {
		return f.refusesFood(seen)
	}
	c.Now = f.toStop(e)
	f.readAfter()
	f.broughtBack()
	at := f.when(e)
	if e.moults() || e.is(Stop) && !e.Distressed() {
		f.withoutPower()
	}
	if e.is(Stop) && !e.Distressed() {
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
		if !f.clamped() {
			c.WayOn.Advice = noteOf("way_on_after_moult_still", hours(2*restAfterMoult))
		}
		return nil
	}
	return f.distress(seen)
}

// distress looks for the causes of signs of distress, and then offers the way back. Of animals
// that are well since it says only what still holds.
func (f *following) distress(seen signs) error {
	c := f.course
	if !seen.first.Distressed() { // nobody said what, so it may be the worst
		defer func() { c.Then = append(c.Then, noteOf("then_take_out_dead")) }()
	}
	worst := f.worstSign()
	what, at := "something looks wrong", f.when(worst)
	if worst.Distressed() {
		what = string(*worst.Behaviour)
	}
	c.Why = append(c.Why, noteOf("distress_seen", what, at))
	if seen.well != nil {
		c.Why = append(c.Why, noteOf("why_well_since", f.when(*seen.well)))
	}
	if err := f.triage(seen.well != nil); err != nil {
		return err
	}
	f.notOver(seen)
	from, rest := seen.last.hours(f.base.Request), max(leastRest, f.base.Hold)
	c.WayOn = &WayOn{Earliest: hours(f.foundWell(seen) + rest), Advice: noteOf("way_on_after_distress", hours(rest))}
	_, soft := f.moulting()
	switch {
	case f.rescue:
		c.Then = append(c.Then, noteOf("then_no_way_back"))
		f.halfWayNow(seen)
		c.WayOn = &WayOn{Earliest: hours(from + restInRescue), Advice: noteOf("way_on_in_rescue", hours(restInRescue))}
		return nil
	case seen.well != nil:
		c.Then = append(c.Then, noteOf("then_keep_old_water"))
		return nil
	case tells(append(c.Then, c.Now), f.movesToClean()), soft:
		return nil // poison is the cause that was found, and they leave that water for it
	}
	return f.back()
}

// foundWell is when a look first found the animals well again, h: their rest counts from then. While
// none did, it is now at the earliest.
func (f *following) foundWell(seen signs) float64 {
	if seen.well != nil {
		return seen.well.hours(f.base.Request)
	}
	return f.last
}

// halfWayNow brings distressed animals at once out of water that they do not live in: half way, as
// the plan of a rescue says before it begins. Poison is left the same way, by an act of its own.
func (f *following) halfWayNow(seen signs) {
	c := f.course
	half, ok := f.base.HalfWay(float64(c.PracticalSalinity.Value * quantity.GramsPerPractical))
	poison := func(n quantity.Note) bool {
		return n.Code == f.movesToClean() || n.Code == "act_change_some" || n.Code == "act_change_much"
	}
	if !ok || seen.well != nil || f.released || seen.last.moults() || slices.ContainsFunc(append(c.Then, c.Now), poison) {
		return
	}
	at := f.base.Request.From.Temperature.Value
	if w := f.warmthNow(); w.read != nil {
		at = w.read.Value
	}
	move := noteOf("move_half_way", practical(half), quantity.Exactly(at))
	c.Then = append(c.Then, move)
}

// toStop is the act that stops the change of water.
func (f *following) toStop(e LogEntry) quantity.Note {
	switch since := f.loggedSince(f.state.stopped); {
	case f.inBag():
		return noteOf("bag_open")
	case f.leg().outOfBag(), !f.clamped() && (e.Distressed() || e.is(LookWrong)) && !e.moults(): // air comes first
		return noteOf("act_keep_salinity")
	case !f.clamped():
		return noteOf("act_change_nothing")
	case dripped(since):
		return noteOf("act_not_closed")
	case len(since) > 0 && since[len(since)-1].is(ClampTouched):
		return noteOf("act_close_clamp")
	case len(since) > 0, f.powerOut() && !e.is(PowerOff), f.state.off >= 0 && f.leg().At <= f.state.off && f.state.off < e.hours(f.base.Request):
		return noteOf("act_leave_closed")
	}
	return noteOf("act_close_clamp")
}

// loggedSince are the entries from a place in the log on that came after it was reported there, or
// later, that the clamp is closed. One that is dated later but came before knew nothing of that.
func (f *following) loggedSince(place int) (since []LogEntry) {
	by := f.closedBy(place)
	for i := place; i < len(f.log); i++ {
		if f.number[i] > by {
			since = append(since, f.log[i])
		}
	}
	return since
}

// closedBy is the number of the entry with which the clamp was closed, as they came, from a place in
// the log on.
func (f *following) closedBy(place int) int {
	by := f.number[place]
	for i := place + 1; i < len(f.log); i++ {
		if f.log[i].Stops() || f.log[i].is(PowerOff) {
			by = min(by, f.number[i])
		}
	}
	return by
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
func (f *following) refusesFood(seen signs) error {
	c, e := f.course, seen.last
	p, err := f.poisonNow()
	if err != nil {
		return err
	}
	c.Volume, c.Level = nil, nil
	c.PracticalSalinity, c.Gap = new(practical(f.base.To)), new(salinity(0))
	f.readAfter()
	c.Why = append(c.Why, noteOf("distress_seen", string(NotFeeding), f.when(e)))
	if seen.well != nil {
		c.Now, c.Then = noteOf("now_ended"), append(c.Then, noteOf("next_aftercare"))
		c.Why = append(c.Why, noteOf("why_well_since", f.when(*seen.well)))
		return nil
	}
	company := noteOf("then_look_for_bullies")
	switch {
	case len(p.why) > 0:
		c.Now, c.Then = f.changeWater(), append(c.Then, noteOf("then_test_clean"), company)
	case p.clean:
		c.Now = company
	default:
		c.Now, c.Then = noteOf("act_test_their_tank"), append(c.Then, noteOf("then_change_some"), company)
	}
	if !f.rescue {
		c.Then = append(c.Then, noteOf("then_tank_back"))
	}
	c.Why = append(c.Why, p.why...)
	c.WayOn = &WayOn{Earliest: hours(f.foundWell(seen) + max(leastRest, f.base.Hold)), Advice: noteOf("way_on_after_refusing")}
	return nil
}
