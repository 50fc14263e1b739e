package instrument

import (
	"math"

	"saltlock/chem/quantity"
)

// Some readings can mean more than one water, because people leave out what matters: the
// two temperatures of a specific gravity, whether a conductivity was compensated, the factor
// of a pen. The answer gives each water, and uses one of them for all measures.

// ReadAs is one way to understand a reading.
type ReadAs string

// The ways to understand an incomplete reading.
const (
	TrueGravity             ReadAs = "true_gravity"             // a property of the water, at 25C/25C
	GlassHydrometer         ReadAs = "glass_hydrometer"         // on the commonest glass hydrometer
	TrueConductivity        ReadAs = "true_conductivity"        // of the water as it is
	CompensatedConductivity ReadAs = "compensated_conductivity" // converted to 25 °C by the pen
	DissolvedSolids         ReadAs = "dissolved_solids"         // conductivity times the factor of a pen
)

// Interpretation is one water that a reading can mean.
type Interpretation struct {
	ReadAs            ReadAs                                        `json:"read_as"`
	Convention        *quantity.Convention                          `json:"convention,omitempty"`
	TdsFactor         *float64                                      `json:"tds_factor,omitempty"`
	PracticalSalinity *quantity.Estimate[quantity.Salinity]         `json:"practical_salinity"`
	AbsoluteSalinity  *quantity.Estimate[quantity.AbsoluteSalinity] `json:"absolute_salinity"`
}

// penFactors are the factors of pens, the commonest first: common practice, no source.
var penFactors = [...]float64{0.5, 0.64, 0.7}

// glassMarks is the convention of the common glass hydrometer: common practice, no source.
var glassMarks = quantity.Convention{Sample: sixtyF, Water: sixtyF}

// compensatedFrom is the distance from 25 °C above which it matters whether a pen
// compensates, K.
const compensatedFrom = 1

// OnGlass returns the salinity of water in which a common glass hydrometer shows a specific
// gravity, and what such a hydrometer is marked for.
//
//	r  a specific gravity
//	t  temperature of the water, 0 to 40 °C
//
// Standard uncertainty: of the reading; see AbsoluteSalinity.
// Check value: 1.010 SG at 25 °C gives 15.70 g/kg (computed with TEOS-10 density).
//
// Source: the correction of hydrometer-glass; that common ones are marked for 60F/60F is
// common practice, no source.
func OnGlass(r quantity.Reading, t quantity.Celsius) (quantity.AbsoluteSalinity, quantity.Convention, error) {
	sa, err := AbsoluteSalinity(r, &t, Setup{Kind: &hydrometerKind, Calibration: &glassMarks})
	return sa, glassMarks, err
}

// asPen treats a reading in ppm as a pen's, with the commonest factor if none is given.
func (s Setup) asPen(r quantity.Reading) Setup {
	if r.Scale != quantity.PenScale || s.kind() != None && s.kind() != TDSMeter {
		return s
	}
	s.Kind = new(TDSMeter)
	if s.TdsFactor == nil {
		s.TdsFactor = new(penFactors[0])
	}
	return s
}

// meanings are the setups under which a reading can be understood, the one in use first, and
// their number; none if it can mean only one water.
func (s Setup) meanings(r quantity.Reading, t *quantity.Estimate[quantity.Celsius]) (all [len(penFactors)]meaning, count int) {
	none := s.kind() == None
	switch {
	case r.Scale == quantity.PenScale && s.TdsFactor == nil && (none || s.kind() == TDSMeter):
		for i := range penFactors {
			all[i] = meaning{DissolvedSolids, Setup{Kind: &tdsMeterKind, TdsFactor: &penFactors[i], Compensation: s.Compensation, Correction: s.Correction}}
		}
		return all, len(penFactors)
	case r.Scale == quantity.SpecificGravityScale && none && r.Convention == nil && s.Calibration == nil:
		all[0] = meaning{TrueGravity, Setup{Calibration: new(s.usual()), Correction: s.Correction}}
		all[1] = meaning{GlassHydrometer, Setup{Kind: &hydrometerKind, Calibration: &glassMarks, Correction: s.Correction}}
		return all, 2
	case r.Scale == quantity.ConductivityScale && none && t != nil && math.Abs(float64(t.Value-standIn)) >= compensatedFrom:
		all[0] = meaning{TrueConductivity, Setup{Correction: s.Correction}}
		all[1] = meaning{CompensatedConductivity, Setup{Kind: &meterKind, Correction: s.Correction}}
		return all, 2
	}
	return all, 0
}

// The instruments of what readings may mean, to point at; nobody writes to them.
var hydrometerKind, meterKind, tdsMeterKind = Hydrometer, ConductivityMeter, TDSMeter

type meaning struct {
	as  ReadAs
	set Setup
}

// interpret adds what else a reading may mean; the measures are those of the first.
func (c *Conversion) interpret(r quantity.Reading, t *quantity.Estimate[quantity.Celsius], set Setup, wanted Measures) {
	all, count := set.meanings(r, t)
	if count == 0 {
		return
	}
	c.ReadAs = all[0].as
	if wanted != AllMeasures {
		return
	}
	c.Interpretations = make([]Interpretation, 0, count)
	for i := range count {
		other := &all[i]
		sp, sa := c.PracticalSalinity, c.AbsoluteSalinity
		if i > 0 {
			sp, sa = salinities(r, t, other.set)
		}
		if sp == nil {
			continue // out of range, so the reading cannot mean this
		}
		c.Interpretations = append(c.Interpretations, Interpretation{ReadAs: other.as, Convention: other.set.Calibration, TdsFactor: other.set.TdsFactor,
			PracticalSalinity: sp, AbsoluteSalinity: sa})
	}
	c.Warnings = append(c.sayMeanings(), c.Warnings...)
}

// sayMeanings adds notes on what else the reading may mean.
func (c *Conversion) sayMeanings() []quantity.Note {
	var notes []quantity.Note
	for i, other := range c.Interpretations {
		switch {
		case other.ReadAs == DissolvedSolids && i == 0:
			notes = append(notes, note("pen_shows_solids", *other.TdsFactor))
		case other.ReadAs == DissolvedSolids:
			notes = append(notes, note("pen_of_factor", *other.TdsFactor, *other.PracticalSalinity))
		case other.ReadAs == GlassHydrometer:
			notes = append(notes, note("gravity_on_glass", *other.Convention, *other.PracticalSalinity))
		case other.ReadAs == CompensatedConductivity:
			notes = append(notes, note("conductivity_of_pen", *other.PracticalSalinity))
		}
	}
	return notes
}
