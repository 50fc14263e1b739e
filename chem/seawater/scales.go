package seawater

import (
	"errors"

	"saltlock/chem/quantity"
)

// Keys in Methods of the scales of salinity.
const (
	ReferenceSalinityMethod = "reference-salinity"
	ChlorinityMethod        = "chlorinity"
	SaltPerLitreMethod      = "salt-per-litre"
)

// The standard uncertainty of Reference Salinity as a mass of salt (from memory), in terms
// of Absolute and of practical salinity, and that of a mass per litre, from DensityFit.
const (
	AbsoluteSalinityFit quantity.AbsoluteSalinity = 7e-3
	SalinityFit         quantity.Salinity         = 7e-3
	SaltPerLitreFit     quantity.SaltPerLitre     = 5e-4
)

// practicalPerChlorinity is the defining ratio of 1969.
const practicalPerChlorinity = 1.80655

// The scales are proportional and have the range of density. Practical salinity itself is
// defined only from 2 to 42.
var (
	scaleSalinity   = quantity.Range[quantity.AbsoluteSalinity]{Lo: 0, Hi: 120}
	scalePractical  = quantity.Range[quantity.Salinity]{Lo: 0, Hi: 120 / quantity.GramsPerPractical}
	scaleChlorinity = quantity.Range[quantity.Chlorinity]{Lo: 0, Hi: 120 / quantity.GramsPerPractical / practicalPerChlorinity}
)

// AbsoluteSalinity returns the Reference Salinity, which is the Absolute Salinity of a
// water whose sea salt has the proportions of the Reference Composition.
//
//	sp  practical salinity, 0 to 119.4; above 42 by proportion only
//
// Standard uncertainty: 0.007 g/kg (AbsoluteSalinityFit), from memory, as a mass of salt in
// standard sea water. Artificial mixes differ by more; by how much is unknown.
// Check value: sp = 35 gives 35.16504 g/kg.
//
// Source: [Millero2008], by definition of the Reference-Composition Salinity Scale.
func AbsoluteSalinity(sp quantity.Salinity) (quantity.AbsoluteSalinity, error) {
	if !scalePractical.Contains(sp) {
		return 0, scalePractical.Check("salinity", sp)
	}
	return quantity.AbsoluteSalinity(sp * quantity.GramsPerPractical), nil
}

// Salinity returns the practical salinity of a water with sea salt in the
// proportions of the Reference Composition.
//
//	sa  Absolute Salinity, 0 to 120 g/kg; above 42.2 g/kg by proportion only
//
// Standard uncertainty: 0.007 (SalinityFit), from memory, that of AbsoluteSalinity.
// Check value: sa = 35.16504 g/kg gives 35.
//
// Source: [Millero2008], by definition of the Reference-Composition Salinity Scale.
func Salinity(sa quantity.AbsoluteSalinity) (quantity.Salinity, error) {
	if !scaleSalinity.Contains(sa) {
		return 0, scaleSalinity.Check("salinity", sa)
	}
	return quantity.Salinity(sa / quantity.GramsPerPractical), nil
}

// Chlorinity returns the chlorinity of sea water.
//
//	sp  practical salinity, 0 to 119.4
//
// Standard uncertainty: none of its own; the ratio is a definition.
// Check value: sp = 1.80655 gives 1 g/kg.
//
// Source: the definition of 1969, S = 1.80655 Cl, taken over by PSS-78 at 35 [UNESCO44].
func Chlorinity(sp quantity.Salinity) (quantity.Chlorinity, error) {
	if !scalePractical.Contains(sp) {
		return 0, scalePractical.Check("salinity", sp)
	}
	return quantity.Chlorinity(sp / practicalPerChlorinity), nil
}

// SalinityFromChlorinity returns the practical salinity of a sea water of known chlorinity.
//
//	cl  chlorinity, 0 to 66.1 g/kg
//
// Standard uncertainty: none of its own; the ratio is a definition.
// Check value: cl = 1 g/kg gives 1.80655.
//
// Source: the definition of 1969, S = 1.80655 Cl, taken over by PSS-78 at 35 [UNESCO44].
func SalinityFromChlorinity(cl quantity.Chlorinity) (quantity.Salinity, error) {
	if !scaleChlorinity.Contains(cl) {
		return 0, scaleChlorinity.Check("chlorinity", cl)
	}
	return quantity.Salinity(cl * practicalPerChlorinity), nil
}

// SaltPerLitre returns the mass of sea salt in a litre of sea water.
//
//	sa  Absolute Salinity, 0 to 120 g/kg
//	t   temperature at which the litre is measured, ITS-90, 0 to 40 °C
//
// Standard uncertainty: 0.0005 g/L (SaltPerLitreFit), that of Density.
// Check value: sa = 35.16504 g/kg, t = 25 °C gives 35.986 g/L (computed with TEOS-10 density).
//
// Source: definition, over Density [IAPWS08].
func SaltPerLitre(sa quantity.AbsoluteSalinity, t quantity.Celsius) (quantity.SaltPerLitre, error) {
	if !densitySalinity.Contains(sa) || !densityTemperature.Contains(t) {
		return 0, errors.Join(
			densitySalinity.Check("salinity", sa),
			densityTemperature.Check("temperature", t),
		)
	}
	v := volumeAt(float64(t))
	return quantity.SaltPerLitre(v.salt(float64(sa))), nil
}

// AbsoluteSalinityFromSaltPerLitre returns the Absolute Salinity of a sea water that
// holds a known mass of sea salt in a litre.
//
//	g  mass of anhydrous sea salt per litre, from 0 to that of 120 g/kg
//	t  temperature at which the litre is measured, ITS-90, 0 to 40 °C
//
// Standard uncertainty: 0.0005 g/kg, that of Density.
// Check value: g = 35.9859 g/L, t = 25 °C gives 35.165 g/kg (computed with TEOS-10 density).
//
// Source: inverse of SaltPerLitre [IAPWS08].
func AbsoluteSalinityFromSaltPerLitre(g quantity.SaltPerLitre, t quantity.Celsius) (quantity.AbsoluteSalinity, error) {
	if !densityTemperature.Contains(t) {
		return 0, densityTemperature.Check("temperature", t)
	}
	v := volumeAt(float64(t))
	if sa := quantity.AbsoluteSalinity(v.salinityOfSalt(float64(g))); densitySalinity.Contains(sa) {
		return sa, nil
	}
	return atEnd("salinity", g, v.salt, densitySalinity)
}

// salt returns the mass of salt per volume, g/L.
func (v volume) salt(sa float64) float64 { return sa * v.density(sa) / 1000 }

// salinityOfSalt is the inverse of salt; NaN for a negative mass.
//
// One gram in a litre adds about 0.73 kg/m³, which gives a start within 1 %. Three Newton
// steps reach the last bit.
func (v volume) salinityOfSalt(g float64) float64 {
	sa := g / (1 + 0.73e-3*g)
	for range 3 {
		rho, slope := v.densityAndSlope(sa)
		sa -= (sa*rho - 1000*g) / (rho + sa*slope)
	}
	return sa
}
