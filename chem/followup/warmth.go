package followup

import (
	"math"

	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// warmthSeen is a temperature of the log and what it should have been.
type warmthSeen struct {
	place   int // in the log
	read    *quantity.Estimate[quantity.Celsius]
	planned quantity.Estimate[quantity.Celsius]
}

// back is by how much it must change to be as planned; NaN if there is no such temperature.
func (w warmthSeen) back() float64 {
	if w.read == nil {
		return math.NaN()
	}
	return float64(w.planned.Value - w.read.Value)
}

// apart reports whether a temperature is so far off that it is put right first.
func (w warmthSeen) apart() bool { return math.Abs(w.back()) >= warmthApart }

// warmthNow is the latest temperature that was read; without a read one it has none.
func (f *following) warmthNow() warmthSeen {
	for i := len(f.log) - 1; i >= f.entered; i-- {
		if w := f.warmthOf(i); w.read != nil {
			return w
		}
	}
	return warmthSeen{}
}

// warmthOf judges the temperature of an entry by the plan of the present leg, or, if it is from
// before that, by the two waters.
func (f *following) warmthOf(i int) warmthSeen {
	leg, r, e := f.leg(), f.base.Request, f.log[i]
	w := warmthSeen{place: i, read: e.Temperature, planned: r.From.Temperature}
	if e.Temperature == nil {
		return w
	}
	at := e.hours(r) - leg.At
	if at < -soon || f.entered > 0 || !leg.InContainer() || leg.Plan == nil || len(leg.Plan.Curve) == 0 {
		lo, hi := min(r.From.Temperature.Value, r.To.Temperature.Value), max(r.From.Temperature.Value, r.To.Temperature.Value)
		w.planned = quantity.Exactly(min(hi, max(lo, e.Temperature.Value)))
		if leg.outOfBag() && f.uninhabited(e.Temperature.Value) { // the bag's own temperature is no plan
			w.planned = r.To.Temperature
		}
		return w
	}
	near := leg.Plan.Curve[0]
	for _, p := range leg.Plan.Curve {
		if math.Abs(float64(p.Time.Value)-at) < math.Abs(float64(near.Time.Value)-at) {
			near = p
		}
	}
	w.planned = f.notBack(near.Temperature, e.Temperature.Value)
	return w
}

// notBack is a planned temperature, or the one that was read if that is further from the heat or the
// cold out of which the plan brought the animals, and they live in it. Far from the planned one, it
// is a shock all the same.
func (f *following) notBack(planned quantity.Estimate[quantity.Celsius], read quantity.Celsius) quantity.Estimate[quantity.Celsius] {
	act, _, ok := f.leg().Plan.WarmsFirst()
	if further := act.Code == "cool_their_water" && read < planned.Value || act.Code == "warm_their_water" && read > planned.Value; ok && further && math.Abs(float64(read-planned.Value)) < 2*warmthApart && !f.uninhabited(read) {
		return quantity.Exactly(read)
	}
	return planned
}

// uninhabited reports whether a temperature is outside what the animals live in.
func (f *following) uninhabited(t quantity.Celsius) bool {
	edge, _, _, err := f.base.WayBack(float64(t), float64(f.base.Request.To.Temperature.Value))
	return err == nil && edge != float64(t)
}

// putRight says how the water comes back to its temperature. Too warm, it may be the heater's.
func (f *following) putRight(w warmthSeen) []quantity.Note {
	if w.back() < 0 {
		return []quantity.Note{noteOf("act_unplug_heater"), f.backTo(w)}
	}
	return []quantity.Note{f.backTo(w)}
}

// wrap says what to do about the cold while the power is off: what is cold is warmed by bottles
// (common practice, no source), and what is too warm is left to cool.
func (f *following) wrap() quantity.Note {
	switch w := f.warmthNow(); {
	case w.apart() && w.back() < 0:
		return noteOf("power_no_wrap")
	case w.apart():
		return noteOf("power_wrap_bottles")
	}
	return noteOf("power_wrap")
}

// backTo says to what temperature the water comes back, and how fast.
func (f *following) backTo(w warmthSeen) quantity.Note {
	edge, perHour, _, err := f.base.WayBack(float64(w.read.Value), float64(w.planned.Value))
	if err != nil {
		return noteOf("triage_temperature")
	}
	warmer, then, first := w.back() > 0, quantity.Exactly(quantity.TemperatureRate(perHour)), quantity.Exactly(quantity.TemperatureRate(transfer.RateToEdge))
	switch beyond := math.Abs(edge - float64(w.read.Value)); {
	case beyond >= math.Abs(w.back())-inside: // nowhere on the way do they live
		then = first
	case beyond == 0 || then == first:
	case warmer:
		return noteOf("then_warm_to_edge", celsius(edge), first, w.planned, then)
	default:
		return noteOf("then_cool_to_edge", celsius(edge), first, w.planned, then)
	}
	if warmer {
		return noteOf("then_warm_to", w.planned, then)
	}
	return noteOf("then_cool_to", w.planned, then)
}
