package transfer

import (
	"cmp"
	"math"
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// rules are the limits that a plan must keep, in g/kg, g/kg/h and K/h.
type rules struct {
	atOnce, perDay float64
	perHour        func(salinity float64) float64
	bends          []float64 // salinities where the form of perHour changes
	perHourBase    float64   // away from the bends, for telling
	temperature    float64   // K/h in the direction of this transfer
	given          map[string]bool
	notes          []quantity.Note
}

// countedDifference is the difference of temperature from which it counts as a change of its own.
const countedDifference = 1

// apart is the share of the limits that holds while salinity and temperature
// change together.
const apart = 0.5

// rulesOf takes the strictest of the animals' limits, and what the request
// gives instead.
func rulesOf(r Request, up bool, warmer float64) (rules, error) {
	u := rules{atOnce: math.Inf(1), perDay: math.Inf(1), perHourBase: math.Inf(1), temperature: math.Inf(1), given: map[string]bool{}}
	var all []tolerance.Limits
	for _, a := range r.Animals {
		l, err := tolerance.DefaultLimits(*a.Sensitivity, up, *a.Origin)
		if err != nil {
			return u, err
		}
		all = append(all, l)
		u.atOnce = min(u.atOnce, float64(l.AtOnce))
		u.perDay = min(u.perDay, float64(l.Per24Hours))
		u.perHourBase = min(u.perHourBase, float64(l.PerHour))
		if warmer > 0 {
			u.temperature = min(u.temperature, float64(l.WarmingPerHour))
		} else {
			u.temperature = min(u.temperature, float64(l.CoolingPerHour))
		}
		u.notes = append(u.notes, l.Notes...)
	}
	u.bends = bendsOf(all)
	together := math.Abs(warmer) >= countedDifference
	share := 1.0
	if together {
		share = apart
		u.temperature *= apart
	}
	u.perHour = func(salinity float64) float64 {
		least := math.Inf(1)
		for _, l := range all {
			least = min(least, float64(l.PerHourAt(quantity.AbsoluteSalinity(salinity))))
		}
		return least * share
	}
	u.perHourBase *= share
	u.override(*r.Limits)
	if u.allGiven() {
		u.notes = nil
	}
	if together {
		u.notes = append(u.notes, noteOf("temperature_and_salinity_together", quantity.Exactly(quantity.TemperatureDifference(math.Abs(warmer)))))
	}
	return u, nil
}

// bendsOf lists the salinities at which the strictest hourly limit may change
// its form: where one halves, and where one that is a share of the salinity
// meets a constant one.
func bendsOf(all []tolerance.Limits) []float64 {
	var at []float64
	for _, l := range all {
		if l.HalvedBelow > 0 {
			at = append(at, float64(l.HalvedBelow))
		}
		share := float64(l.ShareOfPresent)
		if share == 0 {
			continue
		}
		at = append(at, float64(l.LeastShareCap)/share)
		for _, other := range all {
			at = append(at, float64(other.PerHour)/share, float64(other.PerHour)/2/share)
		}
	}
	return at
}

// override puts the limits of the request in place of the proposed ones.
func (u *rules) override(l Limits) {
	set := func(name string, to *float64, value float64) {
		*to, u.given[name] = value, true
	}
	if l.AtOnce != nil {
		set("at_once", &u.atOnce, float64(l.AtOnce.Value))
	}
	if l.Per24Hours != nil {
		set("per_24_hours", &u.perDay, float64(l.Per24Hours.Value))
	}
	if l.TemperaturePerHour != nil {
		set("temperature_per_hour", &u.temperature, float64(l.TemperaturePerHour.Value))
	}
	if l.PerHour != nil {
		set("per_hour", &u.perHourBase, float64(l.PerHour.Value))
		base := u.perHourBase
		u.perHour, u.bends = func(float64) float64 { return base }, nil
	}
}

// allGiven tells whether no limit of salinity is left to the class.
func (u rules) allGiven() bool {
	return u.given["at_once"] && u.given["per_hour"] && u.given["per_24_hours"]
}

// standing tells where a limit comes from.
func (u rules) standing(name string) quantity.Standing {
	if u.given[name] {
		return Given
	}
	return quantity.Proposed
}

// speed turns the hourly limits into one on the gap that is left. Temperature
// mixes as salinity does, so its limit is one on salinity, too.
func (u rules) speed(t task) speedLimit {
	salinity := func(gap float64) float64 {
		if t.up {
			return t.to.sa - gap
		}
		return t.to.sa + gap
	}
	most := math.Inf(1)
	if math.Abs(t.warmer()) >= countedDifference {
		most = u.temperature * t.gap / math.Abs(t.warmer())
	}
	l := speedLimit{at: func(gap float64) float64 { return min(u.perHour(salinity(gap)), most) }}
	bends := slices.Clone(u.bends)
	if !math.IsInf(most, 1) { // where the limit on temperature meets a sloping one
		bends = append(bends, 10*most)
	}
	for _, s := range bends {
		if gap := math.Abs(t.to.sa - s); gap < t.gap && (t.to.sa-s > 0) == t.up {
			l.breaks = append(l.breaks, gap)
		}
	}
	slices.SortFunc(l.breaks, func(a, b float64) int { return cmp.Compare(b, a) })
	l.breaks = slices.Compact(l.breaks)
	return l
}

func noteOf(code string, params ...any) quantity.Note {
	return quantity.Note{Code: code, Params: params}
}
