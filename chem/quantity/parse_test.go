package quantity

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
)

func TestEstimateText(t *testing.T) {
	for _, c := range []struct {
		text string
		want Estimate[Volume]
	}{
		{"450 L", Of[Volume](450, 0)},
		{"450L", Of[Volume](450, 0)},
		{" 450\u00a0 L ", Of[Volume](450, 0)},
		{"+.5 L", Of[Volume](0.5, 0)},
		{"-1.5 L", Of[Volume](-1.5, 0)},
		{"−1.5 L", Of[Volume](-1.5, 0)}, // U+2212
		{"-0 L", Of[Volume](0, 0)},
		{"4.5e2 L", Of[Volume](450, 0)},
		{"4.5E+2L", Of[Volume](450, 0)},
		{"450000 mL", Of[Volume](450, 0)},
		{"450 ± 2 L", Of[Volume](450, 2)},
		{"450±2L", Of[Volume](450, 2)},
		{"450 +- 2 L", Of[Volume](450, 2)},
		{"450 +/- 2 L", Of[Volume](450, 2)},
		{"450 ± 2e-1 L", Of[Volume](450, 0.2)},
		{"450(2) L", Of[Volume](450, 2)},
		{"450.0(12) L", Of[Volume](450, 1.2)},
		{"4.500(12)e2 L", Of[Volume](450, 1.2)},
		{"450 ± 0 L", Of[Volume](450, 0)},
	} {
		var got Estimate[Volume]
		if err := got.UnmarshalText([]byte(c.text)); err != nil || got != c.want {
			t.Errorf("UnmarshalText(%q) = %#v, %v; want %#v", c.text, got, err, c.want)
		}
		if got.Value == 0 && strings.HasPrefix(got.String(), "-") {
			t.Errorf("UnmarshalText(%q) prints %s", c.text, got)
		}
	}
}

