package numeric

import (
	"errors"
	"math"
	"testing"
)

// (x−1)(x−2)(x−3) and its roots, by expansion.
func TestHorner(t *testing.T) {
	for _, x := range []float64{1, 2, 3} {
		if got := Horner(x, -6, 11, -6, 1); got != 0 {
			t.Errorf("Horner(%g, -6, 11, -6, 1) = %g, want 0", x, got)
		}
	}
	if got := Horner(5); got != 0 {
		t.Errorf("Horner(5) without coefficients = %g, want 0", got)
	}
}

// 1 + 2x + 3x² + 4x³ by hand at 2: 49, 2 + 12 + 48, 6 + 48.
func TestDerivatives(t *testing.T) {
	if y, dy, ddy := Derivatives(2, 1, 2, 3, 4); y != 49 || dy != 62 || ddy != 54 {
		t.Errorf("Derivatives(2, 1, 2, 3, 4) = %g, %g, %g, want 49, 62, 54", y, dy, ddy)
	}
}

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
