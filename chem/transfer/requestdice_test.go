package transfer

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// requestDice makes requests as keepers have them, and odder ones.
type requestDice struct{ *rand.Rand }

func (d requestDice) between(lo, hi float64) float64 {
	return lo * math.Exp(d.Float64()*math.Log(hi/lo))
}

// request is long because each of its parts is included or not by its own throw.
func (d requestDice) request(t testing.TB) Request {
	t.Helper()
	class := []tolerance.Class{tolerance.Hardy, tolerance.Hardy, tolerance.Hardy, tolerance.Moderate, tolerance.Invertebrate, tolerance.Delicate}[d.IntN(6)]
	from := d.between(1, 34)
	to := from + []float64{-1, 1}[d.IntN(2)]*d.between(1, map[tolerance.Class]float64{tolerance.Hardy: 14, tolerance.Moderate: 7, tolerance.Invertebrate: 3.5, tolerance.Delicate: 2.5}[class])
	warmth := 15 + 12*d.Float64()
	litres := func(v float64) *quantity.Estimate[quantity.Volume] {
		return new(quantity.Exactly(quantity.Volume(v)))
	}
	celsius := func(c float64) quantity.Estimate[quantity.Celsius] { return quantity.Exactly(quantity.Celsius(c)) }
	capacity := d.between(3, 80)
	r := Request{
		From:      Water{Salinity: quantity.Reading{Value: from, Scale: quantity.PracticalScale}, Temperature: celsius(warmth)},
		To:        Water{Salinity: quantity.Reading{Value: min(max(0, to), 38), Scale: quantity.PracticalScale}, Temperature: celsius(warmth)},
		Animals:   []Animal{{Sensitivity: &class, Origin: new(tolerance.Captive)}},
		Container: Container{Capacity: litres(capacity), Aerated: new(true)},
		Line: &Line{DropVolume: litres(d.between(0.03e-3, 0.1e-3)), GreatestDrip: new(quantity.Exactly(quantity.DripRate(d.between(1, 30)))),
			Settings: new(1 + d.IntN(4))},
		Route: new(Drip),
	}
	if d.IntN(2) == 0 {
		r.Container.StartVolume = litres(capacity * d.between(0.15, 0.5))
		r.Container.LeastVolume = litres(float64(r.Container.StartVolume.Value) * d.between(0.4, 1))
	}
	if d.IntN(3) == 0 {
		r.To.Temperature = celsius(warmth + (d.Float64()*2-1)*4)
	}
	if d.IntN(2) == 0 {
		r.Animals[0].Count, r.Animals[0].Mass = new(1+d.IntN(4)), new(quantity.Exactly(quantity.Mass(d.between(0.0002, 0.005))))
		if d.IntN(4) == 0 {
			r.From.TAN = new(quantity.Exactly(quantity.AmmoniaNitrogen(d.between(0.01, 0.3))))
		}
	}
	if d.IntN(4) == 0 {
		r.RoomTemperature = new(celsius(warmth + (d.Float64()*2-1)*3))
	}
	if d.IntN(6) == 0 {
		r.Container.Overflow = new(true)
	} else if d.IntN(3) == 0 {
		r.Start = new(time.Date(2026, 12, 1, 8+d.IntN(12), 0, 0, 0, time.UTC))
		r.Visits = &Visits{Every: new(quantity.Exactly(quantity.Duration(d.between(0.5, 3)))), QuietFrom: new(Clock(22*60 + 30)), QuietUntil: new(Clock(6 * 60))}
	}
	if d.IntN(3) == 0 {
		r.Prefer = new([]Preference{PreferTime, PreferVisits, PreferWater}[d.IntN(3)])
	}
	return r
}
