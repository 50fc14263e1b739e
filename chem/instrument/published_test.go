package instrument

import (
	"math"
	"strings"
	"testing"

	"saltlock/chem/internal/published"
	"saltlock/chem/quantity"
)

// Every instrument against tables computed with a reference library.
func TestPublished(t *testing.T) {
	published.Verify(t, hydrometerChecks)
}

// Rows of water lighter than pure water have no salinity.
func heavyEnough(r published.Row) bool { return r.Float("SA_g_per_kg") >= 0 }

var hydrometerChecks = []published.Check{{
	File: "oracle/derived_hydrometer.csv", What: "salinity, g/kg", Tolerance: 1e-6, Where: heavyEnough,
	Deviation: func(r published.Row) float64 {
		t := quantity.Celsius(r.Float("t_C"))
		sa, err := AbsoluteSalinity(gravityReading(r.Float("SG_reading")), &t, glass(r.String("convention")))
		return orNaN(float64(sa), err) - r.Float("SA_g_per_kg")
	},
}, {
	File: "oracle/derived_hydrometer.csv", What: "its inverse, SG", Tolerance: 1e-9, Where: heavyEnough,
	Deviation: func(r published.Row) float64 {
		shown, err := Show(quantity.AbsoluteSalinity(r.Float("SA_g_per_kg")), quantity.Celsius(r.Float("t_C")), glass(r.String("convention")))
		return orNaN(shown.Value, err) - r.Float("SG_reading")
	},
}}

func gravityReading(x float64) quantity.Reading {
	return quantity.Reading{Value: x, Scale: quantity.SpecificGravityScale}
}

// glass is a hydrometer marked as the file spells it: "15/4", "60F/60F".
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

// orNaN makes an error a NaN, which no check lets pass.
func orNaN(x float64, err error) float64 {
	if err != nil {
		return math.NaN()
	}
	return x
}
