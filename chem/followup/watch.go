package followup

import (
	"math"

	"saltlock/chem/quantity"
)

// warmthApart is by how many degrees a temperature must differ from the plan to stop the drip:
// as much as animals tolerate at once on arrival. Proposed here.
const warmthApart = 2.

// warmthOff stops the drip if the water was last much colder or warmer than planned. The
// temperature is put right first, and the salinity goes on 12 h later.
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

// over reports whether, by the plan, the animals had been moved over when an entry was made.
func (f *following) over(e LogEntry) bool {
	leg := f.leg()
	return leg.Plan != nil && e.hours(f.base.Request) >= leg.At+float64(leg.Plan.Release.Time.Value)-soon
}
