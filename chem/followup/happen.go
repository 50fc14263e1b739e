package followup

import "math"

// happen applies the events that were reported with a sighting.
func (h *hypothesis) happen(b *bank, s sighting) {
	q := max(h.x[inflow], 0.1*b.perDrop)
	if s.reads() || s.refilled { // somebody is there to fill the jug
		h.dry = false
	}
	if s.touched {
		h.widen(vector{inflow: q})
	}
	dry := b.driesOut(h, s.volume)
	if h.trace != nil && h.trace.hours == s.hours {
		h.trace.renewed = s.renewed || dry
	}
	if s.renewed {
		h.widen(vector{mass: moved * h.x[mass], missing: moved * h.x[missing]})
	}
	if dry { // as much water set aside is poured in as there is
		kg := b.least * b.density(b.begins)
		h.widen(vector{mass: kg, missing: b.lacking(kg, b.begins)})
	}
	if s.refilled {
		h.widen(filling(h.x))
		h.widen(vector{inflow: 0.3 * q})
	}
	if s.closes {
		h.shutClamp(b)
	}
}

// shutClamp closes the clamp until another leg begins.
func (h *hypothesis) shutClamp(b *bank) {
	h.step, h.open, h.opens, h.shut = len(b.legs[h.leg].Steps), false, math.Inf(1), true
}

// filling is the direction in which filling up new water changes a state.
func filling(x vector) vector { return vector{mass: moved * x[mass]} }

// moved is the share of the water that is filled up or poured off at once, as a standard
// deviation.
const moved = 0.35
