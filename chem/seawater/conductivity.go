package seawater

import (
	"errors"
	"math"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// Keys in Methods: PSS-78 itself, and its extension below a practical salinity of 2.
const (
	ConductivityMethod    = "conductivity-pss78"
	LowConductivityMethod = "conductivity-hill1986"
)

// The standard uncertainty of PSS-78 as a fit to its data (from memory): as a
// salinity, and as a conductivity at 25 °C.
const (
	SalinityFromConductivityFit quantity.Salinity     = 3e-3
	ConductivityFit             quantity.Conductivity = 4e-3
)

// The source gives PSS-78 for practical salinities of 2 to 42 up to 35 °C. It is used up
// to 40 °C, as in the TEOS-10 toolbox, and below 2 with Hill's extension.
var (
	conductivitySalinity    = quantity.Range[quantity.Salinity]{Lo: 0, Hi: 42}
	conductivityTemperature = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}
	pss78Salinity           = quantity.Range[quantity.Salinity]{Lo: 2, Hi: 42}
	pss78Temperature        = quantity.Range[quantity.Celsius]{Lo: -2, Hi: 35}
)

// Conductivity returns the electrical conductivity of sea water at its own temperature.
//
//	sp  practical salinity, 0 to 42; below 2 by the extension of Hill et al.
//	t   temperature, ITS-90, 0 to 40 °C; above 35 °C past the source's range
//
// Standard uncertainty: 0.004 mS/cm (ConductivityFit), from memory.
// Check value: sp = 35, t68 = 15 °C gives 42.914 mS/cm.
//
// Source: PSS-78 [UNESCO44] with [Hill1986], scaled to meet at 2 as in [TEOS10].
func Conductivity(sp quantity.Salinity, t quantity.Celsius) (quantity.Conductivity, error) {
	if !conductivitySalinity.Contains(sp) || !conductivityTemperature.Contains(t) {
		return 0, errors.Join(
			conductivitySalinity.Check("salinity", sp),
			conductivityTemperature.Check("temperature", t),
		)
	}
	return quantity.Conductivity(conductivity(float64(sp), t.T68())), nil
}

// SalinityFromConductivity returns the practical salinity of a water of known conductivity.
//
//	c  conductivity at t, from 0 to that of a practical salinity of 42
//	t  temperature, ITS-90, 0 to 40 °C; above 35 °C past the source's range
//
// Standard uncertainty: 0.003 (SalinityFromConductivityFit), from memory, for sea salt. Tap
// water of the same conductivity may contain half as much again (from memory). Hill's curve
// dips below zero, by less than 0.0003, below 0.0008 mS/cm at 0 °C and 0.0025 mS/cm at
// 40 °C. The function returns 0 there.
// Check value: c = 42.914 mS/cm, t68 = 15 °C gives 35.
//
// Source: PSS-78 [UNESCO44] with [Hill1986], scaled to meet at 2 as in [TEOS10].
func SalinityFromConductivity(c quantity.Conductivity, t quantity.Celsius) (quantity.Salinity, error) {
	if !conductivityTemperature.Contains(t) {
		return 0, conductivityTemperature.Check("temperature", t)
	}
	curve := curveAt(t.T68())
	if sp := quantity.Salinity(pss78(curve.f, curve.root(float64(c)))); pss78Salinity.Contains(sp) {
		return sp, nil
	}
	if sp := quantity.Salinity(curve.salinity(float64(c))); conductivitySalinity.Contains(sp) {
		return sp, nil
	}
	return atEnd("conductivity", c, curve.conductivity, conductivitySalinity)
}

// standardConductivity is C(35, 15 °C, 0) of Culkin & Smith 1980, mS/cm.
const standardConductivity = 42.9140

// conductivity is Conductivity without the range check, in t68.
func conductivity(sp, t68 float64) float64 {
	curve := curveAt(t68)
	return curve.conductivity(sp)
}

// salinityFromConductivity is SalinityFromConductivity without the range check, in t68.
func salinityFromConductivity(c, t68 float64) float64 {
	curve := curveAt(t68)
	return curve.salinity(c)
}

// Coefficients of PSS-78 as in UNESCO 44, in powers of sqrt(Rt).
const (
	pssA0, pssA1, pssA2, pssA3, pssA4, pssA5 = 0.0080, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081
	pssB0, pssB1, pssB2, pssB3, pssB4, pssB5 = 0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144
	pssK                                     = 0.0162
)

// pssCurve is PSS-78 at one temperature, as a function of x = sqrt(Rt).
type pssCurve struct {
	f        float64 // (t−15)/(1+k(t−15))
	standard float64 // conductivity of a practical salinity of 35, mS/cm
}

func curveAt(t68 float64) pssCurve {
	return pssCurve{
		f:        (t68 - 15) / (1 + pssK*(t68-15)),
		standard: standardConductivity * numeric.Quartic(t68, 0.6766097, 2.00564e-2, 1.104259e-4, -6.9698e-7, 1.0031e-9),
	}
}

// salinity is the practical salinity of a conductivity; NaN if that is negative.
func (c pssCurve) salinity(conductivity float64) float64 {
	x := c.root(conductivity)
	sp := pss78(c.f, x)
	if sp < 2 {
		return c.extended(x)
	}
	return sp
}

func (c pssCurve) root(conductivity float64) float64 { return math.Sqrt(conductivity / c.standard) }

// conductivity is the inverse of salinity.
//
// It starts from a fit to PSS-78 made here, within 5e-5 of x from 2 to 42 and 0 to 40 °C.
// Two Newton steps reach the last bit.
func (c pssCurve) conductivity(sp float64) float64 {
	if sp < 2 {
		x := c.dilute(sp)
		return c.standard * x * x
	}
	root := math.Sqrt(sp)
	x := numeric.Quartic(root, 4.8964e-3, 0.1933658, -6.7287e-3, 6.0624e-4, -3.172e-5) +
		c.f*numeric.Quadratic(root, 1.509e-5, 9.624e-5, -1.668e-5)
	x -= (pss78(c.f, x) - sp) / c.slope(x)
	x -= (pss78(c.f, x) - sp) / c.slope(x)
	return c.standard * x * x
}

func pss78(f, x float64) float64 {
	return numeric.Quintic(x, pssA0, pssA1, pssA2, pssA3, pssA4, pssA5) +
		f*numeric.Quintic(x, pssB0, pssB1, pssB2, pssB3, pssB4, pssB5)
}

// slope is the derivative of pss78.
func (c pssCurve) slope(x float64) float64 {
	return numeric.Quartic(x, pssA1, 2*pssA2, 3*pssA3, 4*pssA4, 5*pssA5) +
		c.f*numeric.Quartic(x, pssB1, 2*pssB2, 3*pssB3, 4*pssB4, 5*pssB5)
}
