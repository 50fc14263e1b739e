package instrument

import (
	"errors"
	"math"
	"strings"
	"testing"

	"saltlock/chem/quantity"
)

// ask makes a request of what a client would write.
func ask(t testing.TB, reading, temperature string) ConversionRequest {
	t.Helper()
	var r ConversionRequest
	if err := r.Reading.Bind(reading); err != nil {
		t.Fatal(err)
	}
	if temperature != "" {
		r.Temperature = new(quantity.Estimate[quantity.Celsius])
		if err := r.Temperature.Bind(temperature); err != nil {
			t.Fatal(err)
		}
	}
	return r
}

func convert(r quantity.Reading, t *quantity.Estimate[quantity.Celsius], set Setup) (Conversion, error) {
	return convertTo(r, t, set, AllMeasures)
}

// Salinities computed with a TEOS-10 library (python3-gsw 3.6.16) for three readings.
func TestConvert(t *testing.T) {
	sixty := glass("60F/60F")
	for _, c := range []struct {
		reading, temperature     string
		set                      Setup
		practical, absolute, tol float64
	}{
		{"1.010 SG 25C/25C", "25 C", Setup{}, 13.29, 13.35, 0.005},
		{"1.010 SG", "25 C", Setup{}, 13.29, 13.35, 0.005},
		{"1.010 SG", "25 C", sixty, 15.626, 15.70, 0.005},
		{"22.105 mS/cm", "25 C", Setup{}, 13.289, 13.352, 0.001},
	} {
		r := ask(t, c.reading, c.temperature)
		r.Instrument, r.Calibration = c.set.Kind, c.set.Calibration
		got, err := Convert(r)
		if err != nil {
			t.Errorf("Convert(%s): %v", c.reading, err)
			continue
		}
		if math.Abs(float64(got.PracticalSalinity.Value)-c.practical) > c.tol || math.Abs(float64(got.AbsoluteSalinity.Value)-c.absolute) > c.tol {
			t.Errorf("Convert(%s) = %v, %v, want %g ppt, %g g/kg", c.reading, got.PracticalSalinity, got.AbsoluteSalinity, c.practical, c.absolute)
		}
	}
}

// A measure out of its range is left out and named; the rest is answered.
func TestConvertLeavesOut(t *testing.T) {
	c, err := Convert(ask(t, "80 g/kg", "20 C"))
	if err != nil {
		t.Fatal(err)
	}
	if c.Conductivity != nil || c.OxygenSaturation != nil || c.Density == nil || c.Osmolality == nil {
		t.Errorf("Convert(80 g/kg) = %+v, want density and osmolality, no conductivity nor oxygen", c)
	}
	missing := map[any]bool{}
	for _, n := range c.Warnings {
		if n.Code == "measure_out_of_range" {
			missing[n.Params[0]] = true
		}
	}
	for _, name := range []string{"conductivity", "conductivity_25", "refractive_index", "freezing_point", "oxygen_saturation"} {
		if !missing[name] {
			t.Errorf("Convert(80 g/kg) does not name %s among what is missing: %v", name, missing)
		}
	}
	if c.Zone != "hyperhaline" {
		t.Errorf("Convert(80 g/kg).Zone = %s, want hyperhaline", c.Zone)
	}
}

// A convention of the request's own is answered beside those in use.
func TestConvertOwnConvention(t *testing.T) {
	c, err := Convert(ask(t, "1.010 SG 68F/39F", "25 C"))
	if err != nil || len(c.SpecificGravity) != len(conventions)+1 {
		t.Fatalf("Convert(1.010 SG 68F/39F) has %d conventions, %v, want %d", len(c.SpecificGravity), err, len(conventions)+1)
	}
	if own := c.SpecificGravity[len(conventions)]; own.Convention.String() != "20C/39F" || math.Abs(float64(own.Value.Value)-1.010) > 1e-12 {
		t.Errorf("Convert(1.010 SG 68F/39F) gives it back as %v", own)
	}
}

func TestConvertNamesEveryFault(t *testing.T) {
	r := ask(t, "1.010 SG 25C/25C", "60 C")
	r.Instrument, r.Calibration = new(Hydrometer), glass("60F/60F").Calibration
	_, err := Convert(r)
	conflict, hasConflict := errors.AsType[*ConflictError](err)
	limit, hasLimit := errors.AsType[*quantity.RangeError](err)
	if !hasConflict || !hasLimit || conflict.Name != "reading" || conflict.Other != "calibration" || limit.Name != "temperature" {
		t.Errorf("Convert of a contradiction in hot water: %v, want both faults", err)
	}
	if !strings.Contains(err.Error(), "25C/25C") || !strings.Contains(err.Error(), "60F/60F") {
		t.Errorf("%v does not name both conventions", err)
	}
}

