package mixing

import "saltlock/chem/quantity"

// TopOffRequest asks about evaporation: what is missing now is given as a
// volume or by the salinity it led to; what a period brings, by its daily loss.
type TopOffRequest struct {
	Volume            quantity.Estimate[quantity.Volume]    `json:"volume"`   // of the tank when full
	Salinity          quantity.Reading                      `json:"salinity"` // when full
	Missing           *quantity.Estimate[quantity.Volume]   `json:"missing,omitempty"`
	SalinityNow       *quantity.Reading                     `json:"salinity_now,omitempty"`
	TopOffWater       *quantity.Reading                     `json:"top_off_water,omitempty"`
	EvaporationPerDay *quantity.Estimate[quantity.Volume]   `json:"evaporation_per_day,omitempty"`
	Period            *quantity.Estimate[quantity.Duration] `json:"period,omitempty"`
	Temperature       *quantity.Estimate[quantity.Celsius]  `json:"temperature,omitempty"`
}

// TopOff is what evaporation did and what to add.
type TopOff struct {
	SalinityNow   *Salinity                                     `json:"salinity_now,omitempty"`
	Missing       *quantity.Estimate[quantity.Volume]           `json:"missing,omitempty"`
	FreshWater    *quantity.Estimate[quantity.Volume]           `json:"fresh_water,omitempty"`    // pure water that restores level and salinity
	SalinityAfter *Salinity                                     `json:"salinity_after,omitempty"` // topped off with the top-off water
	Drift         *quantity.Estimate[quantity.AbsoluteSalinity] `json:"drift,omitempty"`          // over the period
	SalinityAtEnd *Salinity                                     `json:"salinity_at_end,omitempty"`
	Dominant      *quantity.Share                               `json:"dominant,omitempty"`
	Cautions      []quantity.Note                               `json:"cautions"`
	Warnings      []quantity.Note                               `json:"warnings"`
	Assumptions   []quantity.Note                               `json:"assumptions"`
	Methods       []string                                      `json:"methods"`
}

// Notes returns every note of the top-off, for the renderer to fill.
func (t *TopOff) Notes() []*quantity.Note {
	return notes(t.Cautions, t.Warnings, t.Assumptions)
}
