package lifesupport

import "saltlock/chem/quantity"

// AmmoniaOutputMethod is the key in Methods of what animals excrete.
const AmmoniaOutputMethod = "fish-ammonia-brett-zala1975"

// AmmoniaQuotient is the ammonia excreted over the oxygen breathed by an unfed fish,
// mol/mol. Others report 0.08 to 0.16; 0.27 is the most, from burning protein alone
// (both from memory).
const AmmoniaQuotient = 0.110

// nitrogenPerOxygen turns mg of oxygen breathed into mg of ammonia nitrogen excreted.
const nitrogenPerOxygen = AmmoniaQuotient * 14.007 / 31.9988

// AmmoniaOutput returns the ammonia that an unfed fish at rest excretes, mg N per kg of
// fish and hour.
//
//	mass  of one fish, 0.01 g to 10 kg
//	t     temperature, 0 to 40 °C
//
// Standard uncertainty: a factor of two either way between species (UseSpread). A fish
// fed within the last day excretes four to ten times as much.
// Check value: the 29 g sockeye of the source at 15 °C gave 8.2 mg/kg/h; the
// formula gives 6.1, well within the factor of two.
//
// Source: OxygenUse times the quotient of [BrettZala1975], 8.2 mg N for 170 mg of
// oxygen. Urea, a quarter as much there, is not ammonia and is not counted.
func AmmoniaOutput(mass quantity.Mass, t quantity.Celsius) (milligramsNitrogenPerKilogramHour float64, err error) {
	use, err := OxygenUse(mass, t)
	return nitrogenPerOxygen * use, err
}
