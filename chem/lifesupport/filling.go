package lifesupport

import "math"

// filling is the volume and the salinity of a stretch at a time within it, in h,
// L, L/h and g/kg.
type filling struct{ time, volume, inflow, growth, from, to float64 }

func newFilling(s Stretch) filling {
	return filling{float64(s.Time), float64(s.Volume), litresPerHour(s.Inflow), litresPerHour(s.Inflow - s.Overflow), float64(s.SalinityAtStart), float64(s.SalinityAtEnd)}
}

func (f filling) volumeAt(t float64) float64 { return f.volume + f.growth*t }

// turnover is the integral of dt/volume. Of a concentration to which nothing is added,
// the part exp(−inflow·turnover) is left.
func (f filling) turnover(from, to float64) float64 {
	if f.growth == 0 {
		return (to - from) / f.volume
	}
	return math.Log1p(f.growth*(to-from)/f.volumeAt(from)) / f.growth
}

// exchanged is the part of the water that inflow makes up. If nothing runs over, it is a
// plain ratio of volumes, which saves time in a search that asks for it very often.
func (f filling) exchanged(from, to float64) float64 {
	if f.growth == f.inflow {
		return f.inflow * (to - from) / f.volumeAt(to)
	}
	return -math.Expm1(-f.inflow * f.turnover(from, to))
}

// salinityAt is the salinity at a time: it moves between the ends as the water is exchanged.
func (f filling) salinityAt(t float64) float64 {
	if t == 0 {
		return f.from
	}
	part := t / f.time
	if all := f.exchanged(0, f.time); all > 0 {
		part = f.exchanged(0, t) / all
	}
	return f.from + (f.to-f.from)*part
}

// mixing is a step of a stretch for anything dissolved in the water, and for heat.
type mixing struct{ inflow, turnover float64 }

// after is a concentration y after the step. The inflow has the concentration entering,
// exchange L/h of water take on the concentration outside, and source is added each hour.
func (m mixing) after(y, entering, exchange, outside, source float64) float64 {
	reach := m.turnover
	if flow := m.inflow + exchange; flow > 0 {
		reach = -math.Expm1(-flow*m.turnover) / flow
	}
	return y + (m.inflow*(entering-y)+exchange*(outside-y)+source)*reach
}
