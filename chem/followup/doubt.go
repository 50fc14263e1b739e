package followup

import (
	"math"
	"slices"

	"saltlock/chem/quantity"
)

// fuller is the factor by which a container must be read fuller or emptier than is possible
// before the keeper is asked to read it again.
const fuller = 1.25

// latestWith is the latest record, no earlier than an hour, in which a number was read; nil
// without one. What is read without that number lifts no doubt about it.
func (h *hypothesis) latestWith(what string, since float64) *record {
	for r := h.trace; r != nil && r.hours >= since; r = r.before {
		if r.has(what) {
			return r
		}
	}
	return nil
}

// farVolume returns the latest volume read since an hour, if a hypothesis sets it aside and it
// is much larger or smaller than its own. Since the container may run over or leak, the clamp is
// closed until the volume is read again.
func (h *hypothesis) farVolume(since float64) (n judgement, off bool) {
	r := h.latestWith("volume", since)
	if r == nil {
		return n, false
	}
	for _, n := range r.numbers {
		if n.what == "volume" && n.aside && (n.read.value > fuller*n.expected || n.read.value*fuller < n.expected) {
			return n, true
		}
	}
	return n, false
}

// farFrom is how many standard deviations a salinity must be off, beside a volume as expected,
// to be read again: more than a usual hydrometer is off.
const farFrom = 3.

// saltier returns the record of the latest salinity read since an hour, if that is much nearer to
// the target than a hypothesis has it, or beyond it, and would have changed too fast to get there;
// nil otherwise. Nothing goes on until it is read again. What explains it by more water than was
// read explains nothing.
func (b *bank) saltier(h *hypothesis, since float64) (r *record, expected float64) {
	if r = h.latestWith("salinity", since); r == nil || r.salinityTwice || r.before != nil && r.before.unread {
		return nil, 0
	}
	sa, at := b.begins, 0.0
	if r.before != nil {
		sa, at = r.before.salt, r.before.hours
	}
	for _, n := range r.numbers {
		if n.what == "salinity" {
			far := float64(unlikely)
			if expected = n.expected; r.has("volume") { // which tells the salinity too
				expected, far = r.salt, farFrom
			}
			if (n.read.value-expected)*b.toward() > far*math.Hypot(n.read.u, r.bias) && (n.read.value-sa)*b.toward() > rateExcess*b.rate*(r.hours-at) {
				return r, expected
			}
		}
	}
	return nil, 0
}

// doubted answers if the latest reading is not believed but would mean harm if it were true. It
// is read again with the clamp closed, whatever is reported in between.
func (f *following) doubted() bool {
	c, h, since := f.course, &f.bank.latest, f.restarted()
	if f.halfEmpty() {
		return true
	}
	if _, off := h.farVolume(since); off { // how much it holds, nobody knows
		c.pause(noteOf("now_read_volume"))
		c.Volume, c.Level = nil, nil
		return true
	}
	if h.trace != nil && h.trace.unread && h.trace.hours >= since {
		c.pause(noteOf("act_close_read_salinity"))
		if f.log[len(f.log)-1].is(Refilled) {
			c.Why = append(c.Why, noteOf("why_refilled", f.clock(h.trace.hours)))
		}
		if h.trace.added > 0 {
			c.Why = append(c.Why, noteOf("why_more_than_drips", litres(h.trace.added)))
		}
		return true
	}
	r, expected := f.bank.saltier(h, since)
	if r == nil {
		return false
	}
	c.pause(noteOf("now_read_salinity_again"))
	e := f.entry(r.entry)
	c.because(noteOf("why_saltier", *e.Salinity, f.shown(*e, expected)))
	if !r.numbers[0].aside && h.latestWith("volume", r.hours) == nil { // a jump may explain it
		c.Now = noteOf("act_close_and_read")
	}
	return true
}

// unsized asks how full the container is, where nobody read that and it may be anything. After
// two salinities that showed a jump, nothing but a volume answers that.
func (f *following) unsized() bool {
	c, h := f.course, &f.bank.latest
	r := h.latestWith("salinity", f.restarted())
	if r == nil || r.hours < f.last && !r.salinityTwice || h.latestWith("volume", r.hours) != nil || float64(c.Volume.U) <= unsurePour*f.moment.volume {
		return false
	}
	c.pause(noteOf("act_close_and_read"))
	return true
}

