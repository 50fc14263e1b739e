package mixing

import "saltlock/chem/quantity"

// Portion is one water of a blend, written "10 L, 35 ppt, 25 C, 8 dKH" in any
// order. One portion of a blend may leave its volume out, to be solved for.
type Portion struct {
	Volume      *quantity.Estimate[quantity.Volume]
	Salinity    quantity.Reading
	Temperature *quantity.Estimate[quantity.Celsius]
	Alkalinity  *quantity.Estimate[quantity.Alkalinity]
}

// BlendRequest asks what several waters give together or, with a target, how
// much is needed of the one whose volume is left out.
type BlendRequest struct {
	Water  []Portion         `json:"water"`
	Target *quantity.Reading `json:"target,omitempty"`
}

// Blend is what several waters give together.
type Blend struct {
	Volume            quantity.Estimate[quantity.Volume]           `json:"volume"` // at the blend's temperature
	Mass              quantity.Estimate[quantity.Mass]             `json:"mass"`
	AbsoluteSalinity  quantity.Estimate[quantity.AbsoluteSalinity] `json:"absolute_salinity"`
	PracticalSalinity quantity.Estimate[quantity.Salinity]         `json:"practical_salinity"`
	Temperature       quantity.Estimate[quantity.Celsius]          `json:"temperature"`
	Alkalinity        *quantity.Estimate[quantity.Alkalinity]      `json:"alkalinity,omitempty"` // where every water's is given
	Density           quantity.Estimate[quantity.Density]          `json:"density"`
	Waters            []BlendWater                                 `json:"waters"`
	Dominant          *quantity.Share                              `json:"dominant,omitempty"` // of the absolute salinity, or of the volume solved for
	Cautions          []quantity.Note                              `json:"cautions"`
	Warnings          []quantity.Note                              `json:"warnings"`
	Assumptions       []quantity.Note                              `json:"assumptions"`
	Methods           []string                                     `json:"methods"`
}

// BlendWater is the part of one water in a blend, in the order of the request.
type BlendWater struct {
	Volume           quantity.Estimate[quantity.Volume]           `json:"volume"` // at its own temperature
	Share            quantity.Estimate[quantity.Fraction]         `json:"share"`  // of the blend's mass
	AbsoluteSalinity quantity.Estimate[quantity.AbsoluteSalinity] `json:"absolute_salinity"`
	Solved           bool                                         `json:"solved"` // the volume was left out and found here
}

// Notes returns every note of the blend, for the renderer to fill.
func (b *Blend) Notes() []*quantity.Note {
	return notes(b.Cautions, b.Warnings, b.Assumptions)
}
