package mixing

import (
	"errors"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// SaltKind is the kind of salt that is dissolved.
type SaltKind string

// The kinds of salt.
const (
	SeaSalt        SaltKind = "sea_salt" // all ions of sea water in their proportions
	SodiumChloride SaltKind = "nacl"
)

// SaltRequest asks how much salt makes a volume of water at a target salinity.
// The volume is given directly, or by the dimensions of the vessel.
type SaltRequest struct {
	Target      quantity.Reading                     `json:"target"`
	Volume      *quantity.Estimate[quantity.Volume]  `json:"volume,omitempty"`      // of the finished water, at Temperature
	Temperature *quantity.Estimate[quantity.Celsius] `json:"temperature,omitempty"` // of the finished water
	Source      *quantity.Reading                    `json:"source,omitempty"`      // the water the salt goes into
	SaltKind    *SaltKind                            `json:"salt_kind,omitempty"`
	// ProductWaterContent is the share of the product's mass that is water, bound or as moisture.
	ProductWaterContent *quantity.Estimate[quantity.Fraction] `json:"product_water_content,omitempty"`
	// A batch that the keeper made of the same product also determines its water content.
	CalibrationBatchSalt    *quantity.Estimate[quantity.Mass]   `json:"calibration_batch_salt,omitempty"`
	CalibrationBatchWater   *quantity.Estimate[quantity.Volume] `json:"calibration_batch_water,omitempty"`
	CalibrationBatchReading *quantity.Reading                   `json:"calibration_batch_reading,omitempty"`

	Shape          *Shape                                `json:"shape,omitempty"`
	Length         *quantity.Estimate[quantity.Length]   `json:"length,omitempty"`
	Width          *quantity.Estimate[quantity.Length]   `json:"width,omitempty"`
	MiddleWidth    *quantity.Estimate[quantity.Length]   `json:"middle_width,omitempty"`
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
	// SaltHydrated is the mass of a fully hydrated mix, if the product's water content is unknown.
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

// hydrated is the water content of a mix whose magnesium, calcium and strontium chlorides
// have all their crystal water: 41.31 g of solids for 35.17 g of anhydrous salt, from the
// recipe of [Kester1967].
const hydrated = 1 - 35.17/41.31

// WithDefaults returns the request with its defaults filled in, except where omitting an
// input has a meaning of its own.
func (r SaltRequest) WithDefaults() SaltRequest {
	if r.Temperature == nil {
		r.Temperature = new(quantity.Exactly(standIn))
	}
	if r.Source == nil {
		r.Source = &pureWater
	}
	if r.SaltKind == nil {
		r.SaltKind = &seaSalt
	}
	return r
}

// What is taken where nothing is given, to point at; nobody writes to it.
var (
	pureWater = quantity.Reading{Scale: quantity.AbsoluteScale}
	seaSalt   = SeaSalt
)

// Salt returns how much of a product makes a volume of water of the target salinity, and in
// how much source water it is dissolved.
//
//	Target       up to 120 g/kg and above the source
//	Volume       of the finished water, 0.001 to 1e9 L; or a vessel
//	Temperature  0 to 40 °C
//
// The masses of salt and water are conserved, but the volume is not: a litre of pure water
// and the salt for 35 ppt make 1.0098 litres.
//
// Standard uncertainty: of the inputs given, and 0.02 % for the composition of sea salt. If
// the product's water content is unknown, the answer has two amounts.
// Check value: 35 ppt, 100 L, 25 °C takes 3.5986 kg of anhydrous salt
// (conservation over TEOS-10 density).
//
// Source: conservation of mass; the composition of sea salt [Millero2008].
func Salt(given SaltRequest) (Batch, error) {
	r := given.WithDefaults()
	if err := r.check(); err != nil {
		return Batch{}, err
	}
	e, err := r.estimates()
	if err != nil {
		return Batch{}, err
	}
	if err := r.reachable(e.at()); err != nil {
		return Batch{}, err
	}
	b := Batch{
		SourceWater:       estimate[quantity.Volume](e, func(k batch) float64 { return k.source }),
		FinalVolume:       estimate[quantity.Volume](e, func(k batch) float64 { return k.final }),
		AbsoluteSalinity:  estimate[quantity.AbsoluteSalinity](e, func(k batch) float64 { return k.sa }),
		PracticalSalinity: practical(e, func(k batch) float64 { return k.sa }),
		SaltPerLitre:      estimate[quantity.SaltPerLitre](e, func(k batch) float64 { return k.perLitre }),
		Cautions:          append(make([]quantity.Note, 0, 3), note("dissolve_without_animals"), note("dechlorinate_first")),
		Warnings:          []quantity.Note{},
		Assumptions:       assumed(given.Temperature, &r.Target, r.Source, r.CalibrationBatchReading),
		Methods:           append(make([]string, 0, 4), SaltBalanceMethod, seawater.DensityMethod, seawater.ReferenceSalinityMethod),
	}
	b.Salt, b.Dominant = share[quantity.Mass](e, func(k batch) float64 { return k.salt })
	if r.contentKnown() {
		b.ProductWaterContent = new(estimate[quantity.Fraction](e, func(k batch) float64 { return k.content }))
	} else {
		b.SaltHydrated = new(estimate[quantity.Mass](e, func(k batch) float64 { return k.hydrated }))
		b.Assumptions = append(b.Assumptions, note("product_taken_dry", b.Salt, *b.SaltHydrated))
		b.Methods = append(b.Methods, HydratedMethod)
	}
	b.Steps = saltSteps(&b, r.Target)
	b.Cautions = append(b.Cautions, heavy(b.FinalVolume.Value)...)
	b.Warnings = append(b.Warnings, r.warnings(&b)...)
	return b, errors.Join(e.err, r.tellVessel(&b))
}

// tellVessel adds to the batch what its vessel assumes.
func (r *SaltRequest) tellVessel(b *Batch) error {
	if r.Volume != nil {
		return nil
	}
	v, err := NetVolume(r.vessel())
	b.Assumptions = append(b.Assumptions, v.Assumptions...)
	b.Methods = append(b.Methods, v.Methods...)
	return err
}

// warnings warns of a salinity above the sea's, and of a product that seems to contain more
// salt than it weighs.
func (r *SaltRequest) warnings(b *Batch) []quantity.Note {
	notes := saltierThanSea(b.PracticalSalinity.Value)
	if b.ProductWaterContent != nil && b.ProductWaterContent.Value < 0 {
		notes = append(notes, note("trial_reads_above_dry", *b.ProductWaterContent))
	}
	return append(notes, r.onGlass()...)
}

// onGlass says which target to give where a glass hydrometer is to show what was asked for as
// a specific gravity without its temperatures.
func (r *SaltRequest) onGlass() []quantity.Note {
	if r.Target.Scale != quantity.SpecificGravityScale || r.Target.Convention != nil {
		return nil
	}
	sa, marks, err := instrument.OnGlass(r.Target, r.Temperature.Value)
	if err != nil {
		return nil // beyond what such a hydrometer can show
	}
	return []quantity.Note{note("target_on_glass", marks, quantity.Exactly(quantity.Salinity(sa/quantity.GramsPerPractical)))}
}

// saltierThanSea warns where practical salinity is no longer defined.
func saltierThanSea(sp quantity.Salinity) []quantity.Note {
	if sp <= definedSalinity {
		return nil
	}
	return []quantity.Note{note("saltier_than_the_sea", quantity.Exactly(definedSalinity))}
}

// definedSalinity is where the practical salinity scale ends.
const definedSalinity quantity.Salinity = 42

// saltSteps adds the steps in which the batch is made. The keeper measures on the scale of
// the target.
func saltSteps(b *Batch, target quantity.Reading) []quantity.Note {
	steps := append(make([]quantity.Note, 0, 4), note("salt_dissolve", b.Salt, b.SourceWater), note("salt_wait"), note("salt_measure", target))
	if b.SaltHydrated != nil {
		steps = append(steps, note("salt_complete", *b.SaltHydrated))
	}
	return steps
}
