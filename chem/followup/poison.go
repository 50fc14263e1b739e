package followup

import (
	"math"
	"slices"

	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
	"saltlock/chem/transfer"
)

// poison is what the latest tests found too much of in the water of the animals. Ammonia comes
// first.
type poison struct {
	why    []quantity.Note
	slight []quantity.Note // nitrite that salt water makes harmless to animals that look well
	clean  bool            // ammonia was tested since the plan was stopped, and nothing was found
	times  float64         // the most that was found, as a multiple of its limit
}

// tests are the places in the log of the latest tests of ammonia and nitrite; -1 without one.
type tests struct{ tan, nitrite int }

// after takes the next entry of a log into account. What was found counts until a later test,
// also after a restart.
func (t tests) after(i int, e LogEntry) tests {
	switch {
	case e.TAN != nil && e.Nitrite != nil:
		return tests{i, i}
	case e.TAN != nil:
		t.tan = i
	case e.Nitrite != nil:
		t.nitrite = i
	}
	return t
}

// poisonNow judges the latest tests of the log.
func (f *following) poisonNow() (poison, error) {
	t := tests{-1, -1}
	for i := f.entered; i < len(f.log); i++ {
		t = t.after(i, f.log[i])
	}
	return f.poisonFound(t)
}

// poisonFound judges tests.
func (f *following) poisonFound(t tests) (poison, error) {
	var p poison
	var tan, nitrite *LogEntry
	if t.tan >= 0 {
		tan = &f.log[t.tan]
		p.clean = f.state.stopped >= 0 && t.tan >= f.state.stopped
	}
	if t.nitrite >= 0 {
		nitrite = &f.log[t.nitrite]
	}
	if tan != nil {
		toxic, most, err := f.toxic(*tan)
		if err != nil {
			return p, err
		}
		p.times = float64(toxic / most)
		if toxic > most {
			p.why = append(p.why, noteOf("why_ammonia_toxic", *tan.TAN, f.when(*tan), quantity.Exactly(toxic), quantity.Exactly(most)))
		}
	}
	switch {
	case nitrite == nil || nitrite.Nitrite.Value <= lifesupport.HarmlessNitrite*(1+inside):
	case f.slight(*nitrite):
		p.slight = append(p.slight, noteOf("why_nitrite_slight", *nitrite.Nitrite, f.when(*nitrite), quantity.Exactly(lifesupport.HarmlessNitrite)))
	default:
		p.times = max(p.times, float64(nitrite.Nitrite.Value/lifesupport.HarmlessNitrite))
		p.why = append(p.why, noteOf("why_nitrite_toxic", *nitrite.Nitrite, f.when(*nitrite), quantity.Exactly(lifesupport.HarmlessNitrite)))
	}
	p.clean = p.clean && len(p.why) == 0
	return p, nil
}

// aThird is how many times a limit may be exceeded for a third of new water to be enough.
const aThird = 1.5

// changeWater changes part of the water around animals that nobody catches: a third, or half, again
// and again, of what a third leaves poisonous.
func (f *following) changeWater() quantity.Note {
	if p, err := f.poisonNow(); err == nil && p.times > aThird {
		return noteOf("act_change_much")
	}
	return noteOf("act_change_some")
}

// toxic is the un-ionized ammonia of a test, at the highest pH that the two waters may reach,
// and how much of it is harmful. A tank has the pH that its keeper measured, for it stood in air.
func (f *following) toxic(e LogEntry) (is, most quantity.AmmoniaNitrogen, err error) {
	r := f.base.Request
	if most = lifesupport.HarmfulAmmonia; r.Limits.NH3 != nil {
		most = r.Limits.NH3.Value
	}
	celsius := r.From.Temperature.Value
	if e.Temperature != nil {
		celsius = e.Temperature.Value
	}
	ph, err := lifesupport.HighestPH(
		lifesupport.Acidity{PH: r.From.PH, Alkalinity: r.From.Alkalinity, Salinity: quantity.AbsoluteSalinity(f.base.From), Temperature: celsius},
		lifesupport.Acidity{PH: r.To.PH, Alkalinity: r.To.Alkalinity, Salinity: quantity.AbsoluteSalinity(f.base.To), Temperature: celsius})
	if err != nil {
		return 0, most, err
	}
	if f.leg().ofTank() && r.From.PH != nil && r.To.PH != nil {
		ph = max(r.From.PH.Value, r.To.PH.Value)
	}
	fresher := practical(min(f.base.From, f.base.To)) // which makes more of it toxic
	share, err := seawater.UnionizedAmmonia(ph, fresher.Value, celsius, seawater.NBSScale)
	return e.TAN.Value * quantity.AmmoniaNitrogen(share), most, err
}

// poisoned answers if ammonia or nitrite was found: the animals get clean water of the same salinity
// before anything else is changed. After that the gate decides in a tank with a filter.
func (f *following) poisoned() (bool, error) {
	leg, c := f.leg(), f.course
	p, err := f.poisonNow()
	if err != nil {
		return false, err
	}
	switch {
	case len(p.why) > 0:
	case hasFilter(leg):
		return false, nil
	default:
		return f.restsAfterPoison()
	}
	if c.pause(f.cleanWater()); f.clamped() {
		c.first(noteOf("act_close_clamp"))
	}
	c.because(p.why...)
	if c.Then = append(c.Then, noteOf("then_test_clean")); hasFilter(leg) {
		c.Then = append(c.Then, filterLow())
	}
	return true, nil
}

// peaceAfterPoison is how long after foul water the salinity is left alone, h, because gills heal
// slowly. Common practice, no source.
const peaceAfterPoison = 24.

