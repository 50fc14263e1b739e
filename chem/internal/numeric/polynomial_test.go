package numeric

import "testing"

// 1 + 2x + 3x² + … at 2 by hand: 1 + 4 + 12 + 32 + 80 + 192 + 448 + 1024.
func TestPolynomials(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"Quadratic", Quadratic(2, 1, 2, 3), 17},
		{"Cubic", Cubic(2, 1, 2, 3, 4), 49},
		{"Quartic", Quartic(2, 1, 2, 3, 4, 5), 129},
		{"Quintic", Quintic(2, 1, 2, 3, 4, 5, 6), 321},
		{"Sextic", Sextic(2, 1, 2, 3, 4, 5, 6, 7), 769},
		{"Septic", Septic(2, 1, 2, 3, 4, 5, 6, 7, 8), 1793},
	} {
		if c.got != c.want {
			t.Errorf("%s at 2 = %g, want %g", c.name, c.got, c.want)
		}
	}
}
