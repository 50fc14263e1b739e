package lifesupport

import (
	"errors"
	"math"

	"saltlock/chem/quantity"
)

// OxygenUseMethod is the key in Methods of what animals breathe.
const OxygenUseMethod = "fish-oxygen-clarke-johnston1999"

// UseSpread is the factor, either way, by which one species differs from the
// fish of OxygenUse. Of thirteen kinds of fish with parameters of their own in
// [Deslauriers2017] all but a goby lie inside it, at 5 g, 25 °C and rest.
const UseSpread = 2

// Excited is how many times their resting use animals breathe after they were
// caught and moved, and Excitement how long it lasts. From memory, the middle of
// what is reported, 1.5 to 3 times for one or two hours.
const (
	Excited                      = 2
	Excitement quantity.Duration = 2
)

// AnimalMass is what one animal may weigh, 0.01 g to 10 kg.
var AnimalMass = quantity.Range[quantity.Mass]{Lo: 1e-5, Hi: 10}

var animalTemperature = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}

// OxygenUse returns the oxygen that a fish at rest and without food takes from
// the water, mg per kg of fish and hour.
//
//	mass  of one fish, 0.01 g to 10 kg
//	t     temperature, 0 to 40 °C; the source compares fish from 0 to 30 °C
//
// Standard uncertainty: a factor of two either way between species (UseSpread);
// the printed constants are rounded to some 7 %.
// Check value: mass = 5 g, t = 25 °C gives 325.3 mg/kg/h.
//
// Source: [ClarkeJohnston1999], 69 species of bony fish at rest, of 50 g, with the
// pooled exponent 0.80 of mass. It stands in for shrimps, crabs and snails too,
// without a source.
func OxygenUse(mass quantity.Mass, t quantity.Celsius) (milligramsPerKilogramHour float64, err error) {
	if err := checkAnimal(mass, t); err != nil {
		return 0, err
	}
	return equivalent(float64(mass)) / float64(mass) * restingUse(float64(t)), nil
}

func checkAnimal(mass quantity.Mass, t quantity.Celsius) error {
	return errors.Join(AnimalMass.Check("animals.mass", mass), animalTemperature.Check("temperature", t))
}

// sizeOfSource is the fish of the source's equation, kg.
const sizeOfSource = 0.05

// restingUse is what a kilogram of fish of 50 g uses in an hour, mg.
func restingUse(t float64) float64 {
	millimoles := math.Exp(15.7 - 5.02*1000/quantity.Celsius(t).Kelvin()) // of one fish in an hour
	return 31.9988 * millimoles / sizeOfSource
}

// equivalent is the mass of 50 g fish, in kg, that uses as much as one fish of a mass.
func equivalent(mass float64) float64 {
	return sizeOfSource * math.Pow(mass/sizeOfSource, 0.80)
}
