package mixing

import "saltlock/chem/quantity"

// SaltKind says what is dissolved.
type SaltKind string

// The kinds of salt.
const (
	SeaSalt        SaltKind = "sea_salt" // all ions of sea water in their proportions
	SodiumChloride SaltKind = "nacl"
)

// SaltRequest asks how much salt makes a volume of water at a target salinity.
// The volume wanted is given as such, or by the dimensions of the vessel.
type SaltRequest struct {
	Target      quantity.Reading                     `json:"target"`
	Volume      *quantity.Estimate[quantity.Volume]  `json:"volume,omitempty"`      // of the finished water, at Temperature
	Temperature *quantity.Estimate[quantity.Celsius] `json:"temperature,omitempty"` // of the finished water
	Source      *quantity.Reading                    `json:"source,omitempty"`      // the water the salt goes into
	SaltKind    *SaltKind                            `json:"salt_kind,omitempty"`
	// ProductWaterContent is the share of the product's mass that is water, bound or as moisture.
	ProductWaterContent *quantity.Estimate[quantity.Fraction] `json:"product_water_content,omitempty"`
	// A batch the keeper made of the same product tells its water content too.
	CalibrationBatchSalt    *quantity.Estimate[quantity.Mass]   `json:"calibration_batch_salt,omitempty"`
	CalibrationBatchWater   *quantity.Estimate[quantity.Volume] `json:"calibration_batch_water,omitempty"`
	CalibrationBatchReading *quantity.Reading                   `json:"calibration_batch_reading,omitempty"`

	Shape          *Shape                                `json:"shape,omitempty"`
	Length         *quantity.Estimate[quantity.Length]   `json:"length,omitempty"`
	Width          *quantity.Estimate[quantity.Length]   `json:"width,omitempty"`
	Height         *quantity.Estimate[quantity.Length]   `json:"height,omitempty"`
	Diameter       *quantity.Estimate[quantity.Length]   `json:"diameter,omitempty"`
	TopDiameter    *quantity.Estimate[quantity.Length]   `json:"top_diameter,omitempty"`
	BottomDiameter *quantity.Estimate[quantity.Length]   `json:"bottom_diameter,omitempty"`
	FillHeight     *quantity.Estimate[quantity.Length]   `json:"fill_height,omitempty"`
	Glass          *quantity.Estimate[quantity.Length]   `json:"glass,omitempty"`
	SandDepth      *quantity.Estimate[quantity.Length]   `json:"sand_depth,omitempty"`
	SandPorosity   *quantity.Estimate[quantity.Fraction] `json:"sand_porosity,omitempty"`
	RockMass       *quantity.Estimate[quantity.Mass]     `json:"rock_mass,omitempty"`
	RockDensity    *quantity.Estimate[quantity.Density]  `json:"rock_density,omitempty"`
}

// Batch is water to be made, and how.
type Batch struct {
	Salt quantity.Estimate[quantity.Mass] `json:"salt"` // of product
	// SaltHydrated is the mass of a fully hydrated mix, given when the product's water content is unknown.
	SaltHydrated        *quantity.Estimate[quantity.Mass]            `json:"salt_hydrated,omitempty"`
	SourceWater         quantity.Estimate[quantity.Volume]           `json:"source_water"` // to start from, at the same temperature
	FinalVolume         quantity.Estimate[quantity.Volume]           `json:"final_volume"`
	AbsoluteSalinity    quantity.Estimate[quantity.AbsoluteSalinity] `json:"absolute_salinity"`
	PracticalSalinity   quantity.Estimate[quantity.Salinity]         `json:"practical_salinity"`
	SaltPerLitre        quantity.Estimate[quantity.SaltPerLitre]     `json:"salt_per_litre"`
	ProductWaterContent *quantity.Estimate[quantity.Fraction]        `json:"product_water_content,omitempty"` // as used
	Dominant            *quantity.Share                              `json:"dominant,omitempty"`              // of the mass of salt
	Steps               []quantity.Note                              `json:"steps"`
	Cautions            []quantity.Note                              `json:"cautions"`
	Warnings            []quantity.Note                              `json:"warnings"`
	Assumptions         []quantity.Note                              `json:"assumptions"`
	Methods             []string                                     `json:"methods"`
}

// Notes returns every note of the batch, for the renderer to fill.
func (b *Batch) Notes() []*quantity.Note {
	return notes(b.Steps, b.Cautions, b.Warnings, b.Assumptions)
}

// notes returns pointers to the notes of several lists.
func notes(lists ...[]quantity.Note) []*quantity.Note {
	var all []*quantity.Note
	for _, list := range lists {
		for i := range list {
			all = append(all, &list[i])
		}
	}
	return all
}