// restsAfterPoison leaves the water alone for a day after the latest test that found poison.
func (f *following) restsAfterPoison() (bool, error) {
	for i := len(f.log) - 1; i >= f.entered; i-- {
		found := tests{-1, -1}.after(i, f.log[i])
		if found.tan < 0 && found.nitrite < 0 {
			continue
		}
		p, err := f.poisonFound(found)
		if err != nil {
			return false, err
		}
		at := f.log[i].hours(f.base.Request)
		if len(p.why) == 0 || f.last >= at+peaceAfterPoison-soon {
			continue
		}
		f.course.pause(f.leaveUntil(at + peaceAfterPoison))
		f.course.because(noteOf("why_rest_after_poison", f.clock(at), hours(peaceAfterPoison)))
		return true, nil
	}
	return false, nil
}

// closesClamp reports whether the answer to an entry closes the clamp because of what was found
// in the water, and renews whether it asks for other water.
func (f *following) closesClamp(i int, t tests) (closes, renews bool, err error) {
	p, err := f.poisonFound(t)
	renews = len(p.why) > 0
	return renews || f.warmthOf(i).apart(), renews, err
}

// cleanWater asks for clean water like that in which the animals are, but nearer to the temperature
// that is planned if theirs is far off. Those of a whole tank, and one that moults, are not caught
// for it. Those in a foul bag have theirs ready.
func (f *following) cleanWater() quantity.Note {
	if f.inBag() {
		return noteOf("bag_open")
	}
	if _, soft := f.moulting(); soft || f.inTank() {
		return f.changeWater()
	}
	at := f.base.Request.From.Temperature
	if w := f.warmthNow(); w.read != nil {
		if at = *w.read; w.apart() {
			at = quantity.Exactly(at.Value + quantity.Celsius(math.Copysign(warmthApart, w.back())))
		}
	}
	return noteOf(f.movesToClean(), f.cleanSalinity(), quantity.Exactly(at.Value))
}

// powerFailed is when the power failed last, on the keeper's clock, if nobody reported it back.
func (f *following) powerFailed() (at string, out bool) {
	for i := len(f.log) - 1; i >= 0; i-- {
		switch {
		case f.log[i].is(PowerOff):
			return f.when(f.log[i]), true
		case f.log[i].is(PowerBack):
			return "", false
		}
	}
	return "", false
}

// powerIsBack asks for the temperature. If nobody reported that the power failed, the clamp is open.
func (f *following) powerIsBack() {
	c, known := f.course, f.warmthKnown()
	reported := false
	for _, e := range f.log[:max(0, f.state.latest)] {
		reported = e.is(PowerOff) || reported && !e.is(PowerBack) // an earlier failure is over
	}
	switch {
	case !reported:
		if c.Now = noteOf("act_close_clamp"); !known {
			c.Then = append(c.Then, noteOf("act_only_read_temperature"))
		}
	case known:
		c.Now = noteOf("act_read_the_rest")
	default:
		c.Now = noteOf("act_read_temperature")
	}
}

func (f *following) powerOut() bool {
	_, out := f.powerFailed()
	return out
}

// withoutPower says what to do while the power is out, when the air stone stands still.
func (f *following) withoutPower() {
	at, out := f.powerFailed()
	if !out {
		return
	}
	f.course.because(noteOf("why_only_power_off", at))
	f.course.Then = append(f.course.Then, noteOf("power_air"), f.wrap(), noteOf("power_heaters"), noteOf("power_report_back"))
}

// triage looks for the causes of distress in order: air, ammonia, temperature; poison that a test
// found leads. What was found right since is not asked for again, nor anything of animals that are
// well since.
func (f *following) triage(well bool) error {
	c := f.course
	p, err := f.poisonNow()
	if err != nil {
		return err
	}
	c.because(p.why...)
	if f.withoutPower(); !f.powerOut() && !well {
		c.Then = append(c.Then, noteOf("triage_air"))
	}
	if len(p.why) > 0 {
		f.leavesPoison()
	}
	w := f.warmthNow()
	if w.apart() {
		c.Why = append(c.Why, noteOf("why_warmth_off", *w.read, w.planned))
		if !f.powerOut() {
			c.Then = append(c.Then, f.putRight(w)...)
		}
	}
	if !well && (w.read == nil || f.state.stopped > w.place) {
		c.Then = append(c.Then, noteOf("triage_temperature"))
	}
	switch {
	case p.clean, well && (f.signsSince().first.Distressed() || f.testedSince()), len(p.why) > 0: // of what nobody named, only a test says more
	case f.inBag(): // the only water set aside is that of the bag
		c.Then = append(c.Then, noteOf("then_test_clean"))
	case f.rescue, f.released, f.inTank(), f.leg().outOfBag(), f.leg().Plan.Route == transfer.Direct: // the water set aside is not like theirs
		c.Then = append(c.Then, noteOf("triage_ammonia_no_return"))
	default:
		c.Then = append(c.Then, noteOf("triage_ammonia"))
	}
	return nil
}

// testedSince reports whether ammonia was tested since the plan was stopped.
func (f *following) testedSince() bool {
	return slices.ContainsFunc(f.log[f.state.stopped:], func(e LogEntry) bool { return e.TAN != nil })
}

// leavesPoison brings animals in distress out of poisoned water, or changes that of a tank.
func (f *following) leavesPoison() {
	out := f.cleanWater()
	if f.released {
		out = f.changeWater()
	}
	f.course.Then = append(f.course.Then, out, noteOf("then_test_clean"))
}
