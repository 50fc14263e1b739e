// Package instrument turns what an instrument shows into the water it stood
// in, and a water into what an instrument will show.
//
// Each instrument is a pair of formulas, the one the inverse of the other,
// over those of chem/seawater. Both take the instrument as its maker marked it
// and undo what the marking leaves out: the temperature of the water, the
// expansion of the glass, the salt the scale was drawn for.
package instrument

import "saltlock/chem/quantity"

// Kind names an instrument of the trade.
type Kind string

// The instruments that can be resolved.
const (
	None              Kind = "none"               // the reading is taken as true on its scale
	Hydrometer        Kind = "hydrometer"         // of glass, read at the sample's temperature
	PointerHydrometer Kind = "pointer_hydrometer" // a plastic box with a swinging pointer
	Refractometer     Kind = "refractometer"      // held to the light, or digital
	ConductivityMeter Kind = "conductivity"       // that shows mS/cm, compensated or not
	TDSMeter          Kind = "tds"                // a conductivity meter that shows g/L or mg/L by a factor
)

// Setup says what instrument a reading was, or will be, taken with.
type Setup struct {
	Kind        *Kind                `json:"kind,omitempty"`        // nil is None
	Calibration *quantity.Convention `json:"calibration,omitempty"` // what a hydrometer is marked for; nil is 25C/25C
	Scale       *RefractometerScale  `json:"scale,omitempty"`       // what a refractometer's marks were drawn for; nil is SeawaterScale
	// TemperatureCompensated says whether a refractometer corrects itself; nil is yes.
	TemperatureCompensated *bool `json:"temperature_compensated,omitempty"`
	// ZeroTemperature is that of the pure water in which a refractometer without
	// compensation was set to zero; nil is 20 °C.
	ZeroTemperature *quantity.Estimate[quantity.Celsius] `json:"zero_temperature,omitempty"`
	Compensation    *Compensation                        `json:"compensation,omitempty"` // of a meter; nil is 1.91 %/C
	TdsFactor       *float64                             `json:"tds_factor,omitempty"`   // of a TDS meter, which does not work without
	Correction      *Correction                          `json:"correction,omitempty"`   // found by Calibrate
}

// kind returns the instrument, None where none is named.
func (s Setup) kind() Kind {
	if s.Kind == nil {
		return None
	}
	return *s.Kind
}

// usual is the convention of a specific gravity that names none: refractometers
// are drawn for 20 °C, all else is taken at 25 °C.
func (s Setup) usual() quantity.Convention {
	if s.kind() == Refractometer {
		return quantity.Convention{Sample: drawnAt, Water: drawnAt}
	}
	return quantity.Convention{Sample: standIn, Water: standIn}
}

// convention returns on what a specific gravity stands: what the reading says
// itself, else the calibration, else the usual. The two may not contradict each other.
func (s Setup) convention(r quantity.Reading) (quantity.Convention, error) {
	switch {
	case r.Convention == nil && s.Calibration == nil:
		return s.usual(), nil
	case r.Convention == nil:
		return *s.Calibration, nil
	case s.Calibration != nil && *s.Calibration != *r.Convention:
		return quantity.Convention{}, &ConflictError{Name: "reading", Other: "calibration",
			Why: "the reading stands on " + r.Convention.String() + " and the instrument is marked for " +
				s.Calibration.String() + "; give one of them"}
	}
	return *r.Convention, nil
}

// withDefaults returns the setup with what was left out of it filled in.
func (s Setup) withDefaults(r quantity.Reading) Setup {
	kind := s.kind()
	s.Kind = &kind
	if s.Calibration == nil && (r.Scale == quantity.SpecificGravityScale || kind == Hydrometer) {
		if c, err := s.convention(r); err == nil {
			s.Calibration = &c
		}
	}
	if kind == Refractometer && s.Scale == nil {
		s.Scale = new(SeawaterScale)
	}
	if kind == Refractometer && s.TemperatureCompensated == nil {
		s.TemperatureCompensated = new(true)
	}
	if kind == Refractometer && !*s.TemperatureCompensated && s.ZeroTemperature == nil {
		s.ZeroTemperature = new(quantity.Exactly(drawnAt))
	}
	if s.Compensation == nil && (kind == TDSMeter || kind == ConductivityMeter && r.Scale == quantity.ConductivityScale) {
		s.Compensation = new(usualCompensation)
	}
	return s
}

// scale returns what the instrument shows, where it could show several the commonest.
func (s Setup) scale() quantity.Scale {
	switch kind := s.kind(); {
	case kind == Hydrometer || kind == PointerHydrometer:
		return quantity.SpecificGravityScale
	case kind == ConductivityMeter:
		return quantity.ConductivityScale
	case kind == TDSMeter:
		return quantity.PerLitreScale
	case kind == Refractometer && s.Scale != nil && *s.Scale == SodiumChlorideScale:
		return quantity.AbsoluteScale
	case kind == Refractometer && s.Scale != nil && *s.Scale == SucroseScale:
		return quantity.BrixScale
	}
	return quantity.PracticalScale
}
