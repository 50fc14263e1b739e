// Package numeric holds the few numerical methods that the formulas of chem
// share, on plain float64.
package numeric

import (
	"errors"
	"math"
)

// ErrNoConvergence says that no root was found: the interval does not bracket
// one, or the function is not finite inside it.
var ErrNoConvergence = errors.New("no convergence")

const (
	maxSteps = 100
	// resolution is the part of the interval that Root leaves undecided.
	resolution = 1e-15
)

// Root returns the x between lo and hi at which f changes its sign, to the last
// few bits of x or 1e-15 of the interval.
//
// It interpolates by an inverse parabola through the last three points where
// that is known to help and halves the interval otherwise.
//
// Source: the test of when it helps is that of [Chandrupatla1997].
func Root(f func(float64) float64, lo, hi float64) (float64, error) {
	// b and a bracket the root, a being the newest point; c is the one before.
	a, b := hi, lo
	fa, fb := f(a), f(b)
	if !(min(fa, fb) <= 0 && max(fa, fb) >= 0) { // a NaN fails both; a product could vanish
		return 0, ErrNoConvergence
	}
	step := 0.5
	for range maxSteps {
		best := b
		if math.Abs(fa) < math.Abs(fb) {
			best = a
		}
		limit := (4e-16*math.Abs(best) + resolution*(hi-lo)) / math.Abs(b-a)
		if fa == 0 || fb == 0 || limit > 0.5 {
			return best, nil
		}
		x := a + min(max(step, limit), 1-limit)*(b-a)
		fx := f(x)
		if math.IsNaN(fx) {
			return 0, ErrNoConvergence
		}
		c, fc := a, fa
		if (fx > 0) != (fa > 0) {
			c, fc, b, fb = b, fb, a, fa
		}
		a, fa = x, fx
		step = inverseParabola(a, b, c, fa, fb, fc)
	}
	return 0, ErrNoConvergence
}

// inverseParabola returns how far from a to b the root should lie, 0.5 where
// the three points do not promise a good guess.
func inverseParabola(a, b, c, fa, fb, fc float64) float64 {
	xi, phi := (a-b)/(c-b), (fa-fb)/(fc-fb)
	if phi*phi >= xi || (1-phi)*(1-phi) >= 1-xi {
		return 0.5
	}
	return fa/(fb-fa)*fc/(fb-fc) + (c-a)/(b-a)*fa/(fc-fa)*fb/(fc-fb)
}
