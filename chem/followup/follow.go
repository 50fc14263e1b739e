package followup

import (
	"context"
	"errors"
	"slices"
	"sort"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// Follow evaluates the log of a transfer and says how it is going, and how to go on.
//
//	r     the request of the plan, with its start
//	legs  the leg of that plan (NewLeg) and those that earlier readings added, with the plans
//	      that the keeper was given; none of them is planned again
//	log   what was read; each entry must pass Check
//
// The container is followed by a bank of extended Kalman filters over its mass and
// salinity, the flow as a random walk, the size of a drop, the bias of the instrument
// and a leak. A surprising reading splits each filter by what may have happened: the valve
// jumped, the container leaks, water was poured off or filled up, or the instrument, the time
// or a single number is wrong. After a second reading, the change that most of the likelihood
// supposes is named. The cost is linear in the readings.
//
// If the drip is off by more than 5 % and by more than its uncertainty, or changes the salinity
// faster than the limit, the rest is planned again from the estimated state. That plan uses the
// real drop and the settings that are left, and counts the change already made in the 24 hours.
// A sign of distress ends the plan.
//
// Standard uncertainty: of every estimate, from the covariance of the likeliest filter.
// Check value: 6 L that have become 8 L when 3 L were planned dripped at 2/3 of the planned
// rate, by hand.
//
// Source: conservation of salt; Kalman filters with multiple hypotheses [BarShalom2001].
func Follow(ctx context.Context, r transfer.Request, legs []Leg, log []LogEntry) (Course, error) {
	c := Course{Readings: []Judged{}, Assumptions: []quantity.Note{}, Warnings: []quantity.Note{}, Methods: []string{}, Legs: slices.Clone(legs)}
	b, err := transfer.NewBaseline(r)
	if err != nil {
		return c, err
	}
	if len(log) == 0 {
		c.Verdict, c.Now = NotBegun, noteOf("now_begin")
		if c.Plan = c.Legs[0].Plan; c.Plan != nil {
			if act, _, waits := c.Plan.WarmsFirst(); waits {
				c.Now = act
			}
		}
		if c.Legs[0].outOfBag() {
			c.Now = noteOf("bag_open")
		}
		return c, nil
	}
	c.Methods = []string{ReadingsMethod}
	f := &following{base: b, course: &c}
	f.log, f.number = inOrder(log)
	f.state = f.stateNow()
	c.Time = new(hours(f.log[len(log)-1].hours(r)))
	f.untilRelease()
	f.last = f.log[len(f.log)-1].hours(r)
	if f.state.stopped >= 0 { // from when on nothing dripped
		f.last = f.log[f.state.stopped].hours(r)
	}
	f.now = f.legAt(f.last)
	if err := f.presumeRelease(); err != nil {
		return c, err
	}
	f.rescue = f.leg().Plan.Rescues()
	err = f.byRoute(ctx)
	c.forget()
	if transfer.SpareBells(r, c.Notes()) {
		c.warn(noteOf("no_bubbles"))
	}
	return c, err
}

// byRoute evaluates a log by the route of the transfer, and adds what is still wrong.
func (f *following) byRoute(ctx context.Context) (err error) {
	switch without := f.course.Legs[0].Steps == nil; {
	case without && f.leg().byCups():
		err = f.cups(ctx)
		f.namesCups()
	case without:
		err = f.withoutDrip(ctx)
	default:
		err = f.drip(ctx)
	}
	if err != nil {
		return err
	}
	err = f.raise()
	f.keepsSalinity()
	f.powerJustBack()
	f.sparesTheMoulting()
	err = errors.Join(err, f.saySlight())
	if v := f.course.Verdict; v == Paused || v == Stopped || f.course.Alarmed() {
		f.course.ranked()
	}
	f.notBegun()
	return err
}

// forget drops the plans that no entry can ask for any more. It keeps that of the present leg
// and, because an entry may have the very hour at which that started, of the one before.
func (c *Course) forget() {
	for i := range max(0, len(c.Legs)-2) {
		if c.Legs[i].Steps != nil { // without, the plan alone says what was to be read
			c.Legs[i].Plan = nil
		}
	}
}

// following is a log that is being evaluated.
type following struct {
	base   transfer.Baseline
	log    []LogEntry // in the order of time
	number []int      // of each entry as it was logged, from 1
	state  state
	last   float64 // h, of the latest entry, or of the one that stopped the plan
	now    int     // the leg at that time
	rescue bool    // the water they came from harms them

	released  bool       // into the new water
	presumed  bool       // because that was read, though nobody reported it
	mixed     bool       // water was filled up since the stop, and no salinity read since
	cameIn    bool       // water came in since the stop, and no salinity read since
	since     []LogEntry // logged after that
	movedFrom float64    // g/kg, of the container that they left

	entered int // the place in the log of the first of them, once it is joined again

	unmeasured bool // how full the container is, since more cups went in than were due
	against    pouredAgainst
	furthest   float64 // g/kg, the salinity nearest to the target when the plan was stopped or since
	reread     bool    // a salinity, since the stop

	course *Course

	tub    transfer.DripBaseline
	bank   *bank
	moment moment
}

// legAt is the leg just before a time.
func (f *following) legAt(hours float64) int {
	legs := f.course.Legs
	return sort.Search(len(legs)-1, func(k int) bool { return legs[k+1].closes() >= hours })
}

func (f *following) leg() Leg { return f.course.Legs[f.now] }

// drip evaluates the log of a drip.
func (f *following) drip(ctx context.Context) error {
	drip, err := f.base.Drip()
	if err != nil {
		return err
	}
	f.tub = drip
	if err := f.estimate(ctx); err != nil {
		return err
	}
	f.judged()
	f.tell()
	f.name()
	f.course.Broken = f.broken()
	if b, broke := f.floodBroke(); broke {
		f.course.Broken = append([]Broken{b}, f.course.Broken...)
	}
	f.tellBroken()
	f.course.assume(noteOf("waited_for_the_marks"))
	if err := f.decide(ctx); err != nil {
		return err
	}
	if f.log[len(f.log)-1].is(ClampTouched, Refilled) && len(f.course.Then) == 0 && f.course.Plan != nil {
		f.lookAgain()
	}
	f.fillJugFirst()
	if f.state.stopped < 0 {
		f.warmthDrifts()
	}
	if v := f.course.Verdict; !f.drips() || v == Paused || v == Stopped {
		f.course.noDrip()
	}
	return nil
}

// drips reports whether the clamp was open, and no water that came in at once hides how fast it
// drips.
func (f *following) drips() bool {
	b, h := f.bank, &f.bank.latest
	waits := !h.open && h.step < len(b.legs[h.leg].Steps)
	return !h.shut && !waits && !slices.ContainsFunc(h.found, func(x found) bool {
		return (x.kind == FilledUp || x.kind == freshened) && x.place == b.read
	})
}