// What no instrument can show is refused, and each fault named. It is long because it is a
// table.
func TestConvertRefuses(t *testing.T) {
	for _, c := range []struct {
		name, reading, temperature string
		set                        Setup
		where                      string
	}{
		{"no temperature for SG", "1.010 SG", "", Setup{}, "temperature"},
		{"no temperature for mS/cm", "20 mS/cm", "", Setup{}, "temperature"},
		{"too salty", "500 ppt", "25 C", Setup{}, "reading"},
		{"lighter than water", "0.9 SG", "25 C", Setup{Kind: new(Hydrometer)}, "reading"},
		{"hot", "35 g/L", "60 C", Setup{}, "temperature"},
		{"hydrometer in mS/cm", "20 mS/cm", "25 C", Setup{Kind: new(Hydrometer)}, "reading"},
		{"pointer in ppt", "20 ppt", "25 C", Setup{Kind: new(PointerHydrometer)}, "reading"},
		{"refractometer in mS/cm", "20 mS/cm", "25 C", Setup{Kind: new(Refractometer)}, "reading"},
		{"Brix scale in ppt", "20 ppt", "25 C", Setup{Kind: new(Refractometer), Scale: new(SucroseScale)}, "reading"},
		{"NaCl scale in Brix", "20 Bx", "25 C", Setup{Kind: new(Refractometer), Scale: new(SodiumChlorideScale)}, "reading"},
		{"NaCl scale past its end", "200 g/kg", "25 C", Setup{Kind: new(Refractometer), Scale: new(SodiumChlorideScale)}, "reading"},
		{"compensation and a zero of its own", "20 ppt", "25 C", Setup{Kind: new(Refractometer), ZeroTemperature: new(quantity.Exactly[quantity.Celsius](25))}, "zero_temperature"},
		{"zero set in boiling water", "20 ppt", "25 C", zeroed(100, 0), "zero_temperature"},
		{"meter in SG", "1.010 SG", "25 C", Setup{Kind: new(ConductivityMeter)}, "reading"},
		{"TDS meter without its factor", "5 g/L", "25 C", Setup{Kind: new(TDSMeter)}, "tds_factor"},
		{"TDS meter with an odd factor", "5 g/L", "25 C", Setup{Kind: new(TDSMeter), TdsFactor: new(7.0)}, "tds_factor"},
		{"fresh-water curve above its table", "5 mS/cm", "38 C", Setup{Kind: new(ConductivityMeter), Compensation: &Compensation{Curve: NonLinear, Reference: 25}}, "temperature"},
		{"steep coefficient in cold water", "5 mS/cm", "0 C", Setup{Kind: new(ConductivityMeter), Compensation: &Compensation{Curve: Linear, Coefficient: 0.04, Reference: 25}}, "temperature"},
		{"correction on another scale", "1.010 SG", "25 C", Setup{Kind: new(Hydrometer), Correction: &Correction{Scale: quantity.PracticalScale, Value: 1}}, "correction"},
		{"compensation of no meter", "15 mS/cm", "15 C", Setup{Compensation: &usualCompensation}, "compensation"},
		{"factor of no meter", "5 g/L", "25 C", Setup{TdsFactor: new(0.5)}, "tds_factor"},
		{"marks of no refractometer", "20 ppt", "25 C", Setup{Scale: new(SeawaterScale)}, "scale"},
		{"zero of a hydrometer", "1.010 SG", "25 C", Setup{Kind: new(Hydrometer), ZeroTemperature: new(quantity.Exactly[quantity.Celsius](25))}, "zero_temperature"},
		{"compensating hydrometer", "1.010 SG", "25 C", Setup{Kind: new(Hydrometer), TemperatureCompensated: new(true)}, "temperature_compensated"},
		{"calibration of a meter", "15 mS/cm", "25 C", Setup{Kind: new(ConductivityMeter), Calibration: &quantity.Convention{Sample: 25, Water: 25}}, "calibration"},
		{"unknown instrument", "10 ppt", "25 C", Setup{Kind: new(Kind("sextant"))}, "instrument"},
		{"calibration for boiling water", "1.010 SG", "25 C", Setup{Kind: new(Hydrometer), Calibration: &quantity.Convention{Sample: 25, Water: 100}}, "calibration"},
		{"uncertainty beyond sense", "10 ± 1e60 ppt", "25 C", Setup{}, "reading"},
		{"temperature that tells nothing", "20 mS/cm", "25 ± 1e90 C", Setup{}, "temperature"},
		{"zero that tells nothing", "20 ppt", "25 C", zeroed(20, 1e90), "zero_temperature"},
	} {
		r := ask(t, c.reading, c.temperature)
		_, err := convert(r.Reading, r.Temperature, c.set)
		if where := faultOf(err); where != c.where {
			t.Errorf("%s: %v at %q, want a fault at %q", c.name, err, where, c.where)
		}
	}
}

