package followup

import (
	"math"
	"slices"
	"time"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// Event is something that happened at the container, reported in one call.
type Event string

// The events.
const (
	Stop         Event = "stop"               // the keeper closed the clamp for good
	LookWrong    Event = "animals_look_wrong" // any sign of distress
	PowerOff     Event = "power_off"
	PowerBack    Event = "power_back"
	Late         Event = "late"          // the keeper comes after the time of a visit
	ClampTouched Event = "clamp_touched" // the drip was set or moved by hand
	Refilled     Event = "refilled"      // the jug or the container was filled up

	// Restarted is logged when a stopped transfer goes on with a new plan; nobody reports it.
	Restarted Event = "restarted"
)

// Looks are how long after each touch of the clamp somebody should look, h. Two readings hours
// apart would find a slip too late.
var Looks = []float64{0.25, 0.5, 1}

func (e Event) known() bool {
	return slices.Contains([]Event{Stop, LookWrong, PowerOff, PowerBack, Late, ClampTouched, Refilled}, e)
}

// is says whether an entry reports one of these events.
func (e LogEntry) is(events ...Event) bool {
	return e.Event != nil && slices.Contains(events, *e.Event)
}

// Urgent says whether an entry reports an event or a sign of distress. It is then accepted
// whatever else is wrong with it.
func (e LogEntry) Urgent() bool { return e.Event != nil && e.Event.known() || e.Distressed() }

// Stops reports whether an entry stops the plan for good.
func (e LogEntry) Stops() bool { return e.Distressed() || e.is(Stop, LookWrong) }

// read reports whether an entry says where the container is.
func (e LogEntry) read() bool {
	return e.Salinity != nil || e.Volume != nil || e.Level != nil || e.Cups != nil
}

// state is the result of a log's events: whether the plan is stopped, and whether the clamp is
// closed until something is read.
type state struct {
	stopped int     // the place in the log of the entry that stopped the plan; -1 if none did
	paused  int     // of the event that closed the clamp until something is read; -1 if none
	latest  int     // of the latest event, if nothing was read since; -1 otherwise
	before  float64 // °C, the last temperature before the power failed; NaN if none
	off     float64 // h, when the power failed last; -1 if it did not
}

// stateOf goes through a log in the order of time. What an entry shows may let the drip go on.
func stateOf(log []LogEntry, at func(LogEntry) float64, shows func(LogEntry) bool) state {
	none := state{stopped: -1, paused: -1, latest: -1, before: math.NaN(), off: -1}
	s := none
	warmth := math.NaN()
	for i, e := range log {
		if e.is(Restarted) {
			if s.stopped, s.latest = -1, -1; s.paused < 0 || !log[s.paused].is(PowerOff) { // which a restart does not put right
				s = none
			}
			continue
		}
		if s.stopped < 0 && e.Stops() {
			s.stopped = i
		}
		if e.Temperature != nil && !(s.paused >= 0 && log[s.paused].is(PowerOff)) {
			warmth = float64(e.Temperature.Value)
		}
		switch {
		case e.is(PowerOff):
			s.paused, s.before, s.off = i, warmth, at(e)
		case e.is(PowerBack, Late) && !shows(e):
			s.paused = i
		case e.is(PowerBack): // with a reading
			s.paused = -1
		case s.paused >= 0 && shows(e) && !log[s.paused].is(PowerOff):
			s.paused = -1
		}
		switch {
		case e.Event == nil && e.Drops != nil && *e.Drops > 0 && s.latest >= 0 && log[s.latest].is(ClampTouched): // counted, as asked
			s.latest = -1
		case e.Event != nil && !(e.is(PowerBack, Late, Refilled) && e.read() || e.is(ClampTouched) && e.Drops != nil):
			s.latest = i
		case e.read():
			s.latest = -1
		}
	}
	return s
}

// clock is a time on the keeper's clock, with the day if it is not the day of the latest entry.
func (f *following) clock(hours float64) string {
	at := f.base.Request.Clock(hours)
	if last := f.base.Request.Clock(float64(f.course.Time.Value)); at.YearDay() != last.YearDay() || at.Year() != last.Year() {
		return at.Format("Mon 15:04")
	}
	return at.Format("15:04")
}

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
		return true, f.stop()
	case f.cooled() > warmFirstFrom && !f.powerOut():
		c := f.course
		if c.pause(noteOf("act_warm_first")); !f.clamped() {
			c.Now = noteOf("act_only_warm")
		}
		c.Why = append(c.Why, noteOf("why_cooled", celsiusApart(f.cooled())))
		c.Then = append(c.Then, noteOf("triage_air"))
		if w := f.warmthNow(); w.apart() {
			c.Then = append(c.Then, f.putRight(w)...)
		}
		c.Then = append(c.Then, noteOf("power_heaters_on"), noteOf("power_canister"), noteOf("then_salt_later", hours(saltAfterWarmth)))
		return true, nil
	case s.latest >= 0 && f.log[s.latest].is(ClampTouched, Late, Refilled) && f.stillShut():
		return true, nil
	case s.latest >= 0:
		f.answer(f.log[s.latest])
		return true, nil
	case s.paused >= 0: // read after the power failed, and it is off still
		f.answer(f.log[s.paused])
		return true, nil
	}
	return f.warmthOff(), nil
}

// After a power failure: how much colder the water must be to be warmed first, and how long
// after that the salinity may change again.
const (
	warmFirstFrom   = 1.0 // degrees
	saltAfterWarmth = 12  // h
)

