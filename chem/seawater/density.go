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
//	t   temperature, ITS-90, -1 to 41 °C; the extra degree is for mixtures of waters of 0 to 40 °C
//
// Standard uncertainty: 0.004 kg/m³ (DensityFit), from memory, larger above 42 g/kg when warm.
// Check value: sa = 35.16504 g/kg, t = 0 °C gives 1028.1072 kg/m³.
//
// Source: IAPWS R13-08 [IAPWS08], Table 8a, over IAPWS SR7-09 water [IAPWS09].
func Density(sa quantity.AbsoluteSalinity, t quantity.Celsius) (quantity.Density, error) {
	if !densitySalinity.Contains(sa) || !gibbsTemperature.Contains(t) {
		return 0, errors.Join(
			densitySalinity.Check("salinity", sa),
			gibbsTemperature.Check("temperature", t),
		)
	}
	return quantity.Density(density(float64(sa), float64(t))), nil
}

// AbsoluteSalinityFromDensity returns the Absolute Salinity of a sea water of known density.
//
//	rho  density, from pure water to 120 g/kg at that temperature
//	t    temperature, ITS-90, 0 to 40 °C
//
// Standard uncertainty: 0.0055 g/kg (SalinityFromDensityFit), that of Density over its
// slope, which is never below 0.73 kg/m³ per g/kg.
// Check value: rho = 1028.1072 kg/m³, t = 0 °C gives 35.16504 g/kg.
//
// Source: inverse of Density [IAPWS08].
func AbsoluteSalinityFromDensity(rho quantity.Density, t quantity.Celsius) (quantity.AbsoluteSalinity, error) {
	if !densityTemperature.Contains(t) {
		return 0, densityTemperature.Check("temperature", t)
	}
	v := volumeAt(float64(t))
	if sa := quantity.AbsoluteSalinity(v.salinity(float64(rho))); densitySalinity.Contains(sa) {
		return sa, nil
	}
	return atEnd("density", rho, v.density, densitySalinity)
}

// unitSalinity is S_u, the salinity that makes x = sqrt(sa/S_u) in the Gibbs
// function, g/kg: the Reference Salinity of SP 40.
const unitSalinity = 40 * quantity.GramsPerPractical

// density is Density without the range check, for loops and for tests.
func density(sa, t float64) float64 {
	v := volumeAt(t)
	return v.density(sa)
}

// volume is the specific volume at one temperature, 1e-8 m³/kg, as coefficients of x⁰, x²,
// x³ and x⁴; that of x⁵ is v5 at every temperature. The compiler keeps up to four fields in
// registers.
type volume struct{ w, v2, v3, v4 float64 }

const v5 = 36.0284195611086

// volumeAt evaluates the coefficients, which are polynomials in y = t/40 °C: the
// pressure derivative of the Gibbs functions of SR7-09 (w) and of R13-08 (v2 to v5).
func volumeAt(t float64) volume {
	y := t / 40
	return volume{
		w: numeric.Septic(y, 100015.695367145, -270.983805184062, 1455.0364540468, -672.50778314507,
			397.968445406972, -194.618310617595, 63.5113936641785, -9.63108119393062),
		v2: numeric.Quartic(y, -3310.49154044839, 729.116529735046, -860.764303783977, 694.244814133268, -297.728741987187),
		v3: numeric.Quartic(y, 199.459603073901, -175.292041186547, 383.058066002476, -460.319931801257, 234.565187611355),
		v4: -54.7919133532887 + y*-22.6683558512829,
	}
}

func (v volume) density(sa float64) float64 {
	x := math.Sqrt(sa / unitSalinity)
	return 1e8 / (v.w + x*x*numeric.Cubic(x, v.v2, v.v3, v.v4, v5))
}

// densityAndSlope returns the density and its derivative by salinity.
func (v volume) densityAndSlope(sa float64) (rho, slope float64) {
	x := math.Sqrt(sa / unitSalinity)
	rho = 1e8 / (v.w + x*x*numeric.Cubic(x, v.v2, v.v3, v.v4, v5))
	return rho, -rho * rho / 1e8 * numeric.Cubic(x, v.v2, 3./2*v.v3, 2*v.v4, 5./2*v5) / unitSalinity
}

// salinity is the inverse of density; NaN for a water lighter than pure water.
//
// The salt's share of the volume is v2·(x² + c1·x³ + c2·x⁴ + c3·x⁵), of which the first
// term is by far the largest. The reverted series, in powers of root = sqrt(share/v2),
// starts within 1 %, and two Halley steps reach the last bit.
func (v volume) salinity(rho float64) float64 {
	share := (1e8/rho - v.w) / v.v2
	if share == 0 {
		return 0
	}
	c1, c2, c3 := v.v3/v.v2, v.v4/v.v2, v5/v.v2
	root := math.Sqrt(share)
	x := root * numeric.Cubic(root, 1, -c1/2, 5./8*c1*c1-c2/2, 3./2*c1*c2-c1*c1*c1-c3/2)
	for range 2 {
		miss := x*x*numeric.Cubic(x, 1, c1, c2, c3) - share
		slope := x * numeric.Cubic(x, 2, 3*c1, 4*c2, 5*c3)
		bend := numeric.Cubic(x, 2, 6*c1, 12*c2, 20*c3)
		x -= miss * slope / (slope*slope - miss*bend/2)
	}
	return unitSalinity * x * x
}
