package followup

import (
	"context"
	"errors"
	"math"
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// Follow weighs the log of a transfer and says how it stands, and how it goes on.
//
//	r     the request of the plan, with its start
//	legs  the leg of that plan (NewLeg), and those that former readings added, with
//	      their plans as they were told: none is planned again
//	log   what was read; each entry passes Check
//
// In a drip (S_in − S)·m stays constant, so that salinity, volume and drops
// counted all tell the same few unknowns: how fast the valve really drips, how
// large a drop is, how much water there was at the start, and, where their
// uncertainty is stated, the salinities of both waters. They are fitted by least
// squares, every number weighed by its standard uncertainty, those of the log
// taken as independent. A number that lies more than 3.5 standard deviations
// off what all others say is laid aside and told. The keeper is taken to have
// waited for the marks of the plan.
//
// Where the drip is off by more than 5 % and more than its uncertainty (twice
// it, where the drip is slow), or changes the salinity faster than the limit,
// the rest is planned anew from the estimated state, with the real drop, the
// change already made counted in the 24 hours, and the settings that are left.
// A sign of distress ends the plan.
//
// Standard uncertainty: of every estimate, from the covariance of the fit.
// Check value: 6 L that hold 8 L after a drip told to bring 3 L dripped at 2/3
// of what was told, by hand.
//
// Source: conservation of salt; least squares with known variances.
func Follow(ctx context.Context, r transfer.Request, legs []Leg, log []LogEntry) (Course, error) {
	c := Course{Readings: []Judged{}, Assumptions: []quantity.Note{}, Warnings: []quantity.Note{}, Methods: []string{}, Legs: slices.Clone(legs)}
	b, err := transfer.NewBaseline(r)
	if err != nil {
		return c, err
	}
	if len(log) == 0 {
		c.Verdict, c.Now = NotBegun, noteOf("now_begin")
		c.Plan = c.Legs[0].Plan
		return c, nil
	}
	c.Methods = []string{ReadingsMethod}
	f := &following{base: b, course: &c}
	f.log, f.number = inOrder(log)
	f.state = stateOf(f.log, func(e LogEntry) float64 { return e.hours(r) })
	f.last = f.log[len(log)-1].hours(r)
	c.Time = new(hours(f.last))
	if f.state.stopped >= 0 { // from when on nothing dripped
		f.last = f.log[f.state.stopped].hours(r)
	}
	f.now = f.legAt(f.last)
	if legs[0].Steps == nil {
		err = f.withoutDrip()
	} else {
		err = f.drip(ctx)
	}
	c.forget()
	return c, err
}

// forget leaves only those plans that an entry may still ask for: of the leg in
// force and, since an entry may come at the hour when that began, of the one before.
func (c *Course) forget() {
	for i := range max(0, len(c.Legs)-2) {
		c.Legs[i].Plan = nil
	}
}

// following is a log that is being weighed.
type following struct {
	base   transfer.Baseline
	log    []LogEntry // in the order of time
	number []int      // of each entry as it was logged, from 1
	state  state
	last   float64 // h, of the latest entry, or of the one that stopped the plan
	now    int     // the leg in force then
	course *Course

	trail  trail
	fit    fit
	moment moment
	poured bool // whether the pour-off that is near was made
}

// legAt is the leg in force just before a time.
func (f *following) legAt(hours float64) int {
	now := 0
	for k, leg := range f.course.Legs {
		if k > 0 && leg.At < hours {
			now = k
		}
	}
	return now
}

func (f *following) leg() Leg { return f.course.Legs[f.now] }

// drip weighs the log of a drip.
func (f *following) drip(ctx context.Context) error {
	drip, err := f.base.Drip()
	if err != nil {
		return err
	}
	f.trail = trail{base: f.base, drip: drip, legs: f.course.Legs}
	sights, err := f.sights()
	if err != nil {
		return err
	}
	if f.fit, err = weigh(f.doubts(), sights); err != nil {
		return err
	}
	f.moment = f.trail.at(f.fit.x, f.last)
	f.place()
	if err := errors.Join(f.tell(), f.judged(sights)); err != nil {
		return err
	}
	f.course.assume(noteOf("waited_for_the_marks"))
	return f.decide(ctx)
}

// doubts is what is in doubt before anything was read.
func (f *following) doubts() truth {
	d := truth{dripOff: countingDoubt, dropOff: dropDoubt, startOff: startDoubt}
	for _, e := range f.log {
		if e.Drops != nil {
			d[dripOff] = countedDoubt
		}
	}
	r := f.base.Request
	if l := r.Line; l != nil && l.DropVolume != nil {
		d[dropOff] = math.Hypot(dropDoubt, float64(l.DropVolume.U/l.DropVolume.Value))
	}
	if v := r.Container.StartVolume; v != nil && v.U > 0 {
		d[startOff] = float64(v.U / v.Value)
	}
	d[fromOff], d[toOff] = f.base.Doubts[0], f.base.Doubts[1]
	return d
}

// sights lists every number of the log.
func (f *following) sights() ([]sight, error) {
	var all []sight
	for i, e := range f.log {
		h := e.hours(f.base.Request)
		if h > f.last { // after the stop
			break
		}
		add := func(what, unit string, value, u float64, shows func(truth) (float64, error)) {
			all = append(all, sight{entry: f.number[i], what: what, hours: h, value: value, u: u, shows: shows, unit: unit})
		}
		if e.Salinity != nil {
			sa, err := e.salinity(f.base.Request)
			if err != nil {
				return nil, err
			}
			add("salinity", sa.Value.Unit(), float64(sa.Value), float64(sa.U), f.salinityAt(h, float64(sa.Value)))
		}
		if v := e.Volume; v != nil {
			u := float64(v.U)
			if u == 0 {
				u = usualMarks * float64(v.Value)
			}
			add("volume", v.Value.Unit(), float64(v.Value), u, f.volumeAt(h, float64(v.Value)))
		}
		if l := e.Level; l != nil {
			u := float64(l.U)
			if u == 0 {
				u = usualLevel
			}
			add("level", l.Value.Unit(), float64(l.Value), u, f.levelAt(h, float64(l.Value)))
		}
		if e.Drops != nil {
			rate := float64(*e.Drops) / (float64(e.DropsIn.Value) * 3600)
			add("drops", quantity.DripRate(0).Unit(), rate, rate/float64(*e.Drops), f.dripAt(h))
		}
	}
	return all, nil
}

// nearer is the one of two that lies closer to what was read.
func nearer(read, a, b float64) float64 {
	if math.Abs(read-a) <= math.Abs(read-b) {
		return a
	}
	return b
}

// salinityAt is that of the container; once the drip is over it may have been
// read in the new water.
func (f *following) salinityAt(h, read float64) func(truth) (float64, error) {
	return func(x truth) (float64, error) {
		m := f.trail.at(x, h)
		sa := f.trail.salinity(x, m)
		if _, to := f.trail.salinities(x); m.told.Drip == 0 {
			sa = nearer(read, sa, to)
		}
		return sa, nil
	}
}

func (f *following) volumeAt(h, read float64) func(truth) (float64, error) {
	return func(x truth) (float64, error) {
		m := f.trail.at(x, h)
		return nearer(read, m.volume, m.other), nil
	}
}

func (f *following) levelAt(h, read float64) func(truth) (float64, error) {
	return func(x truth) (float64, error) {
		m := f.trail.at(x, h)
		a, noA := f.base.Request.Container.Level(quantity.Volume(m.volume))
		b, noB := f.base.Request.Container.Level(quantity.Volume(m.other))
		if err := errors.Join(noA, noB); err != nil {
			return 0, err
		}
		return nearer(read, float64(a.Value), float64(b.Value)), nil
	}
}

// dripAt is the drops in time; those counted after the last mark are of the last setting.
func (f *following) dripAt(h float64) func(truth) (float64, error) {
	return func(x truth) (float64, error) {
		drip := f.trail.at(x, h).told.Drip
		if drip == 0 {
			drip = f.lastDrip(f.legAt(h))
		}
		return drip * math.Exp(x[dripOff]), nil
	}
}

// lastDrip is the last setting that the keeper was told up to a leg.
func (f *following) lastDrip(leg int) float64 {
	for ; leg > 0 && len(f.course.Legs[leg].Steps) == 0; leg-- {
	}
	steps := f.course.Legs[leg].Steps
	return steps[len(steps)-1].Drip
}

// place decides on which side of a pour-off nearby the container is: on that
// which the latest volume tells, else before it, since one reads and then pours.
func (f *following) place() {
	m := &f.moment
	if m.other == m.volume {
		return
	}
	near := max(m.volume, m.other)
	for _, e := range f.log {
		if e.hours(f.base.Request) < f.last {
			continue
		}
		if e.Volume != nil {
			near = nearer(float64(e.Volume.Value), m.volume, m.other)
		}
		if e.Level != nil {
			a, noA := f.base.Request.Container.Level(quantity.Volume(m.volume))
			b, noB := f.base.Request.Container.Level(quantity.Volume(m.other))
			if noA == nil && noB == nil && nearer(float64(e.Level.Value), float64(a.Value), float64(b.Value)) == float64(a.Value) {
				near = m.volume
			} else {
				near = m.other
			}
		}
	}
	low := min(m.volume, m.other)
	if near == low {
		f.poured, m.next = true, 0
	} else {
		m.next, m.wait = low, 0
	}
	m.volume = near
	m.mass = near * f.trail.drip.Density(m.left)
}
