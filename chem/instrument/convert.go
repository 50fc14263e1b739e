package instrument

import (
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// The conventions of specific gravity in use.
var conventions = []quantity.Convention{
	{Sample: sixtyF, Water: sixtyF}, {Sample: 15, Water: 15}, {Sample: 15, Water: 4},
	{Sample: 20, Water: 20}, {Sample: 20, Water: 4}, {Sample: 25, Water: 25}, {Sample: 25, Water: 4},
}

const sixtyF = quantity.Celsius((60. - 32) * 5 / 9)

// compositionFit is the share by which the mass of salt in standard sea water
// may differ from its Reference Salinity.
const compositionFit = float64(seawater.AbsoluteSalinityFit) / 35.16504

// Setup returns the instrument of the request.
func (r ConversionRequest) Setup() Setup {
	return Setup{Kind: r.Instrument, Calibration: r.Calibration, Scale: r.Scale,
		TemperatureCompensated: r.TemperatureCompensated, ZeroTemperature: r.ZeroTemperature,
		Compensation: r.Compensation, TdsFactor: r.TdsFactor, Correction: r.Correction}
}

// WithDefaults returns the request with what was left out filled in: no
// instrument; for a specific gravity its convention; 25 °C where the
// temperature does not decide what the reading means.
func (r ConversionRequest) WithDefaults() ConversionRequest {
	set := r.Setup().withDefaults(r.Reading)
	r.Instrument, r.Calibration, r.Scale = set.Kind, set.Calibration, set.Scale
	r.TemperatureCompensated, r.ZeroTemperature, r.Compensation = set.TemperatureCompensated, set.ZeroTemperature, set.Compensation
	r.Temperature = temperature(r.Reading, r.Temperature, set)
	return r
}

// temperature returns the one given, else 25 °C unless the reading means
// nothing, or too little, without one: a specific gravity alone tells the
// salinity, but no measure at the sample's temperature.
func temperature(r quantity.Reading, given *quantity.Estimate[quantity.Celsius], set Setup) *quantity.Estimate[quantity.Celsius] {
	if given != nil {
		return given
	}
	of, err := set.sensor(r)
	if err != nil || of.atTemperature || r.Scale == quantity.SpecificGravityScale {
		return nil
	}
	return new(quantity.Exactly(standIn))
}

// Convert returns the water of a reading in every measure. Each carries the
// uncertainty of reading and temperature, of the formulas, and of the
// composition of sea salt, propagated once over the joint function. A reading
// of an instrument that does not state its uncertainty gets half a division.
func Convert(r ConversionRequest) (Conversion, error) {
	return convert(r.Reading, r.Temperature, r.Setup())
}

// convert is Convert for a reading that came with these.
func convert(r quantity.Reading, t *quantity.Estimate[quantity.Celsius], set Setup) (Conversion, error) {
	m, err := measure(r, temperature(r, t, set), set)
	if err != nil {
		return Conversion{}, err
	}
	sa, dominant, err := m.absolute()
	if err != nil {
		return Conversion{}, err
	}
	sp, err := seawater.Salinity(sa.Value)
	if err != nil {
		return Conversion{}, err
	}
	c := m.measures(sa)
	c.Zone, err = seawater.ZoneOf(sp)
	c.Temperature = m.temperature
	c.Corrections = m.corrections(sa.Value)
	c.Dominant = dominant
	c.Warnings, c.Assumptions = m.remarks(sp), m.assumptions(t == nil, set)
	c.Methods = m.keys(sp)
	return c, err
}

// measures returns the water in every measure that is in range.
func (m *measurement) measures(sa quantity.Estimate[quantity.AbsoluteSalinity]) Conversion {
	return Conversion{
		AbsoluteSalinity: &sa,
		PracticalSalinity: inWater(m, "practical_salinity", seawater.ReferenceSalinityMethod, 0,
			func(w water) (quantity.Salinity, error) { return w.sp, nil }),
		SaltPerLitre: inWater(m, "salt_per_litre", seawater.SaltPerLitreMethod, seawater.SaltPerLitreFit,
			func(w water) (quantity.SaltPerLitre, error) { return seawater.SaltPerLitre(w.sa, w.t) }),
		Density: inWater(m, "density", seawater.DensityMethod, seawater.DensityFit,
			func(w water) (quantity.Density, error) { return seawater.Density(w.sa, w.t) }),
		SpecificGravity: m.gravities(),
		Conductivity: inWater(m, "conductivity", seawater.ConductivityMethod, seawater.ConductivityFit,
			func(w water) (quantity.Conductivity, error) { return seawater.Conductivity(w.sp, w.t) }),
		Conductivity25: inWater(m, "conductivity_25", seawater.ConductivityMethod, seawater.ConductivityFit,
			func(w water) (quantity.Conductivity, error) { return seawater.Conductivity(w.sp, 25) }),
		RefractiveIndex: inWater(m, "refractive_index", seawater.RefractiveIndexMethod, refractiveIndexFit(m.temperature.Value),
			func(w water) (quantity.RefractiveIndex, error) { return seawater.RefractiveIndex(w.sp, w.t) }),
		Chlorinity: inWater(m, "chlorinity", seawater.ChlorinityMethod, 0,
			func(w water) (quantity.Chlorinity, error) { return seawater.Chlorinity(w.sp) }),
		Osmolality: inWater(m, "osmolality", seawater.OsmolalityMethod, osmolalityFit(sa.Value),
			func(w water) (quantity.Osmolality, error) { return seawater.Osmolality(w.sa, w.t) }),
		FreezingPoint: inWater(m, "freezing_point", seawater.FreezingMethod, seawater.FreezingPointFit,
			func(w water) (quantity.Celsius, error) { return seawater.FreezingPoint(w.sp) }),
		OxygenSaturation: inWater(m, "oxygen_saturation", seawater.OxygenSaturationMethod, seawater.OxygenSaturationFit,
			func(w water) (quantity.DissolvedOxygen, error) { return seawater.OxygenSaturation(w.sp, w.t, 1) }),
	}
}

// osmolalityFit is OsmolalityFit, which is stated at 35 g/kg, in proportion.
func osmolalityFit(sa quantity.AbsoluteSalinity) quantity.Osmolality {
	return seawater.OsmolalityFit * quantity.Osmolality(sa/35)
}

func refractiveIndexFit(t quantity.Celsius) quantity.RefractiveIndex {
	if t > refractionMeasured {
		return seawater.RefractiveIndexWarmFit
	}
	return seawater.RefractiveIndexFit
}
