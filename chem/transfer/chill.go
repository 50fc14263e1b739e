package transfer

import (
	"math"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// Temperatures are judged before any route: one that kills is no target, however slowly it comes,
// and animals that are chilled or overheated are helped before their salinity matters.

// RateToEdge is the rate, °C/h, at which animals of every class come from outside the range they
// live in to its edge, after what may come at once on arrival. Proposed here; Lim2003 shows 15 to
// 30 min of floating for 4 to 5 °C.
const RateToEdge = 2.0

const (
	atOnceFromFoul = 3.0  // °C, out of a foul bag
	atOnceWarmth   = 2.0  // °C, out of any other water
	saltAfterWarm  = 12.0 // h from the right temperature to the first change of salinity
	mostFloated    = 5.0  // °C, that floating a closed bag can bridge
	keptCool       = 26.0 // °C, at which anemones, corals and seahorses are kept: common practice, no source
)

// warmth is the temperature range that an animal of the request lives in; not ok if it is not in
// the table.
func (a Animal) warmth() (tolerance.Warmth, bool) {
	if a.Known == nil || a.Known.Of == nil {
		return tolerance.Warmth{}, false
	}
	return a.Known.Of.WarmthOf(a.Known.Stage), true
}

// checkWarmth refuses a temperature that harms them, of the new water or their own, and a move
// further out of the range they live in.
func (t *task) checkWarmth() {
	for _, a := range t.request.Animals {
		w, known := a.warmth()
		if !known {
			continue
		}
		name, now, then := a.Known.Name, celsius(t.from.t), celsius(t.warmth)
		switch w.Harms(now.Value) {
		case -1:
			t.refuse("from.temperature", noteOf("warm_them_first", name, now, quantity.Exactly(w.Least), kelvinsPerHour(RateToEdge)))
		case 1:
			t.refuse("from.temperature", noteOf("cool_them_first", name, now, quantity.Exactly(w.Most), kelvinsPerHour(RateToEdge)))
		}
		least, most := quantity.Exactly(w.Least), quantity.Exactly(w.Most)
		switch harms, beyond := w.Harms(then.Value), w.Beyond(then.Value); {
		case harms < 0:
			t.refuse("to.temperature", noteOf("target_too_cold", name, then, least))
		case harms > 0:
			t.refuse("to.temperature", noteOf("target_too_warm", name, then, most))
		case w.Winters(then.Value) && !w.Winters(now.Value) && now.Value > then.Value:
			t.refuse("to.temperature", noteOf("target_winter_cold", name, then, least), warmthTo(float64(w.Least)))
		case beyond < 0 && then.Value < now.Value:
			t.refuse("to.temperature", noteOf("target_too_cool", name, then, least), warmthTo(float64(w.Least)))
		case beyond > 0 && then.Value > now.Value && a.Known.Of.HeatShy():
			t.refuse("to.temperature", noteOf("target_too_hot_for_shy", name, then, celsius(keptCool)), warmthTo(keptCool))
		case beyond > 0 && then.Value > now.Value:
			t.refuse("to.temperature", noteOf("target_too_hot", name, then, most), warmthTo(float64(w.Most)))
		}
	}
}

// farForStrangers is the change of temperature, °C, up or down, that animals are planned to which
// nobody named: few that live at one end of more live at the other. Proposed here.
const farForStrangers = 10.0

// checkStrangers asks which animals these are before they are led to a temperature that only some
// live at.
func (t *task) checkStrangers() {
	if apart := math.Abs(t.warmth - t.from.t); t.unknown() && apart > farForStrangers*(1+inside) && !t.request.Underway {
		t.refuse("animals.0.species", noteOf("species_decides_temperature", celsius(t.from.t), celsius(t.warmth)))
	}
}

// judgeWarmth says of a temperature that they should not be kept at it, unless the move leads
// further out of the range they live in. They are brought to the edge of the range.
func (t *task) judgeWarmth() {
	for _, a := range t.request.Animals {
		w, known := a.warmth()
		if !known {
			continue
		}
		switch then := celsius(t.warmth); w.Strange(then.Value) {
		case -1:
			t.warn(noteOf("target_cool", a.Known.Name, then, quantity.Exactly(w.Least)))
			t.warmth = max(t.warmth, float64(w.Least))
		case 1:
			t.warn(noteOf("target_warm", a.Known.Name, then, quantity.Exactly(w.Most)))
			t.warmth = min(t.warmth, float64(w.Most))
		default:
			switch shy := a.Known.Of.HeatShy(); {
			case w.Warm(then.Value) && shy && t.warmth-t.from.t >= countedDifference:
				t.warn(noteOf("target_warm_for_shy", a.Known.Name, then, celsius(keptCool)))
			case w.Warm(then.Value):
				t.warn(noteOf("target_rather_warm", a.Known.Name, then))
			}
			if w.Winters(then.Value) && t.gap > t.tolerance*(1+inside) {
				t.warn(noteOf("salinity_in_winter", a.Known.Name, then))
			}
		}
	}
}

// harmed reports whether the temperature of their own water harms some of them: -1 by cold, 1 by
// heat.
func (t *task) harmed() int {
	for _, a := range t.request.Animals {
		if w, known := a.warmth(); known && w.Harms(quantity.Celsius(t.from.t)) != 0 {
			return w.Harms(quantity.Celsius(t.from.t))
		}
	}
	return 0
}

// edge is the temperature up to which they come at RateToEdge on the way from their water to the
// new one: where the last of them is back in the range it lives in. It is their own temperature if
// that is within the range.
func (t *task) edge() float64 {
	edge := t.from.t
	for _, a := range t.request.Animals {
		w, known := a.warmth()
		switch {
		case !known || w.Winters(quantity.Celsius(t.from.t)):
		case t.warmth > t.from.t:
			edge = max(edge, min(float64(w.Least), t.warmth))
		default:
			edge = min(edge, max(float64(w.Most), t.warmth))
		}
	}
	return edge
}

// nearEdge is the temperature of the clean water that they come into: that of their own, plus what
// may come at once on arrival, or if they are outside the range they live in.
func (t *task) nearEdge() float64 {
	goal, atOnce := t.edge(), atOnceWarmth
	if t.request.From.HoursInBag != nil && math.Abs(t.warmth-t.from.t) >= countedDifference {
		goal = t.warmth
	}
	if t.foul {
		atOnce = atOnceFromFoul
	}
	return t.from.t + math.Copysign(min(atOnce, math.Abs(goal-t.from.t)), goal-t.from.t)
}

// strays is the first of the animals whose own water is colder (-1) or warmer (1) than the range
// it lives in, even if that does not kill it, and which the new water brings nearer; side is 0 if
// there is none.
func (t *task) strays() (name string, side int) {
	now := quantity.Celsius(t.from.t)
	for _, a := range t.request.Animals {
		if w, known := a.warmth(); known && w.Strange(now) != 0 && t.edge() != t.from.t && (w.Strange(now) < 0) == (t.warmth > t.from.t) {
			return a.Known.Name, w.Strange(now)
		}
	}
	return "", 0
}

// warmedFirst is the request of animals that stay in their own water until its temperature
// is right, and change their salinity only then; false where there is nothing to wait for.
// t keeps what to do until then, and the note says why.
func (t *task) warmedFirst() (Request, quantity.Note, bool) {
	if t.request.Underway || t.movesNow() || t.basks() { // which warm up on land
		return Request{}, quantity.Note{}, false
	}
	name, side := t.strays()
	edge, salt := t.edge(), hours(saltAfterWarm)
	atEdge, rate := hours(math.Abs(edge-t.from.t)/RateToEdge), kelvinsPerHour(RateToEdge)
	why := t.emergency(name, side)
	var first quantity.Note
	switch {
	case side < 0:
		first = noteOf("warm_their_water", celsius(edge), rate, atEdge, salt)
	case side > 0:
		first = noteOf("cool_their_water", celsius(edge), rate, atEdge, salt)
	default:
		wintering, least, wakes := t.wakes()
		if !wakes {
			return Request{}, quantity.Note{}, false
		}
		edge, why = least, noteOf("winters_there", wintering, celsius(t.from.t))
		first = noteOf("warm_out_of_winter", celsius(edge), kelvinsPerHour(t.rules.temperature), kelvins(t.rules.temperatureOfDay), hours(t.warmsIn(edge-t.from.t)), salt)
	}
	t.heat.First = append(t.heat.First, first)
	r := t.request
	r.From.Temperature.Value, r.To.Temperature.Value = quantity.Celsius(edge), quantity.Celsius(t.warmth)
	return r, why, true
}

// emergency says of animals in water that is too cold or too warm for them that this comes first.
func (t *task) emergency(name string, side int) quantity.Note {
	if side > 0 {
		return noteOf("too_warm_now", name, celsius(t.from.t))
	}
	return noteOf("too_cold_now", name, celsius(t.from.t))
}

// wakes is the first of the animals that winters in the water that they are in, and where its
// winter ends, if the new water is warmer.
func (t *task) wakes() (name string, least float64, ok bool) {
	for _, a := range t.request.Animals {
		if w, known := a.warmth(); known && w.Winters(quantity.Celsius(t.from.t)) && t.warmth-t.from.t >= countedDifference {
			return a.Known.Name, min(float64(w.Least), t.warmth), true
		}
	}
	return "", 0, false
}

// movesNow reports whether nothing about the salinity keeps them from moving at once.
func (t *task) movesNow() bool {
	return t.gap <= t.tolerance*(1+inside) || t.returning == rescued || t.larval() || t.underMedicine()
}

// sayStrays says how animals come out of water that is too cold or too warm for them.
func (t *task) sayStrays() bool {
	name, side := t.strays()
	if side == 0 || t.request.Underway {
		return false
	}
	near, edge := t.nearEdge(), t.edge()
	t.warn(t.emergency(name, side))
	t.heat.First = append(t.heat.First, noteOf("new_water_nearer", celsius(near)))
	if edge != near {
		t.heat.Last = append(t.heat.Last, noteOf("on_to_the_edge", celsius(edge), kelvinsPerHour(RateToEdge), hours(math.Abs(edge-near)/RateToEdge)))
	}
	if left := math.Abs(t.warmth - edge); left >= countedDifference {
		t.heat.Last = append(t.heat.Last, noteOf("on_from_the_edge", celsius(t.warmth), kelvinsPerHour(t.rules.temperature), kelvins(t.rules.temperatureOfDay)))
	}
	return true
}
