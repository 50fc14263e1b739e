package transfer

import (
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// fromTank has the drip run from a tank, whose temperature nobody can match first.
func fromTank(t testing.TB, r Request) Request {
	r.SourceTank = &SourceTank{Volume: *read[quantity.Volume](t, "450 L")}
	return r
}

// From a jug the new water is brought to the animals' temperature first, and the limits
// of salinity hold in full.
func TestNewWaterMatched(t *testing.T) {
	r := crossing(t, "2 ppt", "7 ppt", animal(tolerance.Moderate))
	alone := plan(t, r)
	r.To = water(t, "7 ppt", "28.5 C")
	p := plan(t, r)
	if p.Duration != alone.Duration || limitOf(t, p, "per_hour").Limit.Value != 1.5 || p.Temperature == nil || !says(p.Temperature.First, "match_new_water") || !says(p.Temperature.Last, "warm_after_move") {
		t.Errorf("takes %g h, %g at one temperature; warns %v", p.Duration.Value, alone.Duration.Value, p.Warnings)
	}
}

// Temperatures less than 1 K apart do not count. From there on, if the water runs from a tank,
// half of both proposed rates applies and the temperature is a limit of its own.
func TestTemperatureAndSalinityTogether(t *testing.T) {
	r := fromTank(t, crossing(t, "2 ppt", "7 ppt", animal(tolerance.Moderate)))
	r.To = water(t, "7 ppt", "25.9 C")
	alone := plan(t, r)
	for _, l := range alone.Limits {
		if l.Name == "temperature_per_hour" {
			t.Error("0.9 K counts as a change of temperature")
		}
	}
	r.To = water(t, "7 ppt", "27 C")
	both := plan(t, r)
	if got := limitOf(t, both, "temperature_per_hour").Limit.Value; got != 0.5 {
		t.Errorf("temperature_per_hour is %g, want half of 1", got)
	}
	if got := limitOf(t, both, "per_hour").Limit.Value; got != 0.75 {
		t.Errorf("per_hour is %g, want half of 1.5", got)
	}
	if !says(both.Assumptions, "temperature_and_salinity_together") || !(both.LeastDuration.Value >= 2*alone.LeastDuration.Value) {
		t.Errorf("least %g h together, %g alone", both.LeastDuration.Value, alone.LeastDuration.Value)
	}
	r.To = water(t, "7 ppt", "28.5 C")
	refused(t, r, "to.temperature", "temperature_over_24_hours")
}

// Where the temperature binds, the drip starts at its limit, and says so.
func TestTemperatureBinds(t *testing.T) {
	r := fromTank(t, crossing(t, "6 ppt", "9 ppt", animal(tolerance.Hardy)))
	r.To = water(t, "9 ppt", "29.5 C")
	r.Tolerance = read[quantity.AbsoluteSalinity](t, "1 g/kg")
	p := plan(t, r)
	l := limitOf(t, p, "temperature_per_hour")
	if !l.Binding || limitOf(t, p, "per_hour").Binding || l.Extreme.Value < 0.9*l.Limit.Value {
		t.Errorf("temperature binding %v, reaching %g of %g", l.Binding, l.Extreme.Value, l.Limit.Value)
	}
}
