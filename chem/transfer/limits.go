package transfer

import (
	"cmp"
	"math"
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// rules are the limits that a plan must keep: g/kg, g/kg/h, K/h, K.
type rules struct {
	atOnce, perDay                float64
	perHour                       func(salinity float64) float64
	bends                         []float64 // salinities where perHour changes its form
	slopes                        []float64 // of perHour over salinity, where it is not level
	temperature, temperatureOfDay float64   // in the direction of this transfer
	room, roomOfDay               float64   // towards the room
	hold                          float64   // hours of rest after a full day's change
}

// countedDifference is the temperature difference, in K, from which it counts as a change of its
// own.
const countedDifference = 1

// together is the share of the proposed hourly limits that applies while salinity and temperature
// change at the same time.
const together = 0.5

// chooseRules takes the strictest of the animals' limits, and replaces those that the request
// gives.
func (t *task) chooseRules() error {
	all, err := t.proposed()
	if err != nil {
		return err
	}
	share := 1.0
	if t.counts() || t.roomCounts() {
		share = together
	}
	if t.counts() {
		t.assume(noteOf("temperature_and_salinity_together", kelvins(math.Abs(t.warmer()))))
	}
	if t.roomCounts() {
		t.assume(noteOf("room_and_salinity_together", kelvins(math.Abs(t.towardsRoom()))))
	}
	u := rules{atOnce: math.Inf(1), perDay: math.Inf(1), temperature: math.Inf(1), temperatureOfDay: math.Inf(1), room: math.Inf(1), roomOfDay: math.Inf(1)}
	for _, l := range all {
		u.atOnce = min(u.atOnce, float64(l.AtOnce))
		u.perDay = min(u.perDay, float64(l.Per24Hours))
		perHour, perDay := temperatureLimits(l, t.warmth-t.from.t)
		u.temperature, u.temperatureOfDay = min(u.temperature, share*perHour), min(u.temperatureOfDay, perDay)
		if t.unheld() {
			perHour, perDay = temperatureLimits(l, t.towardsRoom())
			u.room, u.roomOfDay = min(u.room, share*perHour), min(u.roomOfDay, perDay)
		}
		u.hold = max(u.hold, float64(l.Hold))
	}
	u.perHour = func(salinity float64) float64 {
		least := math.Inf(1)
		for _, l := range all {
			least = min(least, share*float64(l.PerHourAt(quantity.AbsoluteSalinity(salinity))))
		}
		return least
	}
	u.bend(all, share)
	u.atOnce, u.perDay = t.asPrinted(u.atOnce), t.asPrinted(u.perDay)
	t.rules = u
	t.override()
	return nil
}

// asPrinted is a proposed limit on a step, a little wider if the step in ppt has the same number
// as the limit in g/kg: nobody can read a difference of 0.5 %.
func (t *task) asPrinted(limit float64) float64 {
	steps := math.Round(t.gap / limit)
	if each := t.gap / steps; steps > 0 && each > limit && each <= limit*quantity.GramsPerPractical*(1+inside) {
		return each
	}
	return limit
}

// temperatureLimits are the limits for an hour and a day, warming or cooling.
func temperatureLimits(l tolerance.Limits, by float64) (perHour, perDay float64) {
	if by < 0 {
		return float64(l.CoolingPerHour), float64(l.CoolingPer24Hours)
	}
	return float64(l.WarmingPerHour), float64(l.WarmingPer24Hours)
}

// proposed lists the limits of every kind of animal; a thin one is moved at least as carefully as
// a delicate one.
func (t *task) proposed() ([]tolerance.Limits, error) {
	var all []tolerance.Limits
	add := func(c tolerance.Class, a Animal) error {
		l, err := tolerance.DefaultLimits(c, t.up, *a.Origin)
		all = append(all, l)
		for _, n := range l.Notes {
			t.assume(n)
		}
		return err
	}
	for _, a := range t.request.Animals {
		class, known := a.class()
		if !known {
			t.assume(noteOf("sensitivity_assumed", string(class)))
		}
		if a.calledHardier() {
			t.assume(noteOf("called_hardier", a.Known.Name, string(class), string(*a.Sensitivity)))
		}
		if err := add(class, a); err != nil {
			return nil, err
		}
		early := a.Stage != nil && (*a.Stage == tolerance.Larva || *a.Stage == tolerance.Fry)
		if (*a.Condition == Thin || early) && class != tolerance.Delicate {
			code := quantity.Code("thin_as_delicate")
			if early {
				code = "young_as_delicate"
			}
			t.assume(noteOf(code))
			if err := add(tolerance.Delicate, a); err != nil {
				return nil, err
			}
		}
	}
	return all, nil
}

// bend notes where the hourly limit changes its form: where it is halved, and where a share of the
// present salinity meets one of the level limits.
func (u *rules) bend(all []tolerance.Limits, share float64) {
	for _, l := range all {
		if l.HalvedBelow > 0 {
			u.bends = append(u.bends, float64(l.HalvedBelow))
		}
		slope := float64(l.ShareOfPresent)
		if slope == 0 {
			continue
		}
		u.slopes = append(u.slopes, share*slope)
		for _, o := range all {
			for _, level := range []quantity.SalinityRate{o.PerHour, o.PerHour / 2, o.LeastShareCap} {
				u.bends = append(u.bends, float64(level)/slope)
			}
		}
	}
}

// override puts the limits of the request in place of the proposed ones.
func (t *task) override() {
	u, given := &t.rules, t.request.Limits
	replace := func(name string, to *float64, by, proposed quantity.Measure) {
		*to = by.Value
		t.sayGiven(name, by, proposed)
	}
	if l := given.AtOnce; l != nil {
		replace("at_once", &u.atOnce, l.Measure(), salinity(u.atOnce).Measure())
	}
	if l := given.PerHour; l != nil {
		level := 0.0
		replace("per_hour", &level, l.Measure(), perHour(u.perHour(t.from.sa)).Measure())
		u.perHour, u.bends, u.slopes = func(float64) float64 { return level }, nil, nil
	}
	if l := given.Per24Hours; l != nil {
		replace("per_24_hours", &u.perDay, l.Measure(), salinity(u.perDay).Measure())
	}
	if l := given.TemperaturePerHour; l != nil {
		replace("temperature_per_hour", &u.temperature, l.Measure(), kelvinsPerHour(u.temperature).Measure())
		u.room = u.temperature
	}
}

// sayGiven says that a limit of the request replaces the proposed one.
// A looser one is said before all else.
func (t *task) sayGiven(name string, by, proposed quantity.Measure) {
	if looser := by.Value > proposed.Value*(1+inside); looser && name != "oxygen" || name == "oxygen" && by.Value < proposed.Value*(1-inside) {
		t.caution(noteOf("limit_looser", name, by, proposed))
		return
	}
	t.caution(noteOf("limit_given", name, by, proposed))
}

// rateLimit turns the hourly limits into one on the gap that is left. The same water that salts
// the mixture warms it, so the limit on temperature is also one on salinity; it is read where the
// temperature changes most.
func (t *task) rateLimit() (rateLimit, error) {
	u, most := t.rules, math.Inf(1)
	bends := slices.Clone(u.bends)
	if t.counts() {
		for i := range warmingSteps + 1 {
			slope, err := t.warming(t.gap * float64(i) / warmingSteps)
			if err != nil {
				return rateLimit{}, err
			}
			most = min(most, u.temperature/slope*(1-warmingMargin))
		}
		for _, slope := range u.slopes {
			bends = append(bends, most/slope)
		}
	}
	l := rateLimit{at: func(gap float64) float64 { return min(u.perHour(t.salinityAt(gap)), most) }}
	for _, s := range bends {
		if gap := t.to.sa - s; gap > 0 == t.up && math.Abs(gap) < t.gap {
			l.breaks = append(l.breaks, math.Abs(gap))
		}
	}
	slices.SortFunc(l.breaks, func(a, b float64) int { return cmp.Compare(b, a) })
	l.breaks = slices.Compact(l.breaks)
	return l, nil
}

// At how many places the warming is checked, and how much more it may be between them: heat of
// mixing makes it bend a little.
const (
	warmingSteps  = 16
	warmingMargin = 1e-4
)

// warming returns by how many kelvins the mixture's temperature changes with each g/kg of its
// salinity.
func (t *task) warming(gap float64) (float64, error) {
	step := t.gap * 1e-3
	a, err := t.at(min(gap+step, t.gap))
	if err != nil {
		return 0, err
	}
	b, err := t.at(max(gap-step, 0))
	return math.Abs((a.t - b.t) / (a.sa - b.sa)), err
}
