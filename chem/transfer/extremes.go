package transfer

import (
	"math"

	"saltlock/chem/quantity"
)

// limits tells every limit and how close the plan comes to it.
func (t *task) limits(step float64, stages []stage, v vat) []Limit {
	u := t.rules
	recent := float64(t.request.RecentChange.Value)
	list := []Limit{
		limit("at_once", quantity.AbsoluteSalinity(u.atOnce), quantity.AbsoluteSalinity(step), false, u.standing("at_once")),
		limit("per_24_hours", quantity.AbsoluteSalinity(u.perDay), quantity.AbsoluteSalinity(t.gap+recent), false, u.standing("per_24_hours")),
	}
	if len(stages) == 0 {
		return list
	}
	speed := u.speed(*t)
	least, rate, allowed, slowest, fastest := math.Inf(1), 0.0, 0.0, math.Inf(1), 0.0
	lowest, highest := math.Inf(1), 0.0
	for _, s := range stages {
		slowest, fastest = min(slowest, v.drip(s.flow)), max(fastest, v.drip(s.flow))
		lowest = min(lowest, s.deficit/s.from/density0(t, s.from))
		highest = max(highest, s.deficit/s.to/density0(t, s.to))
		for _, gap := range append([]float64{s.from}, within(speed.breaks, s)...) {
			now := s.flow * gap * gap / s.deficit
			if most := speed.at(gap * (1 - inside)); most-now < least {
				least, rate, allowed = most-now, now, most
			}
		}
	}
	full := fastest >= v.mostDrip*(1-0.05)
	list = append(list,
		limit("per_hour", quantity.SalinityRate(allowed), quantity.SalinityRate(rate), !full, u.standing("per_hour")),
		limit("greatest_drip", quantity.DripRate(v.mostDrip), quantity.DripRate(fastest), full, t.lineStanding("greatest_drip")),
		atLeast("least_drip", quantity.DripRate(v.leastDrip), quantity.DripRate(slowest), false, t.lineStanding("least_drip")),
		limit("greatest_volume", quantity.Volume(v.brim), quantity.Volume(highest), highest >= v.brim*0.999, Given),
		atLeast("least_volume", quantity.Volume(v.least), quantity.Volume(lowest), lowest <= v.least*1.001, Given),
	)
	if warmer := math.Abs(t.warmer()); warmer >= countedDifference {
		list = append(list, limit("temperature_per_hour", quantity.TemperatureRate(u.temperature),
			quantity.TemperatureRate(rate*warmer/t.gap), rate*warmer/t.gap > u.temperature*0.95, u.standing("temperature_per_hour")))
	}
	return list
}

// within are the breaks that lie inside a stage.
func within(breaks []float64, s stage) []float64 {
	var in []float64
	for _, b := range breaks {
		if b < s.from && b > s.to {
			in = append(in, b)
		}
	}
	return in
}

// density0 is the density at a gap that the solved drip has passed, and so exists.
func density0(t *task, gap float64) float64 {
	s, err := t.at(gap)
	if err != nil {
		return math.NaN()
	}
	rho, err := density(s.sa, s.t)
	if err != nil {
		return math.NaN()
	}
	return rho
}

func (t *task) lineStanding(name string) quantity.Standing {
	l := t.request.Line
	if l != nil && (name == "greatest_drip" && l.GreatestDrip != nil || name == "least_drip" && l.LeastDrip != nil) {
		return Given
	}
	return quantity.CommonPractice
}

// limit is one that the extreme may not pass.
func limit[Q quantity.Quantity](name string, most, extreme Q, binding bool, standing quantity.Standing) Limit {
	return Limit{name, quantity.Exactly(most).Measure(), quantity.Exactly(extreme).Measure(), quantity.Exactly(most - extreme).Measure(), binding, standing}
}

// atLeast is a limit that the extreme may not fall below.
func atLeast[Q quantity.Quantity](name string, least, extreme Q, binding bool, standing quantity.Standing) Limit {
	return Limit{name, quantity.Exactly(least).Measure(), quantity.Exactly(extreme).Measure(), quantity.Exactly(extreme - least).Measure(), binding, standing}
}
