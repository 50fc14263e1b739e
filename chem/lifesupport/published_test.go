package lifesupport

import (
	"math"
	"testing"

	"saltlock/chem/internal/published"
	"saltlock/chem/quantity"
)

// Resting use against the rows computed from the abstract of Clarke & Johnston 1999.
func TestPublished(t *testing.T) {
	published.Verify(t, []published.Check{{
		File: "published/clarke_johnston_1999.csv", What: "resting oxygen use, relative", Tolerance: 1e-3,
		Deviation: func(r published.Row) float64 {
			use, err := OxygenUse(quantity.Mass(r.Float("mass_g")/1000), quantity.Celsius(r.Float("t_C")))
			if err != nil {
				return math.NaN()
			}
			return published.Relative(use, r.Float("mg_O2_per_kg_per_h"))
		},
	}})
}

// The abstract of Clarke & Johnston 1999 says that use at 30 °C is about 6 times that at 0 °C.
func TestPublishedWarmth(t *testing.T) {
	if got := restingUse(30) / restingUse(0); math.Abs(got-6) > 0.5 {
		t.Errorf("use at 30 °C is %.2f times that at 0 °C, want about 6", got)
	}
}

// The abstract of Brett & Zala 1975: 29 g sockeye without food at 15 °C used 170 mg
// of oxygen and gave off 8.2 mg of ammonia nitrogen per kg and hour.
func TestPublishedSockeye(t *testing.T) {
	if got := 170 * nitrogenPerOxygen; math.Abs(got-8.2) > 0.05 {
		t.Errorf("170 mg of oxygen give %.3f mg N, want 8.2", got)
	}
	for name, c := range map[string]struct {
		of   func(quantity.Mass, quantity.Celsius) (float64, error)
		want float64
	}{"OxygenUse": {OxygenUse, 170}, "AmmoniaOutput": {AmmoniaOutput, 8.2}} {
		if got, err := c.of(0.029, 15); err != nil || !(got > c.want/UseSpread && got < c.want*UseSpread) {
			t.Errorf("%s(29 g, 15 °C) = %.1f, %v, want %g within a factor of %d", name, got, err, c.want, UseSpread)
		}
	}
}
