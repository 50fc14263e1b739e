package quantity

import (
	"encoding/json"
	"math"
	"math/rand"
	"testing"
)

// Estimates are written and read without reflection. encoding/json does the same for a
// Measure, and both must agree to the last bit.
func TestEstimatesWithoutReflection(t *testing.T) {
	rng := rand.New(rand.NewSource(4))
	xs := []float64{0, 1, -1, 0.1, 1e-6, 9.99e-7, 1e-9, -2.5e-10, 1e-100, 1e20, 1e21, 1.5e22, 123456.789}
	for range 20_000 {
		xs = append(xs, math.Float64frombits(rng.Uint64()))
	}
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			continue
		}
		for _, u := range []float64{0, 0.1, math.Abs(x)} {
			e := Of[Celsius](x, u)
			got, err := e.MarshalJSON()
			want, errWant := json.Marshal(e.Measure())
			if err != nil || errWant != nil || string(got) != string(want) {
				t.Fatalf("%g ± %g is written %s, %v; by reflection %s", x, u, got, err, want)
			}
			value, doubt, unit, ok := plain(got)
			if !ok || math.Float64bits(value) != math.Float64bits(x) || doubt != u || unit != "°C" {
				t.Fatalf("%s is read as %g ± %g %s, %t", got, value, doubt, unit, ok)
			}
		}
	}
	for _, text := range []string{
		``, `{`, `null`, `"1 L"`, `{"value":1}`, `{"value":1,"unit":"L"`, `{"value":1,"unit":"L"}}`, `{"value":01,"unit":"L"}`, `{"value":1_0,"unit":"L"}`,
		`{"value":Inf,"unit":"L"}`, `{"value":1e999,"unit":"L"}`, `{"value":1,"unit":"\u00b0C"}`, `{"value":1,"unit":"L","uncertainty":}`, `{"value":1,"unit":"L","more":1}`, `{"value":,"unit":"L"}`,
	} {
		if x, u, unit, ok := plain([]byte(text)); ok {
			t.Errorf("%s is read as %g ± %g %s", text, x, u, unit)
		}
	}
}

// A plan that was stored has hundreds of these.
func BenchmarkEstimateJSON(b *testing.B) {
	e, back := Of[Celsius](25.123456789, 0.5), Estimate[Celsius]{}
	b.ReportAllocs()
	for b.Loop() {
		text, err := json.Marshal(e)
		if err == nil {
			err = json.Unmarshal(text, &back)
		}
		if err != nil || back != e {
			b.Fatal(err, back)
		}
	}
}
