// Package instrument turns what an instrument shows into the water it stood
// in, and a water into what an instrument will show.
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
