package seawater

import (
	"errors"
	"fmt"
	"math"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// CarbonateMethod is the key of the carbonate system in Methods.
const CarbonateMethod = "carbonate-millero2010"

// BlendPHFit is the standard uncertainty of a pH found from the carbonate system. Test
// kits, unknown carbon dioxide and the scale of the pH each contribute more than the
// constants. An estimate proposed here.
const BlendPHFit quantity.PH = 0.2

// AirCarbonDioxide is the carbon dioxide of outdoor air, µatm; rooms have more (from memory).
const AirCarbonDioxide = 420

var (
	carbonateSalinity    = quantity.Range[quantity.Salinity]{Lo: 0, Hi: 50}
	carbonateTemperature = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}
	carbonatePH          = quantity.Range[quantity.PH]{Lo: 5, Hi: 10}
)

// Amounts in µmol/kg, which have no quantity type: the most is ten times the alkalinity of
// sea water; the division is 0.1 dKH, which a kit cannot resolve.
const (
	mostMicromoles     = 25000
	alkalinityDivision = 36
)

// InorganicCarbon returns the dissolved inorganic carbon of a water, µmol/kg.
//
//	ph          5 to 10
//	alkalinity  total alkalinity, 0 to 25 000 µmol/kg, and at least what the pH requires
//	sp          practical salinity, 0 to 50
//	t           temperature, 0 to 40 °C
//	scale       of the pH
//
// Standard uncertainty: that of a hobby pH, about ten per cent; see BlendPHFit. A water is
// refused if its alkalinity is lower than its pH implies without any carbon. Up to 0.1 dKH
// (36 µmol/kg), which no kit resolves, is tolerated; the result is then slightly below 0.
// Check value: pH 8.1 (total), 2300 µmol/kg, sp = 35, t = 25 °C gives 1965.55 µmol/kg (PyCO2SYS 1.8.3).
//
// Source: constants of [Millero2010] for carbonic acid, [Dickson1990] for borate and
// sulfate, [Millero1995] for water, [DicksonRiley1979] for fluoride, and total borate of
// [Lee2010]. The NBS scale is treated as the free scale, from which it differs by about
// 0.03 in sea water and not at all in fresh water (from memory).
func InorganicCarbon(ph quantity.PH, alkalinity float64, sp quantity.Salinity, t quantity.Celsius, scale PHScale) (micromolesPerKilogram float64, err error) {
	if err := errors.Join(carbonatePH.Check("ph", ph), checkCarbonate(alkalinity, sp, t, scale)); err != nil {
		return 0, err
	}
	k := carbonate(float64(sp), t.Kelvin())
	h := math.Pow(10, -float64(ph)) / k.scale(scale)
	if err := micromoles("alkalinity", alkalinity, 1e6*k.rest(h)-alkalinityDivision); err != nil {
		return 0, err
	}
	return 1e6 * (alkalinity/1e6 - k.rest(h)) / k.charge(h), nil
}

// PHFromCarbon returns the pH of a closed water of known alkalinity and inorganic carbon.
// It is the inverse of InorganicCarbon.
//
//	alkalinity, carbon  0 to 25 000 µmol/kg each; refused if no pH from 3 to 12 balances them
//	sp                  practical salinity, 0 to 50
//	t                   temperature, 0 to 40 °C
//	scale               of the pH
//
// Standard uncertainty: 0.2 (BlendPHFit).
// Check value: 1400 and 1280.937 µmol/kg, sp = 17.6, t = 25 °C gives 8.0302 on the total scale (PyCO2SYS 1.8.3).
//
// Source: as InorganicCarbon.
func PHFromCarbon(alkalinity, carbon float64, sp quantity.Salinity, t quantity.Celsius, scale PHScale) (quantity.PH, error) {
	if err := errors.Join(checkCarbonate(alkalinity, sp, t, scale), micromoles("carbon", carbon, 0)); err != nil {
		return 0, err
	}
	k := carbonate(float64(sp), t.Kelvin())
	return k.solve(scale, func(h float64) float64 { return carbon/1e6*k.charge(h) + k.rest(h) - alkalinity/1e6 })
}

// PHInAir returns the pH that a water of known alkalinity reaches in equilibrium with air.
//
//	alkalinity  0 to 25 000 µmol/kg
//	sp          practical salinity, 0 to 50
//	t           temperature, 0 to 40 °C
//	scale       of the pH
//
// Standard uncertainty: 0.2 (BlendPHFit); a room full of people lowers it.
// Check value: 1400 µmol/kg, sp = 17.6, t = 25 °C gives 7.9112 on the total scale at 420 µatm (PyCO2SYS 1.8.3).
//
// Source: as InorganicCarbon, and the solubility of [Weiss1974].
func PHInAir(alkalinity float64, sp quantity.Salinity, t quantity.Celsius, scale PHScale) (quantity.PH, error) {
	if err := checkCarbonate(alkalinity, sp, t, scale); err != nil {
		return 0, err
	}
	k := carbonate(float64(sp), t.Kelvin())
	dissolved := k.solubility * airFugacity(t.Kelvin()) * AirCarbonDioxide * 1e-6
	return k.solve(scale, func(h float64) float64 {
		return dissolved*(k.carbonic1/h+2*k.carbonic1*k.carbonic2/h/h) + k.rest(h) - alkalinity/1e6
	})
}