// faultOf returns which input an error blames.
func faultOf(err error) string {
	if limit, ok := errors.AsType[*quantity.RangeError](err); ok {
		return limit.Name
	}
	if missing, ok := errors.AsType[*MissingError](err); ok {
		return missing.Name
	}
	if conflict, ok := errors.AsType[*ConflictError](err); ok {
		return conflict.Name
	}
	return ""
}

// Defaults change nothing but that they can be seen.
func TestWithDefaults(t *testing.T) {
	r := ask(t, "1.010 SG", "25 C")
	r.Instrument = new(Hydrometer)
	full := r.WithDefaults()
	if full.Calibration == nil || full.Calibration.String() != "25C/25C" {
		t.Errorf("WithDefaults of a hydrometer has the calibration %v, want 25C/25C", full.Calibration)
	}
	a, noA := Convert(r)
	b, noB := Convert(full)
	if noA != nil || noB != nil || *a.AbsoluteSalinity != *b.AbsoluteSalinity {
		t.Errorf("with defaults %v, %v, without %v, %v", b.AbsoluteSalinity, noB, a.AbsoluteSalinity, noA)
	}
	if d := ask(t, "10 ppt", "").WithDefaults(); d.Temperature == nil || d.Temperature.Value != 25 || *d.Instrument != None {
		t.Errorf("WithDefaults of 10 ppt = %+v, want 25 °C and no instrument", d)
	}
}

func codes(notes []quantity.Note) string {
	var all []string
	for _, n := range notes {
		all = append(all, string(n.Code))
	}
	return strings.Join(all, " ")
}

// Each instrument says what it assumed, corrected and cannot tell.
func TestRemarks(t *testing.T) {
	for _, c := range []struct {
		reading, temperature               string
		set                                Setup
		corrections, warnings, assumptions string
	}{
		{"1.010 SG", "28 C", Setup{Kind: new(Hydrometer)}, "hydrometer_temperature", "", "convention_assumed half_division_assumed"},
		{"1.010 ± 0.001 SG 25C/25C", "28 C", Setup{Kind: new(Hydrometer)}, "hydrometer_temperature", "", ""},
		{"1.010 SG", "28 C", Setup{Kind: new(PointerHydrometer)}, "", "pointer_needs_calibration", "convention_assumed half_division_assumed"},
		{"20 ppt", "8 C", Setup{Kind: new(Refractometer)}, "refractometer_corrected", "compensation_past_range", "scale_assumed refractometer_compensation_assumed half_division_assumed"},
		{"20 ppt", "25 C", Setup{Kind: new(Refractometer), Scale: new(SeawaterScale), TemperatureCompensated: new(false)}, "refractometer_corrected", "", "zero_temperature_assumed half_division_assumed"},
		{"20 ppt", "25 C", zeroed(25, 1), "refractometer_corrected", "", "scale_assumed half_division_assumed"},
		{"15 mS/cm", "20 C", Setup{Kind: new(ConductivityMeter)}, "compensation_undone", "", "meter_compensation_assumed half_division_assumed"},
		{"21 mS/cm", "20 C", Setup{Kind: new(ConductivityMeter)}, "compensation_undone", "pen_may_be_over_range", "meter_compensation_assumed half_division_assumed"},
		{"0.5 mS/cm", "20 C", Setup{}, "", "conductivity_of_pen measure_past_source sea_salt_equivalent", ""},
		{"0.5 mS/cm", "25 C", Setup{}, "", "measure_past_source sea_salt_equivalent", ""},
		{"1.010 SG", "28 C", Setup{}, "", "gravity_on_glass", "convention_assumed"},
		{"1.010 SG 25C/25C", "28 C", Setup{}, "", "", ""},
		{"6000 ppm", "20 C", Setup{}, "tds_factor_undone", "pen_shows_solids pen_of_factor pen_of_factor", "meter_compensation_assumed half_division_assumed"},
		{"6000 ppm", "20 C", Setup{Kind: new(TDSMeter), TdsFactor: new(0.5)}, "tds_factor_undone", "", "meter_compensation_assumed half_division_assumed"},
		{"6 g/L", "20 C", Setup{Kind: new(TDSMeter), TdsFactor: new(0.5)}, "tds_factor_undone", "", "meter_compensation_assumed half_division_assumed"},
		{"30 ppt", "", Setup{}, "", "", "temperature_assumed"},
		{"30 ppt", "37 C", Setup{}, "", "measure_past_source measure_past_source", ""},
	} {
		r := ask(t, c.reading, c.temperature)
		got, err := convert(r.Reading, r.Temperature, c.set)
		if err != nil {
			t.Errorf("convert(%s): %v", c.reading, err)
			continue
		}
		if codes(got.Corrections) != c.corrections || codes(got.Warnings) != c.warnings || codes(got.Assumptions) != c.assumptions {
			t.Errorf("convert(%s) corrects %q, warns of %q, assumes %q,\nwant %q, %q, %q", c.reading,
				codes(got.Corrections), codes(got.Warnings), codes(got.Assumptions), c.corrections, c.warnings, c.assumptions)
		}
		if n := len(got.Notes()); n != len(got.Corrections)+len(got.Warnings)+len(got.Assumptions) {
			t.Errorf("convert(%s).Notes has %d notes", c.reading, n)
		}
	}
}

