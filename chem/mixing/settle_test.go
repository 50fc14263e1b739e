package mixing

import (
	"testing"

	"saltlock/chem/quantity"
)

// A fresh tank is topped off like any other.
func TestTopOffFreshTank(t *testing.T) {
	r := TopOffRequest{Volume: *of[quantity.Volume](t, "100 L"), Salinity: *reading(t, "0 g/kg"), Missing: of[quantity.Volume](t, "5 L"),
		EvaporationPerDay: of[quantity.Volume](t, "1 L")}
	k, err := TopOffTank(r)
	if err != nil || !near(float64(k.FreshWater.Value), 5, 1e-12) || k.SalinityAfter.Absolute.Value != 0 || k.Drift.Value != 0 {
		t.Errorf("TopOffTank(5 L of 100 gone, fresh) = %+v, %v, want 5 L and no salt", k, err)
	}
}

// What is a small part of the tank is a difference of large numbers, and is found all the same.
func TestSmallPartsOfATank(t *testing.T) {
	for _, part := range []float64{1e-5, 1e-4, 1e-3, 1e-2} {
		for i := range 100 {
			volume := quantity.Volume(100 + 3.7*float64(i))
			little := new(quantity.Exactly(quantity.Volume(part) * volume))
			tank := quantity.Reading{Value: 1 + 0.3*float64(i), Scale: quantity.AbsoluteScale}
			k, err := TopOffTank(TopOffRequest{Volume: quantity.Exactly(volume), Salinity: tank, Missing: little})
			if err != nil || !near(float64(k.SalinityAfter.Absolute.Value), tank.Value, 1e-12) {
				t.Errorf("TopOffTank(%g of %v at %v) = %v, %v", part, volume, tank, k.SalinityAfter, err)
			}
			w, err := Change(WaterChangeRequest{Volume: quantity.Exactly(volume), Salinity: tank, Change: little, NewWater: reading(t, "35 ppt")})
			if err != nil || !near(float64(w.PutIn.Value), float64(little.Value), 0.03) {
				t.Errorf("Change(%g of %v at %v) puts in %v, %v", part, volume, tank, w.PutIn, err)
			}
		}
	}
}

// A small tank that loses many times its volume gathers the salt of all the top-off water.
func TestTopOffManyTimesTheTank(t *testing.T) {
	for i := range 200 {
		r := TopOffRequest{Volume: *of[quantity.Volume](t, "20 L"), Salinity: *reading(t, "0.5 g/kg"),
			TopOffWater: &quantity.Reading{Value: 0.3 + 0.002*float64(i), Scale: quantity.AbsoluteScale}, EvaporationPerDay: of[quantity.Volume](t, "2 L"), Period: of[quantity.Duration](t, "1000 d")}
		k, err := TopOffTank(r)
		if err != nil {
			t.Fatal(err)
		}
		end := float64(k.SalinityAtEnd.Absolute.Value)
		before, after := 20*kilogram(t, 0.5, 25), 20*kilogram(t, end, 25)
		if gain, brought := after*end-before*0.5, r.TopOffWater.Value*(after-before+2000*kilogram(t, 0, 25)); !near(gain, brought, 1e-11) {
			t.Errorf("the tank gained %.15g g of salt, the top-off brought %.15g", gain, brought)
		}
	}
}
