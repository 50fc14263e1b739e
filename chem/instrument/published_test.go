package instrument

import (
	"math"
	"slices"
	"strings"
	"testing"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/internal/published"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// Every instrument against printed tables and tables computed with a reference library.
func TestPublished(t *testing.T) {
	published.Verify(t, slices.Concat(hydrometerChecks, meterChecks, refractometerChecks))
}

// Rows of water lighter than pure water have no salinity.
func heavyEnough(r published.Row) bool { return r.Float("SA_g_per_kg") >= 0 }

var hydrometerChecks = []published.Check{{
	File: "oracle/derived_hydrometer.csv", What: "salinity, g/kg", Tolerance: 1e-6, Where: heavyEnough,
	Deviation: func(r published.Row) float64 {
		t := quantity.Celsius(r.Float("t_C"))
		sa, err := AbsoluteSalinity(on(quantity.SpecificGravityScale, r.Float("SG_reading")), &t, glass(r.String("convention")))
		return orNaN(float64(sa), err) - r.Float("SA_g_per_kg")
	},
}, {
	File: "oracle/derived_hydrometer.csv", What: "its inverse, SG", Tolerance: 1e-9, Where: heavyEnough,
	Deviation: func(r published.Row) float64 {
		shown, err := Show(quantity.AbsoluteSalinity(r.Float("SA_g_per_kg")), quantity.Celsius(r.Float("t_C")), glass(r.String("convention")))
		return orNaN(shown.Value, err) - r.Float("SG_reading")
	},
}}

var meterChecks = []published.Check{{
	File: "oracle/derived_ec25_linear_meter.csv", What: "practical salinity, relative", Tolerance: 1e-8,
	Deviation: func(r published.Row) float64 {
		t := quantity.Celsius(r.Float("t_C"))
		sa, err := AbsoluteSalinity(on(quantity.ConductivityScale, r.Float("EC25_display_mS_per_cm")), &t, linear(r))
		return published.Relative(orNaN(float64(sa), err)*35/35.16504, r.Float("SP_true"))
	},
}, {
	File: "oracle/derived_ec25_linear_meter.csv", What: "its inverse, relative", Tolerance: 1e-8,
	Deviation: func(r published.Row) float64 {
		sa, noSalinity := seawater.AbsoluteSalinity(quantity.Salinity(r.Float("SP_true")))
		shown, err := Show(sa, quantity.Celsius(r.Float("t_C")), linear(r))
		return published.Relative(orNaN(orNaN(shown.Value, err), noSalinity), r.Float("EC25_display_mS_per_cm"))
	},
}, {
	File: "oracle/derived_ec25_linear_meter.csv", What: "salinity believed, relative", Tolerance: 1e-8,
	Deviation: func(r published.Row) float64 {
		s, err := linear(r).sensor(on(quantity.ConductivityScale, 0))
		if err != nil {
			return math.NaN()
		}
		sa, err := s.believed(r.Float("EC25_display_mS_per_cm"))
		return published.Relative(orNaN(float64(sa), err)*35/35.16504, r.Float("SP_if_display_trusted"))
	},
}, {
	File: "published/iso7888_f25.csv", What: "f25", Tolerance: 1e-15,
	Deviation: func(r published.Row) float64 { return nonLinear(r.Float("t_C")) - r.Float("f25") },
}}

// The table prints density with four decimals, half a digit of which is 0.05 kg/m³;
// the fit strays by half as much again.
var refractometerChecks = []published.Check{{
	File: "published/crc_nacl_20C.csv", What: "density, kg/m³", Tolerance: 0.08,
	Where: func(r published.Row) bool { return r.Float("mass_pct") <= 10 },
	Deviation: func(r published.Row) float64 {
		return numeric.Quadratic(r.Float("mass_pct"), saltWater0, saltWater1, saltWater2) - 1000*r.Float("density")
	},
}, {
	// The printed index, set back to a mark, against the printed mass fraction: half
	// a digit of the index is 0.03 % of mass.
	File: "published/crc_nacl_20C.csv", What: "mark for NaCl, g/kg", Tolerance: 0.3,
	Where: func(r published.Row) bool { return r.Float("mass_pct") <= 9 },
	Deviation: func(r published.Row) float64 {
		m, err := marksOf(SodiumChlorideScale, quantity.AbsoluteScale, quantity.Convention{})
		if err != nil {
			return math.NaN()
		}
		x, err := m.mark(r.Float("n_D20"))
		return orNaN(x, err) - 10*r.Float("mass_pct")
	},
}, {
	File: "published/crc_sucrose_20C.csv", What: "mark in °Bx", Tolerance: 0.04,
	Where: func(r published.Row) bool { return r.Float("mass_pct") < 26 },
	Deviation: func(r published.Row) float64 {
		m, err := marksOf(SucroseScale, quantity.BrixScale, quantity.Convention{})
		if err != nil {
			return math.NaN()
		}
		x, err := m.mark(r.Float("n_D20"))
		return orNaN(x, err) - r.Float("mass_pct")
	},
}}

func on(scale quantity.Scale, x float64) quantity.Reading {
	return quantity.Reading{Value: x, Scale: scale}
}

// glass is a hydrometer for a convention as the table spells it: 60F/60F, 15/4.
func glass(convention string) Setup {
	if !strings.Contains(convention, "F") {
		convention = strings.ReplaceAll(convention, "/", "C/") + "C"
	}
	var c quantity.Convention
	if err := c.Bind(convention); err != nil {
		panic(err)
	}
	return Setup{Kind: new(Hydrometer), Calibration: &c}
}

func linear(r published.Row) Setup {
	return Setup{Kind: new(ConductivityMeter),
		Compensation: &Compensation{Curve: Linear, Coefficient: r.Float("alpha_pct_per_C") / 100, Reference: 25}}
}

// orNaN makes an error a NaN, which no check lets pass.
func orNaN(x float64, err error) float64 {
	if err != nil {
		return math.NaN()
	}
	return x
}
