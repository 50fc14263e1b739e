// Package instrument turns what an instrument shows into the water it was in, and a water
// into what an instrument will show.
//
// Each instrument is a pair of formulas, one the inverse of the other, built on those of
// chem/seawater. Both start from the marks as the maker drew them, and account for what the
// marks leave out: the temperature of the water, the expansion of the glass, the salt for
// which the scale was drawn.
package instrument

import "saltlock/chem/quantity"

// Kind names an instrument of the trade.
type Kind string

// The instruments that can be resolved.
const (
	None              Kind = "none"               // the reading is true on its scale
	Hydrometer        Kind = "hydrometer"         // of glass, read at the sample's temperature
	PointerHydrometer Kind = "pointer_hydrometer" // a plastic box with a swinging pointer
	Refractometer     Kind = "refractometer"      // held to the light, or digital
	ConductivityMeter Kind = "conductivity"       // that shows mS/cm, compensated or not
	TDSMeter          Kind = "tds"                // a conductivity meter that shows g/L or mg/L by a factor
)

// Setup is the instrument with which a reading was, or will be, made.
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
	TdsFactor       *float64                             `json:"tds_factor,omitempty"`   // of a TDS meter, which needs it
	Correction      *Correction                          `json:"correction,omitempty"`   // found by Calibrate
}

// kind returns the instrument, None if none is named.
func (s Setup) kind() Kind {
	if s.Kind == nil {
		return None
	}
	return *s.Kind
}

// bare reports whether there is no instrument, and nothing said about one.
func (s Setup) bare() bool {
	none := s.kind() == None
	s.Kind = nil
	return none && s == Setup{}
}

// usual is the convention of a specific gravity that does not state one: 20 °C for a
// refractometer, 25 °C for everything else.
func (s Setup) usual() quantity.Convention {
	if s.kind() == Refractometer {
		return quantity.Convention{Sample: drawnAt, Water: drawnAt}
	}
	return quantity.Convention{Sample: standIn, Water: standIn}
}

// convention returns the convention of a specific gravity: that of the reading, else that of
// the calibration, else the usual one. Reading and calibration must not contradict each other.
func (s Setup) convention(r quantity.Reading) (quantity.Convention, error) {
	switch {
	case r.Convention == nil && s.Calibration == nil:
		return s.usual(), nil
	case r.Convention == nil:
		return *s.Calibration, nil
	case s.Calibration != nil && *s.Calibration != *r.Convention:
		return quantity.Convention{}, &ConflictError{Name: "reading", Other: "calibration",
			Why: "the reading stands on " + r.Convention.String() + " and the instrument is marked for " +
				s.Calibration.String() + "; give one of them", Note: quantity.Note{Code: "reading_and_mark_differ", Params: []any{r.Convention.String(), s.Calibration.String()}}}
	}
	return *r.Convention, nil
}

// noInstrument is None to point at; nobody writes to it.
var noInstrument = None

// withDefaults returns the setup with its defaults filled in.
func (s Setup) withDefaults(r quantity.Reading) Setup {
	kind := s.kind()
	if s.Kind == nil {
		s.Kind = &noInstrument
	}
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
		s.Compensation = &usualCompensation
	}
	return s
}

// scale returns the scale of the instrument, the commonest if there are several.
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
