package transfer

import (
	"context"
	"math"
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/ramp"
)

// combined plans a ramp of the tank the animals live in, to where one day can bring the rest, and
// a drip for that rest.
func (t *task) combined(ctx context.Context) (Plan, error) {
	if t.gap <= t.rules.perDay*(1+inside) {
		t.refuse("route", noteOf("ramp_not_needed", salinity(t.gap), salinity(t.rules.perDay)), routeTo(Auto))
		return Plan{}, nil
	}
	home, err := t.homeTank()
	if err != nil {
		return Plan{}, err
	}
	meeting := t.between(t.meeting(home))
	meeting.Temperature = t.request.From.Temperature
	tank, err := t.part(t.request.From, meeting, 0, float64(t.request.RecentChange.Value))
	if err != nil {
		return Plan{}, err
	}
	tank.request.HomeTank, tank.request.HomeMates = t.request.HomeTank, t.request.HomeMates
	if tank.ph, err = t.rampPH(); err != nil {
		return Plan{}, err
	}
	p, err := tank.ramped(ctx)
	t.adopt(tank)
	if err != nil || len(t.faults) > 0 {
		return Plan{}, err
	}
	at, _, _ := t.holdAfter(p)
	meeting.Salinity = quantity.Reading{Value: float64(p.Phases[len(p.Phases)-1].ToSalinity.Value), Scale: quantity.PracticalScale}
	drip, err := t.part(meeting, t.request.To, at, 0)
	if err != nil {
		return Plan{}, err
	}
	q, err := t.walk(ctx, drip)
	if err != nil || len(t.faults) > 0 {
		return Plan{}, err
	}
	t.follow(&p, q)
	return p, nil
}

// holdAfter is when a drip may follow a ramp, how long the hold before it lasts, and the change
// that it follows: a day at least, so that no 24 hours see changes of both.
func (t *task) holdAfter(tank Plan) (at, lasting, change float64) {
	end, last := float64(tank.Duration.Value), tank.Phases[len(tank.Phases)-1]
	change = math.Abs(float64(last.ToSalinity.Value-last.FromSalinity.Value)) * quantity.GramsPerPractical
	at = t.visits.released(end + max(longestWait, t.rules.hold*change/t.rules.perDay))
	return at, at - end, change
}

// follow adds the drip to the ramp, after the hold.
func (t *task) follow(p *Plan, q Plan) {
	at, lasting, change := t.holdAfter(*p)
	end, last := float64(p.Duration.Value), p.Phases[len(p.Phases)-1]
	p.hold(end, lasting, last.ToSalinity, noteOf("hold_in_home_tank", hours(lasting), last.ToSalinity, hours(at)))
	p.limit(atLeast("hold", quantity.Duration(t.rules.hold*change/t.rules.perDay), quantity.Duration(lasting), lasting > longestWait, quantity.Proposed))
	p.Duration = hours(at + float64(q.Duration.Value))
	p.ExactDuration = hours(at + float64(q.ExactDuration.Value))
	p.LeastDuration = hours(float64(p.LeastDuration.Value + q.LeastDuration.Value))
	if p.LeastDuration.Value > 0 {
		p.BoundRatio = new(float64(p.Duration.Value / p.LeastDuration.Value))
	}
	q.later(at)
	p.join(q)
}

// meeting is the part of the difference that the ramp covers: as little as leaves the limit of a
// day, but to where the other animals of the tank can live. The last change may fall short by a
// gram of salt, so it goes that much further.
func (t *task) meeting(h HomeTank) float64 {
	left := t.rules.perDay
	if t.restsBeforeFresh() {
		left = min(left, restNearFresh-t.to.sa)
	}
	for _, a := range t.request.HomeMates {
		if a.Known == nil {
			continue
		}
		band := a.Known.Stage.Usable()
		if t.up && band.Min != nil {
			left = min(left, t.to.sa-float64(band.Min.Value))
		}
		if !t.up && band.Max != nil {
			left = min(left, float64(band.Max.Value)-t.to.sa)
		}
	}
	left -= 2 * ramp.Gram / float64(h.Volume.Value) * 1000
	return min(1, 1-max(0, left)/t.gap)
}

// matesTake reports whether the other animals of the home tank can live in a water.
func (t *task) matesTake(salinity float64) bool {
	return !slices.ContainsFunc(t.request.HomeMates, func(a Animal) bool { return !a.takes(salinity) })
}
