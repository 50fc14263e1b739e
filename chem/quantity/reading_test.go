package quantity

import (
	"encoding/json"
	"errors"
	"math"
	"testing"
)

var sixty = &Convention{Sample: Celsius(28 * 5. / 9), Water: Celsius(28 * 5. / 9)}

func TestReadingText(t *testing.T) {
	for _, c := range []struct {
		text string
		want Reading
	}{
		{"1.010 SG", Reading{1.010, 0, SpecificGravityScale, nil}},
		{"1.010(1)SG", Reading{1.010, 0.001, SpecificGravityScale, nil}},
		{"1.010 ± 0.001 SG 60F/60F", Reading{1.010, 0.001, SpecificGravityScale, sixty}},
		{"1.010 SG 60 °F/60 °F", Reading{1.010, 0, SpecificGravityScale, sixty}},
		{"1.010 SG 20C/4C", Reading{1.010, 0, SpecificGravityScale, &Convention{20, 4}}},
		{"35 ppt", Reading{35, 0, PracticalScale, nil}},
		{"35 psu", Reading{35, 0, PracticalScale, nil}},
		{"35 ‰", Reading{35, 0, PracticalScale, nil}},
		{"10 g/kg", Reading{10, 0, AbsoluteScale, nil}},
		{"10 g/L", Reading{10, 0, PerLitreScale, nil}},
		{"500 ± 20 mg/L", Reading{0.5, 0.02, PerLitreScale, nil}},
		{"1.25 g/cm3", Reading{1250, 0, DensityScale, nil}},
		{"21.5 mS/cm", Reading{21.5, 0, ConductivityScale, nil}},
		{"21500 µS/cm", Reading{21.5, 0, ConductivityScale, nil}},
		{"1.3350 nD", Reading{1.3350, 0, RefractiveIndexScale, nil}},
		{"3 Brix", Reading{3, 0, BrixScale, nil}},
		{"19.374 g/kg Cl", Reading{19.374, 0, ChlorinityScale, nil}},
		{"1000 mosm/kg", Reading{1000, 0, OsmolalityScale, nil}},
		{"SG 1.010", Reading{1.010, 0, SpecificGravityScale, nil}},
		{"sg1.010(1)", Reading{1.010, 0.001, SpecificGravityScale, nil}},
		{"1.010 sg 60F/60F", Reading{1.010, 0, SpecificGravityScale, sixty}},
		{"35 PPT", Reading{35, 0, PracticalScale, nil}},
		{"35 parts per thousand", Reading{35, 0, PracticalScale, nil}},
		{"21.5 ms/cm", Reading{21.5, 0, ConductivityScale, nil}},
	} {
		var got Reading
		if err := got.UnmarshalText([]byte(c.text)); err != nil || !sameReading(got, c.want) {
			t.Errorf("UnmarshalText(%q) = %v, %v; want %v", c.text, got, err, c.want)
		}
		checkReadingAgain(t, got)
	}
}

func sameReading(a, b Reading) bool {
	sameConvention := a.Convention == b.Convention || a.Convention != nil && b.Convention != nil && *a.Convention == *b.Convention
	return a.Value == b.Value && a.U == b.U && a.Scale == b.Scale && sameConvention
}

func checkReadingAgain(t *testing.T, r Reading) {
	t.Helper()
	var text, object Reading
	b, err := r.MarshalText()
	if err == nil && len(b) <= maxLength { // a convention of many digits may be longer
		err = text.UnmarshalText(b)
		if err != nil || !sameReading(text, r) {
			t.Errorf("%v by %q is %v, %v", r, b, text, err)
		}
	}
	if b, err = json.Marshal(r); err == nil {
		err = json.Unmarshal(b, &object)
	}
	if err != nil || !sameReading(object, r) {
		t.Errorf("%v by %s is %v, %v", r, b, object, err)
	}
}