// As phones, price tags and hurried people write units.
func TestUnitsAsWritten(t *testing.T) {
	for _, text := range []string{"25 c", "25 C", "77f", "25 deg C", "25ºC", "25 degrees c", "25 ° C", "298.15 k", "25 Celsius"} {
		var got Estimate[Celsius]
		if err := got.Bind(text); err != nil || !alike(float64(got.Value), 25) {
			t.Errorf("%s is %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"10 Gallons", "10 gallon", "10 GAL", "37.85411784 litres", "37.85411784 Liters", "37854.11784 ml"} {
		var got Estimate[Volume]
		if err := got.Bind(text); err != nil || !alike(float64(got.Value), 37.85411784) {
			t.Errorf("%s is %v, %v", text, got, err)
		}
	}
}

// The mass standard of the GUM, 100.02147(35) g with u = 0.35 mg [JCGM100, 7.2.2], from memory.
func TestConciseNotation(t *testing.T) {
	var got Estimate[Mass]
	if err := got.Bind("100.02147(35) g"); err != nil || !alike(float64(got.Value), 0.10002147) || !alike(float64(got.U), 0.35e-6) {
		t.Errorf("100.02147(35) g is %v, %v; want u = 0.35 mg", got, err)
	}
}

// Each refusal says what is wrong and what is allowed. It is long because it is a table.
func TestEstimateErrors(t *testing.T) {
	const units = ". Units allowed: L, mL, m³, gal, gal_imp, qt, fl_oz, cup"
	for text, want := range map[string]string{
		"":                            `there is no number at the start`,
		"L":                           `there is no number at the start`,
		"NaN L":                       `there is no number at the start`,
		"Inf L":                       `there is no number at the start`,
		"5":                           `the unit is missing; write it behind the number`,
		"0x10 L":                      `"x10 L" is no unit of volume`,
		"1_000 L":                     `"_000 L" is no unit of volume`,
		"5 galons":                    `"galons" is no unit of volume; gal may be meant`,
		"5 ML":                        `"ML" is no unit of volume; mL may be meant`,
		"5 gal_im":                    `"gal_im" is no unit of volume; gal_imp may be meant`,
		"5 barrels":                   `"barrels" is no unit of volume`,
		"25 C":                        `C is a unit of temperature, not of volume`,
		"10 °Bx":                      `°Bx is a unit of salinity, not of volume`,
		"1e999 L":                     `the number is too large or too small`,
		"1e-999 L":                    `the number is too large or too small`,
		"1e101 L":                     `the number is too large or too small`,
		"1 ± 1e99 m3":                 `the number is too large or too small`,
		"1e99999999999999999999(1) L": `the number is too large or too small`,
		"1,5 L":                       `a comma is neither a decimal point nor a separator; write a point, or send decimal=comma`,
		"1 000 L":                     followed("000 L"),
		"1.5.2 L":                     followed(".2 L"),
		"5. L":                        followed(". L"),
		"1 -0.1 L":                    followed("-0.1 L"),
		"1(2)(3) L":                   followed("(3) L"),
		"1(a) L":                      `brackets hold the uncertainty in digits of the last place, as in 1.010(1)`,
		"1() L":                       `brackets hold the uncertainty in digits of the last place, as in 1.010(1)`,
		"1 ± L":                       `after ±: there is no number at the start`,
		"1 ± -2 L":                    `the uncertainty is negative; write the standard uncertainty, without a sign`,
		"1(1) ± 2 L":                  `the uncertainty is given twice`,
		"1 ± 2(1) L":                  `the uncertainty has an uncertainty`,
		"1 \xff":                      `this is no UTF-8 text of at most 64 bytes`,
	} {
		var got Estimate[Volume]
		err := got.Bind(text)
		var parse *ParseError
		if !errors.As(err, &parse) || parse.Reason != want || !strings.HasSuffix(err.Error(), want+units) {
			t.Errorf("Bind(%q) = %v\nwant %s%s", text, err, want, units)
		}
	}
	var got Estimate[Volume]
	var parse *ParseError
	if err := got.Bind(strings.Repeat("9", 62) + " L"); err != nil {
		t.Errorf("64 bytes are refused: %v", err)
	}
	if err := got.Bind(strings.Repeat("9", 1000) + " L"); !errors.As(err, &parse) || len(parse.Given) > 70 {
		t.Errorf("1002 bytes give %v", err)
	}
}

func followed(rest string) string {
	return `"` + rest + `" follows the number; write one number and its unit, an uncertainty as in "1.010(1) SG" (in a URL a plain + is a blank)`
}

// Ammonia counts as nitrogen; what a bare mg/L refers to is anybody's guess.
func TestAmmoniaNeedsItsBasis(t *testing.T) {
	const want = "needs its basis: mg/L N, mg/L NH3 or mg/L NH4, as the test kit says"
	for _, unit := range []string{"mg/L", "mg/l", "ppm"} {
		var got Estimate[AmmoniaNitrogen]
		var parse *ParseError
		if err := got.Bind("0.5 " + unit); !errors.As(err, &parse) || parse.Reason != unit+" "+want {
			t.Errorf("0.5 %s gives %v", unit, err)
		}
	}
}

// Only a pH and a fraction may come without a unit.
func TestBareNumbers(t *testing.T) {
	for name, check := range Formats() {
		err := check("0.15")
		if bare := name == "ph" || name == "fraction"; bare != (err == nil) {
			t.Errorf("%s without a unit: %v", name, err)
		}
	}
}

func TestEstimateJSON(t *testing.T) {
	for _, c := range []struct {
		json string
		want Estimate[Mass]
		ok   bool
	}{
		{`"2(1) lb"`, Of[Mass](2*pound, pound), true},
		{`{"value":2,"unit":"kg","uncertainty":0.1}`, Of[Mass](2, 0.1), true},
		{`{"value":0,"unit":"kg"}`, Of[Mass](0, 0), true},
		{`{"value":500,"unit":"g"}`, Of[Mass](0.5, 0), true},
		{`2`, Estimate[Mass]{}, false},
		{`null`, Estimate[Mass]{}, false},
		{`["2 kg"]`, Estimate[Mass]{}, false},
		{`{"unit":"kg"}`, Estimate[Mass]{}, false},
		{`{"value":2}`, Estimate[Mass]{}, false},
		{`{"value":2,"unit":"L"}`, Estimate[Mass]{}, false},
		{`{"value":2,"unit":"kg","u":1}`, Estimate[Mass]{}, false},
		{`{"value":2,"unit":"kg","uncertainty":-1}`, Estimate[Mass]{}, false},
		{`{"value":"2","unit":"kg"}`, Estimate[Mass]{}, false},
		{`{"value":2,"unit":"kg","convention":"25C/25C"}`, Estimate[Mass]{}, false},
	} {
		var got Estimate[Mass]
		err := json.Unmarshal([]byte(c.json), &got)
		var parse *ParseError
		if got != c.want || c.ok != (err == nil) || !c.ok && !errors.As(err, &parse) {
			t.Errorf("%s is %v, %v; want %v", c.json, got, err, c.want)
		}
	}
}

func TestDecimalComma(t *testing.T) {
	for given, want := range map[string]string{
		"1,010 SG":           "1.010 SG",
		"1,010 ± 0,001 SG":   "1.010 ± 0.001 SG",
		"1 SG 15,56C/15,56C": "1 SG 15.56C/15.56C",
		"450 L":              "450 L",
	} {
		if got, err := DecimalComma(given); err != nil || got != want {
			t.Errorf("DecimalComma(%q) = %q, %v; want %q", given, got, err, want)
		}
	}
	for _, given := range []string{"1.000,5 L", "1.010 SG"} {
		var parse *ParseError
		if got, err := DecimalComma(given); !errors.As(err, &parse) || got != "" {
			t.Errorf("DecimalComma(%q) = %q, %v; want an error", given, got, err)
		}
	}
}

func BenchmarkEstimateText(b *testing.B) {
	text := []byte("120.0(5) gal")
	for b.Loop() {
		var e Estimate[Volume]
		if err := e.UnmarshalText(text); err != nil {
			b.Fatal(err)
		}
	}
}

// The first run is the seeded corpus: a parsed estimate is finite and prints as what it is.
func FuzzEstimate(f *testing.F) {
	for _, s := range []string{"120 gal", "1.0(1)e-3 mL", "−40 °F", "0 K", "15 ± 1 %", "8.1", "0.5 mg/L NH4", "1e100 m³", "1e-100 mL", "5 ± 1e-99"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		fuzzEstimate[Volume](t, s)
		fuzzEstimate[Celsius](t, s)
		fuzzEstimate[Fraction](t, s)
		fuzzEstimate[PH](t, s)
		fuzzEstimate[AmmoniaNitrogen](t, s)
		fuzzEstimate[SalinityRate](t, s)
	})
}

func fuzzEstimate[Q Quantity](t *testing.T, s string) {
	var e, again Estimate[Q]
	if e.Bind(s) != nil {
		return
	}
	if err := finite(float64(e.Value), float64(e.U)); err != nil || e.U < 0 {
		t.Fatalf("%q is %v", s, e)
	}
	if err := again.Bind(e.String()); err != nil || !alike(float64(again.Value), float64(e.Value)) || !alike(float64(again.U), float64(e.U)) {
		t.Fatalf("%q is %v, which is %v, %v", s, e, again, err)
	}
}
