package lifesupport

import (
	"errors"
	"math"

	"saltlock/chem/quantity"
)

// OxygenUseMethod is the key of OxygenUse in Methods.
const OxygenUseMethod = "fish-oxygen-clarke-johnston1999"

// UseSpread is the factor, either way, by which a species may differ from the fish of
// OxygenUse. Of the thirteen kinds of fish with parameters of their own in
// [Deslauriers2017], all but a goby lie within it at 5 g, 25 °C and rest.
const UseSpread = 2

// Excited is how many times their resting use animals breathe after being caught and
// moved, and Excitement how long that lasts. Reports give 1.5 to 3 times for one or two
// hours; this is the middle (from memory).
const (
	Excited                      = 2
	Excitement quantity.Duration = 2
)

// AnimalMass is what one animal may weigh, 0.01 g to 10 kg.
var AnimalMass = quantity.Range[quantity.Mass]{Lo: 1e-5, Hi: 10}

var animalTemperature = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}

// OxygenUse returns the oxygen that an unfed fish at rest takes from the water, mg per kg
// of fish and hour.
//
//	mass  of one fish, 0.01 g to 10 kg
//	t     temperature, 0 to 40 °C; the source compares fish from 0 to 30 °C
//
// Standard uncertainty: a factor of two either way between species (UseSpread); rounding
// of the printed constants adds about 7 %.
// Check value: mass = 5 g, t = 25 °C gives 325.3 mg/kg/h.
//
// Source: [ClarkeJohnston1999], 69 species of bony fish at rest, for 50 g, with the pooled
// exponent 0.80 of mass. It is also used for shrimps, crabs and snails, without a source.
func OxygenUse(mass quantity.Mass, t quantity.Celsius) (milligramsPerKilogramHour float64, err error) {
	if err := checkAnimal(mass, t); err != nil {
		return 0, err
	}
	return equivalent(float64(mass)) / float64(mass) * restingUse(float64(t)), nil
}

func checkAnimal(mass quantity.Mass, t quantity.Celsius) error {
	return errors.Join(AnimalMass.Check("animals.mass", mass), animalTemperature.Check("temperature", t))
}

// sizeOfSource is the mass of fish for which the source's equation holds, kg.
const sizeOfSource = 0.05

// restingUse is what a kilogram of fish of 50 g uses in an hour, mg.
func restingUse(t float64) float64 {
	millimoles := math.Exp(15.7 - 5.02*1000/quantity.Celsius(t).Kelvin()) // of one fish in an hour
	return 31.9988 * millimoles / sizeOfSource
}

// equivalent is the mass of 50 g fish, in kg, that uses as much as one fish of this mass.
func equivalent(mass float64) float64 {
	return sizeOfSource * math.Pow(mass/sizeOfSource, 0.80)
}
