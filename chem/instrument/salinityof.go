package instrument

import (
	"errors"

	"saltlock/chem/quantity"
)

// SalinityOf returns the salinity of a reading without an instrument, which only names a
// salinity, such as a target or a search for 1.008 SG.
//
//	name  what the contract calls the reading; faults carry this name
//	r     the reading; a scale that needs a temperature uses 25 °C
//
// Standard uncertainty: that of the reading and of the formulas, by Propagate.
// Check value: 1.010 SG 25C/25C gives 13.35 g/kg (computed with TEOS-10 density).
//
// Source: as AbsoluteSalinity.
func SalinityOf(name string, r quantity.Reading) (quantity.Estimate[quantity.AbsoluteSalinity], error) {
	t := quantity.Exactly(standIn)
	m, err := measure(r, &t, Setup{})
	if err == nil {
		var sa quantity.Estimate[quantity.AbsoluteSalinity]
		if sa, _, err = m.absolute(); err == nil {
			return sa, nil
		}
	}
	return quantity.Estimate[quantity.AbsoluteSalinity]{}, Named(name, err)
}

// Named turns an error about a reading into one about the input with this name, because a
// request may contain several readings.
func Named(name string, err error) error {
	if limit, ok := errors.AsType[*quantity.RangeError](err); ok && limit.Name == "reading" {
		named := *limit
		named.Name = name
		return &named
	}
	if conflict, ok := errors.AsType[*ConflictError](err); ok && conflict.Name == "reading" {
		named := *conflict
		named.Name = name
		return &named
	}
	return err
}

// NeedsTemperature reports whether a reading without an instrument means different
// salinities at different temperatures.
func NeedsTemperature(r quantity.Reading) bool {
	of, err := Setup{}.sensor(r)
	return err == nil && of.atTemperature
}
