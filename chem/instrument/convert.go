package instrument

import (
	"math/bits"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// compositionFit is the share by which the mass of salt in standard sea water
// may differ from its Reference Salinity.
const compositionFit = float64(seawater.AbsoluteSalinityFit) / quantity.ReferenceSalt

// Setup returns the instrument of the request.
func (r ConversionRequest) Setup() Setup {
	return Setup{Kind: r.Instrument, Calibration: r.Calibration, Scale: r.Scale,
		TemperatureCompensated: r.TemperatureCompensated, ZeroTemperature: r.ZeroTemperature,
		Compensation: r.Compensation, TdsFactor: r.TdsFactor, Correction: r.Correction}
}

// WithDefaults returns the request with its defaults filled in: no instrument, the
// convention of a specific gravity, and 25 °C if the temperature does not decide what the
// reading means.
func (r ConversionRequest) WithDefaults() ConversionRequest {
	set := r.Setup().asPen(r.Reading).withDefaults(r.Reading)
	r.Instrument, r.Calibration, r.Scale = set.Kind, set.Calibration, set.Scale
	r.TemperatureCompensated, r.ZeroTemperature, r.Compensation = set.TemperatureCompensated, set.ZeroTemperature, set.Compensation
	r.TdsFactor = set.TdsFactor
	r.Temperature = temperature(r.Reading, r.Temperature, set)
	return r
}

// temperature returns the one given, or else 25 °C. It returns nil if the reading means
// nothing, or too little, without a temperature: a specific gravity alone determines the
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

// Convert returns the water of a reading in every measure. Each measure has the uncertainty
// of reading, temperature, formulas and the composition of sea salt, propagated once over
// the joint function. An instrument reading without a stated uncertainty gets half a
// division.
func Convert(r ConversionRequest) (Conversion, error) { return ConvertTo(r, AllMeasures) }

// ConvertTo is Convert for only the measures that are wanted, and the notes about them.
// Absolute salinity, zone and temperature are always included.
//
//	r       the reading
//	wanted  the measures, as MeasureNamed gives them
//
// Standard uncertainty: that of Convert.
// Check value: 35 ppt at 25 °C has a density of 1023.34 kg/m³ (computed with TEOS-10 density).
//
// Source: as Convert.
func ConvertTo(r ConversionRequest, wanted Measures) (Conversion, error) {
	return convertTo(r.Reading, r.Temperature, r.Setup(), wanted)
}

// convertTo is ConvertTo with the parts of the request.
func convertTo(r quantity.Reading, t *quantity.Estimate[quantity.Celsius], asked Setup, wanted Measures) (Conversion, error) {
	var m measurement
	var a answers
	set := asked.asPen(r)
	if err := m.measureWater(r, t, set); err != nil {
		return Conversion{}, err
	}
	w := m.answer(&a, wanted)
	if !a.in.has(absoluteSalinity) {
		return Conversion{}, m.tooUncertain()
	}
	sp, err := seawater.Salinity(w.sa)
	if err != nil {
		return Conversion{}, err
	}
	c := m.conversion(&a)
	c.Zone, err = seawater.ZoneOf(sp)
	c.Temperature = m.temperature
	c.Corrections = m.corrections(w.sa)
	c.Dominant = m.dominant(&a)
	c.Warnings, c.Assumptions = m.remarks(&a, sp), m.assumptions(t == nil, set)
	c.Methods = m.keys(&a, sp)
	c.interpret(r, t, asked, wanted)
	return c, err
}

// measureWater is measure for a reading of water in which animals are moved.
func (m *measurement) measureWater(r quantity.Reading, t *quantity.Estimate[quantity.Celsius], set Setup) error {
	if err := m.measure(r, temperature(r, t, set), set); err != nil || t == nil {
		return err
	}
	return asWater.Check("temperature", t.Value) // if no formula has refused it
}

// salinities are only the salinities of convertTo; nil if the reading is out of range.
func salinities(r quantity.Reading, t *quantity.Estimate[quantity.Celsius], asked Setup) (*quantity.Estimate[quantity.Salinity], *quantity.Estimate[quantity.AbsoluteSalinity]) {
	var m measurement
	var a answers
	if m.measureWater(r, t, asked.asPen(r)) != nil {
		return nil, nil
	}
	w := m.answer(&a, 1<<practicalSalinity|1<<absoluteSalinity)
	sp, err := seawater.Salinity(w.sa)
	if err == nil {
		_, err = seawater.ZoneOf(sp)
	}
	if err != nil || !a.in.has(absoluteSalinity) {
		return nil, nil
	}
	return estimate(&a, practicalSalinity, new(quantity.Estimate[quantity.Salinity])), estimate(&a, absoluteSalinity, new(quantity.Estimate[quantity.AbsoluteSalinity]))
}

// conversion returns the measures that are in range.
func (m *measurement) conversion(a *answers) Conversion {
	to := &struct {
		practical                    quantity.Estimate[quantity.Salinity]
		absolute                     quantity.Estimate[quantity.AbsoluteSalinity]
		perLitre                     quantity.Estimate[quantity.SaltPerLitre]
		density                      quantity.Estimate[quantity.Density]
		conductivity, conductivity25 quantity.Estimate[quantity.Conductivity]
		index                        quantity.Estimate[quantity.RefractiveIndex]
		chlorinity                   quantity.Estimate[quantity.Chlorinity]
		osmolality                   quantity.Estimate[quantity.Osmolality]
		freezing                     quantity.Estimate[quantity.Celsius]
		oxygen                       quantity.Estimate[quantity.DissolvedOxygen]
	}{}
	return Conversion{
		PracticalSalinity: estimate(a, practicalSalinity, &to.practical),
		AbsoluteSalinity:  estimate(a, absoluteSalinity, &to.absolute),
		SaltPerLitre:      estimate(a, saltPerLitre, &to.perLitre),
		Density:           estimate(a, density, &to.density),
		SpecificGravity:   m.gravities(a),
		Conductivity:      estimate(a, conductivity, &to.conductivity),
		Conductivity25:    estimate(a, conductivity25, &to.conductivity25),
		RefractiveIndex:   estimate(a, refractiveIndex, &to.index),
		Chlorinity:        estimate(a, chlorinity, &to.chlorinity),
		Osmolality:        estimate(a, osmolality, &to.osmolality),
		FreezingPoint:     estimate(a, freezingPoint, &to.freezing),
		OxygenSaturation:  estimate(a, oxygenSaturation, &to.oxygen),
	}
}

// gravities returns the specific gravity on every convention in use and on the request's own.
func (m *measurement) gravities(a *answers) []ConventionGravity {
	all := make([]ConventionGravity, 0, bits.OnesCount32(uint32(a.in&(1<<(ownGravity+1)-1<<firstGravity))))
	for s := firstGravity; s <= ownGravity; s++ {
		var g ConventionGravity
		if estimate(a, s, &g.Value) == nil {
			continue
		}
		if s == ownGravity {
			g.Convention = *m.setup.Calibration
		} else {
			g.Convention = conventions[s-firstGravity]
		}
		all = append(all, g)
	}
	return all
}

// dominant is the input that contributes most to the variance of the absolute salinity; nil
// if none contributes.
func (m *measurement) dominant(a *answers) *quantity.Share {
	most := 0
	for i, share := range a.shares {
		if share > a.shares[most] {
			most = i
		}
	}
	if a.shares[most] == 0 {
		return nil
	}
	return &quantity.Share{Input: m.places[most].Name, Share: quantity.Fraction(a.shares[most])}
}

// osmolalityFit is OsmolalityFit, which is stated at 35 g/kg, scaled in proportion.
func osmolalityFit(sa quantity.AbsoluteSalinity) quantity.Osmolality {
	return seawater.OsmolalityFit * quantity.Osmolality(sa/35)
}

func refractiveIndexFit(t quantity.Celsius) quantity.RefractiveIndex {
	if t > refractionMeasured {
		return seawater.RefractiveIndexWarmFit
	}
	return seawater.RefractiveIndexFit
}
