package seawater

import (
	"errors"

	"saltlock/chem/quantity"
)

// SpecificGravityMethod is the key of SpecificGravity and its inverse in Methods.
const SpecificGravityMethod = "specific-gravity"

// SpecificGravityFit is the standard uncertainty that DensityFit leaves in a specific gravity.
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

// AbsoluteSalinityFromSpecificGravity returns the Absolute Salinity of a sea water
// whose specific gravity is known, the sample standing at the convention's temperature.
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

func holdsConvention(c quantity.Convention) bool {
	return densityTemperature.Contains(c.Sample) && densityTemperature.Contains(c.Water)
}

func checkConvention(c quantity.Convention) error {
	return errors.Join(
		densityTemperature.Check("calibration, sample", c.Sample),
		densityTemperature.Check("calibration, water", c.Water),
	)
}
