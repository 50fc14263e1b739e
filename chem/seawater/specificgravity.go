package seawater

import (
	"errors"

	"saltlock/chem/internal/numeric"
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
	return quantity.SpecificGravity(density(float64(sa), float64(convention.Sample)) / pureWater(convention)), nil
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
	water := pureWater(convention)
	reach := quantity.Range[quantity.SpecificGravity]{
		Lo: quantity.SpecificGravity(density(float64(densitySalinity.Lo), float64(convention.Sample)) / water),
		Hi: quantity.SpecificGravity(density(float64(densitySalinity.Hi), float64(convention.Sample)) / water),
	}
	if err := reach.Check("specific_gravity", sg); err != nil {
		return 0, err
	}
	sa, err := absoluteSalinityFromSpecificGravity(float64(sg), convention)
	return quantity.AbsoluteSalinity(sa), err
}

func checkConvention(c quantity.Convention) error {
	return errors.Join(
		densityTemperature.Check("calibration, sample", c.Sample),
		densityTemperature.Check("calibration, water", c.Water),
	)
}

// pureWater returns the density under the fraction bar, kg/m³.
func pureWater(c quantity.Convention) float64 { return density(0, float64(c.Water)) }

func absoluteSalinityFromSpecificGravity(sg float64, c quantity.Convention) (float64, error) {
	v, water := volumeAt(float64(c.Sample)), pureWater(c)
	return numeric.Root(func(sa float64) float64 { return v.density(sa)/water - sg },
		float64(densitySalinity.Lo), float64(densitySalinity.Hi))
}