func TestReadingErrors(t *testing.T) {
	for text, want := range map[string]string{
		"1.010":              `the unit is missing. Write "1.010 SG" if you mean that`,
		"1010":               `the unit is missing. Write "1.010 SG" if you mean that`,
		"35":                 `the unit is missing. Write "35 ppt" if you mean that`,
		"":                   `there is no number at the start`,
		"1,010 SG":           `a comma is neither a decimal point nor a separator; write a point, or send decimal=comma`,
		"25 C":               `C is a unit of temperature, not of salinity`,
		"35 PPTT":            `"PPTT" is no unit of salinity; ppt may be meant`,
		"53 MS/cm":           `"MS/cm" is no unit of salinity; mS/cm may be meant`,
		"1.010 SGG":          `"SGG" is no unit of salinity; SG may be meant`,
		"1.010 SG60/60F":     `"SG60/60F" is no unit of salinity`,
		"1.010 SG 15/4":      `15 has no letter; write each temperature with its own, as in 15C/4C`,
		"1.010 SG 15C/4":     `4 has no letter; write each temperature with its own, as in 15C/4C`,
		"1.010 SG 15C":       `a convention is the sample's temperature over the pure water's, as in 25C/25C`,
		"1.010 SG 15L/4C":    `L is a unit of volume, not of temperature`,
		"1.010 SG 15(1)C/4C": `the temperatures of a convention are exact`,
		"1 ± -1 ppt":         `the uncertainty is negative; write the standard uncertainty, without a sign`,
	} {
		var got Reading
		var parse *ParseError
		if err := got.Bind(text); !errors.As(err, &parse) || parse.Reason != want {
			t.Errorf("Bind(%q) = %v\nwant %s", text, err, want)
		}
	}
}

func TestReadingJSON(t *testing.T) {
	for text, want := range map[string]Reading{
		`"1.010(1) SG 60F/60F"`: {1.010, 0.001, SpecificGravityScale, sixty},
		`{"value":1.01,"unit":"SG","uncertainty":0.001,"convention":"60F/60F"}`: {1.010, 0.001, SpecificGravityScale, sixty},
		`{"value":21500,"unit":"µS/cm"}`:                                        {21.5, 0, ConductivityScale, nil},
	} {
		var got Reading
		if err := json.Unmarshal([]byte(text), &got); err != nil || !sameReading(got, want) {
			t.Errorf("%s is %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{
		`1.01`, `null`, `{}`, `{"value":1.01}`, `{"value":1.01,"unit":"L"}`, `{"value":10,"unit":"ppt","convention":"60F/60F"}`,
		`{"value":1.01,"unit":"SG","convention":"60/60"}`, `{"value":1.01,"unit":"SG","uncertainty":-1}`,
	} {
		var got Reading
		var parse *ParseError
		if err := json.Unmarshal([]byte(text), &got); !errors.As(err, &parse) {
			t.Errorf("%s is %v, %v; want a *ParseError", text, got, err)
		}
	}
	for _, r := range []Reading{{}, {Value: math.NaN(), Scale: "SG"}, {Value: 1, U: math.Inf(1), Scale: "SG"}} {
		if b, err := json.Marshal(r); err == nil {
			t.Errorf("json.Marshal(%v) = %s, want an error", r, b)
		}
		if b, err := r.MarshalText(); err == nil {
			t.Errorf("%v.MarshalText() = %s, want an error", r, b)
		}
	}
}

func TestConvention(t *testing.T) {
	for _, text := range []string{"25C/25C", "60F/60F", "20C/4C", "15C/15C", "61F/60F", "15.5C/4C", "-1C/100C"} {
		var got Convention
		if err := got.Bind(text); err != nil || got.String() != text {
			t.Errorf("%q is %v, %v", text, got, err)
		}
		var again Convention
		b, err := json.Marshal(got)
		if err == nil {
			err = json.Unmarshal(b, &again)
		}
		if err != nil || again != got {
			t.Errorf("%v by %s is %v, %v", got, b, again, err)
		}
	}
	if b, err := json.Marshal(Convention{Sample: Celsius(math.NaN())}); err == nil {
		t.Errorf("a convention at NaN is written as %s", b)
	}
}

func BenchmarkReadingText(b *testing.B) {
	text := []byte("1.010(1) SG 60F/60F")
	for b.Loop() {
		var r Reading
		if err := r.UnmarshalText(text); err != nil {
			b.Fatal(err)
		}
	}
}

func FuzzReading(f *testing.F) {
	for _, s := range []string{"1.010", "1.010 ± 0.001 SG 60F/60F", "1.010+-0.001 SG 300K/-4F", "35 ‰", "5 °Bx", "1e-99 mg/L", "19 g/kg Cl"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		var r Reading
		if err := r.Bind(s); err != nil {
			if parse := (*ParseError)(nil); !errors.As(err, &parse) || parse.Reason == "" || len(parse.Allowed) == 0 {
				t.Fatalf("%q is refused with %v", s, err)
			}
			return
		}
		if err := r.whole(); err != nil || r.U < 0 {
			t.Fatalf("%q is %v", s, r)
		}
		checkReadingAgain(t, r)
	})
}
