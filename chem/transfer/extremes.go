package transfer

import (
	"errors"
	"math"

	"saltlock/chem/quantity"
)

// stepLimits says how close a plan with one last step comes to the limits on salinity itself.
func (t *task) stepLimits(step float64) []Limit {
	given := t.request.Limits
	recent := float64(t.request.RecentChange.Value)
	list := []Limit{atMost("at_once", quantity.AbsoluteSalinity(t.rules.atOnce), quantity.AbsoluteSalinity(step), false, standing(given.AtOnce, quantity.Proposed))}
	if t.gap == 0 && recent > t.rules.perDay {
		return list // what came before the plan broke it, not a plan that changes nothing
	}
	return append(list,
		atMost("per_24_hours", quantity.AbsoluteSalinity(t.rules.perDay), quantity.AbsoluteSalinity(t.gap+recent), false, standing(given.Per24Hours, quantity.Proposed)))
}

// dripLimits says how close a drip comes to every limit.
func (t *task) dripLimits(s *solved, v vat) ([]Limit, error) {
	list := t.stepLimits(t.tolerance)
	list[0].Binding = t.request.Tolerance == nil // the tolerance follows from it
	hourly, err := t.hourlyLimits(s)
	if err != nil {
		return nil, err
	}
	list = append(list, hourly...)

	slowest, fastest := math.Inf(1), 0.0
	lowest, highest := v.start, v.start
	for _, leg := range s.legs {
		slowest, fastest = min(slowest, v.drip(leg.flow)), max(fastest, v.drip(leg.flow))
		from, _, noFrom := t.volume(leg, leg.from)
		to, _, noTo := t.volume(leg, leg.to)
		if err := errors.Join(noFrom, noTo); err != nil {
			return nil, err
		}
		lowest, highest = min(lowest, from), max(highest, to)
	}
	var slow, fast, low, high bool
	for _, leg := range s.ideal {
		slow = slow || leg.flow <= s.problem.LeastFlow*(1+tight)
		fast = fast || leg.flow >= s.problem.MostFlow*(1-tight)
		low = low || leg.pour && leg.start() <= s.problem.LeastMass(leg.from)*(1+tight)
		high = high || leg.held == nil && leg.end() >= s.problem.MostMass(leg.to)*(1-tight)
	}
	c, l := t.request.Container, t.request.Line
	if l == nil {
		l = &Line{}
	}
	list = append(list, t.roomLimits()...)
	return append(list,
		atMost("greatest_drip", quantity.DripRate(v.mostDrip), quantity.DripRate(fastest), fast, standing(l.GreatestDrip, quantity.CommonPractice)),
		atLeast("least_drip", quantity.DripRate(v.leastDrip), quantity.DripRate(slowest), slow, standing(l.LeastDrip, quantity.Proposed)),
		atMost("greatest_volume", quantity.Volume(v.brim), quantity.Volume(highest), high, standing(c.Freeboard, quantity.Proposed)),
		atLeast("least_volume", quantity.Volume(v.least), quantity.Volume(lowest), low, standing(c.LeastVolume, quantity.Proposed)),
	), nil
}

// tight is how close the search comes to a bound that binds.
const tight = 1e-3

// hourlyLimits finds where salinity and temperature change fastest compared with what they may: at
// the start of a leg, or where the limit drops inside one.
func (t *task) hourlyLimits(s *solved) ([]Limit, error) {
	var salinity, temperature closest
	for _, leg := range s.legs {
		for _, c := range s.problem.rate.checks(leg.from, leg.to) {
			rate := leg.rate(c.gap)
			salinity.see(t.rules.perHour(t.salinityAt(c.just)), rate)
			slope, err := t.warming(c.gap)
			if err != nil {
				return nil, err
			}
			temperature.see(t.rules.temperature, rate*slope)
		}
	}
	var bySalinity, byTemperature bool
	for _, leg := range s.ideal {
		for _, c := range s.problem.rate.checks(leg.from, leg.to) {
			most := s.problem.rate.at(c.just)
			if leg.rate(c.gap) < most*(1-tight) {
				continue
			}
			if t.rules.perHour(t.salinityAt(c.just)) <= most {
				bySalinity = true
			} else {
				byTemperature = true
			}
		}
	}
	given := t.request.Limits
	list := []Limit{atMost("per_hour", quantity.SalinityRate(salinity.limit), quantity.SalinityRate(salinity.extreme), bySalinity, standing(given.PerHour, quantity.Proposed))}
	if t.counts() && !t.unheld() {
		list = append(list,
			atMost("temperature_per_hour", quantity.TemperatureRate(temperature.limit), quantity.TemperatureRate(temperature.extreme), byTemperature, standing(given.TemperaturePerHour, quantity.Proposed)),
			atMost("temperature_per_24_hours", quantity.TemperatureDifference(t.rules.temperatureOfDay), quantity.TemperatureDifference(math.Abs(t.warmer())), false, quantity.Proposed))
	}
	return list, nil
}

// closest keeps the extreme that comes closest to its limit.
type closest struct{ limit, extreme float64 }

func (c *closest) see(limit, extreme float64) {
	if c.limit == 0 || limit-extreme < c.limit-c.extreme {
		c.limit, c.extreme = limit, extreme
	}
}

// standing is Given for a limit that the request gives.
func standing[Q quantity.Quantity](given *quantity.Estimate[Q], otherwise quantity.Standing) quantity.Standing {
	if given != nil {
		return Given
	}
	return otherwise
}

// atMost is a limit that the extreme may not exceed.
func atMost[Q quantity.Quantity](name string, most, extreme Q, binding bool, standing quantity.Standing) Limit {
	return Limit{name, quantity.Exactly(most).Measure(), quantity.Exactly(extreme).Measure(), quantity.Exactly(margin(most, extreme)).Measure(), binding, standing}
}

// atLeast is a limit that the extreme may not fall below.
func atLeast[Q quantity.Quantity](name string, least, extreme Q, binding bool, standing quantity.Standing) Limit {
	return Limit{name, quantity.Exactly(least).Measure(), quantity.Exactly(extreme).Measure(), quantity.Exactly(margin(extreme, least)).Measure(), binding, standing}
}

// noise is how far computing alone may part two numbers that are the same, as a share of them.
const noise = 1e-12

// margin is how far a number lies above another; zero if computing alone parts them, since a margin
// below zero says that a limit is broken.
func margin[Q quantity.Quantity](above, below Q) Q {
	if apart := math.Abs(float64(above - below)); apart <= noise*math.Abs(float64(above)) {
		return 0
	}
	return above - below
}
