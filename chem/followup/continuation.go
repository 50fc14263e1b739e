package followup

import (
	"context"
	"math"
	"time"

	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// continuation asks for a plan of the rest, with drops one standard uncertainty larger than
// estimated: if they are smaller, it only takes longer. It is long because every field of the
// request changes.
func (f *following) continuation(ctx context.Context, arrived bool) (Leg, error) {
	m, leg := f.moment, f.leg()
	r := f.base.Request
	line := r.Line.WithDefaults()
	line.DropVolume = new(litres(min(float64(f.course.DropVolume.Value+f.course.DropVolume.U), float64(transfer.DropVolume.Hi))))
	line.Settings = new(max(1, *line.Settings-m.settings))
	r.Line = &line
	r.Route, r.Underway = new(transfer.Drip), true
	hold := f.hold()
	at := Leg{At: f.last + hold}
	start := m.volume
	switch {
	case m.next > 0 && m.wait == 0:
		at.Full, start = m.volume, m.next
	case m.volume > brimful*f.tub.Brim: // there is no room to drip into
		at.Full, start = m.volume, f.tub.Start
	}
	r.Container.StartVolume = new(litres(start))
	r.Container.LeastVolume = new(litres(min(f.tub.Least, start)))
	left := min(1, float64(f.course.Gap.Value)/f.base.Gap)
	celsiusThen, err := f.base.Temperature(left * f.base.Gap)
	if err != nil {
		return at, err
	}
	sa := float64(f.course.PracticalSalinity.Value * quantity.GramsPerPractical)
	r.From.Salinity = quantity.Reading{Value: max(0, sa), U: float64(f.course.Gap.U), Scale: quantity.AbsoluteScale}
	r.From.Temperature = f.warmth(celsius(celsiusThen))
	r.From.HoursInBag = nil // its ammonia is stated instead
	if r.Start != nil {
		r.Start = new(r.Start.Add(time.Duration(at.At * float64(time.Hour))))
	}
	if r.From.TAN, err = f.ammonia(leg); err != nil {
		return at, err
	}
	r.RecentChange = new(salinity(f.recent()))
	f.drawFrom(&r)
	f.slow(&r)
	if r.Tolerance = new(salinity(max(f.base.Tolerance/2, f.base.Tolerance-1.5*f.margin()))); arrived {
		r.Tolerance = new(salinity(f.base.Tolerance))
	}
	p, err := transfer.NewPlan(ctx, r)
	if line.IntakeDepth != nil && refusesHose(err) { // the hose must be hung again
		line.IntakeDepth = nil
		p, err = transfer.NewPlan(ctx, r)
	}
	if at.Request = r; err != nil {
		return at, err
	}
	told := NewLeg(at.At, r, p)
	told.Held, told.Full, told.Entries = hold, at.Full, len(f.log)
	if told.Full > 0 && len(told.Steps) > 0 {
		told.Steps[0].PourTo = start
	}
	told.goesOn()
	return told, nil
}

// brimful is the share of what a container may hold from which on it is poured off first.
const brimful = 0.97

// warmth is the temperature of the container: as it was just read, or else as mixed.
func (f *following) warmth(mixed quantity.Estimate[quantity.Celsius]) quantity.Estimate[quantity.Celsius] {
	if w := f.warmthNow(); w.read != nil && f.last-f.log[w.place].hours(f.base.Request) < nearPour {
		return *w.read
	}
	return mixed
}

// recent is the change in the 24 hours before the moment. Reading the same waters more exactly
// must not make it exceed what was allowed for the whole move.
func (f *following) recent() float64 {
	b := f.base
	if f.last < 24 {
		return max(0, b.Gap-float64(f.course.Gap.Value)) + float64(b.Request.RecentChange.Value)
	}
	return math.Abs(f.saltAt(f.last) - f.saltAt(f.last-24))
}

// ammonia is what the container contains by now, at the greatest output of the animals, twice
// the likely one. If nobody counts them, it is as in the request. The higher output of excited
// animals at the start is left out, because the plan of the rest counts it again.
func (f *following) ammonia(leg Leg) (*quantity.Estimate[quantity.AmmoniaNitrogen], error) {
	p := leg.Plan
	if p.LifeSupport == nil { // a plan that follows ammonia asks for the animals' count
		return f.base.Request.From.TAN, nil
	}
	for i := len(f.log) - 1; i >= 0 && f.last-f.log[i].hours(f.base.Request) < nearPour; i-- {
		if tested := f.log[i].TAN; tested != nil { // just now
			return tested, nil
		}
	}
	if f.log[len(f.log)-1].is(Restarted) { // since the stop its water was changed
		return f.base.Request.From.TAN, nil
	}
	given := func(e *quantity.Estimate[quantity.AmmoniaNitrogen]) float64 {
		if e == nil {
			return 0
		}
		return float64(e.Value)
	}
	now := float64(f.course.PracticalSalinity.Value)
	near := p.Curve[0]
	for _, at := range p.Curve {
		if math.Abs(float64(at.PracticalSalinity.Value)-now) < math.Abs(float64(near.PracticalSalinity.Value)-now) {
			near = at
		}
	}
	share := 1.0 // of the water at the start of this leg
	if p.Gap.Value > 0 {
		share = min(1, float64(f.course.Gap.Value/p.Gap.Value))
	}
	brought := given(leg.Request.From.TAN)*share + given(leg.Request.To.TAN)*(1-share)
	planned := float64(near.Time.Value)
	if planned <= 0 || p.Curve[0].TAN == nil {
		return f.base.Request.From.TAN, nil
	}
	hours := (f.last - leg.At) / (planned + min(planned, float64(lifesupport.Excitement)))
	tan := brought + 2*max(0, given(near.TAN)-brought)*hours
	return new(quantity.Exactly(quantity.AmmoniaNitrogen(tan))), nil
}

// goesOn makes the plan of a leg start with what the leg before left to do: to pour off, or to
// rest.
func (l *Leg) goesOn() {
	switch {
	case l.Full > 0 && len(l.Steps) > 0:
		l.Plan.PourFirst(l.Full)
	case len(l.Steps) == 0:
		l.Plan.RestFirst()
	}
}
