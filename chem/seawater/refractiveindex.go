package seawater

import (
	"errors"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// RefractiveIndexMethod is the key of RefractiveIndex and its inverse in Methods.
const RefractiveIndexMethod = "refractive-index-millard-seaver1990"

// The standard uncertainty of the refractive index. It lies between the 4.7 ppm of the
// source's salt data and the 1.3e-5 by which the salt's share differs in the fit of Quan &
// Fry 1995; above 30 °C, where the source ends, it is doubled. Then the resulting
// uncertainty of a salinity found from an index.
const (
	RefractiveIndexFit                 quantity.RefractiveIndex = 1e-5
	RefractiveIndexWarmFit             quantity.RefractiveIndex = 2e-5
	SalinityFromRefractiveIndexFit     quantity.Salinity        = 0.06
	SalinityFromRefractiveIndexWarmFit quantity.Salinity        = 0.12
)

// The source gives 0 to 30 °C. Up to 40 °C its pure water stays within 2e-5 of IAPWS
// R9-97, so the formula is used there with RefractiveIndexWarmFit.
var (
	refractiveSalinity          = quantity.Range[quantity.Salinity]{Lo: 0, Hi: 43}
	refractiveTemperature       = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}
	refractiveSourceTemperature = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 30}
)

// RefractiveIndex returns the refractive index of sea water at 589.3 nm, relative to air.
//
//	sp  practical salinity, 0 to 43
//	t   temperature, ITS-90, 0 to 40 °C; above 30 °C past the source's range
//
// Standard uncertainty: 1e-5 (RefractiveIndexFit), 2e-5 above 30 °C (RefractiveIndexWarmFit).
// Check value: sp = 0, t = 20 °C gives 1.3330 (NBS table of water, relative to air).
//
// Source: regions I and II of [MillardSeaver1990], with T3L = −1.705881e-9. Copies that
// print e-10 are wrong by 6e-5 for water at 40 °C.
func RefractiveIndex(sp quantity.Salinity, t quantity.Celsius) (quantity.RefractiveIndex, error) {
	if !refractiveSalinity.Contains(sp) || !refractiveTemperature.Contains(t) {
		return 0, errors.Join(
			refractiveSalinity.Check("salinity", sp),
			refractiveTemperature.Check("temperature", t),
		)
	}
	return quantity.RefractiveIndex(refractiveIndex(float64(sp), float64(t))), nil
}

// SalinityFromRefractiveIndex returns the practical salinity of a sea water of known refractive index.
//
//	n  refractive index at 589.3 nm relative to air, from pure water to a practical salinity of 43
//	t  temperature, ITS-90, 0 to 40 °C; above 30 °C past the source's range
//
// Standard uncertainty: 0.06 (SalinityFromRefractiveIndexFit), 0.12 above 30 °C
// (SalinityFromRefractiveIndexWarmFit).
// Check value: n = 1.3330, t = 20 °C gives 0 to the digits of the NBS table of water.
//
// Source: inverse of RefractiveIndex [MillardSeaver1990].
func SalinityFromRefractiveIndex(n quantity.RefractiveIndex, t quantity.Celsius) (quantity.Salinity, error) {
	if !refractiveTemperature.Contains(t) {
		return 0, refractiveTemperature.Check("temperature", t)
	}
	of := refractionAt(float64(t))
	if sp := quantity.Salinity((float64(n) - of.water) / of.salt); refractiveSalinity.Contains(sp) {
		return sp, nil
	}
	return atEnd("refractive_index", n, of.index, refractiveSalinity)
}

// sodiumD is the wavelength, µm; the source's λ.
const sodiumD = 0.5893

// refraction is the refractive index at one temperature: that of pure water, and what each
// unit of practical salinity adds.
type refraction struct{ water, salt float64 }

// refractionAt evaluates the coefficients of Millard & Seaver at sodiumD, which are
// polynomials in t. Their letters in order: A0 L2 LM2 LM4 LM6, T1 TL, T2 T2L, T3 T3L, T4;
// S0 S1LM2, S1T STL, S1T2, S1T3.
func refractionAt(t float64) refraction {
	return refraction{
		water: numeric.Quartic(t,
			1.3280657-0.0045536802*sodiumD*sodiumD+0.0025471707/(sodiumD*sodiumD)+
				7.501966e-6/(sodiumD*sodiumD*sodiumD*sodiumD)+2.802632e-6/(sodiumD*sodiumD*sodiumD*sodiumD*sodiumD*sodiumD),
			-5.2883907e-6+1.0508621e-5*sodiumD,
			-3.0738272e-6+2.1282248e-7*sodiumD,
			3.0124687e-8-1.705881e-9*sodiumD,
			-2.0883178e-10),
		salt: numeric.Cubic(t,
			1.9029121e-4+2.4239607e-6/(sodiumD*sodiumD),
			-7.3960297e-7-3.589495e-7*sodiumD,
			8.9818478e-9,
			1.2078804e-10),
	}
}

func (r refraction) index(sp float64) float64 { return r.water + sp*r.salt }

func refractiveIndex(sp, t float64) float64 { return refractionAt(t).index(sp) }
