package followup

import (
	"math"

	"saltlock/chem/quantity"
)

// warmthApart is from how many degrees beside the plan a temperature stops the drip:
// what animals bear at once on arrival. Proposed here.
const warmthApart = 2.

// warmthOff stops the drip where the water was last read much colder or warmer than it
// should be: first the temperature, the salinity 12 h later.
func (f *following) warmthOff() bool {
	leg, c := f.leg(), f.course
	if len(leg.Steps) == 0 || leg.Plan == nil || len(leg.Plan.Curve) == 0 {
		return false
	}
	for i := len(f.log) - 1; i >= 0 && !f.log[i].is(Restarted); i-- {
		read := f.log[i].Temperature
		if read == nil {
			continue
		}
		at := f.log[i].hours(f.base.Request) - leg.At
		near := leg.Plan.Curve[0]
		for _, p := range leg.Plan.Curve {
			if math.Abs(float64(p.Time.Value)-at) < math.Abs(float64(near.Time.Value)-at) {
				near = p
			}
		}
		back := float64(near.Temperature.Value - read.Value)
		if math.Abs(back) < warmthApart {
			if math.Abs(back) > warmFirstFrom && f.log[i].hours(f.base.Request) == f.last {
				c.warn(noteOf("warmth_drifts", *read, near.Temperature))
			}
			return false
		}
		rate, err := f.base.WarmthPerHour(back)
		if err != nil {
			return false
		}
		c.Verdict, c.Plan, c.Now = Paused, nil, noteOf("act_close_clamp")
		c.Why = append(c.Why, noteOf("why_warmth_off", *read, near.Temperature))
		code := quantity.Code("then_warm_to")
		if back < 0 {
			code = "then_cool_to"
		}
		c.Then = append(c.Then, noteOf(code, near.Temperature, quantity.Exactly(quantity.TemperatureRate(rate))), noteOf("then_salt_after_warmth", hours(saltAfterWarmth)))
		return true
	}
	return false
}

// over tells whether an entry was made when the animals had been moved over by the plan.
func (f *following) over(e LogEntry) bool {
	leg := f.leg()
	return leg.Plan != nil && e.hours(f.base.Request) >= leg.At+float64(leg.Plan.Release.Time.Value)-soon
}
