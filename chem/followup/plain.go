package followup

import "saltlock/chem/quantity"

// What follows makes quantities of plain numbers.

func salinity(g float64) quantity.Estimate[quantity.AbsoluteSalinity] {
	return quantity.Exactly(quantity.AbsoluteSalinity(g))
}

func practical(g float64) quantity.Estimate[quantity.Salinity] {
	return quantity.Exactly(quantity.Salinity(g / quantity.GramsPerPractical))
}

func celsius(t float64) quantity.Estimate[quantity.Celsius] {
	return quantity.Exactly(quantity.Celsius(t))
}

func celsiusApart(d float64) quantity.Estimate[quantity.TemperatureDifference] {
	return quantity.Exactly(quantity.TemperatureDifference(d))
}

func hours(h float64) quantity.Estimate[quantity.Duration] {
	return quantity.Exactly(quantity.Duration(h))
}

func litres(v float64) quantity.Estimate[quantity.Volume] {
	return quantity.Exactly(quantity.Volume(v))
}

func dripOf(perSecond float64) quantity.Estimate[quantity.DripRate] {
	return quantity.Exactly(quantity.DripRate(perSecond))
}

func noteOf(code quantity.Code, params ...any) quantity.Note {
	return quantity.Note{Code: code, Params: params}
}

func within[Q quantity.Quantity](r quantity.Range[Q], name string, e *quantity.Estimate[Q]) error {
	if e == nil {
		return nil
	}
	return r.Check(name, e.Value)
}

const (
	// inside keeps a gap that rounding put just beyond the tolerance within it.
	inside = 1e-9
	// soon is what two moments may differ by and still be the same, h.
	soon = 1e-7
)
