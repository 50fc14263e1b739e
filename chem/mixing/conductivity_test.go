package mixing

import (
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// A conductivity belongs to the temperature of its water. At 35 °C sea water
// conducts more than any water of practical salinity 42 does at 25 °C.
func TestConductivityAtItsTemperature(t *testing.T) {
	shown := func(sp quantity.Salinity, at quantity.Celsius) *quantity.Reading {
		c, err := seawater.Conductivity(sp, at)
		if err != nil {
			t.Fatal(err)
		}
		return &quantity.Reading{Value: float64(c), Scale: quantity.ConductivityScale}
	}
	at := of[quantity.Celsius](t, "35 C")
	volume := of[quantity.Volume](t, "100 L")
	b, err := Salt(SaltRequest{Target: *shown(36, 35), Volume: volume, Temperature: at})
	if err != nil || !near(float64(b.PracticalSalinity.Value), 36, 1e-9) {
		t.Errorf("Salt to what 36 ppt conducts at 35 °C: %v, %v", b.PracticalSalinity, err)
	}
	w, err := Change(WaterChangeRequest{Volume: *volume, Salinity: *shown(36, 35), NewWater: shown(38, 35), Change: of[quantity.Volume](t, "10 L"), Temperature: at})
	if err != nil || !(w.SalinityAfter.Practical.Value > 36 && w.SalinityAfter.Practical.Value < 38) {
		t.Errorf("Change between 36 and 38 ppt at 35 °C: %v, %v", w.SalinityAfter.Practical, err)
	}
	o, err := TopOffTank(TopOffRequest{Volume: *volume, Salinity: *shown(36, 35), SalinityNow: shown(38, 35), Temperature: at})
	if err != nil || !near(float64(o.SalinityNow.Practical.Value), 38, 1e-9) {
		t.Errorf("TopOffTank from 36 to 38 ppt at 35 °C: %v, %v", o.SalinityNow, err)
	}
	_, err = Salt(SaltRequest{Target: *reading(t, "5 ppt"), Source: shown(10, 15), Volume: volume, Temperature: of[quantity.Celsius](t, "15 C")})
	if reach, ok := err.(*UnreachableError); !ok || !near(float64(reach.Lo), 10*quantity.GramsPerPractical, 1e-9) {
		t.Errorf("Salt below a source of 10 ppt at 15 °C: %v", err)
	}
}