// micromoles checks an amount in µmol/kg.
func micromoles(name string, x, least float64) error {
	if x >= least && x <= mostMicromoles {
		return nil
	}
	return &quantity.RangeError{Name: name, Value: x, Lo: least, Hi: mostMicromoles, Unit: "µmol/kg"}
}

func checkCarbonate(alkalinity float64, sp quantity.Salinity, t quantity.Celsius, scale PHScale) error {
	return errors.Join(
		micromoles("alkalinity", alkalinity, 0),
		carbonateSalinity.Check("salinity", sp),
		carbonateTemperature.Check("temperature", t),
		scale.check(),
	)
}

// equilibria are the constants of a water on the free scale of pH, mol/kg.
type equilibria struct {
	carbonic1, carbonic2, boric, water, bisulfate, fluoric float64
	solubility                                             float64 // mol/(kg·atm)
	borate, sulfate, fluoride                              float64 // totals
}

// carbonate evaluates the constants. Those given on the total or the sea-water scale are
// converted to the free scale, which counts hydrogen ions alone.
func carbonate(s, t float64) equilibria {
	root := math.Sqrt(s)
	ionic := 19.924 * s / (1000 - 1.005*s) // from memory, as in the source of the bisulfate constant
	e := equilibria{
		borate:   0.0004326 * s / 35, // [Lee2010]
		sulfate:  0.14 / 96.062 * s / practicalPerChlorinity,
		fluoride: 0.000067 / 18.998 * s / practicalPerChlorinity,
	}
	// [Dickson1990] for bisulfate, free scale
	e.bisulfate = math.Exp(-4276.1/t+141.328-23.093*math.Log(t)+
		(-13856/t+324.57-47.986*math.Log(t))*math.Sqrt(ionic)+
		(35474/t-771.54+114.723*math.Log(t))*ionic-
		2698/t*math.Pow(ionic, 1.5)+1776/t*ionic*ionic) * waterShare(s)
	// [DicksonRiley1979], free scale, from memory
	e.fluoric = math.Exp(1590.2/t-12.641+1.525*math.Sqrt(ionic)) * waterShare(s)
	total := 1 + e.sulfate/e.bisulfate
	seawater := total + e.fluoride/e.fluoric
	// [Millero2010], sea-water scale
	pk1 := -126.34048 + 6320.813/t + 19.568224*math.Log(t) +
		13.4038*root + 0.03206*s - 5.242e-5*s*s + (-530.659*root-5.8210*s)/t - 2.0664*root*math.Log(t)
	pk2 := -90.18333 + 5143.692/t + 14.613358*math.Log(t) +
		21.3728*root + 0.1218*s - 3.688e-4*s*s + (-788.289*root-19.189*s)/t - 3.374*root*math.Log(t)
	e.carbonic1, e.carbonic2 = math.Pow(10, -pk1)/seawater, math.Pow(10, -pk2)/seawater
	// [Dickson1990] for borate, total scale
	e.boric = math.Exp((-8966.90-2890.53*root-77.942*s+1.728*s*root-0.0996*s*s)/t+
		148.0248+137.1942*root+1.62142*s+
		(-24.4344-25.085*root-0.2474*s)*math.Log(t)+0.053105*root*t) / total
	// [Millero1995], sea-water scale
	e.water = math.Exp(148.9802-13847.26/t-23.6521*math.Log(t)+
		(-5.977+118.67/t+1.0495*math.Log(t))*root-0.01615*s) / seawater
	// [Weiss1974]
	e.solubility = math.Exp(-60.2409 + 93.4517*100/t + 23.3585*math.Log(t/100) + s*(0.023517-0.023656*t/100+0.0047036*t/100*t/100))
	return e
}

// airFugacity is the fugacity of carbon dioxide over its partial pressure at one atmosphere.
//
// Source: [Weiss1974], from memory.
func airFugacity(t float64) float64 {
	virial := numeric.Cubic(t, -1636.75, 12.0408, -0.0327957, 3.16528e-5)
	return math.Exp((virial + 2*(57.7-0.118*t)) * 1.01325 / (83.14462618 * t))
}

// scale is the ratio of hydrogen as the scale counts it to free hydrogen.
func (e equilibria) scale(s PHScale) float64 {
	if s == TotalScale {
		return 1 + e.sulfate/e.bisulfate
	}
	return 1
}

// charge is the alkalinity of one mole of inorganic carbon at free hydrogen h.
func (e equilibria) charge(h float64) float64 {
	both := e.carbonic1 * e.carbonic2
	return (e.carbonic1*h + 2*both) / (h*h + e.carbonic1*h + both)
}

// rest is the alkalinity of everything else at free hydrogen h.
func (e equilibria) rest(h float64) float64 {
	return e.borate/(1+h/e.boric) + e.water/h - h - e.sulfate/(1+e.bisulfate/h) - e.fluoride/(1+e.fluoric/h)
}

// solve finds the pH at which a balance, which falls with free hydrogen, is zero.
func (e equilibria) solve(scale PHScale, balance func(h float64) float64) (quantity.PH, error) {
	ph, err := numeric.Root(func(ph float64) float64 { return balance(math.Pow(10, -ph)) }, 3, 12)
	if err != nil {
		return 0, fmt.Errorf("no pH from 3 to 12 balances the charge: %w", err)
	}
	return quantity.PH(ph - math.Log10(e.scale(scale))), nil
}
