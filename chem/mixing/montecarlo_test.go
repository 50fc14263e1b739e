package mixing

import (
	"math"
	"math/rand/v2"
	"testing"

	"saltlock/chem/quantity"
)

// The propagated uncertainty of every kind of mix agrees with that of a hundred
// thousand draws of its inputs: salt for fresh water, for SG 25C/25C 1.005,
// 1.010 and 1.020 and for sea water, and one of each other mix.
func TestUncertaintyAgainstMonteCarlo(t *testing.T) {
	for _, target := range []string{"0.5(1) ppt", "1.005(1) SG", "1.010(1) SG", "1.020(1) SG", "35(1) ppt"} {
		r := salt(t, target, "100(3) L")
		r.Temperature, r.Source, r.ProductWaterContent = of[quantity.Celsius](t, "25 ± 1 C"), reading(t, "0.3 ± 0.05 ppt"), of[quantity.Fraction](t, "8 ± 3 %")
		if target == "0.5(1) ppt" {
			r.Source = reading(t, "0.1 ± 0.02 ppt")
		}
		full := r.WithDefaults()
		e, err := full.estimates()
		against(t, "salt for "+target, e, err, func(k batch) float64 { return k.salt }, func(k batch) float64 { return k.source })
	}

	r := salt(t, "35(1) ppt", "100 L")
	r.CalibrationBatchSalt, r.CalibrationBatchWater = of[quantity.Mass](t, "40(1) g"), of[quantity.Volume](t, "1.00(2) L")
	r.CalibrationBatchReading = reading(t, "33(1) ppt")
	full := r.WithDefaults()
	trial, err := full.estimates()
	against(t, "salt by a trial", trial, err, func(k batch) float64 { return k.salt }, func(k batch) float64 { return k.content })

	b := BlendRequest{Water: waters(t, "10 ± 0.3 L, 1.020(1) SG, 24 ± 1 C", "5 ± 0.2 L, 2 ± 0.2 ppt, 18 ± 2 C")}
	against(t, "blend", b.WithDefaults().estimates(-1), nil,
		func(k blend) float64 { return k.sa }, func(k blend) float64 { return k.t }, func(k blend) float64 { return k.volume })
	b = BlendRequest{Water: waters(t, "10 ± 0.3 L, 30(1) ppt, 24 ± 1 C", "2 ± 0.2 ppt, 18 C"), Target: reading(t, "15 ± 0.3 ppt")}
	against(t, "blend solved", b.WithDefaults().estimates(1), nil, func(k blend) float64 { return k.parts[1].volume })

	w := WaterChangeRequest{Volume: *of[quantity.Volume](t, "200(5) L"), Salinity: *reading(t, "8 ± 0.5 ppt"), Target: reading(t, "14 ± 0.5 ppt"), NewWater: reading(t, "35(1) ppt")}
	exchange, err := w.WithDefaults().estimates()
	against(t, "exchange", exchange, err, func(k change) float64 { return k.steps[0].out })
	w.NewWater, w.Change = nil, of[quantity.Volume](t, "60(2) L")
	weekly, err := w.WithDefaults().estimates()
	against(t, "weekly change", weekly, err, func(k change) float64 { return k.salt })

	o := TopOffRequest{Volume: *of[quantity.Volume](t, "200(5) L"), Salinity: *reading(t, "30 ± 0.3 ppt"), SalinityNow: reading(t, "33 ± 0.3 ppt")}
	against(t, "top-off", o.WithDefaults().estimates(), nil, func(k evaporation) float64 { return k.fresh })

	v := vessel(t, Bucket, "", "", "", "35 ± 0.5 cm", "", "30 ± 0.5 cm", "26 ± 0.5 cm")
	v.SandDepth, v.SandPorosity = of[quantity.Length](t, "4 ± 0.5 cm"), of[quantity.Fraction](t, "40 ± 5 %")
	bucket, err := v.WithDefaults().estimates()
	against(t, "bucket", bucket, err, func(k inside) float64 { return k.net })
}

// against compares numbers of a mix with draws of its inputs, to 3 %.
func against[K any](t *testing.T, name string, e *estimates[K], err error, picks ...func(K) float64) {
	t.Helper()
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	draws := 100_000
	if testing.Short() {
		draws = 20_000
	}
	random := rand.New(rand.NewPCG(3, 4))
	x := make([]float64, len(e.inputs))
	mean, squares := make([]float64, len(picks)), make([]float64, len(picks))
	n, refused := 0., 0
	for range draws {
		for i, in := range e.inputs {
			x[i] = in.Value + in.U*random.NormFloat64()
		}
		k, err := e.of(x)
		if err != nil {
			refused++
			continue
		}
		n++
		for i, pick := range picks {
			d := pick(k) - mean[i]
			mean[i] += d / n
			squares[i] += d * (pick(k) - mean[i])
		}
	}
	for i, pick := range picks {
		drawn := math.Sqrt(squares[i] / (n - 1))
		told := float64(estimate[quantity.Fraction](e, pick).U)
		t.Logf("%-22s number %d: propagated u %.5g, drawn %.5g, ratio %.3f", name, i, told, drawn, told/drawn)
		if math.Abs(told/drawn-1) > 0.03 || refused > draws/500 || e.err != nil {
			t.Errorf("%s, number %d: propagated %.5g, drawn %.5g (%d refused, %v)", name, i, told, drawn, refused, e.err)
		}
	}
}
