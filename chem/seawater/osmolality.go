package seawater

import (
	"errors"
	"math"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// OsmolalityMethod is the key of the osmotic properties in Methods.
const OsmolalityMethod = "osmolality-iapws08"

// The standard uncertainty of the osmotic coefficient (from memory), and the resulting one
// of the osmolality of sea water of 35 g/kg; it is smaller in dilute water.
const (
	OsmoticCoefficientFit quantity.Fraction   = 2e-3
	OsmolalityFit         quantity.Osmolality = 2
)

var (
	osmoticSalinity    = quantity.Range[quantity.AbsoluteSalinity]{Lo: 0, Hi: 120}
	osmoticTemperature = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}
)

// Osmolality returns the amount of osmotically active solute in a mass of water.
//
//	sa  Absolute Salinity, 0 to 120 g/kg
//	t   temperature, ITS-90, 0 to 40 °C
//
// Standard uncertainty: 2 mOsm/kg at 35 g/kg (OsmolalityFit), from memory, less in dilute water.
// Check value: sa = 10 g/kg, t = 25 °C gives 289.9 mOsm/kg (computed with a TEOS-10 library).
//
// Source: IAPWS R13-08 [IAPWS08], the osmotic coefficient times the molality.
func Osmolality(sa quantity.AbsoluteSalinity, t quantity.Celsius) (quantity.Osmolality, error) {
	if !osmoticSalinity.Contains(sa) || !osmoticTemperature.Contains(t) {
		return 0, checkOsmotic(sa, t)
	}
	return quantity.Osmolality(osmolality(float64(sa), float64(t))), nil
}

// OsmoticCoefficient returns the osmolality of sea water over the molality of its
// salt, 1 in the limit of pure water.
//
//	sa  Absolute Salinity, 0 to 120 g/kg
//	t   temperature, ITS-90, 0 to 40 °C
//
// Standard uncertainty: 0.002 (OsmoticCoefficientFit), from memory.
// Check value: sa = 35.16504 g/kg, t = 25 °C gives 0.9026 (computed with a TEOS-10 library).
//
// Source: IAPWS R13-08 [IAPWS08], with the molar mass of sea salt of [Millero2008].
func OsmoticCoefficient(sa quantity.AbsoluteSalinity, t quantity.Celsius) (quantity.Fraction, error) {
	if !osmoticSalinity.Contains(sa) || !osmoticTemperature.Contains(t) {
		return 0, checkOsmotic(sa, t)
	}
	return quantity.Fraction(osmoticCoefficient(float64(sa), float64(t))), nil
}

// AbsoluteSalinityFromOsmolality returns the Absolute Salinity of a sea water of
// known osmolality, such as the one isosmotic with an animal's plasma.
//
//	os  osmolality, from 0 to that of 120 g/kg
//	t   temperature, ITS-90, 0 to 40 °C
//
// Standard uncertainty: 0.2 % of the salinity, that of OsmoticCoefficient.
// Check value: os = 289.9 mOsm/kg, t = 25 °C gives 10.0 g/kg (computed with a TEOS-10 library).
//
// Source: inverse of Osmolality [IAPWS08].
func AbsoluteSalinityFromOsmolality(os quantity.Osmolality, t quantity.Celsius) (quantity.AbsoluteSalinity, error) {
	if !osmoticTemperature.Contains(t) {
		return 0, osmoticTemperature.Check("temperature", t)
	}
	of := osmosisAt(float64(t))
	if sa := quantity.AbsoluteSalinity(of.salinity(float64(os))); osmoticSalinity.Contains(sa) {
		return sa, nil
	}
	return atEnd("osmolality", os, of.osmolality, osmoticSalinity)
}

func checkOsmotic(sa quantity.AbsoluteSalinity, t quantity.Celsius) error {
	return errors.Join(
		osmoticSalinity.Check("salinity", sa),
		osmoticTemperature.Check("temperature", t),
	)
}

const (
	gasConstant  = 8.314472   // J/(mol·K), as in R13-08
	seaSaltMolar = 31.4038218 // g/mol, mole-weighted
)

func osmolality(sa, t float64) float64 {
	of := osmosisAt(t)
	return of.osmolality(sa)
}

func osmoticCoefficient(sa, t float64) float64 {
	of := osmosisAt(t)
	return of.coefficient(sa)
}

// osmosis is minus the salt's share of the chemical potential of water, divided by the
// molality, at one temperature, as coefficients of powers of x. The x² term of the Gibbs
// function cancels, and half of x² remains of x² ln x. The ratio of x² to molality is
// written out, so the formula holds at 0. There the constants as printed give an osmotic
// coefficient of 1 to within 1e-7.
type osmosis struct {
	p0, p1, p2, p3, p4, p5 float64
	perSalinity            float64 // factor to the osmolality of 1 g/kg
}

func osmosisAt(t float64) osmosis {
	y := t / 40
	return osmosis{
		p0: gibbsLog.at(y), p1: gibbsSalt[1].at(y), p2: 2 * gibbsSalt[2].at(y),
		p3: 3 * gibbsSalt[3].at(y), p4: 4 * gibbsSalt[4].at(y), p5: 5 * gibbsSalt[5].at(y),
		perSalinity: 1000 / (2 * unitSalinity * gasConstant * quantity.Celsius(t).Kelvin()),
	}
}

func (o *osmosis) potential(x float64) float64 {
	return numeric.Quintic(x, o.p0, o.p1, o.p2, o.p3, o.p4, o.p5)
}

func (o *osmosis) osmolality(sa float64) float64 {
	return o.perSalinity * o.potential(math.Sqrt(sa/unitSalinity)) * sa
}

func (o *osmosis) coefficient(sa float64) float64 {
	return o.perSalinity * o.potential(math.Sqrt(sa/unitSalinity)) * (1000 - sa) / 1000 * seaSaltMolar / 1000
}

// salinity is the inverse of osmolality; NaN for a negative one.
//
// From the salinity for an osmotic coefficient of 0.9, four Newton steps reach the last bit.
func (o *osmosis) salinity(osmolality float64) float64 {
	const start = 0.9
	sa := osmolality / (1000/seaSaltMolar*start + osmolality/1000)
	for range 4 {
		x := math.Sqrt(sa / unitSalinity)
		potential := o.potential(x)
		slope := potential + x/2*numeric.Quartic(x, o.p1, 2*o.p2, 3*o.p3, 4*o.p4, 5*o.p5)
		sa -= (potential*sa - osmolality/o.perSalinity) / slope
	}
	return sa
}
