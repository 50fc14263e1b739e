package followup

import (
	"context"
	"errors"
	"math"
	"slices"
	"time"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// byCups reports whether a leg goes by cups.
func (l Leg) byCups() bool { return l.Plan != nil && l.Plan.Route == transfer.ByCups }

// cups follows a move by cups: how many are in, and what to do with the next one. A missing
// cup is never made up for by two at once, and after one too many there is a wait. It is long
// because the order of its cases decides.
func (f *following) cups(ctx context.Context) error {
	c, leg := f.course, f.leg()
	drip, err := f.base.Drip() // only its container is used
	if err != nil {
		return err
	}
	f.tub = drip
	p, err := f.countCups(leg)
	if err != nil {
		return err
	}
	if err := f.estimateByCups(p); err != nil {
		return err
	}
	agree := f.agree()
	f.misfits()
	if done, err := f.event(); done || err != nil {
		return err
	}
	c.assume(noteOf("cups_as_planned"))
	if p.found != nil {
		return f.cupsFoundAnew(ctx, p)
	}
	if anew, err := f.cupsAsRead(&p, agree); err != nil || anew {
		return errors.Join(err, f.cupsAnew(ctx, p))
	}
	switch {
	case p.unwatched:
		c.pause(noteOf("now_count_cups"))
		c.Volume, c.Level = nil, nil
	case f.aheadOnce():
		c.Then = append(c.Then, noteOf("now_count_cups"))
	case f.besideCups():
		f.stays(OnCourse, noteOf("now_read_once_more"))
	case p.lost:
		f.stays(OnCourse, noteOf("now_count_cups"))
	case p.in < p.due || p.in > p.may:
		return f.cupsAnew(ctx, p)
	case !p.sure, p.guessed:
		f.stays(OnCourse, noteOf("now_count_cups"))
	case p.in == len(p.cups) && f.held():
	case p.in == len(p.cups):
		f.lastCupIn(p)
	default:
		f.stays(OnCourse, f.nextCup(leg, p))
	}
	return nil
}

// lastCupIn says what comes after the last cup.
func (f *following) lastCupIn(p cupCount) {
	c := f.course
	f.stays(Arrived, noteOf("now_cups_in", *c.Gap, f.leg().Plan.Release.Rest))
	if !p.salinity && readsSalinity(f.log) {
		c.pause(noteOf("now_read_salinity"))
	}
}

// estimateByCups puts the state of the container after so many cups into the course.
func (f *following) estimateByCups(p cupCount) (err error) {
	c := f.course
	f.moment = moment{volume: p.volume, left: math.Abs(f.base.To-p.salt) / f.base.Gap}
	f.moment.mass = p.volume * f.tub.Density(f.moment.left)
	f.tellSalinity(p.salt, f.base.Doubts[0])
	if f.unmeasured = p.guessed; p.guessed {
		return nil
	}
	c.Volume = new(litres(p.volume))
	c.Level, err = f.base.Request.Container.Level(quantity.Volume(p.volume))
	return err
}

// cupsAsRead uses the salinity that was read if the cups cannot be relied on: after a stop, or
// if two readings in a row disagree with them.
func (f *following) cupsAsRead(p *cupCount, agree bool) (bool, error) {
	last := f.log[len(f.log)-1]
	sa, volume, err := f.readOf(last)
	if err != nil || sa.u == 0 || !agree && !last.is(Restarted) {
		return false, err
	}
	p.beyond = max(0, (sa.value-p.salt)*math.Copysign(1, f.base.To-f.base.From))
	if p.salt = sa.value; volume.u > 0 {
		p.volume = volume.value
	}
	f.tellSalinity(p.salt, sa.u)
	f.course.Why = append(f.course.Why, noteOf("why_from_reading", *f.course.PracticalSalinity))
	return true, nil
}

// besideCups names a salinity at the latest entry that the cups do not explain, and reports
// whether it is so far off that it is read again before the next.
func (f *following) besideCups() bool {
	s := f.salts()
	if n := len(s); n == 0 || s[n-1].Entry != f.number[len(f.log)-1] || math.Abs(s[n-1].Deviation) <= 1 {
		return false
	}
	j := s[len(s)-1]
	if e := f.entry(j.Entry); !j.Suspect { // which says so
		f.course.warn(noteOf("beside_cups", *e.Salinity, f.shown(*e, j.Expected.Value)))
	}
	return j.far != 0
}

// readsSalinity reports whether any salinity was read. Then one must be read before the
// animals are moved over, too.
func readsSalinity(log []LogEntry) bool {
	return slices.ContainsFunc(log, func(e LogEntry) bool { return e.Salinity != nil })
}

// nextCup says what to do with the next cup: at once if it is due.
func (f *following) nextCup(leg Leg, p cupCount) quantity.Note {
	next := p.cups[p.in]
	off := next.pourTo > 0 && p.volume > next.pourTo+soon
	if p.in < p.may || next.at+leg.At <= f.last {
		if off {
			return noteOf("now_pour_off_and_cup", f.mark(next.pourTo), litres(next.litres))
		}
		return noteOf("now_pour_cup", litres(next.litres))
	}
	if off {
		return noteOf("now_next_cup_off", f.clock(next.at+leg.At), f.mark(next.pourTo), litres(next.litres))
	}
	return noteOf("now_next_cup", f.clock(next.at+leg.At), litres(next.litres))
}

// cupsAnew plans the rest from a number of cups, after a wait if too many are in, or if the
// water is nearer to the target than they explain.
func (f *following) cupsAnew(ctx context.Context, p cupCount) error {
	c := f.course
	hold := max(f.hold(), math.Ceil(4*p.beyond/f.base.PerHour(p.salt))/4)
	f.tellBroken()
	if p.in > p.may {
		hold = f.tooMany(p)
	}
	if p.guessed { // from how much water the rest goes on, only a reading says
		c.pause(noteOf("now_count_cups"))
		c.Then = append(c.Then, noteOf("then_find_out_what"))
		return nil
	}
	leg, ok, err := f.planAgain(func() (Leg, error) { return f.cupsFrom(ctx, p, hold) })
	if !ok {
		return err
	}
	c.Verdict, c.Plan = Corrected, leg.Plan
	if p.in < p.due {
		c.Why = append(c.Why, noteOf("why_cup_missed", p.due-p.in, f.mark(p.volume)))
	}
	next, start := f.cupsOf(leg.Plan)
	if len(next) == 0 && hold == 0 {
		c.Verdict, c.Now = Arrived, noteOf("now_cups_in", *c.Gap, leg.Plan.Release.Rest)
		return nil
	}
	if len(next) == 0 {
		c.Now = noteOf("then_rest_until", f.clock(leg.At+float64(leg.Plan.Release.Rest.Value)))
		f.holds(leg.At)
		return nil
	}
	c.Now = f.nextCup(leg, cupCount{cups: next, start: start, may: 1, volume: p.volume})
	if hold > 0 {
		c.Now = f.nextCup(leg, cupCount{cups: next, start: start, volume: p.volume})
		c.Then = append(c.Then, noteOf("then_find_out_what"))
	}
	return nil
}

// tooMany says that too many cups are in, and returns how long to wait: each step stays clear
// of other changes for as long as it would take at the hourly limit.
func (f *following) tooMany(p cupCount) float64 {
	c, n := f.course, p.in-p.may
	_, before := p.after(p.may)
	change, limit := math.Abs(p.salt-before), f.base.PerHour(before)
	since := f.leg().At
	if p.may > 0 {
		since += p.cups[p.may-1].at
	}
	took := max(f.last-since, 1./60)
	hold := math.Ceil(4*change/limit) / 4
	note := noteOf("why_cup_too_many", n, salinity(change), hours(hold))
	if rate := change / took; rate > rateExcess*limit {
		c.Broken = append(c.Broken, Broken{From: hours(since), Until: hours(f.last), Hold: hours(hold),
			Rate: quantity.Exactly(quantity.SalinityRate(rate)), Limit: quantity.Exactly(quantity.SalinityRate(limit)), Note: note})
	}
	c.Why = append(c.Why, note)
	return hold
}

// cupsFrom plans the rest by cups from where the container is.
func (f *following) cupsFrom(ctx context.Context, p cupCount, hold float64) (Leg, error) {
	leg := f.leg()
	r := f.base.Request
	r.Route = new(transfer.ByCups)
	r.Container.StartVolume = new(litres(p.volume))
	r.Container.LeastVolume = new(litres(min(f.tub.Least, p.volume)))
	r.From.Salinity = quantity.Reading{Value: p.salt, U: f.base.Doubts[0], Scale: quantity.AbsoluteScale}
	mixed, err := f.base.Temperature(math.Abs(f.base.To - p.salt))
	if err != nil {
		return Leg{}, err
	}
	r.From.Temperature = f.warmth(celsius(mixed))
	r.From.HoursInBag = nil
	at := f.last + hold
	r.Start = new(r.Start.Add(time.Duration(at * float64(time.Hour))))
	if r.From.TAN, err = f.ammonia(leg); err != nil {
		return Leg{}, err
	}
	f.slow(&r)
	r.RecentChange = new(salinity(math.Abs(p.salt-f.base.From) + float64(f.base.Request.RecentChange.Value)))
	plan, err := transfer.NewPlan(ctx, r)
	if err != nil {
		return Leg{}, err
	}
	told := NewLeg(at, r, plan)
	told.Held, told.Entries, told.Cups = hold, len(f.log), leg.Cups+p.in
	return told, nil
}
