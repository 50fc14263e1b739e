package instrument_test

import (
	"errors"
	"fmt"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
)

// A hydrometer for 60 °F, read in a water of 25 °C: the number alone would
// have meant 13.1 g/kg. Half a division of the hydrometer is what it is good to.
func ExampleConvert() {
	r := instrument.ConversionRequest{
		Reading:     quantity.Reading{Value: 1.010, Scale: quantity.SpecificGravityScale},
		Temperature: new(quantity.Of[quantity.Celsius](25, 0.5)),
		Instrument:  new(instrument.Hydrometer),
		Calibration: &quantity.Convention{Sample: (60 - 32) * 5 / 9., Water: (60 - 32) * 5 / 9.},
	}
	c, err := instrument.Convert(r)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f ± %.1f g/kg, %s, mostly by the %s\n", c.AbsoluteSalinity.Value, c.AbsoluteSalinity.U, c.Zone, c.Dominant.Input)
	// Output: 15.7 ± 0.7 g/kg, mesohaline_alpha, mostly by the reading
}

// Every fault of a request is named at once.
func ExampleConvert_faults() {
	_, err := instrument.Convert(instrument.ConversionRequest{
		Reading:     quantity.Reading{Value: 20, Scale: quantity.ConductivityScale},
		Temperature: new(quantity.Exactly[quantity.Celsius](60)),
		Instrument:  new(instrument.Hydrometer),
	})
	fmt.Println(err)
	// Output:
	// reading contradicts instrument: a hydrometer shows SG, kg/m3 or ppt, not mS/cm
	// temperature: 60 °C is outside 0 to 40 °C
}

// Sea water of 35 ppt conducts 53.071 mS/cm at 25 °C and 42.914 at 15 °C.
func ExampleAbsoluteSalinity() {
	r := quantity.Reading{Value: 53.071, Scale: quantity.ConductivityScale}
	sa, err := instrument.AbsoluteSalinity(r, new(quantity.Celsius(25)), instrument.Setup{})
	fmt.Printf("%.3f g/kg %v\n", sa, err)
	// Output: 35.165 g/kg <nil>
}

// A target of 1.010 SG, as a common glass hydrometer shows it.
func ExampleOnGlass() {
	sa, marks, err := instrument.OnGlass(quantity.Reading{Value: 1.010, Scale: quantity.SpecificGravityScale}, 25)
	fmt.Printf("%.2f g/kg %v %v\n", sa, marks, err)
	// Output: 15.70 g/kg 60F/60F <nil>
}

// What the same water shows on five instruments at 25 °C.
func ExampleShow() {
	factor := 0.5
	for _, s := range []instrument.Setup{
		{},
		{Kind: new(instrument.Hydrometer)},
		{Kind: new(instrument.Refractometer), TemperatureCompensated: new(false)},
		{Kind: new(instrument.ConductivityMeter)},
		{Kind: new(instrument.TDSMeter), TdsFactor: &factor},
	} {
		r, err := instrument.Show(35.16504, 25, s)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.5g %s\n", r.Value, r.Scale)
	}
	// Output:
	// 35 ppt
	// 1.0264 SG
	// 32 ppt
	// 53.071 mS/cm
	// 26.536 g/L
}

// Half a division of a hydrometer in sea water.
func ExampleDefaultUncertainty() {
	u, err := instrument.DefaultUncertainty(instrument.Setup{Kind: new(instrument.Hydrometer)}, 35.165, 25)
	fmt.Printf("%.2f g/kg %v\n", u, err)
	// Output: 0.66 g/kg <nil>
}

// What the density formula leaves in a specific gravity.
func ExampleFormulaUncertainty() {
	r := quantity.Reading{Value: 1.010, Scale: quantity.SpecificGravityScale}
	u, err := instrument.FormulaUncertainty(r, 25, instrument.Setup{})
	fmt.Printf("%.4f g/kg %v\n", u, err)
	// Output: 0.0055 g/kg <nil>
}

