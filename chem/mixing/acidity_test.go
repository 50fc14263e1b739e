package mixing

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"saltlock/chem/internal/published"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// The pH of a blend against a reference library with the same constants. The table uses the
// total scale. The service uses that of hobby kits, which it treats as the free scale. The
// shift between the scales is removed here, so that only the mixing is compared.
func TestAcidityOfBlend(t *testing.T) {
	published.Verify(t, []published.Check{
		{File: "oracle/pyco2sys_blend_pH.csv", What: "pH of a closed blend", Tolerance: 1e-3, Deviation: func(r published.Row) float64 {
			b, err := blended(r)
			if err != nil {
				return math.NaN()
			}
			return float64(b.PH.Value) - free(r.Float("pH_mix_closed_total"), r.Float("S_mix"), r.Float("t_C"))
		}},
		{File: "oracle/pyco2sys_blend_pH.csv", What: "pH of a blend in air", Tolerance: 1e-3, Deviation: func(r published.Row) float64 {
			b, err := blended(r)
			if err != nil {
				return math.NaN()
			}
			return float64(b.PHInAir.Value) - free(r.Float("pH_mix_air_equilibrated_420uatm"), r.Float("S_mix"), r.Float("t_C"))
		}},
	})
}

// blended mixes the two waters of a row by mass.
func blended(r published.Row) (Blend, error) {
	var request BlendRequest
	for n, mass := range []float64{1 - r.Float("mass_fraction_water2"), r.Float("mass_fraction_water2")} {
		i := strconv.Itoa(n + 1)
		rho, err := density(r.Float("S"+i)*quantity.GramsPerPractical, r.Float("t_C"))
		if err != nil {
			return Blend{}, err
		}
		number := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
		text := number(mass*10/rho) + " L, " + r.String("S"+i) + " ppt, " + r.String("t_C") + " C, " +
			number(r.Float("TA"+i+"_umol_per_kg")*rho/1000) + " meq/L, " +
			number(free(r.Float("pH"+i+"_total"), r.Float("S"+i), r.Float("t_C"))) + " pH"
		var p Portion
		if err := p.Bind(text); err != nil {
			return Blend{}, err
		}
		request.Water = append(request.Water, p)
	}
	return BlendWaters(request)
}

// free converts a pH from the total to the free scale, through the carbon that is the same on
// both.
func free(ph, sp, t float64) float64 {
	const alkalinity = 3000
	carbon, err := seawater.InorganicCarbon(quantity.PH(ph), alkalinity, quantity.Salinity(sp), quantity.Celsius(t), seawater.TotalScale)
	if err != nil {
		return math.NaN()
	}
	shifted, err := seawater.PHFromCarbon(alkalinity, carbon, quantity.Salinity(sp), quantity.Celsius(t), seawater.NBSScale)
	if err != nil {
		return math.NaN()
	}
	return float64(shifted)
}

func TestAcidityNeedsAlkalinity(t *testing.T) {
	var a, b Portion
	for text, p := range map[string]*Portion{"10 L, 0.2 ppt, 25 C, 7.2 pH": &a, "10 L, 35 ppt, 25 C, 8 dKH, 8.2 pH": &b} {
		if err := p.Bind(text); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := BlendWaters(BlendRequest{Water: []Portion{a, b}}); err == nil {
		t.Error("a pH without an alkalinity is taken")
	}
	if got := b.String(); !strings.HasPrefix(got, "10 L, 35 ppt, 25 °C, ") || !strings.HasSuffix(got, " meq/L, 8.2 pH") {
		t.Errorf("String = %q", got)
	}
}
