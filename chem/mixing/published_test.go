package mixing

import (
	"math"
	"testing"

	"saltlock/chem/internal/published"
	"saltlock/chem/quantity"
)

// Mixes against conservation computed with a reference library, and the recipe
// behind the hydrated mix against its source.
func TestPublished(t *testing.T) {
	published.Verify(t, append(saltChecks(), blendChecks()...))
	sum := 0.0
	for _, r := range published.Read(t, "published/kester_1967.csv") {
		sum += r.Float("g_per_kg_solution")
	}
	if math.Abs(sum-41.31) > 0.005 {
		t.Errorf("the solids of Kester et al. 1967 weigh %.3f g, want 41.31", sum)
	}
}

func saltChecks() []published.Check {
	check := func(column string, pick func(Batch) float64) published.Check {
		return published.Check{
			File: "oracle/derived_make_up_water.csv", What: column + ", relative", Tolerance: 1e-9,
			Deviation: func(r published.Row) float64 {
				b, err := Salt(SaltRequest{
					Target:      quantity.Reading{Value: r.Float("SP"), Scale: quantity.PracticalScale},
					Volume:      new(quantity.Of[quantity.Volume](r.Float("V_final_L"), 0)),
					Temperature: new(quantity.Of[quantity.Celsius](r.Float("t_C"), 0)),
				})
				return published.Relative(orNaN(pick(b), err), r.Float(column))
			},
		}
	}
	return []published.Check{
		check("SA_g_per_kg", func(b Batch) float64 { return float64(b.AbsoluteSalinity.Value) }),
		check("salt_g", func(b Batch) float64 { return 1000 * float64(b.Salt.Value) }),
		check("water_L", func(b Batch) float64 { return float64(b.SourceWater.Value) }),
		check("g_per_L_final", func(b Batch) float64 { return float64(b.SaltPerLitre.Value) }),
		check("g_per_L_start_water", func(b Batch) float64 { return 1000 * float64(b.Salt.Value) / float64(b.SourceWater.Value) }),
	}
}

func blendChecks() []published.Check {
	check := func(column string, pick func(Blend) float64) published.Check {
		return published.Check{
			File: "oracle/derived_mixing.csv", What: column + ", relative", Tolerance: 1e-7,
			Deviation: func(r published.Row) float64 {
				b, err := BlendWaters(BlendRequest{Water: []Portion{
					portion(r.Float("V1_L"), r.Float("SP1"), r.Float("t1_C")),
					portion(r.Float("V2_L"), r.Float("SP2"), r.Float("t2_C")),
				}})
				return published.Relative(orNaN(pick(b), err), r.Float(column))
			},
		}
	}
	return []published.Check{
		check("mass_kg", func(b Blend) float64 { return float64(b.Mass.Value) }),
		check("SP_mix", func(b Blend) float64 { return float64(b.PracticalSalinity.Value) }),
		check("t_mix_C", func(b Blend) float64 { return float64(b.Temperature.Value) }),
		check("V_mix_L", func(b Blend) float64 { return float64(b.Volume.Value) }),
	}
}

// portion is a water in L, ppt and °C.
func portion(v, sp, t float64) Portion {
	return Portion{
		Volume:      new(quantity.Of[quantity.Volume](v, 0)),
		Salinity:    quantity.Reading{Value: sp, Scale: quantity.PracticalScale},
		Temperature: new(quantity.Of[quantity.Celsius](t, 0)),
	}
}

// orNaN makes an error a NaN, which no check lets pass.
func orNaN(x float64, err error) float64 {
	if err != nil {
		return math.NaN()
	}
	return x
}