// A conductivity meter that shows 52.0 mS/cm in a bottled standard of 53.0 mS/cm.
func ExampleCalibrate() {
	c, err := instrument.Calibrate(instrument.CalibrationRequest{
		Standard:    quantity.Reading{Value: 53.0, U: 0.3, Scale: quantity.ConductivityScale},
		Reading:     quantity.Reading{Value: 52.0, Scale: quantity.ConductivityScale},
		Temperature: new(quantity.Of[quantity.Celsius](25, 0.5)),
		Instrument:  new(instrument.ConductivityMeter),
	})
	fmt.Printf("times %.3f ± %.3f %v\n", c.Correction.Value, c.Correction.U, err)
	// Output: times 1.019 ± 0.006 <nil>
}

// A target that is only named.
func ExampleSalinityOf() {
	sa, err := instrument.SalinityOf("target", quantity.Reading{Value: 1.010, Scale: quantity.SpecificGravityScale})
	fmt.Printf("%.2f g/kg %v\n", sa.Value, err)
	_, err = instrument.SalinityOf("target", quantity.Reading{Value: 500, Scale: quantity.PracticalScale})
	fmt.Println(err)
	// Output:
	// 13.35 g/kg <nil>
	// target: 500 ppt is outside 0 to 119 ppt
}

// A fault of one of several readings carries that reading's own name.
func ExampleNamed() {
	_, err := instrument.AbsoluteSalinity(quantity.Reading{Value: 200, Scale: quantity.AbsoluteScale}, nil, instrument.Setup{})
	named, _ := errors.AsType[*quantity.RangeError](instrument.Named("source", err))
	fmt.Println(named.Name)
	// Output: source
}

func ExampleMethods() {
	for _, m := range instrument.Methods()[:2] {
		fmt.Println(m.Key, m.Standing)
	}
	// Output:
	// hydrometer-glass definition
	// hydrometer-pointer common_practice
}

// A 60F/60F hydrometer read at 25 °C in water of 1.010 SG: 2.56 g/kg too little, computed with a TEOS-10 library.
func ExamplePitfalls() {
	all, err := instrument.Pitfalls()
	fmt.Printf("%s %.2f %v\n", all[1].Mistake.Code, all[1].Errors[1].Value, err)
	// Output: pitfall_hydrometer -2.56 <nil>
}

// 1.010 SG 25C/25C is 13.35 g/kg, computed with a TEOS-10 library.
func ExamplePitfallWaters() {
	waters, err := instrument.PitfallWaters()
	fmt.Printf("%.2f %v\n", waters[1], err)
	// Output: 13.35 <nil>
}

// Conductivity belongs to a temperature, practical salinity does not.
func ExampleNeedsTemperature() {
	fmt.Println(instrument.NeedsTemperature(quantity.Reading{Value: 20, Scale: quantity.ConductivityScale}),
		instrument.NeedsTemperature(quantity.Reading{Value: 10, Scale: quantity.PracticalScale}))
	// Output: true false
}

// One measure for a spreadsheet's cell.
func ExampleConvertTo() {
	density, _ := instrument.MeasureNamed("density")
	c, err := instrument.ConvertTo(instrument.ConversionRequest{
		Reading:     quantity.Reading{Value: 35, Scale: quantity.PracticalScale},
		Temperature: new(quantity.Exactly(quantity.Celsius(25))),
	}, density)
	fmt.Printf("%.2f %v %v\n", c.Density.Value, c.Osmolality, err)
	// Output: 1023.34 <nil> <nil>
}

func ExampleGravityOn() {
	_, used := instrument.GravityOn(quantity.Convention{Sample: 25, Water: 25})
	_, odd := instrument.GravityOn(quantity.Convention{Sample: 10, Water: 10})
	fmt.Println(used, odd)
	// Output: true false
}

func ExampleMeasureNamed() {
	_, density := instrument.MeasureNamed("density")
	_, colour := instrument.MeasureNamed("colour")
	fmt.Println(density, colour)
	// Output: true false
}
