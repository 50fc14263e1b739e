package seawater

import (
	"math"
	"testing"

	"saltlock/chem/internal/published"
	"saltlock/chem/quantity"
)

// The carbonate system against a reference library and against constants of the
// guide; the tolerance on pH is 1e-4 where the constants are the same.
func TestPublishedCarbonate(t *testing.T) { published.Verify(t, carbonateChecks) }

const blendPH = "oracle/pyco2sys_blend_pH.csv"

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

// Forward and back is the identity, fresh to sea, on both scales of pH.
func TestCarbonateInverse(t *testing.T) {
	for _, scale := range []PHScale{NBSScale, TotalScale} {
		for _, sp := range []quantity.Salinity{0, 0.2, 5, 20, 35, 50} {
			for ph := quantity.PH(6); ph <= 9; ph += 0.25 {
				carbon, err := InorganicCarbon(ph, 2500, sp, 25, scale)
				if err != nil {
					t.Fatal(err)
				}
				back, err := PHFromCarbon(2500, carbon, sp, 25, scale)
				if err != nil || math.Abs(float64(back-ph)) > 1e-9 {
					t.Errorf("%s, %g ppt: pH %g gives %g back, %v", scale, float64(sp), float64(ph), float64(back), err)
				}
			}
		}
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
