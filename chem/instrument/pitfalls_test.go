package instrument

import (
	"math"
	"testing"
)

// What a keeper loses by each mistake, in the order of Pitfalls. The errors were
// computed with a TEOS-10 library (python3-gsw 3.6.16) and the published
// formulas of refraction, and are given to 0.01.
func TestPitfalls(t *testing.T) {
	want := []struct {
		code   string
		errors [4]float64
	}{
		{"pitfall_gravity_as_density", [4]float64{3.98, 4.00, 4.02, 4.03}},
		{"pitfall_hydrometer", [4]float64{-2.42, -2.56, -2.81, -2.96}},
		{"pitfall_hydrometer", [4]float64{-3.42, -3.60, -3.91, -4.10}},
		{"pitfall_hydrometer", [4]float64{1.46, 1.53, 1.65, 1.72}},
		{"pitfall_hydrometer", [4]float64{-1.02, -1.06, -1.12, -1.16}},
		{"pitfall_other_table", [4]float64{-0.13, -0.26, -0.49, -0.63}},
		{"pitfall_no_compensation", [4]float64{-2.72, -2.78, -2.92, -3.00}},
		{"pitfall_no_compensation", [4]float64{-5.83, -5.93, -6.13, -6.25}},
		{"pitfall_water_compensation", [4]float64{0.22, 0.43, 0.87, 1.14}},
		{"pitfall_water_compensation", [4]float64{-0.10, -0.20, -0.40, -0.52}},
		{"pitfall_nacl_scale", [4]float64{0.23, 0.46, 0.93, 1.23}},
		{"pitfall_coefficient", [4]float64{0.04, 0.10, 0.28, 0.43}},
		{"pitfall_coefficient", [4]float64{0.13, 0.29, 0.66, 0.93}},
		{"pitfall_tds", [4]float64{-0.85, -2.39, -6.41, -9.39}},
		{"pitfall_tds", [4]float64{0.78, 0.70, -0.60, -1.99}},
		{"pitfall_tds", [4]float64{1.48, 2.03, 1.89, 1.18}},
		{"pitfall_per_litre", [4]float64{0.01, 0.09, 0.45, 0.81}},
		{"pitfall_practical", [4]float64{-0.03, -0.06, -0.13, -0.16}},
	}
	got, err := Pitfalls()
	if err != nil || len(got) != len(want) {
		t.Fatalf("%d pitfalls, %v; want %d", len(got), err, len(want))
	}
	for i, p := range got {
		for k, m := range p.Errors {
			if string(p.Mistake.Code) != want[i].code || math.Abs(m.Value-want[i].errors[k]) > 0.011 {
				t.Errorf("%s %v in water %d: %.3f %s, want %s %.2f", p.Mistake.Code, p.Mistake.Params, k, m.Value, m.Unit, want[i].code, want[i].errors[k])
			}
		}
	}
}
