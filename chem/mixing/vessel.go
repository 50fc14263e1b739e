package mixing

import "saltlock/chem/quantity"

// Shape is the form of a vessel.
type Shape string

// The shapes of vessels and the dimensions each needs.
const (
	Box      Shape = "box"       // Length, Width, Height
	Cylinder Shape = "cylinder"  // Diameter, Height
	Bucket   Shape = "bucket"    // TopDiameter, BottomDiameter, Height: the frustum of a cone
	BowFront Shape = "bow_front" // Length along the back, Width at the ends, Diameter front to back through the middle of the bow, Height
)

// VesselRequest describes a vessel and what stands in it. With Glass the
// dimensions are outer ones, without it inner ones. FillHeight is the height of
// the water above the inner bottom; nil is up to the rim.
type VesselRequest struct {
	Shape          Shape                                 `json:"shape"`
	Length         *quantity.Estimate[quantity.Length]   `json:"length,omitempty"`
	Width          *quantity.Estimate[quantity.Length]   `json:"width,omitempty"`
	Height         *quantity.Estimate[quantity.Length]   `json:"height,omitempty"`
	Diameter       *quantity.Estimate[quantity.Length]   `json:"diameter,omitempty"`
	TopDiameter    *quantity.Estimate[quantity.Length]   `json:"top_diameter,omitempty"`
	BottomDiameter *quantity.Estimate[quantity.Length]   `json:"bottom_diameter,omitempty"`
	FillHeight     *quantity.Estimate[quantity.Length]   `json:"fill_height,omitempty"`
	Glass          *quantity.Estimate[quantity.Length]   `json:"glass,omitempty"` // thickness of walls and bottom
	SandDepth      *quantity.Estimate[quantity.Length]   `json:"sand_depth,omitempty"`
	SandPorosity   *quantity.Estimate[quantity.Fraction] `json:"sand_porosity,omitempty"`
	RockMass       *quantity.Estimate[quantity.Mass]     `json:"rock_mass,omitempty"`
	RockDensity    *quantity.Estimate[quantity.Density]  `json:"rock_density,omitempty"`
}

// Vessel is what a vessel holds.
type Vessel struct {
	NetVolume      quantity.Estimate[quantity.Volume]          `json:"net_volume"`       // of water
	GrossVolume    quantity.Estimate[quantity.Volume]          `json:"gross_volume"`     // of the empty vessel to the rim
	VolumePerLevel quantity.Estimate[quantity.VolumePerLength] `json:"volume_per_level"` // at the surface
	FillHeight     quantity.Estimate[quantity.Length]          `json:"fill_height"`
	SandWater      *quantity.Estimate[quantity.Volume]         `json:"sand_water,omitempty"`  // held between the grains, part of NetVolume
	SandVolume     *quantity.Estimate[quantity.Volume]         `json:"sand_volume,omitempty"` // of the grains
	RockVolume     *quantity.Estimate[quantity.Volume]         `json:"rock_volume,omitempty"`
	WaterMass      quantity.Estimate[quantity.Mass]            `json:"water_mass"` // were it fresh at 25 °C
	Dominant       *quantity.Share                             `json:"dominant,omitempty"`
	Cautions       []quantity.Note                             `json:"cautions"`
	Warnings       []quantity.Note                             `json:"warnings"`
	Assumptions    []quantity.Note                             `json:"assumptions"`
	Methods        []string                                    `json:"methods"`
}

// Notes returns every note of the vessel, for the renderer to fill.
func (v *Vessel) Notes() []*quantity.Note {
	return notes(v.Cautions, v.Warnings, v.Assumptions)
}