// readFirst asks, while the drip runs as planned, for a salinity that fits nothing to be read
// again before anything is done, and for an instrument that was found to be off to be checked.
func (f *following) readFirst() {
	c, r := f.course, f.bank.latest.trace
	if r == nil || r.hours < f.last {
		return
	}
	first := quantity.Note{}
	told := slices.ContainsFunc(f.bank.latest.found, func(x found) bool { return x.kind == WrongInstrument })
	for _, n := range r.numbers {
		behind := (r.salt - n.read.value) * f.bank.toward()
		if n.what == "salinity" && (n.aside || !told && r.has("volume") && behind > unlikely*math.Hypot(n.read.u, r.bias)) {
			first = noteOf("act_read_once_more")
			if behind > 0 { // the new water may not be what it should
				first = noteOf("act_read_and_new_water")
			}
			e := f.entry(r.entry)
			c.because(noteOf("why_saltier", *e.Salinity, f.shown(*e, r.salt)))
		}
	}
	for _, x := range f.bank.latest.found {
		if x.kind == WrongInstrument && x.place == f.bank.read-1 && f.share(x) >= sure {
			first = noteOf("act_check_instrument")
		}
	}
	if first.Code == "" {
		return
	}
	if slices.Contains([]quantity.Code{"now_go_on", "now_run_over", "now_wait"}, c.Now.Code) {
		c.Now = first
		return
	}
	c.first(first)
}

// stillShut answers to an event if what had closed the clamp before is not cleared.
func (f *following) stillShut() bool {
	c := f.course
	switch {
	case f.warmthOff():
		f.unreadStill()
	case f.bank == nil && f.aheadOnce():
	case f.bank != nil && (f.doubted() || f.ranFull() || f.wrongNewWater() || f.leaks() || f.contradicted() || f.setByHand()):
	case f.held():
	default:
		return false
	}
	if e := f.log[f.state.latest]; e.is(ClampTouched) { // it may be open
		if c.Now.Code == "now_hold" {
			c.Now.Code = "now_close_and_hold"
		}
		c.Why = append(c.Why, noteOf("why_clamp", f.when(e)))
	}
	return true
}

// unreadStill keeps what has to be read after the latest event beside the temperature, which comes first.
func (f *following) unreadStill() {
	c, e := f.course, f.log[f.state.latest]
	switch {
	case e.is(Late):
		c.Why = append(c.Why, noteOf("why_late", f.when(e)))
	case e.is(Refilled):
		c.Why = append(c.Why, noteOf("why_refilled", f.when(e)))
	default:
		return
	}
	c.Then = append(c.Then, noteOf("then_read_all"))
}

// restarted is just after the transfer last went on from a reading, h; -1 if it never did.
func (f *following) restarted() float64 {
	for i := len(f.log) - 1; i >= 0; i-- {
		if f.log[i].is(Restarted) {
			return f.log[i].hours(f.base.Request) + soon
		}
	}
	return -1
}

// has reports whether something was read.
func (r *record) has(what string) bool {
	for _, n := range r.numbers {
		if n.what == what {
			return true
		}
	}
	return false
}

// maybeOver answers if, by the time of the release, the target salinity is read although the
// container should be far from it. The animals may have been moved over without a report.
func (f *following) maybeOver() bool {
	c, h := f.course, &f.bank.latest
	e := f.log[len(f.log)-1]
	if e.Salinity == nil || e.Volume != nil || e.Level != nil || !f.over(e) || float64(c.Gap.Value) <= f.base.Tolerance {
		return false
	}
	for _, n := range h.trace.numbers {
		if n.what == "salinity" && math.Abs(n.read.value-f.base.To) < unlikely*math.Hypot(n.read.u, h.trace.bias) {
			c.pause(noteOf("now_over_or_not"))
			return true
		}
	}
	return false
}

// standsStill says that nothing drips, if that was seen.
func (f *following) standsStill() {
	c, last := f.course, f.log[len(f.log)-1]
	if f.bank == nil {
		return
	}
	switch t := f.bank.latest.trace; {
	case last.Drops != nil && *last.Drops == 0 && f.moment.told.Drip > 0:
		c.Why = append(c.Why, noteOf("why_nothing_drips"))
	case t != nil && t.hours == f.last && t.dry:
		c.Why = append(c.Why, noteOf("why_jug_dry"))
	}
}

// fillJugFirst has a jug that ran dry filled before anything is poured off or set.
func (f *following) fillJugFirst() {
	c, step := f.course, f.bank.latest.step+1
	if c.Verdict == Corrected {
		step = 0
	}
	dry := slices.ContainsFunc(c.Why, func(n quantity.Note) bool { return n.Code == "why_jug_dry" })
	if !dry || c.Plan == nil || c.Now.Code == "now_go_on" || f.hold() > 0 {
		return
	}
	if steps := c.Legs[len(c.Legs)-1].Steps; step < len(steps) && len(steps[step].Jug) > 0 {
		c.first(noteOf("act_fill_jug", litres(steps[step].Jug[0])))
	}
}

// leaks answers where the container was found to leak, or would never fill for it: nothing
// drips into one that runs dry.
func (f *following) leaks() bool {
	c := f.course
	found := slices.ContainsFunc(c.Found, func(x Found) bool { return x.Kind == Leak })
	if !found && !math.IsInf(f.moment.wait, 1) {
		return false
	}
	c.pause(noteOf("act_close_and_read"))
	if found {
		c.Now = noteOf("now_stop_leak")
		c.Then = append(c.Then, noteOf("log_to_go_on"))
	}
	return true
}
