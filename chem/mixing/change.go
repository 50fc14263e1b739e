package mixing

import "saltlock/chem/quantity"

// WaterChangeRequest asks about a water change. With Target and NewWater: how
// much must be exchanged. With Change: what the new water must hold, so that
// the tank stays as it is or reaches Target. With Change and NewWater: what
// the tank will be.
type WaterChangeRequest struct {
	Volume              quantity.Estimate[quantity.Volume]            `json:"volume"` // of the tank, net
	Salinity            quantity.Reading                              `json:"salinity"`
	Target              *quantity.Reading                             `json:"target,omitempty"`
	Change              *quantity.Estimate[quantity.Volume]           `json:"change,omitempty"` // taken out
	NewWater            *quantity.Reading                             `json:"new_water,omitempty"`
	Source              *quantity.Reading                             `json:"source,omitempty"` // what the new water is made from
	Temperature         *quantity.Estimate[quantity.Celsius]          `json:"temperature,omitempty"`
	GreatestChange      *quantity.Estimate[quantity.AbsoluteSalinity] `json:"greatest_change,omitempty"` // of salinity, a step
	GreatestShare       *quantity.Estimate[quantity.Fraction]         `json:"greatest_share,omitempty"`  // of the tank, a step
	ProductWaterContent *quantity.Estimate[quantity.Fraction]         `json:"product_water_content,omitempty"`
}

// ChangeMode says which question a water change answered.
type ChangeMode string

// The questions about a water change.
const (
	Exchange ChangeMode = "exchange" // how much must be exchanged to reach the target
	Weekly   ChangeMode = "weekly"   // what the new water of a given change must hold
	Outcome  ChangeMode = "outcome"  // what a given change with a given water makes
)

// WaterChange is what to take out and put in.
type WaterChange struct {
	Mode             ChangeMode                          `json:"mode"`
	TakeOut          quantity.Estimate[quantity.Volume]  `json:"take_out"`           // over all steps
	PutIn            quantity.Estimate[quantity.Volume]  `json:"put_in"`             // back to the same level
	NewWaterSalinity Salinity                            `json:"new_water_salinity"` // with several steps in mode weekly, of the last
	Salt             *quantity.Estimate[quantity.Mass]   `json:"salt,omitempty"`     // to make the new water from the source
	SaltHydrated     *quantity.Estimate[quantity.Mass]   `json:"salt_hydrated,omitempty"`
	SourceWater      *quantity.Estimate[quantity.Volume] `json:"source_water,omitempty"`
	SalinityAfter    Salinity                            `json:"salinity_after"`
	Steps            []ChangeStep                        `json:"steps"`
	Dominant         *quantity.Share                     `json:"dominant,omitempty"`
	Cautions         []quantity.Note                     `json:"cautions"`
	Warnings         []quantity.Note                     `json:"warnings"`
	Assumptions      []quantity.Note                     `json:"assumptions"`
	Methods          []string                            `json:"methods"`
}

// ChangeStep is one of the water changes to be done one after the other.
type ChangeStep struct {
	TakeOut           quantity.Estimate[quantity.Volume]           `json:"take_out"`
	PutIn             quantity.Estimate[quantity.Volume]           `json:"put_in"`
	NewWaterSalinity  Salinity                                     `json:"new_water_salinity"`
	AbsoluteSalinity  quantity.Estimate[quantity.AbsoluteSalinity] `json:"absolute_salinity"` // of the tank after it
	PracticalSalinity quantity.Estimate[quantity.Salinity]         `json:"practical_salinity"`
}

// Salinity is one salinity as mass share and on the practical scale.
type Salinity struct {
	Absolute  quantity.Estimate[quantity.AbsoluteSalinity] `json:"absolute_salinity"`
	Practical quantity.Estimate[quantity.Salinity]         `json:"practical_salinity"`
}

// Notes returns every note of the water change, for the renderer to fill.
func (w *WaterChange) Notes() []*quantity.Note {
	return notes(w.Cautions, w.Warnings, w.Assumptions)
}
