package mixing

import (
	"errors"

	"saltlock/chem/quantity"
)

// Shape is the form of a vessel.
type Shape string

// The shapes of vessels and the dimensions each needs.
const (
	Box      Shape = "box"       // Length, Width, Height
	Cylinder Shape = "cylinder"  // Diameter, Height
	Bucket   Shape = "bucket"    // TopDiameter, BottomDiameter, Height: the frustum of a cone
	BowFront Shape = "bow_front" // Length along the back, Width at the ends, MiddleWidth at the deepest point of the bow, Height
)

// VesselRequest describes a vessel and its contents. The dimensions are outer ones if Glass
// is given, and inner ones otherwise. FillHeight is the height of the water above the inner
// bottom; nil means up to the rim.
type VesselRequest struct {
	Shape          Shape                                 `json:"shape"`
	Length         *quantity.Estimate[quantity.Length]   `json:"length,omitempty"`
	Width          *quantity.Estimate[quantity.Length]   `json:"width,omitempty"`
	MiddleWidth    *quantity.Estimate[quantity.Length]   `json:"middle_width,omitempty"`
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
	SandWater      *quantity.Estimate[quantity.Volume]         `json:"sand_water,omitempty"`  // between the grains, part of NetVolume
	SandVolume     *quantity.Estimate[quantity.Volume]         `json:"sand_volume,omitempty"` // of the grains
	RockVolume     *quantity.Estimate[quantity.Volume]         `json:"rock_volume,omitempty"`
	WaterMass      quantity.Estimate[quantity.Mass]            `json:"water_mass"` // were it fresh at 25 °C
	Dominant       *quantity.Share                             `json:"dominant,omitempty"`
	Cautions       []quantity.Note                             `json:"cautions"`
	Warnings       []quantity.Note                             `json:"warnings"`
	Assumptions    []quantity.Note                             `json:"assumptions"`
	Methods        []string                                    `json:"methods"`
}

// What is assumed about a sand bed and rock if the request does not say.
const (
	usualPorosity    quantity.Fraction = 0.4  // between well and poorly sorted sand [BeardWeyl1973]
	usualRockDensity quantity.Density  = 2700 // quartz and limestone, from memory
)

// WithDefaults returns the request with its defaults filled in: the porosity of a sand bed
// and the density of rock.
func (r VesselRequest) WithDefaults() VesselRequest {
	if r.SandDepth != nil && r.SandPorosity == nil {
		r.SandPorosity = new(quantity.Exactly(usualPorosity))
	}
	if r.RockMass != nil && r.RockDensity == nil {
		r.RockDensity = new(quantity.Exactly(usualRockDensity))
	}
	return r
}

// inside is the joint function of a vessel, in cm, cm² and L.
type inside struct {
	gross, net, fill, perLevel float64
	grains, pores, rock        float64
}

// NetVolume returns how much water a vessel holds besides its sand and rock. It is long
// because it fills in every field of the answer.
//
//	lengths       0.1 cm to 100 m; outer ones with Glass, otherwise inner ones
//	SandPorosity  0.2 to 0.7
//	RockDensity   1000 to 5000 kg/m³
//
// Standard uncertainty: of the inputs given.
// Check value: a box of 100 × 40 × 50 cm holds 200 L, 2 L in a centimetre.
//
// Source: elementary geometry; pores of a bed [BeardWeyl1973].
func NetVolume(r VesselRequest) (Vessel, error) {
	r = r.WithDefaults()
	e, err := r.estimates()
	if err != nil {
		return Vessel{}, err
	}
	k, err := e.at()
	if err != nil {
		return Vessel{}, err
	}
	v := Vessel{
		GrossVolume:    estimate[quantity.Volume](e, func(k inside) float64 { return k.gross }),
		VolumePerLevel: estimate[quantity.VolumePerLength](e, func(k inside) float64 { return k.perLevel }),
		FillHeight:     estimate[quantity.Length](e, func(k inside) float64 { return k.fill }),
		WaterMass:      estimate[quantity.Mass](e, func(k inside) float64 { return k.net * freshAt25 }),
		Cautions:       heavy(quantity.Volume(k.net)),
		Warnings:       []quantity.Note{},
		Assumptions:    []quantity.Note{},
		Methods:        []string{VesselMethod},
	}
	v.NetVolume, v.Dominant = share[quantity.Volume](e, func(k inside) float64 { return k.net })
	if v.Cautions == nil {
		v.Cautions = []quantity.Note{}
	}
	if r.Glass == nil {
		v.Assumptions = append(v.Assumptions, note("sizes_are_inner"))
	}
	if r.SandDepth != nil {
		v.SandWater = new(estimate[quantity.Volume](e, func(k inside) float64 { return k.pores }))
		v.SandVolume = new(estimate[quantity.Volume](e, func(k inside) float64 { return k.grains }))
		v.Assumptions = append(v.Assumptions, note("sand_porosity_used", *r.SandPorosity))
	}
	if r.RockMass != nil {
		v.RockVolume = new(estimate[quantity.Volume](e, func(k inside) float64 { return k.rock }))
		v.Assumptions = append(v.Assumptions, note("rock_density_used", *r.RockDensity))
	}
	if r.SandDepth != nil || r.RockMass != nil {
		v.Methods = append(v.Methods, BedMethod)
	}
	return v, e.err
}

