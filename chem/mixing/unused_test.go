package mixing

import (
	"errors"
	"testing"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
)

// What would change nothing is refused, under its own name.
func TestUnused(t *testing.T) {
	cm := quantity.Of[quantity.Length](50, 0)
	litres := quantity.Of[quantity.Volume](100, 0)
	ppt := func(x float64) quantity.Reading {
		return quantity.Reading{Value: x, Scale: quantity.PracticalScale}
	}
	for name, ask := range map[string]func() error{
		"diameter": func() error {
			_, err := NetVolume(VesselRequest{Shape: Box, Length: &cm, Width: &cm, Height: &cm, Diameter: &cm})
			return err
		},
		"sand_porosity": func() error {
			_, err := NetVolume(VesselRequest{Shape: Box, Length: &cm, Width: &cm, Height: &cm, SandPorosity: new(quantity.Of[quantity.Fraction](0.4, 0))})
			return err
		},
		"rock_density": func() error {
			_, err := NetVolume(VesselRequest{Shape: Box, Length: &cm, Width: &cm, Height: &cm, RockDensity: new(quantity.Of[quantity.Density](2700, 0))})
			return err
		},
		"length": func() error { _, err := Salt(SaltRequest{Target: ppt(10), Volume: &litres, Length: &cm}); return err },
		"product_water_content": func() error {
			_, err := Change(WaterChangeRequest{Volume: litres, Salinity: ppt(8), Target: new(ppt(10)), NewWater: new(ppt(35)), ProductWaterContent: new(quantity.Of[quantity.Fraction](0.1, 0))})
			return err
		},
		"period": func() error {
			_, err := TopOffTank(TopOffRequest{Volume: litres, Salinity: ppt(10), Missing: new(quantity.Of[quantity.Volume](1, 0)), Period: new(quantity.Of[quantity.Duration](24, 0))})
			return err
		},
		"target": func() error {
			_, err := BlendWaters(BlendRequest{Water: []Portion{{Volume: &litres, Salinity: ppt(1)}, {Salinity: ppt(35)}},
				Target: &quantity.Reading{Value: 20, Scale: quantity.ConductivityScale}})
			return err
		},
	} {
		if conflict, ok := errors.AsType[*instrument.ConflictError](ask()); !ok || conflict.Name != name {
			t.Errorf("%s is taken in silence", name)
		}
	}
}

// A change of the whole tank reaches the new water itself.
func TestWholeChange(t *testing.T) {
	ppt := quantity.Reading{Value: 20, Scale: quantity.PracticalScale}
	c, err := Change(WaterChangeRequest{Volume: quantity.Of[quantity.Volume](100, 0), Salinity: quantity.Reading{Value: 15, Scale: quantity.PracticalScale}, Target: &ppt, NewWater: &ppt})
	if err != nil || c.TakeOut.Value < 100*(1-1e-9) {
		t.Errorf("takes out %v, %v; want all 100 L", c.TakeOut, err)
	}
}
