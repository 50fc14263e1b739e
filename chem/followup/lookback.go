package followup

import (
	"math"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// Found is what the readings show to have happened although nobody reported it.
type Found struct {
	Kind     Kind                                 `json:"kind"`
	Since    quantity.Estimate[quantity.Duration] `json:"since"` // at the earliest
	Evidence quantity.Note                        `json:"evidence"`
}

// Broken is an hourly limit that was exceeded between two readings.
type Broken struct {
	From  quantity.Estimate[quantity.Duration]     `json:"from"`
	Until quantity.Estimate[quantity.Duration]     `json:"until"`
	Rate  quantity.Estimate[quantity.SalinityRate] `json:"rate"`
	Limit quantity.Estimate[quantity.SalinityRate] `json:"limit"`
	Hold  quantity.Estimate[quantity.Duration]     `json:"hold"` // from Until on
	Note  quantity.Note                            `json:"note"`
}

// sure is the share of the likelihood that must suppose a change before it is named. A jump of
// the flow by a factor of less than noticed counts as a drift.
const (
	sure    = 0.8
	noticed = 1.5
)

// name names the changes that most of the likelihood supposes, after a second reading.
func (f *following) name() {
	b := f.bank
	for _, x := range b.latest.found {
		if x.place >= b.read || f.share(x) < sure {
			continue
		}
		kind := x.kind
		after := x.after
		switch {
		case kind == jumped && after > noticed:
			kind = Slip
		case kind == jumped && after*noticed < 1:
			kind = Clog
		case kind == PouredOff && f.falls(f.lowVolumes()), kind == jumped, kind == Leak && b.latest.x[leak] < 0.05*b.latest.x[inflow]:
			continue
		}
		n, known := f.evidence(kind, x)
		if !known {
			continue
		}
		if kind == freshened {
			kind = FilledUp
		}
		f.course.Found = append(f.course.Found, Found{kind, hours(x.since), n})
		f.course.Why = append(f.course.Why, n)
	}
}

// share is the part of the likelihood that supposes the same change at nearly the same
// reading.
func (f *following) share(x found) float64 {
	with, all := 0.0, 0.0
	for _, h := range f.bank.kept {
		w := math.Exp(h.weight)
		all += w
		for _, y := range h.found {
			if y.kind == x.kind && y.place-x.place <= 1 && x.place-y.place <= 1 {
				with += w
				break
			}
		}
	}
	return with / all
}

// evidence says what a change did to the readings. It is not known if another list says that.
func (f *following) evidence(kind Kind, x found) (n quantity.Note, known bool) {
	since, until := f.clock(x.since), f.clock(x.until)
	part := quantity.Exactly(quantity.Fraction(x.after))
	switch kind {
	case Slip:
		return noteOf("found_slip", since, until, part), true
	case Clog:
		return noteOf("found_clog", since, until, part), true
	case Leak:
		lost := f.bank.latest.x[leak] / f.tub.Density(0)
		return noteOf("found_leak", litres(lost), since), true
	case freshened:
		return noteOf("found_freshened", since, until, litres(x.after)), true
	case PouredOff:
		if f.byLevel() {
			return noteOf("found_level_fell", since, until, litres(x.after)), true
		}
		return noteOf("found_poured_off", since, until, litres(x.after)), true
	case FilledUp:
		return noteOf("found_filled_up", since, until, litres(x.after)), true
	case WrongInstrument:
		return noteOf("found_wrong_instrument", salinity(math.Abs(f.bank.latest.x[bias])), until), true
	case WrongTime:
		return noteOf("found_wrong_time", until), true
	}
	return n, false
}

// rateExcess is the factor by which an hourly limit must be exceeded to count as broken: that
// of the error from rounding the count of drops.
const rateExcess = 1 + offCourse

// broken lists where the salinity changed faster than the limit between two readings. What the
// keeper was told to pour in or to move the animals into is a step, judged by what may change
// at once.
func (f *following) broken() []Broken {
	var list []Broken
	for r := f.bank.latest.trace.known(); r != nil; r = r.before.known() {
		from, at, u, told := f.base.From, 0.0, f.base.Doubts[0], false
		if before := r.before.known(); before != nil {
			from, at, u, told = before.salt, before.hours, before.uSalt, before.renewed
		}
		if r.hours-at < leastTook || told && math.Abs(r.salt-from) <= f.base.AtOnce { // too soon to tell, or a step and no drip
			continue
		}
		if b, broke := f.tooFast(from, at, u, r.salt, r.hours, r.uSalt); broke {
			list = append(list, b)
		}
	}
	return list
}

// leastTook is the least time between two readings, h, over which a rate is known.
const leastTook = 0.1

// tooFast is the hourly limit that a change between two hours broke, beyond what the uncertainties
// of the two salinities explain.
func (f *following) tooFast(from, at, u, to, until, uTo float64) (b Broken, broke bool) {
	change, took, limit := math.Abs(to-from), until-at, f.base.PerHour(from)
	rate := change / took
	if rate <= rateExcess*limit || change-limit*took <= 0.5*max(u, uTo) {
		return b, false
	}
	hold := math.Ceil(2*change/limit) / 2
	return Broken{From: hours(at), Until: hours(until), Hold: hours(hold),
		Rate: quantity.Exactly(quantity.SalinityRate(rate)), Limit: quantity.Exactly(quantity.SalinityRate(limit)),
		Note: noteOf("limit_broken", f.clock(at), f.clock(until), quantity.Exactly(quantity.SalinityRate(rate)),
			quantity.Exactly(quantity.SalinityRate(limit)), hours(hold))}, true
}

// tellBroken says which limit was broken last, if that was within a day.
func (f *following) tellBroken() {
	if b := f.course.Broken; len(b) > 0 && f.last-float64(b[0].Until.Value) < 24 {
		f.course.Why = append(f.course.Why, b[0].Note)
	}
}

// hold is how long the clamp still stays closed because a limit was broken: a change stays
// clear of other changes for as long as it would have taken at the limit.
func (f *following) hold() float64 {
	until := f.last
	for _, b := range f.course.Broken {
		until = max(until, float64(b.Until.Value+b.Hold.Value))
	}
	return until - f.last
}

// slower is the share of the hourly limit with which the rest is planned after limits were
// broken in the last day: as much slower as the drip was too fast.
func (f *following) slower() float64 {
	share := 1.0
	for _, b := range f.course.Broken {
		if f.last-float64(b.Until.Value) < 24 {
			share = min(share, float64(b.Limit.Value/b.Rate.Value))
		}
	}
	return max(0.5, share)
}

// slow gives a request the slower limit if a limit was broken.
func (f *following) slow(r *transfer.Request) {
	share := f.slower()
	if share == 1 {
		return
	}
	limits := *r.Limits
	now := float64(f.course.PracticalSalinity.Value) * quantity.GramsPerPractical
	rate := share * min(f.base.PerHour(now), f.base.PerHour(f.base.To))
	limits.PerHour = new(quantity.Exactly(quantity.SalinityRate(rate)))
	r.Limits = &limits
}
