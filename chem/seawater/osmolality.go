package seawater

import (
	"errors"
	"math"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// OsmolalityMethod is the key of the osmotic properties in Methods.
const OsmolalityMethod = "osmolality-iapws08"

// The standard uncertainty of the osmotic coefficient (from memory), and what it
// leaves in the osmolality of sea water of 35 g/kg; in dilute water it is less.
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
	if err := checkOsmotic(sa, t); err != nil {
		return 0, err
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
	if err := checkOsmotic(sa, t); err != nil {
		return 0, err
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
	if err := osmoticTemperature.Check("temperature", t); err != nil {
		return 0, err
	}
	return invert("osmolality", os, func(sa float64) float64 { return osmolality(sa, float64(t)) }, osmoticSalinity)
}

func checkOsmotic(sa quantity.AbsoluteSalinity, t quantity.Celsius) error {
	return errors.Join(
		osmoticSalinity.Check("salinity", sa),
		osmoticTemperature.Check("temperature", t),
	)
}

const (
	gasConstant  = 8.314472   // J/(mol·K), as R13-08 takes it
	seaSaltMolar = 31.4038218 // g/mol, mole-weighted
)

func osmolality(sa, t float64) float64 {
	return 1000 * osmoticCoefficient(sa, t) * molality(sa)
}

// osmoticCoefficient is minus the salt's share of the chemical potential of water
// over molality and R·T. The x² term of the Gibbs function drops out of it, of
// x² ln x half the x² is left, and x² over molality is written out, so that it
// holds at 0, where the constants as printed give 1 to 1e-7.
func osmoticCoefficient(sa, t float64) float64 {
	x, y := math.Sqrt(sa/unitSalinity), t/40
	salt := gibbsSalt[1:]
	potential := 0.0
	for i := len(salt) - 1; i >= 0; i-- {
		potential = (potential + float64(i+1)*numeric.Horner(y, salt[i]...)) * x
	}
	potential += numeric.Horner(y, gibbsLog...)
	return potential * (1000 - sa) / 1000 * seaSaltMolar / (2 * unitSalinity * gasConstant * quantity.Celsius(t).Kelvin())
}

// molality returns the amount of sea salt in a mass of water, mol/kg.
func molality(sa float64) float64 { return 1000 * sa / (1000 - sa) / seaSaltMolar }
