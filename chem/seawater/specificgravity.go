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
	if err := errors.Join(
		densitySalinity.Check("salinity", sa),
		checkConvention(convention),
	); err != nil {
		return 0, err
	}
	return quantity.SpecificGravity(specificGravityAt(convention)(float64(sa))), nil
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
	if err := checkConvention(convention); err != nil {
		return 0, err
	}
	return invert("specific_gravity", sg, specificGravityAt(convention), densitySalinity)
}

func checkConvention(c quantity.Convention) error {
	return errors.Join(
		densityTemperature.Check("calibration, sample", c.Sample),
		densityTemperature.Check("calibration, water", c.Water),
	)
}

// specificGravityAt returns SpecificGravity without the range check, as a function of salinity.
func specificGravityAt(c quantity.Convention) func(sa float64) float64 {
	sample, water := volumeAt(float64(c.Sample)), density(0, float64(c.Water))
	return func(sa float64) float64 { return sample.density(sa) / water }
}
