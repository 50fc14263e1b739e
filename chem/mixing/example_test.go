package mixing_test

import (
	"fmt"

	"saltlock/chem/mixing"
	"saltlock/chem/quantity"
)

// Sea water for a tank of 100 L, from a product that holds 15 % of water.
func ExampleSalt() {
	b, err := mixing.Salt(mixing.SaltRequest{
		Target:              quantity.Reading{Value: 35, U: 0.5, Scale: quantity.PracticalScale},
		Volume:              new(quantity.Of[quantity.Volume](100, 2)),
		Temperature:         new(quantity.Exactly[quantity.Celsius](25)),
		ProductWaterContent: new(quantity.Exactly[quantity.Fraction](0.15)),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f ± %.2f kg in %.1f L, uncertain by the %s\n", b.Salt.Value, b.Salt.U, b.SourceWater.Value, b.Dominant.Input)
	// Output: 4.23 ± 0.10 kg in 98.4 L, uncertain by the volume
}

// A target below the source cannot be reached by adding salt.
func ExampleSalt_unreachable() {
	_, err := mixing.Salt(mixing.SaltRequest{
		Target: quantity.Reading{Value: 5, Scale: quantity.AbsoluteScale},
		Source: &quantity.Reading{Value: 8, Scale: quantity.AbsoluteScale},
		Volume: new(quantity.Exactly[quantity.Volume](20)),
	})
	fmt.Println(err)
	// Output: target: 5 g/kg is outside the 8 to 120 g/kg that can be reached: Salt can only be added: use fresher source water, or blend.
}

// Fresh and sea water of unlike temperature. By volume they would make 20 L of
// 17.5 ppt at 22.5 °C.
func ExampleBlendWaters() {
	var fresh, sea mixing.Portion
	if err := fresh.Bind("10 L, 0 ppt, 15 C"); err != nil {
		fmt.Println(err)
	}
	if err := sea.Bind("10 L, 35 ppt, 30 C"); err != nil {
		fmt.Println(err)
	}
	b, err := mixing.BlendWaters(mixing.BlendRequest{Water: []mixing.Portion{fresh, sea}})
	fmt.Printf("%.3f L of %.3f ppt at %.3f °C %v\n", b.Volume.Value, b.PracticalSalinity.Value, b.Temperature.Value, err)
	// Output: 19.988 L of 17.696 ppt at 22.406 °C <nil>
}

// A tank of 200 L is raised from 8 to 14 ppt, by 2 g/kg at most in one change.
func ExampleChange() {
	w, err := mixing.Change(mixing.WaterChangeRequest{
		Volume:         quantity.Exactly[quantity.Volume](200),
		Salinity:       quantity.Reading{Value: 8, Scale: quantity.PracticalScale},
		Target:         &quantity.Reading{Value: 14, Scale: quantity.PracticalScale},
		NewWater:       &quantity.Reading{Value: 35, Scale: quantity.PracticalScale},
		GreatestChange: new(quantity.Exactly[quantity.AbsoluteSalinity](2)),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range w.Steps {
		fmt.Printf("out %.1f L, in %.1f L: %.2f ppt\n", s.TakeOut.Value, s.PutIn.Value, s.PracticalSalinity.Value)
	}
	// Output:
	// out 11.9 L, in 12.0 L: 9.64 ppt
	// out 12.0 L, in 12.0 L: 11.19 ppt
	// out 12.0 L, in 12.0 L: 12.64 ppt
	// out 12.0 L, in 12.0 L: 14.00 ppt
}

// Twelve of 450 L have evaporated.
func ExampleTopOffTank() {
	t, err := mixing.TopOffTank(mixing.TopOffRequest{
		Volume:   quantity.Exactly[quantity.Volume](450),
		Salinity: quantity.Reading{Value: 10, Scale: quantity.PracticalScale},
		Missing:  new(quantity.Exactly[quantity.Volume](12)),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f ppt now; %.1f L of fresh water bring back %.2f ppt\n",
		t.SalinityNow.Practical.Value, t.FreshWater.Value, t.SalinityAfter.Practical.Value)
	// Output: 10.27 ppt now; 12.0 L of fresh water bring back 10.00 ppt
}

// A tank of glass with sand.
func ExampleNetVolume() {
	cm := func(x float64) *quantity.Estimate[quantity.Length] {
		return new(quantity.Exactly(quantity.Length(x)))
	}
	v, err := mixing.NetVolume(mixing.VesselRequest{Shape: mixing.Box,
		Length: cm(102), Width: cm(42), Height: cm(51), Glass: cm(1), FillHeight: cm(45), SandDepth: cm(5)})
	fmt.Printf("%.0f L of water, %.0f L/cm %v\n", v.NetVolume.Value, v.VolumePerLevel.Value, err)
	// Output: 168 L of water, 4 L/cm <nil>
}

func ExampleMethods() {
	fmt.Println(mixing.Methods()[0].Key)
	// Output: salt-balance
}
