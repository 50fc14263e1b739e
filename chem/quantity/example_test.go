package quantity_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"saltlock/chem/quantity"
)

func ExampleOf() {
	fmt.Println(quantity.Of[quantity.Volume](450, 5))
	// Output: 450 ± 5 L
}

// No uncertainty is not an uncertainty of 0: nothing is said about it.
func ExampleExactly() {
	answer, err := json.Marshal(quantity.Exactly(quantity.Celsius(25)))
	fmt.Println(string(answer), err)
	// Output: {"value":25,"unit":"°C"} <nil>
}

// A keeper's gallons are kept in litres.
func ExampleEstimate_UnmarshalText() {
	var tank quantity.Estimate[quantity.Volume]
	err := tank.UnmarshalText([]byte("120 ± 2 gal"))
	fmt.Printf("%.1f ± %.1f %s %v\n", tank.Value, tank.U, tank.Value.Unit(), err)
	// Output: 454.2 ± 7.6 L <nil>
}

// The error says what was meant, perhaps, and what is allowed.
func ExampleParseError() {
	var tank quantity.Estimate[quantity.Volume]
	fmt.Println(tank.Bind("120 galons"))
	fmt.Println(tank.Bind("25 C"))
	// Output:
	// "120 galons" cannot be read: "galons" is no unit of volume; gal may be meant. Units allowed: L, mL, m³, gal, gal_imp, qt, fl_oz, cup
	// "25 C" cannot be read: C is a unit of temperature, not of volume. Units allowed: L, mL, m³, gal, gal_imp, qt, fl_oz, cup
}

// A hydrometer marked at 60 °F, good to one division in the third decimal.
func ExampleReading() {
	var r quantity.Reading
	err := r.Bind("1.010(1) SG 60F/60F")
	answer, _ := json.Marshal(r)
	fmt.Println(string(answer), err)
	// Output: {"value":1.01,"unit":"SG","uncertainty":0.001,"convention":"60F/60F"} <nil>
}

func ExampleConvention() {
	var c quantity.Convention
	err := c.Bind("60F/60F")
	fmt.Printf("%.2f °C over %.2f °C, %s %v\n", c.Sample, c.Water, c, err)
	// Output: 15.56 °C over 15.56 °C, 60F/60F <nil>
}

func ExampleDecimalComma() {
	fmt.Println(quantity.DecimalComma("1,010 SG"))
	_, err := quantity.DecimalComma("1.000,5 L")
	fmt.Println(err)
	// Output:
	// 1.010 SG <nil>
	// "1.000,5 L" cannot be read: with decimal=comma a point is neither a decimal point nor a separator; write a comma
}

func ExampleFormats() {
	formats := quantity.Formats()
	fmt.Println(slices.Sorted(maps.Keys(formats))[:5])
	fmt.Println(formats["ph"]("8.1"), formats["drip-rate"]("2 drops/s"))
	// Output:
	// [alkalinity ammonia area chlorinity conductivity]
	// <nil> <nil>
}

func ExampleRange() {
	r := quantity.Range[quantity.AbsoluteSalinity]{Lo: 0, Hi: 42}
	fmt.Println(r)
	fmt.Println(r.Check("salinity", 50))
	// Output:
	// 0 to 42 g/kg
	// salinity: 50 g/kg is outside 0 to 42 g/kg
}

