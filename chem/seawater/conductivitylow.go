package seawater

import (
	"math"

	"saltlock/chem/internal/numeric"
)

// Below a practical salinity of 2, PSS-78 is extended as in [Hill1986]. The extension
// subtracts an excess from PSS-78 and is scaled to meet it at 2, as in [TEOS10].

// extended is the practical salinity if PSS-78 gives less than 2.
func (c pssCurve) extended(x float64) float64 {
	return max(0, c.hillScale()*(pss78(c.f, x)-c.excess(x)))
}

// excess is what Hill et al. subtract from PSS-78 in dilute water.
func (c pssCurve) excess(x float64) float64 {
	return pssA0/numeric.Quadratic(400*x*x, 1, 1.5, 1) + pssB0*c.f/numeric.Cubic(10*x, 1, 1, 1, 1)
}

// excessSlope is the derivative of excess.
func (c pssCurve) excessSlope(x float64) float64 {
	y := 400 * x * x
	of, under := numeric.Quadratic(y, 1, 1.5, 1), numeric.Cubic(10*x, 1, 1, 1, 1)
	return -pssA0*(1.5+2*y)*800*x/(of*of) - pssB0*c.f*10*numeric.Quadratic(10*x, 1, 2, 3)/(under*under)
}

// hillScale makes Hill's extension meet PSS-78 at 2. The x of that point is a cubic in f,
// fitted here, to within 3e-10; one Newton step from it reaches the last bit.
func (c pssCurve) hillScale() float64 {
	x := numeric.Cubic(c.f, 0.266450949, 1.17559803e-4, 6.3878e-8, 2.83e-11)
	x -= (pss78(c.f, x) - 2) / c.slope(x)
	return 2 / (2 - c.excess(x))
}

// mostDiluteSteps is how many Newton steps the inverse may take. Four are enough where the
// curve is steep; it takes more where the curve dips below zero.
const mostDiluteSteps = 12

// dilute returns the x of a practical salinity below 2. In dilute water the linear term of
// PSS-78 counts as much as the square, which the excess changes by about 5·x². The starting
// value solves for both.
func (c pssCurve) dilute(sp float64) float64 {
	scale := c.hillScale()
	linear, square := pssA1+c.f*(pssB1+10*pssB0), pssA2+5
	x := (-linear + math.Sqrt(linear*linear+4*square*sp)) / (2 * square)
	for range mostDiluteSteps {
		step := (scale*(pss78(c.f, x)-c.excess(x)) - sp) / (scale * (c.slope(x) - c.excessSlope(x)))
		x -= step
		if math.Abs(step) < 1e-9*x { // the next would be below the last bit
			break
		}
	}
	return x
}
