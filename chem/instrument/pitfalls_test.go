package instrument

import (
	"errors"
	"math"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// The waters of every pitfall: SG 25C/25C 1.005, 1.010, 1.020, and 35 g/kg.
var pitfallWaters = func() (waters [4]quantity.AbsoluteSalinity) {
	for i, sg := range []float64{1.005, 1.010, 1.020} {
		sa, err := AbsoluteSalinity(on(quantity.SpecificGravityScale, sg), nil, Setup{})
		if err != nil {
			panic(err)
		}
		waters[i] = sa
	}
	waters[3] = 35
	return waters
}()

// What a keeper loses who takes an instrument at its word: salinity believed
// less true. The errors were computed with a TEOS-10 library (python3-gsw
// 3.6.16) and the published formulas of refraction, and are given to 0.01 g/kg,
// those marked so to 0.01 of practical salinity.
func TestPitfallsOfInstruments(t *testing.T) {
	sixty := Setup{Kind: new(Hydrometer), Calibration: &quantity.Convention{Sample: sixtyF, Water: sixtyF}}
	usual := Setup{Kind: new(Hydrometer)}
	bare := Setup{Kind: new(Refractometer), TemperatureCompensated: new(false)}
	compensating := Setup{Kind: new(Refractometer)}
	nacl := Setup{Kind: new(Refractometer), Scale: new(SodiumChlorideScale)}
	meter := func(coefficient float64) Setup {
		return Setup{Kind: new(ConductivityMeter), Compensation: &Compensation{Curve: Linear, Coefficient: coefficient, Reference: 25}}
	}
	tds := func(factor float64) Setup { return Setup{Kind: new(TDSMeter), TdsFactor: &factor} }
	for _, c := range []struct {
		name      string
		set       Setup
		t         quantity.Celsius
		practical bool
		want      [4]float64
	}{
		{"60F/60F glass hydrometer at 25 °C", sixty, 25, false, [4]float64{-2.42, -2.56, -2.81, -2.96}},
		{"60F/60F glass hydrometer at 28 °C", sixty, 28, false, [4]float64{-3.42, -3.60, -3.91, -4.10}},
		{"25C/25C glass hydrometer at 20 °C", usual, 20, false, [4]float64{1.46, 1.53, 1.65, 1.72}},
		{"25C/25C glass hydrometer at 28 °C", usual, 28, false, [4]float64{-1.02, -1.06, -1.12, -1.16}},
		{"scale for NaCl", nacl, 20, false, [4]float64{0.23, 0.46, 0.93, 1.23}},
		{"no compensation at 25 °C", bare, 25, true, [4]float64{-2.72, -2.78, -2.92, -3.00}},
		{"no compensation at 30 °C", bare, 30, true, [4]float64{-5.83, -5.93, -6.13, -6.25}},
		{"water compensation at 10 °C", compensating, 10, true, [4]float64{0.22, 0.43, 0.87, 1.14}},
		{"water compensation at 30 °C", compensating, 30, true, [4]float64{-0.10, -0.20, -0.40, -0.52}},
		{"2.0 %/C at 15 °C", meter(0.020), 15, true, [4]float64{0.04, 0.10, 0.28, 0.43}},
		{"2.1 %/C at 15 °C", meter(0.021), 15, true, [4]float64{0.13, 0.29, 0.66, 0.93}},
		{"TDS factor 0.5", tds(0.5), 25, false, [4]float64{-0.85, -2.39, -6.41, -9.39}},
		{"TDS factor 0.64", tds(0.64), 25, false, [4]float64{0.78, 0.70, -0.60, -1.99}},
		{"TDS factor 0.7", tds(0.7), 25, false, [4]float64{1.48, 2.03, 1.89, 1.18}},
	} {
		for i, sa := range pitfallWaters {
			got, err := loss(sa, c.t, c.set)
			if c.practical {
				got *= 35 / 35.16504
			}
			if err != nil || math.Abs(got-c.want[i]) > 0.011 {
				t.Errorf("%s: %.3f too much in %.2f g/kg, %v, want %.2f", c.name, got, sa, err, c.want[i])
			}
		}
	}
}

// loss is what the number on the instrument is believed to be, less what it is;
// on a TDS meter both count per litre.
func loss(sa quantity.AbsoluteSalinity, t quantity.Celsius, set Setup) (float64, error) {
	r, noShow := Show(sa, t, set)
	of, noSensor := set.sensor(r)
	if err := errors.Join(noShow, noSensor); err != nil {
		return 0, err
	}
	if set.kind() == TDSMeter {
		per, err := seawater.SaltPerLitre(sa, 25)
		return r.Value - float64(per), err
	}
	believed, err := of.believed(r.Value)
	return float64(believed - sa), err
}

// What a keeper loses who takes one measure for another, from the same source.
func TestPitfallsOfMeasures(t *testing.T) {
	for _, c := range []struct {
		name  string
		naive func(Conversion) float64
		want  [4]float64
	}{
		{"g/L called ppt", func(c Conversion) float64 { return float64(c.SaltPerLitre.Value) }, [4]float64{0.01, 0.09, 0.45, 0.81}},
		{"ppt called g/kg", func(c Conversion) float64 { return float64(c.PracticalSalinity.Value) }, [4]float64{-0.03, -0.06, -0.13, -0.16}},
		{"SG 25C/25C taken for 60F/60F", func(c Conversion) float64 {
			return taken(c, on(quantity.SpecificGravityScale, 0), "60F/60F")
		}, [4]float64{-0.13, -0.26, -0.49, -0.63}},
		{"SG 25C/25C taken for a density in g/mL", func(c Conversion) float64 {
			return taken(c, on(quantity.DensityScale, 0), "")
		}, [4]float64{3.98, 4.00, 4.02, 4.03}},
	} {
		for i, sa := range pitfallWaters {
			of, err := Convert(ConversionRequest{Reading: on(quantity.AbsoluteScale, float64(sa))})
			if err != nil {
				t.Fatal(err)
			}
			if got := c.naive(of) - float64(sa); math.Abs(got-c.want[i]) > 0.011 {
				t.Errorf("%s: %.3f too much in %.2f g/kg, want %.2f", c.name, got, sa, c.want[i])
			}
		}
	}
}

// taken is the salinity in g/kg if the specific gravity at 25C/25C of c were r's number.
func taken(c Conversion, r quantity.Reading, convention string) float64 {
	for _, g := range c.SpecificGravity {
		if g.Convention.String() == "25C/25C" {
			r.Value = float64(g.Value.Value)
		}
	}
	set := Setup{}
	if convention != "" {
		set.Calibration = glass(convention).Calibration
	} else {
		r.Value *= 1000
	}
	sa, err := AbsoluteSalinity(r, new(quantity.Celsius(25)), set)
	return orNaN(float64(sa), err)
}