// answer says what to do first after an event, without any plan. It is long because each event has
// its case.
func (f *following) answer(e LogEntry) {
	c := f.course
	at := f.when(e)
	c.Verdict, c.Plan = Paused, nil
	then := func(notes ...quantity.Note) { c.Then = append(c.Then, notes...) }
	if !f.clamped() {
		f.answerWithoutDrip(e, at)
		return
	}
	switch {
	case e.is(PowerOff):
		if c.Now = noteOf("act_close_clamp"); dripped(f.log[f.state.paused:]) {
			c.Now = noteOf("act_not_closed")
		}
		c.because(noteOf("why_power_off", at))
		if w := f.warmthNow(); w.apart() {
			c.Why = append(c.Why, noteOf("why_warmth_off", *w.read, w.planned))
		}
		then(noteOf("power_air"), f.wrap(), noteOf("power_heaters"), noteOf("power_report_back"))
	case e.is(PowerBack):
		f.powerIsBack()
		c.because(noteOf("why_power_back", at))
		f.overflowHides()
		then(noteOf("triage_air"), noteOf("power_warm_first"), noteOf("power_heaters_on"), noteOf("power_canister"), noteOf("log_to_go_on"))
	case e.is(Late):
		c.Now = noteOf("act_close_and_read")
		f.overflowHides()
		c.because(noteOf("why_late", at))
		then(noteOf("log_to_go_on"))
	case f.unreadSince(Late, PowerBack):
		f.readsFirst(e)
	case e.is(ClampTouched):
		c.Verdict, c.Plan, c.Now = OnCourse, f.leg().Plan, f.countNow()
		c.Why = append(c.Why, f.touched(e))
		f.standsStill()
		f.lookAgain()
	case e.is(Refilled):
		c.Verdict, c.Plan, c.Now = OnCourse, f.leg().Plan, noteOf("act_read_all")
		c.Why = append(c.Why, f.touched(e))
		f.lookAgain()
	}
}

// lookAgain says when to look after a touch of the clamp.
func (f *following) lookAgain() {
	f.course.Then = append(f.course.Then, noteOf("looks_after_touch", f.clock(f.last+Looks[0]), f.clock(f.last+Looks[1]), f.clock(f.last+Looks[2])))
}

// answerWithoutDrip is answer for a move without a clamp.
func (f *following) answerWithoutDrip(e LogEntry, at string) {
	c := f.course
	then := func(notes ...quantity.Note) { c.Then = append(c.Then, notes...) }
	switch {
	case e.is(PowerOff):
		c.because(noteOf("why_only_power_off", at))
		if c.Now = f.shut(); c.Now.Code != "bag_open" {
			c.Now = noteOf("power_air")
			then(f.wrap(), noteOf("power_heaters"), noteOf("act_keep_salinity"), noteOf("power_report_back"))
			return
		}
		then(noteOf("power_air"), f.wrap(), noteOf("power_heaters"), noteOf("power_report_back"))
	case e.is(PowerBack):
		c.Now = noteOf("act_only_read_temperature")
		c.Why = append(c.Why, noteOf("why_power_back", at))
		then(noteOf("triage_air"), noteOf("power_warm_first"), noteOf("power_heaters_on"), noteOf("power_canister"), noteOf("log_to_go_on"))
	default:
		c.Now = noteOf("act_read_all")
		if e.is(Late) {
			c.Volume, c.Level = nil, nil // nobody knows how many cups are in
			c.Why = append(c.Why, noteOf("why_only_late", at))
		} else {
			c.Why = append(c.Why, noteOf("why_only_touched", at))
		}
		then(noteOf("log_to_go_on"))
	}
	if f.inBag() && c.Now.Code != "bag_open" { // which stands until they are out
		c.first(noteOf("bag_open"))
	}
}

// warmthKnown reports whether the temperature was read since the power failed.
func (f *following) warmthKnown() bool {
	for _, e := range f.log {
		if e.Temperature != nil && e.hours(f.base.Request) > f.state.off {
			return true
		}
	}
	return false
}

// cooled is by how many degrees the water cooled while the power was off, according to the
// temperature read since; 0 if none was read.
func (f *following) cooled() float64 {
	before := f.state.before
	if math.IsNaN(before) { // nobody read it, so it is as planned
		before = float64(f.base.Request.From.Temperature.Value)
	}
	if f.state.off < 0 {
		return 0
	}
	for i := len(f.log) - 1; i >= 0; i-- {
		e := f.log[i]
		if e.hours(f.base.Request) <= f.state.off {
			return 0
		}
		if e.Temperature != nil { // what was too warm before cooled as it should
			return min(before, float64(f.warmthOf(i).planned.Value)) - float64(e.Temperature.Value)
		}
	}
	return 0
}

// atStart moves an urgent entry from before the first drop to the first drop, once that fell.
func (e LogEntry) atStart(start, now time.Time) LogEntry {
	if e.Time == nil || e.Time.Before(start) && !now.Before(start) {
		e.Time = &start
	}
	return e
}

// countNow asks for the drops to be counted, or a faster line to be caught, and says how much
// there should be.
func (f *following) countNow() quantity.Note {
	steps := f.leg().Steps
	if f.moment.told.Drip == 0 || len(steps) == 0 {
		return noteOf("act_read_all")
	}
	if drip := f.moment.told.Drip; transfer.ByFlow(drip) {
		return noteOf("act_catch_flow", flowOf(f.leg(), drip))
	}
	n := transfer.Countable(f.moment.told.Drip)
	return noteOf("act_count_drops", n.Drops, n.Seconds)
}
