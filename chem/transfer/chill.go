package transfer

import (
	"math"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// Temperatures are judged before any way is: one that kills is no target, however
// slowly it comes, and animals that are chilled or overheated are helped before their
// salinity is thought of.

// From outside the water they live in animals come to its edge at one rate for every
// class, after what may come at once on arrival. Proposed here; Lim2003 shows 15 to 30
// min of floating for 4 to 5 °C.
const (
	rateToEdge     = 2.0 // °C/h
	atOnceFromFoul = 3.0 // °C, out of a foul bag
	mostFloated    = 5.0 // °C, that floating a closed bag bridges
)

// warmth is where an animal of the request lives in temperature; not ok where it is not
// in the table.
func (a Animal) warmth() (tolerance.Warmth, bool) {
	if a.Known == nil || a.Known.Of == nil {
		return tolerance.Warmth{}, false
	}
	return a.Known.Of.WarmthOf(a.Known.Stage), true
}

// checkWarmth refuses a temperature that harms them, of the new water or of their own.
func (t *task) checkWarmth() {
	for _, a := range t.request.Animals {
		w, known := a.warmth()
		if !known {
			continue
		}
		name, now, then := a.Known.Name, celsius(t.from.t), celsius(t.warmth)
		switch w.Harms(now.Value) {
		case -1:
			t.refuse("from.temperature", noteOf("warm_them_first", name, now, quantity.Exactly(w.Least), kelvinsPerHour(rateToEdge)))
		case 1:
			t.refuse("from.temperature", noteOf("cool_them_first", name, now, quantity.Exactly(w.Most), kelvinsPerHour(rateToEdge)))
		}
		switch w.Harms(then.Value) {
		case -1:
			t.refuse("to.temperature", noteOf("target_too_cold", name, then, quantity.Exactly(w.Least)))
		case 1:
			t.refuse("to.temperature", noteOf("target_too_warm", name, then, quantity.Exactly(w.Most)))
		}
	}
}

// judgeWarmth says of a temperature that it is none to keep them at.
func (t *task) judgeWarmth() {
	for _, a := range t.request.Animals {
		w, known := a.warmth()
		if !known {
			continue
		}
		switch then := celsius(t.warmth); w.Strange(then.Value) {
		case -1:
			t.warn(noteOf("target_cool", a.Known.Name, then, quantity.Exactly(w.Least)))
		case 1:
			t.warn(noteOf("target_warm", a.Known.Name, then, quantity.Exactly(w.Most)))
		}
	}
}

// harmed tells whether their own water harms some of them by its temperature: -1 by cold,
// 1 by heat.
func (t *task) harmed() int {
	for _, a := range t.request.Animals {
		if w, known := a.warmth(); known && w.Harms(quantity.Celsius(t.from.t)) != 0 {
			return w.Harms(quantity.Celsius(t.from.t))
		}
	}
	return 0
}

// edge is the temperature up to which they come at rateToEdge on the way from their
// water to the new one: where the last of them is back in what it lives in. It is their
// own where that is no colder or warmer than they live in.
func (t *task) edge() float64 {
	edge := t.from.t
	for _, a := range t.request.Animals {
		w, known := a.warmth()
		switch {
		case !known:
		case t.warmth > t.from.t:
			edge = max(edge, min(float64(w.Least), t.warmth))
		default:
			edge = min(edge, max(float64(w.Most), t.warmth))
		}
	}
	return edge
}

// nearEdge is the temperature of the clean water that they come into from a foul bag:
// the bag's, and up to 3 °C nearer where they are outside what they live in.
func (t *task) nearEdge() float64 {
	edge := t.edge()
	return t.from.t + math.Copysign(min(atOnceFromFoul, math.Abs(edge-t.from.t)), edge-t.from.t)
}
