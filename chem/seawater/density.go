package seawater

import (
	"errors"
	"math"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// DensityMethod is the key of Density and its inverse in Methods.
const DensityMethod = "density-iapws08"

// The standard uncertainty of IAPWS-08 density at atmospheric pressure (from memory),
// and what it means for a salinity found from a density.
const (
	DensityFit             quantity.Density          = 4e-3
	SalinityFromDensityFit quantity.AbsoluteSalinity = 5.5e-3
)

var (
	densitySalinity    = quantity.Range[quantity.AbsoluteSalinity]{Lo: 0, Hi: 120}
	densityTemperature = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}
)

// Density returns the density of sea water; at 0 g/kg, that of pure water.
//
//	sa  Absolute Salinity, 0 to 120 g/kg
//	t   temperature, ITS-90, -1 to 41 °C, a little further than the waters whose mixture it may be
//
// Standard uncertainty: 0.004 kg/m³ (DensityFit), from memory, larger above 42 g/kg when warm.
// Check value: sa = 35.16504 g/kg, t = 0 °C gives 1028.1072 kg/m³.
//
// Source: IAPWS R13-08 [IAPWS08], Table 8a, over IAPWS SR7-09 water [IAPWS09].
func Density(sa quantity.AbsoluteSalinity, t quantity.Celsius) (quantity.Density, error) {
	if err := errors.Join(
		densitySalinity.Check("salinity", sa),
		gibbsTemperature.Check("temperature", t),
	); err != nil {
		return 0, err
	}
	return quantity.Density(density(float64(sa), float64(t))), nil
}

// AbsoluteSalinityFromDensity returns the Absolute Salinity of a sea water of known density.
//
//	rho  density, from pure water to 120 g/kg at that temperature
//	t    temperature, ITS-90, 0 to 40 °C
//
// Standard uncertainty: 0.0055 g/kg (SalinityFromDensityFit), that of Density
// over its slope, never below 0.73 kg/m³ per g/kg.
// Check value: rho = 1028.1072 kg/m³, t = 0 °C gives 35.16504 g/kg.
//
// Source: inverse of Density [IAPWS08].
func AbsoluteSalinityFromDensity(rho quantity.Density, t quantity.Celsius) (quantity.AbsoluteSalinity, error) {
	if err := densityTemperature.Check("temperature", t); err != nil {
		return 0, err
	}
	return invert("density", rho, volumeAt(float64(t)).density, densitySalinity)
}

// unitSalinity is S_u, the salinity that makes x = sqrt(sa/S_u) in the Gibbs
// function, g/kg: the Reference Salinity of SP 40.
const unitSalinity = 40 * gramsPerPractical

// Coefficients of specific volume, 1e-8 m³/kg, in powers of y = t/40 °C, from
// the pressure derivative of the Gibbs functions of SR7-09 (w) and of R13-08
// (x² to x⁵: v2 to v5).
var (
	w = []float64{100015.695367145, -270.983805184062, 1455.0364540468, -672.50778314507,
		397.968445406972, -194.618310617595, 63.5113936641785, -9.63108119393062}
	v2 = []float64{-3310.49154044839, 729.116529735046, -860.764303783977, 694.244814133268, -297.728741987187}
	v3 = []float64{199.459603073901, -175.292041186547, 383.058066002476, -460.319931801257, 234.565187611355}
	v4 = []float64{-54.7919133532887, -22.6683558512829}
	v5 = 36.0284195611086
)

// density is Density without the range check, for loops and for tests.
func density(sa, t float64) float64 {
	return volumeAt(t).density(sa)
}

// volume is the specific volume at one temperature, as coefficients of x⁰, x², x³ and x⁴.
type volume [4]float64

func volumeAt(t float64) volume {
	y := t / 40
	return volume{numeric.Horner(y, w...), numeric.Horner(y, v2...), numeric.Horner(y, v3...), numeric.Horner(y, v4...)}
}

func (v volume) density(sa float64) float64 {
	x := math.Sqrt(sa / unitSalinity)
	return 1e8 / (v[0] + x*x*(v[1]+x*(v[2]+x*(v[3]+x*v5))))
}