// The calibration of an end gauge, as GUM H.1 works it [JCGM100] (from memory):
// 50.000838 mm with u = 32 nm. The components are printed as 25, 9.7, 2.9 and
// 16.6 nm; a first-order rule gives the other two inputs none.
func ExamplePropagate() {
	const mm, nm = 0.1, 1e-7 // in cm
	gauge := func(x []float64) (float64, error) {
		standard, difference, expansion, offset, moreExpansion, warmer := x[0], x[1], x[2], x[3], x[4], x[5]
		return standard + difference - standard*(moreExpansion*offset+expansion*warmer), nil
	}
	l, shares, err := quantity.Propagate[quantity.Length](gauge, 0,
		quantity.Input{Name: "standard", Value: 50.000623 * mm, U: 25 * nm},
		quantity.Input{Name: "difference", Value: 215 * nm, U: 9.7 * nm},
		quantity.Input{Name: "expansion", Value: 11.5e-6, U: 1.2e-6},
		quantity.Input{Name: "offset", Value: -0.1, U: 0.41},
		quantity.Input{Name: "difference of expansion", Value: 0, U: 0.58e-6},
		quantity.Input{Name: "difference of temperature", Value: 0, U: 0.029},
	)
	fmt.Printf("%.6f mm ± %.0f nm %v\n", l.Value/mm, l.U/nm, err)
	for _, s := range shares {
		fmt.Printf("%s %.0f %%\n", s.Input, 100*s.Share)
	}
	// Output:
	// 50.000838 mm ± 32 nm <nil>
	// standard 62 %
	// difference 9 %
	// expansion 0 %
	// offset 0 %
	// difference of expansion 1 %
	// difference of temperature 28 %
}

// With a linear formula the uncertainty is exact: 9/5 of the input's, and the formula's own in quadrature.
func ExamplePropagate1() {
	fahrenheit := func(t quantity.Celsius) (quantity.Celsius, error) { return t*9/5 + 32, nil }
	f, err := quantity.Propagate1(fahrenheit, 0.12, quantity.Of[quantity.Celsius](25, 0.05))
	fmt.Printf("%.0f ± %.2f %v\n", f.Value, f.U, err)
	// Output: 77 ± 0.15 <nil>
}

// Relative uncertainties of a product add in quadrature: 3 % and 4 % make 5 %.
func ExamplePropagate2() {
	mass := func(v quantity.Volume, c quantity.SaltPerLitre) (quantity.Mass, error) {
		return quantity.Mass(float64(v) * float64(c) / 1000), nil
	}
	salt, err := quantity.Propagate2(mass, 0,
		quantity.Of[quantity.Volume](100, 3), quantity.Of[quantity.SaltPerLitre](10, 0.4))
	fmt.Println(salt.Value, "kg", err)
	fmt.Printf("u = %.2f kg\n", salt.U)
	// Output:
	// 1 kg <nil>
	// u = 0.05 kg
}

// Length, width and height, each good to 1 %, make a volume good to √3 %.
func ExamplePropagate3() {
	box := func(l, w, h quantity.Length) (quantity.Volume, error) { return quantity.Volume(l * w * h / 1000), nil }
	v, err := quantity.Propagate3(box, 0,
		quantity.Of[quantity.Length](100, 1), quantity.Of[quantity.Length](50, 0.5), quantity.Of[quantity.Length](40, 0.4))
	fmt.Printf("%.0f ± %.2f L %v\n", v.Value, v.U, err)
	// Output: 200 ± 3.46 L <nil>
}

func ExampleMethods() {
	for _, m := range quantity.Methods() {
		fmt.Println(m.Key, m.Standing)
	}
	// Output:
	// uncertainty-gum standard
	// units definition
}

func ExampleNearest() {
	fmt.Println(quantity.Nearest("temprature", []string{"target", "temperature", "volume"}))
	fmt.Printf("%q\n", quantity.Nearest("colour", []string{"target", "temperature", "volume"}))
	// Output:
	// temperature
	// ""
}

// A sentence is said once.
func ExampleAppendNote() {
	notes := quantity.AppendNote(nil, quantity.Note{Code: "limits_proposed"})
	fmt.Println(len(quantity.AppendNote(notes, quantity.Note{Code: "limits_proposed"})))
	// Output: 1
}

// A column of a table may be a known one with a slip, or another.
func ExampleSlip() {
	fmt.Println(quantity.Slip("temprature", "temperature"), quantity.Slip("state", "scale"))
	// Output: true false
}

// A number that is no specific gravity may be one with a slip.
func ExampleMeantGravity() {
	for _, x := range []float64{1026, 26, 1.26, 0.026, 120} {
		fmt.Println(quantity.MeantGravity(x))
	}
	// Output:
	// 1.026 true
	// 1.026 true
	// 1.026 true
	// 1.026 true
	// 0 false
}
