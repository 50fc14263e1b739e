package seawater

import (
	"errors"

	"saltlock/chem/quantity"
)

// SpecificGravityMethod is the key of SpecificGravity and its inverse in Methods.
const SpecificGravityMethod = "specific-gravity"

// SpecificGravityFit is the standard uncertainty of a specific gravity that results from
// DensityFit.
const SpecificGravityFit quantity.SpecificGravity = 4e-6

// SpecificGravity returns the density of sea water at one temperature over that of
// pure water at another.
//
//	sa          Absolute Salinity, 0 to 120 g/kg
//	convention  the temperatures of sample and water, 0 to 40 °C each
//
// Standard uncertainty: 4e-6 (SpecificGravityFit), that of Density.
// Check value: sa = 35.16504 g/kg, 25C/25C gives 1.02637 (computed with TEOS-10 density).
//
// Source: definition, over Density [IAPWS08].
func SpecificGravity(sa quantity.AbsoluteSalinity, convention quantity.Convention) (quantity.SpecificGravity, error) {
	if !densitySalinity.Contains(sa) || !holdsConvention(convention) {
		return 0, errors.Join(
			densitySalinity.Check("salinity", sa),
			checkConvention(convention),
		)
	}
	return quantity.SpecificGravity(density(float64(sa), float64(convention.Sample)) / density(0, float64(convention.Water))), nil
}

// AbsoluteSalinityFromSpecificGravity returns the Absolute Salinity of a sea water of known
// specific gravity, if the sample has the convention's temperature.
//
//	sg          specific gravity, from pure water to 120 g/kg
//	convention  the temperatures of sample and water, 0 to 40 °C each
//
// Standard uncertainty: 0.0055 g/kg (SalinityFromDensityFit).
// Check value: sg = 1.02637, 25C/25C gives 35.165 g/kg (computed with TEOS-10 density).
//
// Source: definition, over the inverse of Density [IAPWS08].
func AbsoluteSalinityFromSpecificGravity(sg quantity.SpecificGravity, convention quantity.Convention) (quantity.AbsoluteSalinity, error) {
	if !holdsConvention(convention) {
		return 0, checkConvention(convention)
	}
	sample, water := volumeAt(float64(convention.Sample)), density(0, float64(convention.Water))
	if sa := quantity.AbsoluteSalinity(sample.salinity(float64(sg) * water)); densitySalinity.Contains(sa) {
		return sa, nil
	}
	return atEnd("specific_gravity", sg, func(sa float64) float64 { return sample.density(sa) / water }, densitySalinity)
}

// Gravities computes the specific gravities of sea water on several conventions. It keeps
// what depends on their temperatures alone.
type Gravities []struct {
	convention quantity.Convention
	sample     volume
	water      float64
}

// GravitiesOn returns the Gravities of several conventions.
//
//	conventions  the temperatures of sample and water, 0 to 40 °C each
//
// Standard uncertainty: that of SpecificGravity.
// Check value: on 25C/25C, sa = 35.16504 g/kg gives 1.02637 (computed with TEOS-10 density).
//
// Source: that of SpecificGravity.
func GravitiesOn(conventions ...quantity.Convention) (Gravities, error) {
	all := make(Gravities, len(conventions))
	for i, c := range conventions {
		if err := checkConvention(c); err != nil {
			return nil, err
		}
		all[i].convention, all[i].sample, all[i].water = c, volumeAt(float64(c.Sample)), density(0, float64(c.Water))
	}
	return all, nil
}

// Of writes the result of SpecificGravity on each convention; false where that would return
// an error. Neighbouring conventions with the same sample temperature share its density.
func (g Gravities) Of(sa quantity.AbsoluteSalinity, to []float64) bool {
	if !densitySalinity.Contains(sa) {
		return false
	}
	rho := 0.0
	for i := range g {
		if i == 0 || g[i].convention.Sample != g[i-1].convention.Sample {
			rho = g[i].sample.density(float64(sa))
		}
		to[i] = rho / g[i].water
	}
	return true
}

func holdsConvention(c quantity.Convention) bool {
	return densityTemperature.Contains(c.Sample) && densityTemperature.Contains(c.Water)
}

func checkConvention(c quantity.Convention) error {
	return errors.Join(
		densityTemperature.Check("calibration, sample", c.Sample),
		densityTemperature.Check("calibration, water", c.Water),
	)
}
