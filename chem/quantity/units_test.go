package quantity

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"saltlock/chem/internal/published"
)

// Every factor against GNU units, whose definitions are not ours. The molar
// ratios only agree as far as the atomic weights do.
func TestUnitsOracle(t *testing.T) {
	molar := func(r published.Row) bool {
		return strings.Contains(r.String("have"), "gen") || strings.Contains(r.String("have"), "calcium")
	}
	deviation := func(r published.Row) float64 {
		i := slices.IndexFunc(dimensions, func(d *dimension) bool { return d.format() == r.String("quantity") })
		if i < 0 {
			return math.NaN()
		}
		got, _, err := dimensions[i].parse(r.String("text"))
		if err != nil {
			t.Error(err)
			return math.NaN()
		}
		return published.Relative(got, r.Float("value"))
	}
	published.Verify(t, []published.Check{
		{File: "oracle/gnu_units.csv", What: "units, relative", Tolerance: 1e-14,
			Where: func(r published.Row) bool { return !molar(r) }, Deviation: deviation},
		{File: "oracle/gnu_units.csv", What: "units by molar mass, relative", Tolerance: 2e-5,
			Where: molar, Deviation: deviation},
	})
}

// Factors as NIST SP 811 (2008) prints them, appendix B.8, seven digits; all from memory.
func TestUnitsPublished(t *testing.T) {
	for _, c := range []struct {
		d      *dimension
		text   string
		want   float64
		digits float64 // half the last one printed
	}{
		{&volume, "1 [gal_us]", 3.785412, 5e-7},
		{&volume, "1 [gal_br]", 4.54609, 1e-15}, // exact
		{&volume, "1 qt", 0.9463529, 5e-8},
		{&volume, "1 fl_oz", 0.02957353, 5e-9},
		{&volume, "1 cup", 0.2365882, 5e-8},
		{&mass, "1 [lb_av]", 0.45359237, 1e-15}, // exact
		{&mass, "1 oz", 0.02834952, 5e-9},
		{&length, "1 [in_i]", 2.54, 1e-15},   // exact
		{&length, "1 ft", 30.48, 1e-14},      // exact
		{&temperature, "212 [degF]", 100, 0}, // t/°C = (t/°F − 32)/1.8
		{&temperature, "0 K", -273.15, 0},
		// German degree of hardness, 10 mg CaO a litre: 0.1783 mmol/L in DIN 38409-6, from memory.
		{&alkalinity, "1 dKH", 2 * 0.1783, 1e-4},
		// The Reference-Composition scale: practical salinity 35 is 35.16504 g/kg [Millero2008].
		{&absoluteSalinity, "35 ppt", 35.16504, 0},
	} {
		got, _, err := c.d.parse(c.text)
		if err != nil || math.Abs(got-c.want) > c.digits {
			t.Errorf("%s: parse(%q) = %v, %v; want %v", c.d.name, c.text, got, err, c.want)
		}
	}
}

// Any name of any unit is read, and what was read is written back in that unit.
func TestUnitNames(t *testing.T) {
	for _, d := range append(slices.Clone(dimensions), &readings, &brix) {
		seen := map[string]bool{}
		for _, u := range d.units {
			for _, name := range u.names {
				if seen[name] {
					t.Errorf("%s: %s stands twice", d.name, name)
				}
				seen[name] = true
				if name == "1" { // only objects name it; in a text it would be a second number
					continue
				}
				for _, text := range []string{"0.7(1) " + name, "0.7 ± 0.1" + name, " 0.7+-0.1  " + name + " "} {
					v, uv, err := d.parse(text)
					if back := u.written(v); err != nil || !near(back, 0.7) || !near(uv*u.den/u.num, 0.1) {
						t.Errorf("%s: %q gives %v ± %v, %v; in %s again %v", d.name, text, v, uv, err, name, back)
					}
				}
			}
		}
	}
}

// near allows for the rounding of a temperature in kelvin.
func near(got, want float64) bool { return math.Abs(got-want) <= 1e-13+1e-15*math.Abs(want) }

// An estimate written as text or JSON is read back unchanged.
func TestRoundTrips(t *testing.T) {
	tests := map[string]func(*testing.T){
		"Salinity": roundTrip[Salinity], "AbsoluteSalinity": roundTrip[AbsoluteSalinity],
		"SaltPerLitre": roundTrip[SaltPerLitre], "Chlorinity": roundTrip[Chlorinity],
		"SpecificGravity": roundTrip[SpecificGravity], "Density": roundTrip[Density],
		"Conductivity": roundTrip[Conductivity], "RefractiveIndex": roundTrip[RefractiveIndex],
		"Osmolality": roundTrip[Osmolality], "Celsius": roundTrip[Celsius],
		"TemperatureDifference": roundTrip[TemperatureDifference], "TemperatureRate": roundTrip[TemperatureRate],
		"SalinityRate": roundTrip[SalinityRate], "Volume": roundTrip[Volume], "Mass": roundTrip[Mass],
		"Length": roundTrip[Length], "Area": roundTrip[Area], "VolumePerLength": roundTrip[VolumePerLength],
		"Duration": roundTrip[Duration], "Flow": roundTrip[Flow], "DripRate": roundTrip[DripRate],
		"Alkalinity": roundTrip[Alkalinity], "PH": roundTrip[PH], "AmmoniaNitrogen": roundTrip[AmmoniaNitrogen],
		"NitriteNitrogen": roundTrip[NitriteNitrogen],
		"DissolvedOxygen": roundTrip[DissolvedOxygen], "Fraction": roundTrip[Fraction],
		"SpecificHeat": roundTrip[SpecificHeat], "SpecificEnthalpy": roundTrip[SpecificEnthalpy],
		"Viscosity": roundTrip[Viscosity],
	}
	if len(tests) != len(dimensions) {
		t.Errorf("%d quantities are tested, there are %d", len(tests), len(dimensions))
	}
	for name, test := range tests {
		t.Run(name, test)
	}
}

func roundTrip[Q Quantity](t *testing.T) {
	if d := Q(0).dimension(); !slices.Contains(dimensions, d) {
		t.Fatalf("%s is not among the dimensions", d.name)
	}
	for _, e := range []Estimate[Q]{Of[Q](0, 0), Of[Q](1.01, 0.001), Of[Q](-1.5, 0), Of[Q](1./3, 1e-7), Of[Q](0.004, 0.0001), Of[Q](2e22, 1), Of[Q](3e-9, 0)} {
		var text, object Estimate[Q]
		b, err := json.Marshal(e)
		if err == nil {
			err = json.Unmarshal(b, &object)
		}
		if err != nil || object != e {
			t.Errorf("%v by %s is %v, %v", e, b, object, err)
		}
		b, err = e.MarshalText()
		if err == nil {
			err = text.UnmarshalText(b)
		}
		if err != nil || !alike(float64(text.Value), float64(e.Value)) || !alike(float64(text.U), float64(e.U)) {
			t.Errorf("%v by %q is %v, %v", e, b, text, err)
		}
	}
	for _, e := range []Estimate[Q]{Of[Q](math.NaN(), 0), Of[Q](1, math.Inf(1))} {
		if b, err := json.Marshal(e); err == nil {
			t.Errorf("json.Marshal(%v) = %s, want an error", e, b)
		}
		if b, err := e.MarshalText(); err == nil {
			t.Errorf("%v.MarshalText() = %s, want an error", e, b)
		}
	}
}

// alike is equality except for the last bits, which a change of unit may alter.
func alike(got, want float64) bool { return math.Abs(got-want) <= 1e-15*math.Abs(want) }
