package transfer

import (
	"encoding/json"
	"errors"
	"testing"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// Whatever is asked, there is a plan that keeps its limits and can be written, or an error that
// says why there is none. It is long because it makes a request from bare numbers.
func FuzzNewPlan(f *testing.F) {
	f.Add(0.2, 10.0, 25.0, 25.0, 20.0, 6.0, 6.0, 0.05, 0.01, 100.0, 2.0, 3.282, byte(3), byte(0))
	f.Add(33.0, 30.0, 22.0, 24.0, 18.0, 6.0, 2.0, 0.05, 0.1, 4.0, 0.0, 0.0, byte(4), byte(9))
	f.Add(5.0, 0.0, 0.0, 0.5, 9.0, 8.9, 1.0, 0.084, 2.0, 2.0, 0.3, 0.5, byte(12), byte(20))
	f.Add(3.0, 6.0, 40.0, 38.0, 30.0, 10.0, 0.5, 0.02, 0.1, 0.2, 0.0, 0.0, byte(2), byte(10))
	f.Add(0.55, 35.0, 25.0, 24.0, 20.0, 6.0, 0.6, 0.04, 0.01, 6.0, 17.0, 3.282, byte(3), byte(25)) // heat of mixing against a small difference
	f.Fuzz(func(t *testing.T, from, to, cool, warm, capacity, start, least, drop, leastDrip, mostDrip, perHour, within float64, settings, who byte) {
		classes := tolerance.Classes()
		origins := []tolerance.Origin{tolerance.Captive, tolerance.UnknownOrigin}
		r := Request{
			Animals: []Animal{{Sensitivity: new(classes[int(who)%len(classes)]), Origin: new(origins[int(who)/len(classes)%2])}},
			From:    Water{Salinity: quantity.Reading{Value: from, Scale: quantity.PracticalScale}, Temperature: quantity.Of[quantity.Celsius](cool, 0)},
			To:      Water{Salinity: quantity.Reading{Value: to, Scale: quantity.PracticalScale}, Temperature: quantity.Of[quantity.Celsius](warm, 0)},
			Container: Container{Capacity: new(quantity.Of[quantity.Volume](capacity, 0)), StartVolume: new(quantity.Of[quantity.Volume](start, 0)),
				LeastVolume: new(quantity.Of[quantity.Volume](least, 0)), Aerated: new(true)},
			Line: &Line{DropVolume: new(quantity.Of[quantity.Volume](drop/1000, 0)), LeastDrip: new(quantity.Of[quantity.DripRate](leastDrip, 0)),
				GreatestDrip: new(quantity.Of[quantity.DripRate](mostDrip, 0)), Settings: new(int(settings))},
		}
		if perHour != 0 {
			r.Limits = &Limits{PerHour: new(quantity.Of[quantity.SalinityRate](perHour, 0)), AtOnce: new(quantity.Of[quantity.AbsoluteSalinity](20, 0)),
				Per24Hours: new(quantity.Of[quantity.AbsoluteSalinity](50, 0))}
		}
		if within != 0 {
			r.Tolerance = new(quantity.Of[quantity.AbsoluteSalinity](within, 0))
		}
		p, err := NewPlan(t.Context(), r)
		if err != nil {
			explained(t, err)
			return
		}
		kept(t, p)
		if p.LeastDuration.Value > p.ExactDuration.Value*(1+1e-9) || p.ExactDuration.Value > p.Duration.Value*(1+1e-9) {
			t.Errorf("least %g, exact %g, planned %g h", p.LeastDuration.Value, p.ExactDuration.Value, p.Duration.Value)
		}
		if _, err := json.Marshal(p); err != nil { // which refuses what is not finite
			t.Error(err)
		}
		if p.Route == Drip {
			simulate(t, r, p)
		}
	})
}

// explained checks that an error is one that the planner is meant to return.
func explained(t *testing.T, err error) {
	t.Helper()
	if _, ok := errors.AsType[*InfeasibleError](err); ok {
		return
	}
	if _, ok := errors.AsType[*quantity.RangeError](err); ok {
		return
	}
	if _, ok := errors.AsType[*instrument.MissingError](err); ok {
		return
	}
	t.Errorf("unexplained: %v", err)
}
