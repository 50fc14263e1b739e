package ramp

import (
	"errors"
	"fmt"
	"math"
)

// Longest is the most days of a ramp: three years.
const Longest = 1100

// Problem is a tank and where it should go. Salinities are in g/kg.
type Problem struct {
	From, To  float64
	Tolerance float64 // a salinity this near to To will do

	Volume  float64                        // L, of water at the mark
	Density func(salinity float64) float64 // kg/L, at the tank's temperature

	Source      float64 // salinity of the water from which new water is made
	Saltiest    float64 // the most that new water may have
	Share       float64 // of the volume that one change may take out
	Evaporation float64 // L a day, replaced with source water

	Limits Limits
	// Ahead is the salinity that the tank must not overtake on a day. The plan stays
	// within one day's change of it if the other limits allow that. Nil: no such curve.
	Ahead func(day float64) float64
}

// Limits are how much the tank may change, in g/kg and days. +Inf means no limit.
type Limits struct {
	AtOnce      float64
	PerDay      float64
	HalvedBelow float64 // below this, half of PerDay applies on the way down; 0: nowhere
	PerWeek     float64 // in any seven days
	SaltyWeek   float64 // the same, for a change that starts or ends above Salty
	Recent      float64 // changed in the 24 hours before the first day

	Step      float64 // of the filter: in any Wait days
	Wait      int     // days; 0: no filter
	SaltyWait int     // the same, if the tank is above Salty before the change
	Salty     float64

	PH       func(salinity float64) float64 // of the tank at a salinity; nil for no limit
	PHPerDay float64
}

// Unlimited returns limits that limit nothing, to start from.
func Unlimited() Limits {
	inf := math.Inf(1)
	return Limits{AtOnce: inf, PerDay: inf, PerWeek: inf, SaltyWeek: inf, Step: inf, Salty: inf, PHPerDay: inf}
}

// DayAt is how large a change from one salinity to another may be on a day: at most one
// step, and at most what the day allows there.
func (l Limits) DayAt(before, after float64, day int) float64 {
	most := l.PerDay
	if day == 0 {
		most = max(0, most-l.Recent)
	}
	if after < before {
		most -= max(0, min(before, l.HalvedBelow)-after)
	}
	return min(most, l.AtOnce)
}

// WeekAt is how much the tank may change in the seven days that end with a change.
func (l Limits) WeekAt(before, after float64) float64 {
	if max(before, after) > l.Salty+slack {
		return l.SaltyWeek
	}
	return l.PerWeek
}

// Reason is why there is no plan.
type Reason string

// The reasons.
const (
	BeyondWater Reason = "beyond_water" // the new water cannot bring the tank near enough to To
	TooLong     Reason = "too_long"     // under the limits no ramp arrives within Longest
)

// Obstacle is why there is no plan.
type Obstacle struct {
	Reason   Reason
	Nearest  float64 // salinity that can be reached, g/kg
	Distance float64 // between it and the nearest that would do
}

func (o *Obstacle) Error() string {
	return fmt.Sprintf("ramp: %s: the tank comes to %g g/kg, %g short", o.Reason, o.Nearest, o.Distance)
}

// ErrProblem says that a number of a problem makes no sense.
var ErrProblem = errors.New("ramp: impossible problem")

// check refuses numbers that no tank or limit can have; NaN fails every line.
func (p Problem) check() error {
	l := p.Limits
	for _, c := range []struct {
		what string
		ok   bool
	}{
		{"from, to, source", p.From >= 0 && p.To >= 0 && p.From < pure && p.To < pure && p.Source >= 0 && p.Source < pure},
		{"saltiest", p.Saltiest >= p.Source && p.Saltiest < pure},
		{"tolerance", p.Tolerance >= 0},
		{"volume", p.Volume > 0 && !math.IsInf(p.Volume, 1)},
		{"density", p.Density != nil},
		{"share", p.Share > 0 && p.Share <= 1},
		{"evaporation", p.Evaporation >= 0 && p.Evaporation < p.Volume/2},
		{"change at once or in a day", l.AtOnce >= 0 && l.PerDay >= 0 && l.HalvedBelow >= 0 && l.Recent >= 0},
		{"change in a week", l.SaltyWeek >= 0 && l.SaltyWeek <= l.PerWeek && l.Salty >= 0},
		{"filter step", l.Step >= 0 && l.Wait >= 0 && l.SaltyWait >= l.Wait && l.SaltyWait <= window},
		{"pH", l.PH == nil || l.PHPerDay > 0},
	} {
		if !c.ok {
			return fmt.Errorf("%w: %s", ErrProblem, c.what)
		}
	}
	return nil
}