// freshAt25 is the density of pure water at 25 °C, kg/L [IAPWS09].
const freshAt25 = 0.99704765

// estimates makes the joint function of the vessel, or names every fault of it.
func (r VesselRequest) estimates() (*estimates[inside], error) {
	e := &estimates[inside]{}
	form, err := r.form(&e.joint)
	faults := []error{err, r.unused(),
		check(lengths, "glass", r.Glass), check(lengths, "sand_depth", r.SandDepth), check(lengths, "fill_height", r.FillHeight),
		check(porosities, "sand_porosity", r.SandPorosity), check(rockMasses, "rock_mass", r.RockMass), check(rockDensities, "rock_density", r.RockDensity)}
	if err := errors.Join(faults...); err != nil {
		return nil, err
	}
	fill := optional(&e.joint, "fill_height", r.FillHeight)
	sand := optional(&e.joint, "sand_depth", r.SandDepth)
	porosity := optional(&e.joint, "sand_porosity", r.SandPorosity)
	rock := optional(&e.joint, "rock_mass", r.RockMass)
	rockDensity := optional(&e.joint, "rock_density", r.RockDensity)
	e.of = func(x []float64) (k inside, err error) {
		b, err := form(x)
		if err != nil {
			return k, err
		}
		k.fill, k.gross = b.height, b.below(b.height)
		if r.FillHeight != nil {
			k.fill = fill(x)
		}
		bed := b.below(sand(x))
		k.pores, k.grains = bed*porosity(x), bed*(1-porosity(x))
		if r.RockMass != nil {
			k.rock = rock(x) / rockDensity(x) * 1000
		}
		k.net = b.below(k.fill) - k.grains - k.rock
		k.perLevel = b.surface(k.fill) / 1000
		return k, errors.Join(
			above(k.fill <= b.height, "fill_height", k.fill, b.height, "cm"),
			above(sand(x) <= k.fill, "sand_depth", sand(x), k.fill, "cm"),
			above(k.net > 0, "rock_mass", rock(x), (k.net+k.rock)*rockDensity(x)/1000, "kg"))
	}
	return e, nil
}

// above refuses a value that is more than fits.
func above(right bool, name string, x, most float64, unit string) error {
	if right {
		return nil
	}
	return &quantity.RangeError{Name: name, Value: x, Lo: 0, Hi: max(0, most), Unit: unit}
}

var (
	lengths       = quantity.Range[quantity.Length]{Lo: 0.1, Hi: 1e4}
	porosities    = quantity.Range[quantity.Fraction]{Lo: 0.2, Hi: 0.7}
	rockMasses    = quantity.Range[quantity.Mass]{Lo: 0, Hi: 1e6}
	rockDensities = quantity.Range[quantity.Density]{Lo: 1000, Hi: 5000}
)

// Notes returns every note of the vessel, for the renderer to fill.
func (v *Vessel) Notes() []*quantity.Note {
	return notes(v.Cautions, v.Warnings, v.Assumptions)
}
