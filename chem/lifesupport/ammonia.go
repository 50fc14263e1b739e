package lifesupport

import "saltlock/chem/quantity"

// AmmoniaOutputMethod is the key in Methods of what animals excrete.
const AmmoniaOutputMethod = "fish-ammonia-brett-zala1975"

// AmmoniaQuotient is the ammonia excreted over the oxygen breathed by a fish
// without food, mol/mol. Others report 0.08 to 0.16, and 0.27 is the most that
// burning nothing but protein gives (both from memory).
const AmmoniaQuotient = 0.110

// nitrogenPerOxygen turns mg of oxygen breathed into mg of ammonia nitrogen excreted.
const nitrogenPerOxygen = AmmoniaQuotient * 14.007 / 31.9988

// AmmoniaOutput returns the ammonia that a fish at rest and without food
// excretes, mg N per kg of fish and hour.
//
//	mass  of one fish, 0.01 g to 10 kg
//	t     temperature, 0 to 40 °C
//
// Standard uncertainty: a factor of two either way between species (UseSpread);
// a fish fed in the last day gives four times as much, and up to ten.
// Check value: the 29 g sockeye of the source at 15 °C gave 8.2 mg/kg/h; the
// formula gives 6.1, well within the factor of two.
//
// Source: OxygenUse times the quotient of [BrettZala1975], 8.2 mg N for 170 mg
// of oxygen. Urea, a quarter as much there, is no ammonia and not counted.
func AmmoniaOutput(mass quantity.Mass, t quantity.Celsius) (milligramsNitrogenPerKilogramHour float64, err error) {
	use, err := OxygenUse(mass, t)
	return nitrogenPerOxygen * use, err
}
