package followup

import (
	"context"
	"errors"
	"math"
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// offCourse is the least error of a drip for which it is set again, as large as the error from
// rounding the count of drops.
const offCourse = 0.05

// otherDrop is the least change of a drop's volume that shows in the flow a plan names.
const otherDrop = 0.02

// unlikely is the number of standard deviations from which on a drop gets a warning.
const unlikely = 2

// tell puts the estimates of the moment into the course.
func (f *following) tell() {
	c, h := f.course, &f.bank.latest
	if level, err := f.base.Request.Container.Level(quantity.Volume(f.moment.volume)); err == nil { // else it runs over
		c.Level = level
	}
	sa, uSa := f.bank.salt(h.x), h.saltU(&f.bank.vesselModel)
	f.tellSalinity(sa, uSa)
	c.Volume = new(quantity.Of[quantity.Volume](f.moment.volume, math.Sqrt(h.variance(f.bank.volumeOf(h.x).slope))))
	f.tellDrip()
}

// tellSalinity puts a salinity, g/kg, and its standard uncertainty into the course.
func (f *following) tellSalinity(sa, u float64) {
	f.course.PracticalSalinity = new(quantity.Of[quantity.Salinity](sa/quantity.GramsPerPractical, u/quantity.GramsPerPractical))
	f.course.Gap = new(quantity.Of[quantity.AbsoluteSalinity](math.Abs(f.base.To-sa), math.Hypot(u, f.base.Doubts[1])))
}

// tellDrip compares the real drip with the planned one.
func (f *following) tellDrip() {
	c, h := f.course, &f.bank.latest
	told := h.ran
	assumed := float64(f.leg().Request.Line.WithDefaults().DropVolume.Value)
	const perKg = 1000. / 60 // mL/min of water for 1 kg/h, but for its density
	flow, uFlow := h.x[inflow]*perKg/f.tub.Density(0), math.Sqrt(h.p[inflow][inflow])*perKg/f.tub.Density(0)
	drops := f.bank.dropsOf(h.x)
	planned := told * assumed * 60000 // mL/min
	c.DropVolume = new(quantity.Of[quantity.Volume](f.tub.Drop*h.x[dropSize], f.tub.Drop*math.Sqrt(h.p[dropSize][dropSize])))
	c.Drip, c.PlannedDrip = new(quantity.Of[quantity.DripRate](drops.shown, math.Sqrt(h.variance(drops.slope)))), new(dripOf(told))
	c.Flow, c.PlannedFlow = new(quantity.Of[quantity.Flow](flow, uFlow)), new(quantity.Exactly(quantity.Flow(planned)))
	c.DripRatio = new(quantity.Of[quantity.Fraction](flow/planned, uFlow/planned))
	if off := math.Abs(h.x[dropSize] - 1); off > unlikely*dropDoubt {
		c.warn(noteOf("drop_unlikely", *c.DropVolume, litres(f.tub.Drop)))
	}
}

// suspectCodes are the notes that a number does not fit, by what was read.
var suspectCodes = map[string]quantity.Code{
	"salinity": "suspect_salinity", "volume": "suspect_volume", "drops": "suspect_drops",
}

// units are the units of what is read.
var units = map[string]string{
	"salinity": quantity.AbsoluteSalinity(0).Unit(), "volume": quantity.Volume(0).Unit(), "drops": quantity.DripRate(0).Unit(),
}

// judged lists every number of the log with what the likeliest hypothesis expected.
func (f *following) judged() {
	c, off := f.course, 0
	again := map[string]bool{} // what was read again since
	for r := f.bank.latest.trace; r != nil; r = r.before {
		for i := len(r.numbers) - 1; i >= 0; i-- {
			n := r.numbers[i]
			j := Judged{Entry: r.entry, Time: hours(r.hours), What: n.what, Deviation: n.off,
				Read:     quantity.Measure{Value: n.read.value, Unit: units[n.what], Uncertainty: n.read.u},
				Expected: quantity.Measure{Value: n.expected, Unit: units[n.what]}}
			if j.Suspect = n.aside && !f.countedShut(r, n); j.Suspect {
				off++
				j.Why = new(f.misfit(j))
				if !again[n.what] {
					c.warn(*j.Why)
				}
			}
			again[n.what] = true
			c.Readings = append(c.Readings, j)
		}
	}
	slices.Reverse(c.Readings)
	if contradict(off, len(c.Readings)) {
		c.warn(noteOf("readings_contradict", off, len(c.Readings)))
	}
	if extra := len(c.Readings) - mostJudged; extra > 0 {
		c.Readings = slices.Delete(c.Readings, 0, extra)
	}
}

// mostJudged is how many numbers are listed, the latest ones.
const mostJudged = 1000

// decide says how the transfer is going and what to do.
func (f *following) decide(ctx context.Context) error {
	c := f.course
	done, err := f.event()
	if err != nil || f.nearlyEmpty() || done {
		return err
	}
	f.believed()
	if f.maybeOver() || f.doubted() || f.ranFull() || f.unsized() || f.maybeLeaks() || f.wrongNewWater() || f.leaks() || f.contradicted() || f.setByHand() {
		return nil
	}
	f.standsStill()
	arrived := float64(c.Gap.Value)+f.margin() <= f.base.Tolerance*(1+inside)
	if arrived && !f.confirmed() {
		c.pause(noteOf("now_read_to_release"))
		return nil
	}
	if !arrived && f.held() {
		return nil
	}
	if leg := f.leg(); arrived && f.now > 0 && len(leg.Steps) == 0 {
		f.resting(leg)
		return nil
	}
	if arrived || f.hold() > 0 || f.offCourse() {
		return f.goOnAnew(ctx, arrived)
	}
	f.stays(OnCourse, f.onCourse())
	f.readFirst()
	return nil
}

// stays keeps the present plan, and says what to do now.
func (f *following) stays(v Verdict, now quantity.Note) {
	c := f.course
	c.Verdict, c.Legs, c.Plan, c.Now = v, c.Legs[:f.now+1], f.leg().Plan, now
}

// onCourse says what to do while the drip runs as planned. What is due at a mark that is near
// is done at once.
func (f *following) onCourse() quantity.Note {
	m := f.moment
	near, to := m.wait < nearPour && m.more, transfer.Countable(m.then.Drip)
	if near && m.then.PourTo > 0 && float64(f.course.Volume.U) > unsurePour*m.volume {
		return noteOf("act_close_and_read")
	}
	flow, byFlow := flowOf(f.leg(), m.then.Drip), transfer.ByFlow(m.then.Drip)
	switch {
	case m.told.Drip == 0:
		return noteOf("now_wait", *f.course.Gap)
	case near && m.then.PourTo > 0 && m.then.Set && byFlow:
		return noteOf("now_pour_and_set_flow", litres(max(0, m.volume-m.then.PourTo)), f.mark(m.then.PourTo), flow, f.mark(m.then.Until))
	case near && m.then.PourTo > 0 && m.then.Set:
		return noteOf("now_pour_and_set", litres(max(0, m.volume-m.then.PourTo)), f.mark(m.then.PourTo), to.Drops, to.Seconds, f.mark(m.then.Until))
	case near && m.then.PourTo > 0 && len(m.then.Jug) > 0:
		return noteOf("now_pour_and_fill", litres(max(0, m.volume-m.then.PourTo)), f.mark(m.then.PourTo), litres(m.then.Jug[0]))
	case near && m.then.PourTo > 0:
		return noteOf("now_pour", litres(max(0, m.volume-m.then.PourTo)), f.mark(m.then.PourTo))
	case near && m.then.Set && byFlow:
		return noteOf("now_set_flow", flow, f.mark(m.then.Until))
	case near && m.then.Set:
		return noteOf("now_set", to.Drops, to.Seconds, f.mark(m.then.Until))
	case m.told.For > 0:
		return noteOf("now_run_over", hours(m.wait))
	}
	return noteOf("now_go_on", f.mark(m.told.Until), hours(m.wait))
}

// unsurePour is how well, as a share, it must be known how much there is before it is
// poured off.
const unsurePour = 0.1

// offCourse reports whether the rest must be planned again.
func (f *following) offCourse() bool {
	ratio, u := float64(f.course.DripRatio.Value), float64(f.course.DripRatio.U)
	if ratio-1 > max(offCourse, u) || 1-ratio > max(offCourse, u) || f.moment.told.Drip == 0 || f.moment.wait == 0 && !f.moment.more {
		return true
	}
	for _, x := range f.bank.latest.found { // by how much it jumped just now nobody knows yet, but the drops are counted again
		if x.kind == jumped && x.place == f.bank.read && (ratio > noticed || ratio*noticed < 1) {
			return true
		}
	}
	for i := range f.bank.before { // a drip that may be too fast is set again
		h := &f.bank.before[i]
		gap := math.Abs(h.x[missing]) / h.x[mass]
		if h.weight > plausible && h.x[inflow]*gap/h.x[mass] > rateExcess*f.tub.Rate(min(gap, f.base.Gap)) {
			return true
		}
	}
	return false
}

// goOnAnew plans the rest from where the container is.
func (f *following) goOnAnew(ctx context.Context, arrived bool) error {
	c := f.course
	leg, ok, err := f.planAgain(func() (Leg, error) {
		if err := transfer.DropVolume.Check("", c.DropVolume.Value); err != nil {
			return Leg{}, err
		}
		return f.continuation(ctx, arrived)
	})
	if _, impossible := errors.AsType[*quantity.RangeError](err); impossible { // no container is like that
		return f.unbelievable()
	}
	if err != nil {
		return err
	}
	if !ok {
		if c.Now = noteOf("act_close_clamp"); f.hold() == 0 && f.moment.told.Drip > 0 && !tells(c.Warnings, "day_used_up") { // or tomorrow
			c.Now = noteOf("now_no_way_on", quantity.Exactly(min(c.Flow.Value, c.PlannedFlow.Value)))
		}
		return nil
	}
	p := leg.Plan
	c.Plan = p
	if arrived || len(leg.Steps) == 0 {
		f.arrives(leg)
		return nil
	}
	c.Verdict = Corrected
	if p.Reason = noteOf("continuation_closed", *c.Gap); f.drips() {
		p.Reason = noteOf("continuation", *c.DripRatio, *c.Gap)
		if drop := leg.Request.Line.DropVolume; drop != nil && math.Abs(float64(drop.Value)/f.tub.Drop-1) > otherDrop {
			p.Reason = noteOf("continuation_by_drops", *c.DripRatio, *c.Gap, quantity.Exactly(drop.Value))
		}
		c.Why = append(c.Why, noteOf("why_on_course", *c.DripRatio))
	}
	if f.setAnew(leg); leg.Held > 0 {
		f.holds(leg.At)
	}
	return nil
}

// unbelievable asks for everything to be read again, because the readings are impossible.
func (f *following) unbelievable() error {
	f.course.Verdict, f.course.Now = NoWayOn, noteOf("now_read_again")
	f.course.warn(noteOf("drop_unbelievable", *f.course.DropVolume))
	return nil
}

// setAnew says how to start a leg that continues another.
func (f *following) setAnew(leg Leg) {
	c, first := f.course, leg.Steps[0]
	to, was := transfer.Countable(first.Drip), transfer.Countable(float64(c.PlannedDrip.Value))
	flow, byFlow := flowOf(leg, first.Drip), transfer.ByFlow(first.Drip)
	switch {
	case first.PourTo > 0 && byFlow:
		c.Now = noteOf("now_pour_and_set_flow", litres(leg.Full-first.PourTo), f.mark(first.PourTo), flow, f.mark(first.Until))
	case first.PourTo > 0:
		c.Now = noteOf("now_pour_and_set", litres(leg.Full-first.PourTo), f.mark(first.PourTo), to.Drops, to.Seconds, f.mark(first.Until))
	case first.For > 0 && byFlow:
		c.Now = noteOf("now_run_over_by_flow", flow, hours(first.For))
	case first.For > 0:
		c.Now = noteOf("now_set_run_over", to.Drops, to.Seconds, hours(first.For))
	case byFlow:
		c.Now = noteOf("now_set_flow", flow, f.mark(first.Until))
	case was == to:
		c.Now = noteOf("now_count_again", to.Drops, to.Seconds, f.mark(first.Until))
	default:
		c.Now = noteOf("now_set_drip", to.Drops, to.Seconds, was.Drops, was.Seconds, f.mark(first.Until))
	}
}

// flowOf is a drip as a flow, with the drop size that a leg assumes.
func flowOf(leg Leg, drip float64) quantity.Estimate[quantity.Flow] {
	drop := float64(leg.Request.Line.WithDefaults().DropVolume.Value)
	return quantity.Exactly(quantity.Flow(drip * drop * 60000))
}
