package mixing

import (
	"errors"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

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

// hydrated is the water content of a mix whose magnesium, calcium and strontium
// chlorides carry all their crystal water: 41.31 g of solids for 35.17 g of
// anhydrous salt, from the recipe of [Kester1967].
const hydrated = 1 - 35.17/41.31

// WithDefaults returns the request with what was left out filled in, as far as
// leaving it out does not itself mean something.
func (r SaltRequest) WithDefaults() SaltRequest {
	if r.Temperature == nil {
		r.Temperature = new(quantity.Exactly(standIn))
	}
	if r.Source == nil {
		r.Source = &quantity.Reading{Scale: quantity.AbsoluteScale}
	}
	if r.SaltKind == nil {
		r.SaltKind = new(SeaSalt)
	}
	return r
}

// batch is the joint function of a salt mix, in g/kg, kg and L.
type batch struct {
	sa, perLitre, content         float64
	salt, hydrated, source, final float64
}

// Salt returns how much of a product makes a volume of water of the target
// salinity, and how much source water it goes into.
//
//	Target       up to 120 g/kg and above the source
//	Volume       of the finished water, 0.001 to 1e9 L; or a vessel
//	Temperature  0 to 40 °C
//
// The mass of salt and the mass of water are conserved; the volume is not: a
// litre of pure water and the salt for 35 ppt make 1.0098 litres.
//
// Standard uncertainty: of the inputs given, and 0.02 % for the composition of
// sea salt; what is not known of the product's water is told as two amounts.
// Check value: 35 ppt, 100 L, 25 °C takes 3.5986 kg of anhydrous salt
// (conservation over TEOS-10 density).
//
// Source: conservation of mass; the composition of sea salt [Millero2008].
func Salt(r SaltRequest) (Batch, error) {
	r = r.WithDefaults()
	if err := r.check(); err != nil {
		return Batch{}, err
	}
	e, err := r.estimates()
	if err != nil {
		return Batch{}, err
	}
	if err := r.reachable(e.of(e.nominal())); err != nil {
		return Batch{}, err
	}
	b := Batch{
		SourceWater:       estimate[quantity.Volume](e, func(k batch) float64 { return k.source }),
		FinalVolume:       estimate[quantity.Volume](e, func(k batch) float64 { return k.final }),
		AbsoluteSalinity:  estimate[quantity.AbsoluteSalinity](e, func(k batch) float64 { return k.sa }),
		PracticalSalinity: practical(e, func(k batch) float64 { return k.sa }),
		SaltPerLitre:      estimate[quantity.SaltPerLitre](e, func(k batch) float64 { return k.perLitre }),
		Cautions:          []quantity.Note{note("dissolve_without_animals")},
		Warnings:          []quantity.Note{},
		Assumptions:       []quantity.Note{},
		Methods:           []string{SaltBalanceMethod, seawater.DensityMethod, seawater.ReferenceSalinityMethod},
	}
	b.Salt, b.Dominant = share[quantity.Mass](e, func(k batch) float64 { return k.salt })
	if r.contentKnown() {
		b.ProductWaterContent = new(estimate[quantity.Fraction](e, func(k batch) float64 { return k.content }))
	} else {
		b.SaltHydrated = new(estimate[quantity.Mass](e, func(k batch) float64 { return k.hydrated }))
		b.Assumptions = append(b.Assumptions, note("product_taken_dry", b.Salt, *b.SaltHydrated))
		b.Methods = append(b.Methods, HydratedMethod)
	}
	b.Steps = saltSteps(b)
	b.Cautions = append(b.Cautions, heavy(b.FinalVolume.Value)...)
	return b, e.err
}

// saltSteps tells how the batch is made.
func saltSteps(b Batch) []quantity.Note {
	steps := []quantity.Note{note("salt_dissolve", b.Salt, b.SourceWater), note("salt_wait"), note("salt_measure", b.PracticalSalinity)}
	if b.SaltHydrated != nil {
		steps = append(steps, note("salt_complete", *b.SaltHydrated))
	}
	return steps
}

// check names every fault that shows before anything is computed.
func (r SaltRequest) check() error {
	faults := []error{
		check(volumes, "volume", r.Volume),
		check(temperatures, "temperature", r.Temperature),
		check(contents, "product_water_content", r.ProductWaterContent),
		known("target", &r.Target), known("source", r.Source), known("calibration_batch_reading", r.CalibrationBatchReading),
	}
	switch {
	case r.Volume == nil && r.Shape == nil:
		faults = append(faults, &instrument.MissingError{Name: "volume", Why: "give the volume of the finished water, or the shape and size of the vessel"})
	case r.Volume != nil && r.Shape != nil:
		faults = append(faults, &instrument.ConflictError{Name: "volume", Other: "shape", Why: "give a volume or a vessel, not both"})
	}
	if *r.SaltKind == SodiumChloride {
		faults = append(faults, &instrument.ConflictError{Name: "salt_kind", Other: "target",
			Why: "sodium chloride alone lacks the calcium, magnesium, potassium and alkalinity that animals of brackish and sea water need; use a complete sea salt"})
	}
	return errors.Join(append(faults, r.checkTrial())...)
}

// checkTrial checks that a trial batch is whole and the only word on the product.
func (r SaltRequest) checkTrial() error {
	given := 0
	var missing []error
	for name, there := range map[string]bool{"calibration_batch_salt": r.CalibrationBatchSalt != nil,
		"calibration_batch_water": r.CalibrationBatchWater != nil, "calibration_batch_reading": r.CalibrationBatchReading != nil} {
		if there {
			given++
		} else {
			missing = append(missing, &instrument.MissingError{Name: name, Why: "a trial batch needs its salt, its water and its reading"})
		}
	}
	switch {
	case given == 0:
		return nil
	case given < 3:
		return errors.Join(missing...)
	case r.ProductWaterContent != nil:
		return &instrument.ConflictError{Name: "product_water_content", Other: "calibration_batch_reading", Why: "the trial batch tells the water content; give one of them"}
	}
	return errors.Join(check(masses, "calibration_batch_salt", r.CalibrationBatchSalt), check(volumes, "calibration_batch_water", r.CalibrationBatchWater))
}

var masses = quantity.Range[quantity.Mass]{Lo: 1e-6, Hi: 1e9}

func (r SaltRequest) contentKnown() bool {
	return r.ProductWaterContent != nil || r.CalibrationBatchSalt != nil
}

// estimates makes the joint function of the request.
func (r SaltRequest) estimates() (*estimates[batch], error) {
	e := &estimates[batch]{}
	volume := r.Volume
	if volume == nil {
		vessel, err := NetVolume(r.vessel())
		if err != nil {
			return nil, err
		}
		volume = &vessel.NetVolume
	}
	v := input(&e.joint, "volume", *volume)
	t := input(&e.joint, "temperature", *r.Temperature)
	target := e.reading("target", r.Target, t)
	source := e.reading("source", *r.Source, t)
	salt := e.joint.of("composition", 1, composition)
	content := r.content(&e.joint, t)
	e.of = func(x []float64) (k batch, err error) {
		sa, noTarget := target(x)
		s, noSource := source(x)
		w, noContent := content(x)
		rho, noDensity := density(sa, t(x))
		from, noFrom := density(s, t(x))
		if err := errors.Join(noTarget, noSource, noContent, noDensity, noFrom); err != nil {
			return k, err
		}
		mass := v(x) * rho
		dry := mass * (sa - s) * salt(x) / 1000
		k = batch{sa: sa, perLitre: sa * rho, content: w, final: v(x)}
		k.salt = dry / (1 - w - s/1000)
		k.hydrated = dry / (1 - hydrated - s/1000)
		k.source = (mass - k.salt) / from
		return k, nil
	}
	return e, nil
}

// content returns the water content of the product: as given, as a trial batch
// tells it, or none.
func (r SaltRequest) content(j *joint, t func([]float64) float64) func([]float64) (float64, error) {
	switch {
	case r.ProductWaterContent != nil:
		w := input(j, "product_water_content", *r.ProductWaterContent)
		return func(x []float64) (float64, error) { return w(x), nil }
	case r.CalibrationBatchSalt == nil:
		return func([]float64) (float64, error) { return 0, nil }
	}
	salt := input(j, "calibration_batch_salt", *r.CalibrationBatchSalt)
	water := input(j, "calibration_batch_water", *r.CalibrationBatchWater)
	read := j.reading("calibration_batch_reading", *r.CalibrationBatchReading, t)
	return func(x []float64) (float64, error) {
		sa, err := read(x)
		if err != nil {
			return 0, err
		}
		pure, err := density(0, t(x))
		if err != nil {
			return 0, err
		}
		return 1 - sa/1000*(salt(x)+water(x)*pure)/salt(x), nil
	}
}

// reachable refuses a target that adding the product to the source cannot make.
func (r SaltRequest) reachable(k batch, err error) error {
	if err != nil {
		return err
	}
	if err := contents.Check("calibration_batch_reading", quantity.Fraction(k.content)); err != nil {
		return &instrument.ConflictError{Name: "calibration_batch_reading", Other: "calibration_batch_salt",
			Why: "that reading would need a product with less than no water in it, or more than 60 %; weigh, dissolve fully and read again"}
	}
	source, err := instrument.SalinityOf("source", *r.Source)
	if err != nil {
		return err
	}
	if k.salt <= 0 && k.sa > 0 || k.salt < 0 {
		return &UnreachableError{Name: "target", Target: quantity.AbsoluteSalinity(k.sa), Lo: source.Value, Hi: 120,
			Why: "salt can only be added; take fresher source water, or blend"}
	}
	return nil
}

// vessel is the vessel of the request.
func (r SaltRequest) vessel() VesselRequest {
	return VesselRequest{*r.Shape, r.Length, r.Width, r.MiddleWidth, r.Height, r.Diameter, r.TopDiameter, r.BottomDiameter,
		r.FillHeight, r.Glass, r.SandDepth, r.SandPorosity, r.RockMass, r.RockDensity}
}

// heavy cautions where there is more water than a person should lift.
func heavy(v quantity.Volume) []quantity.Note {
	if v < 20 {
		return nil
	}
	return []quantity.Note{note("water_is_heavy", quantity.Exactly(v), quantity.Exactly(quantity.Mass(v)))}
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