// Every method that an answer names is listed, and every one listed here is named by some answer.
func TestMethodsAreListed(t *testing.T) {
	listed := map[string]bool{}
	for _, m := range Methods() {
		listed[m.Key] = false
	}
	for _, set := range instruments() {
		r, err := Show(20, 22, set)
		if err != nil {
			t.Fatal(err)
		}
		c, err := convert(r, new(quantity.Of[quantity.Celsius](22, 0.5)), set)
		if err != nil {
			t.Fatal(err)
		}
		for _, key := range c.Methods {
			if _, ok := listed[key]; ok {
				listed[key] = true
			}
		}
	}
	for key, used := range listed {
		if !used {
			t.Errorf("%s is listed and never named by an answer", key)
		}
	}
}

// instruments are one of each kind and make.
func instruments() map[string]Setup {
	linear := Compensation{Curve: Linear, Coefficient: 0.02, U: 0.001, Reference: 25}
	to20 := Compensation{Curve: Linear, Coefficient: 0.0191, Reference: 20}
	curve := Compensation{Curve: NonLinear, Reference: 25}
	curve20 := Compensation{Curve: NonLinear, Reference: 20}
	none := Compensation{Curve: Uncompensated, Reference: 25}
	return map[string]Setup{
		"none":                           {},
		"hydrometer":                     {Kind: new(Hydrometer)},
		"hydrometer 60F/60F":             glass("60F/60F"),
		"hydrometer 15/4":                glass("15/4"),
		"hydrometer corrected":           {Kind: new(Hydrometer), Correction: &Correction{Scale: quantity.SpecificGravityScale, Value: -0.001, U: 0.0003}},
		"pointer":                        {Kind: new(PointerHydrometer)},
		"pointer corrected":              {Kind: new(PointerHydrometer), Correction: &Correction{Scale: quantity.SpecificGravityScale, Value: 0.002, U: 0.0005}},
		"refractometer":                  {Kind: new(Refractometer)},
		"refractometer uncompensated":    {Kind: new(Refractometer), TemperatureCompensated: new(false)},
		"refractometer zeroed when warm": zeroed(26, 1),
		"refractometer for NaCl":         {Kind: new(Refractometer), Scale: new(SodiumChlorideScale)},
		"refractometer for sucrose":      {Kind: new(Refractometer), Scale: new(SucroseScale)},
		"meter":                          {Kind: new(ConductivityMeter)},
		"meter 2 %/C":                    {Kind: new(ConductivityMeter), Compensation: &linear},
		"meter to 20 °C":                 {Kind: new(ConductivityMeter), Compensation: &to20},
		"meter uncompensated":            {Kind: new(ConductivityMeter), Compensation: &none},
		"meter for fresh water":          {Kind: new(ConductivityMeter), Compensation: &curve},
		"meter for fresh water to 20 °C": {Kind: new(ConductivityMeter), Compensation: &curve20},
		"meter corrected":                {Kind: new(ConductivityMeter), Correction: &Correction{Value: 1.02, U: 0.01}},
		"TDS meter":                      {Kind: new(TDSMeter), TdsFactor: new(0.64)},
	}
}
