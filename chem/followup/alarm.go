package followup

import (
	"slices"

	"saltlock/chem/quantity"
)

// alarms are the reasons that say what is wrong: a clamp that lets water through, water to the rim,
// a leak or hardly any water, no power, poison, and water too warm or too cold.
var alarms = slices.Concat(RunsOn, RunsDry, []quantity.Code{"why_drips_shut", "why_to_the_rim", "why_power_off", "why_only_power_off", "why_ammonia_toxic", "why_nitrite_toxic", "why_warmth_off"})

// The reasons for which no transfer is started again: water runs through the closed clamp, or out of
// the container.
var (
	RunsOn  = []quantity.Code{"why_level_rises", "why_salinity_moves"}
	RunsDry = []quantity.Code{"why_level_falls", "why_little_water", "found_leak"}
)

// Tells reports whether an answer gives one of these reasons.
func (c *Course) Tells(reasons ...quantity.Code) bool {
	return slices.ContainsFunc(c.Why, func(n quantity.Note) bool { return slices.Contains(reasons, n.Code) })
}

// Alarmed reports whether what an answer says is wrong and must not be hidden by a transfer that
// was called off.
func (c *Course) Alarmed() bool {
	return c.Tells(alarms...)
}

// raise puts what is still wrong before all else, whatever was reported since. Whoever is told to
// close the clamp reports a stop next, and that must not hide why.
func (f *following) raise() error {
	c := f.course
	why, acts, err := f.standing()
	if err != nil || f.released || len(acts) == 0 {
		return err
	}
	rests := c.Now.Code == "now_close_and_hold" || tells(c.Then, "then_rest_until") // which says itself that nothing drips
	if c.Verdict != Stopped && c.Verdict != Paused && !(rests && onlyFull(why)) {
		c.Then, c.Legs = nil, c.Legs[:f.now+1] // nothing that was just planned begins
		c.pause(f.shut())
	}
	c.reasons(why)
	if tells(acts, "act_pinch_hose") { // there is no way on until it is read to stand still
		c.WayOn = nil
	}
	c.Then = append(c.Then, acts...)
	return nil
}

// onlyFull reports whether nothing is wrong but that the container is full to the rim.
func onlyFull(why []quantity.Note) bool { return len(why) == 1 && why[0].Code == "why_to_the_rim" }

// reasons puts what is wrong before all other reasons, in the order of its acts; what was said of it
// already keeps its words.
func (c *Course) reasons(why []quantity.Note) {
	for i, n := range why {
		said := slices.IndexFunc(c.Why, func(x quantity.Note) bool { return tells([]quantity.Note{x}, n.Code) })
		if said >= 0 {
			why[i] = c.Why[said]
			c.Why = slices.Delete(slices.Clone(c.Why), said, said+1)
		}
	}
	c.because(why...)
}

// keepsSalinity says of an act that leaves the water alone, where clean water of the same salinity is
// asked for too, that it means the salinity.
func (f *following) keepsSalinity() {
	c := f.course
	if all := append([]quantity.Note{c.Now}, c.Then...); !tells(all, "act_change_some") && !tells(all, f.movesToClean()) {
		return
	}
	keep := func(n *quantity.Note) {
		if n.Code == "act_change_nothing" {
			n.Code = "act_keep_salinity"
		}
	}
	keep(&c.Now)
	for i := range c.Then {
		keep(&c.Then[i])
	}
}

// tells reports whether notes say something already, in these words or others.
func tells(notes []quantity.Note, code quantity.Code) bool {
	same := map[quantity.Code]quantity.Code{"act_unplug_heater": "act_unplug_and_close", "act_change_some": "act_change_much", "then_look_under": "act_look_under", "why_only_power_off": "why_power_off"}
	return slices.ContainsFunc(notes, func(n quantity.Note) bool { return n.Code == code || n.Code == same[code] })
}

// standing is what is wrong by the latest that was reported, the most urgent first, and what to
// do: water that runs through a closed clamp, or stands at the rim, a container that leaks, no
// power, poison, water too warm or too cold. Those in poisoned water are brought out of it first,
// into water that is nearer to their temperature.
func (f *following) standing() (why, acts []quantity.Note, err error) {
	if why, err = f.runsOn(); err != nil {
		return nil, nil, err
	}
	if len(why) > 0 {
		acts = append(acts, noteOf("act_pinch_hose"), noteOf("then_read_all"))
	}
	drips, shut := f.dripsOn()
	why, acts = append(why, drips...), append(acts, shut...)
	if v, full := f.toTheRim(); full {
		why = append(why, noteOf("why_to_the_rim", f.mark(v), f.mark(f.tub.Capacity)))
		acts = append(acts, noteOf("act_take_out_water"))
	}
	if latest, before, loses := f.loses(); loses {
		why = append(why, noteOf("why_level_falls", f.mark(before), f.mark(latest)))
		acts = append(acts, noteOf("act_look_under"))
		if f.mayGoBack() {
			acts = append(acts, noteOf("then_top_up"))
		}
	}
	at, out := f.powerFailed()
	if out {
		why = append(why, noteOf("why_only_power_off", at))
		acts = append(acts, noteOf("power_air"), f.wrap(), noteOf("power_heaters"), noteOf("power_report_back"))
	}
	p, err := f.poisonNow()
	if err != nil {
		return nil, nil, err
	}
	if len(p.why) > 0 {
		why = append(why, p.why...)
		acts = append(acts, f.outOfPoison()...)
	}
	if w := f.warmthNow(); w.apart() {
		why = append(why, noteOf("why_warmth_off", *w.read, w.planned))
		acts = append(acts, f.besideWarmth(w, len(p.why) > 0)...)
	}
	return why, acts, nil
}

// besideWarmth brings water that is too warm or too cold back to its temperature, with what belongs
// to it. Without power nothing warms it; in poisoned water the air stone is for the clean one.
func (f *following) besideWarmth(w warmthSeen, poisoned bool) (acts []quantity.Note) {
	if !f.powerOut() || w.back() < 0 {
		acts = f.putRight(w)
	}
	if w.back() < 0 && !f.powerOut() && !poisoned { // warm water holds little oxygen
		acts = append(acts, noteOf("triage_air"))
	}
	if !f.released && !f.course.InDistress() { // which waits longer
		acts = append(acts, noteOf("then_salt_after_warmth", hours(saltAfterWarmth)))
	}
	return acts
}

// outOfPoison brings the animals into clean water, or changes part of that of a tank, and tests it.
func (f *following) outOfPoison() []quantity.Note {
	clean := f.changeWater()
	if !f.released {
		clean = f.cleanWater()
	}
	return []quantity.Note{clean, noteOf("then_test_clean")}
}

// shut is the act that keeps the water as it is.
func (f *following) shut() quantity.Note {
	switch {
	case f.inBag():
		return noteOf("bag_open")
	case f.leg().outOfBag():
		return noteOf("act_keep_salinity")
	case f.clamped():
		return noteOf("act_close_clamp")
	}
	return noteOf("act_change_nothing")
}
