package transfer

import (
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// What follows makes quantities of plain numbers.

func salinity(g float64) quantity.Estimate[quantity.AbsoluteSalinity] {
	return quantity.Exactly(quantity.AbsoluteSalinity(g))
}

func practical(g float64) quantity.Estimate[quantity.Salinity] {
	return quantity.Exactly(quantity.Salinity(g / quantity.GramsPerPractical))
}

func perHour(rate float64) quantity.Estimate[quantity.SalinityRate] {
	return quantity.Exactly(quantity.SalinityRate(rate))
}

func celsius(t float64) quantity.Estimate[quantity.Celsius] {
	return quantity.Exactly(quantity.Celsius(t))
}

func kelvins(d float64) quantity.Estimate[quantity.TemperatureDifference] {
	return quantity.Exactly(quantity.TemperatureDifference(d))
}

func kelvinsPerHour(rate float64) quantity.Estimate[quantity.TemperatureRate] {
	return quantity.Exactly(quantity.TemperatureRate(rate))
}

func hours(h float64) quantity.Estimate[quantity.Duration] {
	return quantity.Exactly(quantity.Duration(h))
}

func litres(v float64) quantity.Estimate[quantity.Volume] {
	return quantity.Exactly(quantity.Volume(v))
}

func kilograms(m float64) quantity.Estimate[quantity.Mass] {
	return quantity.Exactly(quantity.Mass(m))
}

func drops(perSecond float64) quantity.Estimate[quantity.DripRate] {
	return quantity.Exactly(quantity.DripRate(perSecond))
}

func fraction(f float64) quantity.Estimate[quantity.Fraction] {
	return quantity.Exactly(quantity.Fraction(f))
}

// density returns kg/L.
func density(s state) (float64, error) {
	rho, err := seawater.Density(quantity.AbsoluteSalinity(s.sa), quantity.Celsius(s.t))
	return float64(rho) / 1000, err
}
