package seawater

import (
	"errors"
	"math"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// Keys in Methods of the solubility of oxygen, per litre and per kilogram.
const (
	OxygenSaturationMethod = "oxygen-benson-krause1984"
	OxygenSolubilityMethod = "oxygen-garcia-gordon1992"
)

// OxygenSaturationFit is the standard uncertainty of the solubility of oxygen,
// about 0.2 % (from memory).
const OxygenSaturationFit quantity.DissolvedOxygen = 0.02

var (
	oxygenSaturationSalinity = quantity.Range[quantity.Salinity]{Lo: 0, Hi: 40}
	oxygenSolubilitySalinity = quantity.Range[quantity.Salinity]{Lo: 0, Hi: 42}
	oxygenTemperature        = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}
	oxygenPressure           = quantity.Range[quantity.Fraction]{Lo: 0.5, Hi: 1.1}
)

// OxygenSaturation returns the dissolved oxygen of a water in equilibrium with air
// that is saturated with water vapour.
//
//	sp        practical salinity, 0 to 40
//	t         temperature, 0 to 40 °C
//	pressure  of the air, as a fraction of one standard atmosphere, 0.5 to 1.1
//
// Standard uncertainty: 0.02 mg/L (OxygenSaturationFit), about 0.2 %, from memory.
// Check value: sp = 0, t = 25 °C, pressure = 1 gives 8.263 mg/L.
//
// Source: [BensonKrause1984], as in the USGS DOTABLES.
func OxygenSaturation(sp quantity.Salinity, t quantity.Celsius, pressure quantity.Fraction) (quantity.DissolvedOxygen, error) {
	if !oxygenSaturationSalinity.Contains(sp) || !oxygenTemperature.Contains(t) || !oxygenPressure.Contains(pressure) {
		return 0, errors.Join(
			oxygenSaturationSalinity.Check("salinity", sp),
			oxygenTemperature.Check("temperature", t),
			oxygenPressure.Check("pressure", pressure),
		)
	}
	return quantity.DissolvedOxygen(oxygenSaturation(float64(sp), float64(t), float64(pressure))), nil
}

// OxygenSolubility returns the content of oxygen, in µmol per kg of sea water, in
// equilibrium with air saturated with water vapour at one standard atmosphere.
//
//	sp  practical salinity, 0 to 42
//	t   temperature, ITS-90, 0 to 40 °C
//
// Standard uncertainty: about 0.2 %, from memory.
// Check value: sp = 35, t68 = 10 °C gives 274.61 µmol/kg (from memory of the paper).
//
// Source: [GarciaGordon1992], the fit to Benson & Krause, without the paper's misprinted
// term and with the conversion to IPTS-68 of the TEOS-10 toolbox.
func OxygenSolubility(sp quantity.Salinity, t quantity.Celsius) (micromolesPerKilogram float64, err error) {
	if !oxygenSolubilitySalinity.Contains(sp) || !oxygenTemperature.Contains(t) {
		return 0, errors.Join(
			oxygenSolubilitySalinity.Check("salinity", sp),
			oxygenTemperature.Check("temperature", t),
		)
	}
	return oxygenSolubility(float64(sp), t.T68()), nil
}

// oxygenSolubility is OxygenSolubility without the range check, in t68. The
// coefficients are those of Garcia & Gordon for µmol/kg, A, B and C0.
func oxygenSolubility(sp, t68 float64) float64 {
	y := math.Log((298.15 - t68) / (273.15 + t68))
	a := numeric.Quintic(y, 5.80871, 3.20291, 4.17887, 5.10006, -9.86643e-2, 3.80369)
	b := numeric.Cubic(y, -7.01577e-3, -7.70028e-3, -1.13864e-2, -9.51519e-3)
	return math.Exp(a + sp*(b+sp*-2.75915e-7))
}

// oxygenSaturation is OxygenSaturation without the range check, the pressure in atmospheres.
func oxygenSaturation(sp, t, pressure float64) float64 {
	of := aerationAt(t, pressure)
	return of.oxygen(sp)
}

// aeration is the solubility of oxygen at one temperature and pressure: its logarithm in
// fresh water, how much each unit of practical salinity lowers that, and the factor of the
// pressure.
type aeration struct{ fresh, salt, share float64 }

func aerationAt(t, pressure float64) aeration {
	inverse := 1 / quantity.Celsius(t).Kelvin()
	vapour := math.Exp(numeric.Quadratic(inverse, 11.8571, -3840.70, -216961))
	theta := numeric.Quadratic(t, 0.000975, -1.426e-5, 6.436e-8) // of the virial correction
	return aeration{
		fresh: numeric.Quartic(inverse, -139.34411, 1.575701e5, -6.642308e7, 1.243800e10, -8.621949e11),
		salt:  numeric.Quadratic(inverse, 0.017674, -10.754, 2140.7),
		share: (pressure - vapour) * (1 - theta*pressure) / ((1 - vapour) * (1 - theta)),
	}
}

func (a *aeration) oxygen(sp float64) float64 { return math.Exp(a.fresh-sp*a.salt) * a.share }
