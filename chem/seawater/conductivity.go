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

// The source gives PSS-78 for a practical salinity of 2 to 42 up to 35 °C. To
// 40 °C it is used as the TEOS-10 toolbox uses it, below 2 by Hill's extension.
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
	if err := errors.Join(
		conductivitySalinity.Check("salinity", sp),
		conductivityTemperature.Check("temperature", t),
	); err != nil {
		return 0, err
	}
	c, err := conductivity(float64(sp), t.T68())
	return quantity.Conductivity(c), err
}

// SalinityFromConductivity returns the practical salinity of a water of known conductivity.
//
//	c  conductivity at t, from 0 to that of a practical salinity of 42
//	t  temperature, ITS-90, 0 to 40 °C; above 35 °C past the source's range
//
// Standard uncertainty: 0.003 (SalinityFromConductivityFit), from memory, for sea
// salt; a tap water of the same conductivity may hold half as much again (from memory).
// Hill's curve dips under zero, by less than 0.0003, below 0.0008 mS/cm at 0 °C and
// 0.0025 mS/cm at 40 °C; there it returns 0.
// Check value: c = 42.914 mS/cm, t68 = 15 °C gives 35.
//
// Source: PSS-78 [UNESCO44] with [Hill1986], scaled to meet at 2 as in [TEOS10].
func SalinityFromConductivity(c quantity.Conductivity, t quantity.Celsius) (quantity.Salinity, error) {
	if err := conductivityTemperature.Check("temperature", t); err != nil {
		return 0, err
	}
	most, err := conductivity(float64(conductivitySalinity.Hi), t.T68())
	if err != nil {
		return 0, err
	}
	reach := quantity.Range[quantity.Conductivity]{Lo: 0, Hi: quantity.Conductivity(most)}
	c = withinRounding(c, reach.Lo, reach.Hi)
	if err := reach.Check("conductivity", c); err != nil {
		return 0, err
	}
	sp, err := salinityFromConductivity(float64(c), t.T68())
	return quantity.Salinity(sp), err
}

// standardConductivity is C(35, 15 °C, 0) of Culkin & Smith 1980, mS/cm.
const standardConductivity = 42.9140

// Coefficients of PSS-78 as in UNESCO 44: in powers of sqrt(Rt), and of t68.
var (
	pssA = []float64{0.0080, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081}
	pssB = []float64{0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144}
	pssC = []float64{0.6766097, 2.00564e-2, 1.104259e-4, -6.9698e-7, 1.0031e-9}
	pssK = 0.0162
)

// rootRatio is where the inverse looks for sqrt(Rt): between the dip of Hill's
// curve under zero and beyond a salinity of 42.
var rootRatio = struct{ lo, hi float64 }{0.003, 1.2}

// conductivity is Conductivity without the range check, in t68.
func conductivity(sp, t68 float64) (float64, error) {
	curve, err := curveAt(t68)
	if err != nil {
		return 0, err
	}
	x, err := numeric.Root(func(x float64) float64 { return curve.salinity(x) - sp }, rootRatio.lo, rootRatio.hi)
	return standardConductivity * numeric.Horner(t68, pssC...) * x * x, err
}

// salinityFromConductivity is SalinityFromConductivity without the range check, in t68.
func salinityFromConductivity(c, t68 float64) (float64, error) {
	curve, err := curveAt(t68)
	x := math.Sqrt(c / (standardConductivity * numeric.Horner(t68, pssC...)))
	return max(0, curve.salinity(x)), err
}

// pssCurve is practical salinity as a function of x = sqrt(Rt) at one temperature.
type pssCurve struct {
	f    float64 // (t−15)/(1+k(t−15))
	hill float64 // what makes Hill's extension meet PSS-78 at 2
}

func curveAt(t68 float64) (pssCurve, error) {
	curve := pssCurve{f: (t68 - 15) / (1 + pssK*(t68-15))}
	x, err := numeric.Root(func(x float64) float64 { return curve.pss78(x) - 2 }, 0.2, 0.3)
	curve.hill = 2 / (2 - curve.excess(x))
	return curve, err
}

func (c pssCurve) salinity(x float64) float64 {
	sp := c.pss78(x)
	if sp < 2 {
		sp = c.hill * (sp - c.excess(x))
	}
	return sp
}

func (c pssCurve) pss78(x float64) float64 {
	return numeric.Horner(x, pssA...) + c.f*numeric.Horner(x, pssB...)
}

// excess is what Hill et al. take off PSS-78 in dilute water.
func (c pssCurve) excess(x float64) float64 {
	r := x * x
	return pssA[0]/numeric.Horner(400*r, 1, 1.5, 1) + pssB[0]*c.f/numeric.Horner(10*x, 1, 1, 1, 1)
}
