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
	None       Kind = "none"       // the reading is taken as true on its scale
	Hydrometer Kind = "hydrometer" // a glass hydrometer, read at the sample's temperature
)

// Setup says what instrument a reading was, or will be, taken with.
type Setup struct {
	Kind        *Kind                `json:"kind,omitempty"`        // nil is None
	Calibration *quantity.Convention `json:"calibration,omitempty"` // what a hydrometer is marked for; nil is 25C/25C
}

// usual is the convention of a specific gravity that names none.
var usual = quantity.Convention{Sample: 25, Water: 25}

// kind returns the instrument, None where none is named.
func (s Setup) kind() Kind {
	if s.Kind == nil {
		return None
	}
	return *s.Kind
}

// convention returns on what a specific gravity stands: what the reading says
// itself, else the calibration, else 25C/25C. The two may not contradict each other.
func (s Setup) convention(r quantity.Reading) (quantity.Convention, error) {
	switch {
	case r.Convention == nil && s.Calibration == nil:
		return usual, nil
	case r.Convention == nil:
		return *s.Calibration, nil
	case s.Calibration != nil && *s.Calibration != *r.Convention:
		return quantity.Convention{}, &ConflictError{Name: "reading", Other: "calibration",
			Why: "the reading stands on " + r.Convention.String() + " and the instrument is marked for " +
				s.Calibration.String() + "; give one of them"}
	}
	return *r.Convention, nil
}
