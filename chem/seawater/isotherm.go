package seawater

import "saltlock/chem/quantity"

// Isotherm is sea water of any salinity at one temperature. It returns the same as the
// functions of this package, but is faster for many salinities: whatever depends on the
// temperature alone is computed once, when it is first needed. Its methods return false
// where the function would return an error.
type Isotherm struct {
	t          quantity.Celsius
	volume     volume
	curve      pssCurve
	refraction refraction
	osmosis    osmosis
	air        aeration
}

// AtTemperature returns the sea water of a temperature.
//
//	t  temperature, ITS-90; each method has the range of its function
//
// Standard uncertainty: that of each function.
// Check value: at 25 °C, sa = 10 g/kg has an osmolality of 289.9 mOsm/kg (computed with a TEOS-10 library).
//
// Source: that of each function.
func AtTemperature(t quantity.Celsius) Isotherm { return Isotherm{t: t} }

// Temperature returns the temperature of the isotherm.
func (i *Isotherm) Temperature() quantity.Celsius { return i.t }

// Density is the function Density.
func (i *Isotherm) Density(sa quantity.AbsoluteSalinity) (quantity.Density, bool) {
	if !densitySalinity.Contains(sa) || !gibbsTemperature.Contains(i.t) {
		return 0, false
	}
	return quantity.Density(i.volumes().density(float64(sa))), true
}

// SaltPerLitre is the function SaltPerLitre.
func (i *Isotherm) SaltPerLitre(sa quantity.AbsoluteSalinity) (quantity.SaltPerLitre, bool) {
	if !densitySalinity.Contains(sa) || !densityTemperature.Contains(i.t) {
		return 0, false
	}
	return quantity.SaltPerLitre(i.volumes().salt(float64(sa))), true
}

func (i *Isotherm) volumes() volume {
	if i.volume.w == 0 {
		i.volume = volumeAt(float64(i.t))
	}
	return i.volume
}

// Conductivity is the function Conductivity.
func (i *Isotherm) Conductivity(sp quantity.Salinity) (quantity.Conductivity, bool) {
	if !conductivitySalinity.Contains(sp) || !conductivityTemperature.Contains(i.t) {
		return 0, false
	}
	if i.curve.standard == 0 {
		i.curve = curveAt(i.t.T68())
	}
	return quantity.Conductivity(i.curve.conductivity(float64(sp))), true
}

// RefractiveIndex is the function RefractiveIndex.
func (i *Isotherm) RefractiveIndex(sp quantity.Salinity) (quantity.RefractiveIndex, bool) {
	if !refractiveSalinity.Contains(sp) || !refractiveTemperature.Contains(i.t) {
		return 0, false
	}
	if i.refraction.water == 0 {
		i.refraction = refractionAt(float64(i.t))
	}
	return quantity.RefractiveIndex(i.refraction.index(float64(sp))), true
}

// Osmolality is the function Osmolality.
func (i *Isotherm) Osmolality(sa quantity.AbsoluteSalinity) (quantity.Osmolality, bool) {
	if !osmoticSalinity.Contains(sa) || !osmoticTemperature.Contains(i.t) {
		return 0, false
	}
	if i.osmosis.perSalinity == 0 {
		i.osmosis = osmosisAt(float64(i.t))
	}
	return quantity.Osmolality(i.osmosis.osmolality(float64(sa))), true
}

// OxygenSaturation is the function OxygenSaturation at one standard atmosphere.
func (i *Isotherm) OxygenSaturation(sp quantity.Salinity) (quantity.DissolvedOxygen, bool) {
	if !oxygenSaturationSalinity.Contains(sp) || !oxygenTemperature.Contains(i.t) {
		return 0, false
	}
	if i.air.share == 0 {
		i.air = aerationAt(float64(i.t), 1)
	}
	return quantity.DissolvedOxygen(i.air.oxygen(float64(sp))), true
}
