package transfer

import (
	"math"
	"slices"

	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
)

// Animals in harmful water leave it at once, and neither heat nor a moult makes them wait. But
// those that are moulting must not be lifted out, so the water is changed around them. Common
// practice, no source.

// staysPut reports whether some animal is moulting, so that all of them stay where they are.
func (t *task) staysPut() bool {
	return slices.ContainsFunc(t.request.Animals, func(a Animal) bool {
		return *a.Condition == Moulting && a.moults().Code == "no_step_while_moulting"
	})
}

// goesNow reports whether nothing but the step itself stands before the new water.
func (t *task) goesNow() bool { return t.movesOver() && t.harmed() == 0 && !t.staysPut() }

// leaveAmmonia refuses any plan before they are out of water with much ammonia.
func (t *task) leaveAmmonia(now, most quantity.AmmoniaNitrogen) {
	code := quantity.Code("leave_own_water_first")
	if t.staysPut() {
		code = "moults_in_ammonia"
	}
	t.refuse("from.tan", noteOf(code, quantity.Exactly(now), quantity.Exactly(most), practical(t.cleanSalinity()), celsius(t.cleanWarmth())))
	t.warmthWaits()
}

// leaveNitrite refuses any plan before they are out of water with much nitrite.
func (t *task) leaveNitrite(now quantity.Estimate[quantity.NitriteNitrogen]) {
	code := quantity.Code("leave_nitrite_first")
	if t.staysPut() {
		code = "moults_in_nitrite"
	}
	t.refuse("from.nitrite", noteOf(code, now, quantity.Exactly(lifesupport.HarmlessNitrite), practical(t.cleanSalinity()), celsius(t.cleanWarmth())))
	t.warmthWaits()
}

// leaveBeforePHRises refuses any plan before they are out of water that turns poisonous.
func (t *task) leaveBeforePHRises(to quantity.Estimate[quantity.PH], then, most quantity.AmmoniaNitrogen) {
	code := quantity.Code("leave_before_ph_rises")
	if t.staysPut() {
		code = "moults_before_ph_rises"
	}
	t.refuse("from.tan", noteOf(code, to, quantity.Exactly(then), quantity.Exactly(most), practical(t.cleanSalinity()), celsius(t.cleanWarmth()), *t.request.From.PH))
	t.warmthWaits()
}

// warmthWaits says what becomes of a temperature outside the range that they live in: the clean
// water is nearer, and only that water is brought to the range.
func (t *task) warmthWaits() {
	t.faults = slices.DeleteFunc(t.faults, func(f Fault) bool {
		return slices.Contains([]quantity.Code{"warm_them_first", "cool_them_first", "clean_water_warmer", "clean_water_cooler", "no_step_while_moulting"}, f.Note.Code)
	})
	name, goal := t.liveable()
	code := quantity.Code("clean_water_warmer")
	switch {
	case goal == t.from.t:
		return
	case goal < t.from.t:
		code = "clean_water_cooler"
	}
	t.refuse("from.temperature", noteOf(code, name, celsius(t.from.t), celsius(t.cleanWarmth()), celsius(goal), kelvinsPerHour(RateToEdge)))
}

// liveable is the temperature nearest to that of their water in which the first of them lives that
// does not live in theirs; theirs if all do.
func (t *task) liveable() (name string, at float64) {
	for _, a := range t.request.Animals {
		w, known := a.warmth()
		if !known {
			continue
		}
		switch w.Strange(quantity.Celsius(t.from.t)) {
		case -1:
			return a.Known.Name, float64(w.Least)
		case 1:
			return a.Known.Name, float64(w.Most)
		}
	}
	return "", t.from.t
}

// cleanWarmth is the temperature of the clean water: theirs, or nearer to where they live by what
// may come at once.
func (t *task) cleanWarmth() float64 {
	_, goal := t.liveable()
	return t.from.t + math.Copysign(min(atOnceWarmth, math.Abs(goal-t.from.t)), goal-t.from.t)
}
