package seawater

import (
	"errors"
	"math"
	"testing"

	"saltlock/chem/internal/published"
	"saltlock/chem/quantity"
)

const blendPH = "oracle/pyco2sys_blend_pH.csv"

// The carbonate system against a reference library and against constants of the
// guide; the tolerance on pH is 1e-4 where the constants are the same.
var carbonateChecks = []published.Check{
	{File: blendPH, What: "carbon of water 1, relative", Tolerance: 1e-4, Deviation: func(r published.Row) float64 {
		dic, err := InorganicCarbon(quantity.PH(r.Float("pH1_total")), r.Float("TA1_umol_per_kg"), quantity.Salinity(r.Float("S1")), quantity.Celsius(r.Float("t_C")), TotalScale)
		if err != nil {
			return math.NaN()
		}
		return published.Relative(dic, r.Float("DIC1"))
	}},
	{File: blendPH, What: "carbon of water 2, relative", Tolerance: 1e-4, Deviation: func(r published.Row) float64 {
		dic, err := InorganicCarbon(quantity.PH(r.Float("pH2_total")), r.Float("TA2_umol_per_kg"), quantity.Salinity(r.Float("S2")), quantity.Celsius(r.Float("t_C")), TotalScale)
		if err != nil {
			return math.NaN()
		}
		return published.Relative(dic, r.Float("DIC2"))
	}},
	{File: blendPH, What: "pH of the closed blend", Tolerance: 1e-4, Deviation: func(r published.Row) float64 {
		ph, err := PHFromCarbon(r.Float("TA_mix"), r.Float("DIC_mix"), quantity.Salinity(r.Float("S_mix")), quantity.Celsius(r.Float("t_C")), TotalScale)
		return orNaN(ph, err) - r.Float("pH_mix_closed_total")
	}},
	{File: blendPH, What: "pH of the blend in air", Tolerance: 1e-3, Deviation: func(r published.Row) float64 {
		ph, err := PHInAir(r.Float("TA_mix"), quantity.Salinity(r.Float("S_mix")), quantity.Celsius(r.Float("t_C")), TotalScale)
		return orNaN(ph, err) - r.Float("pH_mix_air_equilibrated_420uatm")
	}},
	{File: co2Constants, What: "KB and KW, pK on the total scale", Tolerance: 2e-3, Where: func(r published.Row) bool { return !carbonic(r) }, Deviation: pkOff},
	// The table has the first two by Lueker et al. 2000; those of Millero 2010, which reach to fresh water, lie this near.
	{File: co2Constants, What: "K1 and K2 of another laboratory", Tolerance: 5e-3, Where: carbonic, Deviation: pkOff},
}

const co2Constants = "published/co2_constants_check.csv"

func carbonic(r published.Row) bool {
	return r.String("constant") == "K1" || r.String("constant") == "K2"
}

func pkOff(r published.Row) float64 {
	k := carbonate(35, 298.15)
	pk := map[string]float64{"K1": k.carbonic1, "K2": k.carbonic2, "KB": k.boric, "KW": k.water}[r.String("constant")]
	return -math.Log10(pk*k.scale(TotalScale)) - r.Float("pK")
}

// Forward and back is the identity to 1e-9 over the whole domain, on every scale
// of pH, and a higher pH means less carbon.
func TestCarbonateInverse(t *testing.T) {
	for _, scale := range []PHScale{NBSScale, TotalScale, FreeScale} {
		for _, sp := range grid(carbonateSalinity, 5) {
			for _, temperature := range grid(carbonateTemperature, 4) {
				for _, alkalinity := range []float64{1500, 2500, mostMicromoles} {
					checkCarbonateInverse(t, alkalinity, quantity.Salinity(sp), quantity.Celsius(temperature), scale)
				}
			}
		}
	}
}

func checkCarbonateInverse(t *testing.T, alkalinity float64, sp quantity.Salinity, temperature quantity.Celsius, scale PHScale) {
	t.Helper()
	last := math.Inf(1)
	for _, ph := range grid(carbonatePH, 20) {
		carbon, err := InorganicCarbon(quantity.PH(ph), alkalinity, sp, temperature, scale)
		if ph > 9 && faults(err) == 1 {
			return // no water of so little alkalinity is so alkaline
		}
		if err != nil || !(carbon < last) {
			t.Fatalf("%g µmol/kg, %g ppt, %g °C: pH %g (%s) gives %g of carbon after %g, %v",
				alkalinity, float64(sp), float64(temperature), ph, scale, carbon, last, err)
		}
		last = carbon
		if carbon < 0 || carbon > mostMicromoles {
			continue // PHFromCarbon takes none of these
		}
		back, err := PHFromCarbon(alkalinity, carbon, sp, temperature, scale)
		if !(math.Abs(float64(back)-ph) <= 1e-9) {
			t.Fatalf("%g µmol/kg, %g ppt, %g °C: pH %g (%s) gives %g back, %v",
				alkalinity, float64(sp), float64(temperature), ph, scale, float64(back), err)
		}
	}
}

// The pH of an alkaline sea water without alkalinity cannot be; the one of rain or
// reverse osmosis that a kit finds a little too high can.
func TestCarbonOfWaterWithoutAlkalinity(t *testing.T) {
	var out *quantity.RangeError
	if c, err := InorganicCarbon(8.2, 0, 35, 25, NBSScale); !errors.As(err, &out) || out.Name != "alkalinity" || !(out.Lo > 0) {
		t.Errorf("InorganicCarbon of pH 8.2 without alkalinity = %g, %v, want the least alkalinity", c, err)
	}
	if c, err := InorganicCarbon(7.5, 0, 0, 25, NBSScale); err != nil || !(c < 0 && c > -1) {
		t.Errorf("InorganicCarbon of fresh water of pH 7.5 without alkalinity = %g, %v, want a little under 0", c, err)
	}
}

func TestCarbonateRefuses(t *testing.T) {
	for _, alkalinity := range []float64{math.NaN(), -1, 1e9} {
		if _, err := InorganicCarbon(8, alkalinity, 35, 25, TotalScale); err == nil {
			t.Errorf("alkalinity %g is taken", alkalinity)
		}
		if _, err := PHFromCarbon(alkalinity, 2000, 35, 25, TotalScale); err == nil {
			t.Errorf("alkalinity %g is taken", alkalinity)
		}
		if _, err := PHInAir(alkalinity, 35, 25, TotalScale); err == nil {
			t.Errorf("alkalinity %g is taken in air", alkalinity)
		}
	}
}
