package followup

import (
	"slices"

	"saltlock/chem/quantity"
)

// carefully are the acts that bring the animals into clean water: those of animals that sting, and
// of those that swallow air, say how.
const (
	intoClean      = quantity.Code("act_clean_water")
	intoCleanSting = quantity.Code("act_clean_water_sting")
	intoCleanWet   = quantity.Code("act_clean_water_wet")
)

// movesToClean is the act that brings these animals into clean water. Whoever catches them at night
// does not read the plan's cautions again.
func (f *following) movesToClean() quantity.Code {
	plan := f.leg().Plan
	if plan == nil {
		return intoClean
	}
	has := func(code quantity.Code) bool {
		return slices.ContainsFunc(plan.Cautions, func(n quantity.Note) bool { return n.Code == code })
	}
	switch {
	case has("hazard_venomous"):
		return intoCleanSting
	case has("carry_puffer"):
		return intoCleanWet
	}
	return intoClean
}

// cleanSalinity is the salinity of the clean water: that of theirs, or half way to what they
// tolerate where theirs harms them, too.
func (f *following) cleanSalinity() quantity.Estimate[quantity.Salinity] {
	now := f.course.PracticalSalinity.Value
	if half, ok := f.base.HalfWay(float64(now * quantity.GramsPerPractical)); f.rescue && ok {
		return practical(half)
	}
	return quantity.Exactly(now)
}

// powerJustBack keeps what is done after a power failure in the answer until the temperature was
// read: a stop or poison after it puts none of that right.
func (f *following) powerJustBack() {
	c, back := f.course, -1
	for i, e := range f.log {
		switch {
		case e.is(PowerBack):
			back = i
		case e.is(PowerOff):
			back = -1
		}
		if back >= 0 && i > back && e.Temperature != nil {
			back = -1
		}
	}
	if back < f.entered || f.released {
		return
	}
	if !tells(c.Why, "why_power_back") {
		c.Why = append(c.Why, noteOf("why_power_back", f.when(f.log[back])))
	}
	for _, n := range []quantity.Note{noteOf("triage_air"), noteOf("power_warm_first"), noteOf("power_heaters_on"), noteOf("power_canister")} {
		if !tells(append([]quantity.Note{c.Now}, c.Then...), n.Code) {
			c.Then = append(c.Then, n)
		}
	}
}
