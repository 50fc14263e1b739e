package numeric

import (
	"errors"
	"math"
	"testing"
)

func TestRoot(t *testing.T) {
	for _, c := range []struct {
		name         string
		f            func(float64) float64
		lo, hi, want float64
	}{
		{"cos", math.Cos, 0, 3, math.Pi / 2},
		{"falling exponential", func(x float64) float64 { return math.Exp(-x) - 0.5 }, 0, 40, math.Ln2},
		{"cube root, flat", func(x float64) float64 { return x*x*x - 1e-9 }, -1, 1, 1e-3},
		{"step", func(x float64) float64 { return math.Copysign(1, x-0.3) }, 0, 1, 0.3},
		{"at the lower end", func(x float64) float64 { return x }, 0, 1, 0},
		{"at the upper end", func(x float64) float64 { return x - 1 }, 0, 1, 1},
	} {
		got, err := Root(c.f, c.lo, c.hi)
		if err != nil || math.Abs(got-c.want) > 1e-14*(c.hi-c.lo) {
			t.Errorf("Root(%s) = %.17g, %v, want %.17g", c.name, got, err, c.want)
		}
	}
}

func TestRootRefuses(t *testing.T) {
	for name, f := range map[string]func(float64) float64{
		"no change of sign": func(x float64) float64 { return 1 + x*x },
		"none, and tiny":    func(x float64) float64 { return 1e-200 * (1 + x*x) },
		"NaN inside":        func(x float64) float64 { return x * math.Sqrt(x*x-0.5) },
	} {
		if x, err := Root(f, -1, 2); !errors.Is(err, ErrNoConvergence) {
			t.Errorf("Root(%s) = %g, %v, want ErrNoConvergence", name, x, err)
		}
	}
}
