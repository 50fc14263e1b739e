package mixing

import (
	"errors"
	"math"
	"strconv"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// Portion is one water of a blend, written "10 L, 35 ppt, 25 C, 8 dKH" in any
// order. One portion of a blend may omit its volume, which is then computed.
type Portion struct {
	Volume      *quantity.Estimate[quantity.Volume]
	Salinity    quantity.Reading
	Temperature *quantity.Estimate[quantity.Celsius]
	Alkalinity  *quantity.Estimate[quantity.Alkalinity]
	PH          *quantity.Estimate[quantity.PH] // written with its unit, "8.1 pH"
}

// BlendRequest asks what several waters give together or, with a target, how much is needed
// of the one without a volume.
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
	Alkalinity        *quantity.Estimate[quantity.Alkalinity]      `json:"alkalinity,omitempty"` // if every water's is given
	PH                *quantity.Estimate[quantity.PH]              `json:"ph,omitempty"`         // in a closed vessel, if every water's is given
	PHInAir           *quantity.Estimate[quantity.PH]              `json:"ph_in_air,omitempty"`  // in equilibrium with the air
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
	Solved           bool                                         `json:"solved"` // the volume was omitted and computed
}

// WithDefaults returns the request with 25 °C for waters without a temperature.
func (r BlendRequest) WithDefaults() BlendRequest {
	waters := make([]Portion, len(r.Water))
	for i, w := range r.Water {
		if w.Temperature == nil {
			w.Temperature = new(quantity.Exactly(standIn))
		}
		waters[i] = w
	}
	r.Water = waters
	return r
}

// blend is the joint function of a blend, in kg, L, g/kg, °C and meq/L.
type blend struct {
	mass, volume, sa, t, alkalinity, rho float64
	parts                                []part
}

// part is one water of a blend.
type part struct{ volume, mass, sa, t, alkalinity, ph float64 }

// BlendWaters returns what several waters give together. With a target, one water omits its
// volume, and that volume is computed. It is long because it fills in every field of the
// answer.
//
//	Water   two or more, each with a salinity up to 120 g/kg and 0 to 40 °C
//	Target  between the salinity of the others together and that of the water without a volume
//
// Mass, salt, enthalpy and alkalinity are conserved; volume is not.
//
// Standard uncertainty: of the inputs given.
// Check value: 10 L fresh at 15 °C and 10 L of 35 ppt at 30 °C give 17.696 ppt
// at 22.406 °C (conservation over TEOS-10 density and enthalpy).
//
// Source: conservation; enthalpy and density [IAPWS08].
func BlendWaters(r BlendRequest) (Blend, error) {
	given := r
	r = r.WithDefaults()
	solved, err := r.check()
	if err != nil {
		return Blend{}, err
	}
	e := r.estimates(solved)
	if _, err := e.at(); err != nil {
		return Blend{}, err
	}
	b := Blend{
		Volume:            estimate[quantity.Volume](e, func(k blend) float64 { return k.volume }),
		Mass:              estimate[quantity.Mass](e, func(k blend) float64 { return k.mass }),
		AbsoluteSalinity:  estimate[quantity.AbsoluteSalinity](e, func(k blend) float64 { return k.sa }),
		PracticalSalinity: practical(e, func(k blend) float64 { return k.sa }),
		Temperature:       estimate[quantity.Celsius](e, func(k blend) float64 { return k.t }),
		Density:           estimate[quantity.Density](e, func(k blend) float64 { return k.rho * 1000 }),
		Cautions:          []quantity.Note{},
		Warnings:          []quantity.Note{},
		Assumptions:       []quantity.Note{},
		Methods:           []string{BlendMethod, seawater.DensityMethod, seawater.EnthalpyMethod},
	}
	if r.alkalinityKnown() {
		b.Alkalinity = new(estimate[quantity.Alkalinity](e, func(k blend) float64 { return k.alkalinity }))
		if !r.acidityKnown() {
			b.Warnings = append(b.Warnings, note("ph_does_not_mix"))
		}
	}
	b.addAcidity(r, e)
	b.Waters = watersOf(e, len(r.Water), solved)
	for i, w := range given.Water {
		if w.Temperature == nil {
			b.Assumptions = append(b.Assumptions, note("water_temperature_assumed", i+1, *r.Water[i].Temperature))
		}
	}
	b.Assumptions = append(b.Assumptions, usualConvention(append(r.salinities(), r.Target)...)...)
	if solved >= 0 {
		_, b.Dominant = share[quantity.Volume](e, func(k blend) float64 { return k.parts[solved].volume })
	} else {
		_, b.Dominant = share[quantity.AbsoluteSalinity](e, func(k blend) float64 { return k.sa })
	}
	b.Cautions = append(b.Cautions, heavy(b.Volume.Value)...)
	return b, e.err
}

// watersOf returns the parts of a blend of n waters.
func watersOf(e *estimates[blend], n, solved int) []BlendWater {
	list := make([]BlendWater, n)
	for i := range list {
		list[i] = BlendWater{
			Volume:           estimate[quantity.Volume](e, func(k blend) float64 { return k.parts[i].volume }),
			Share:            estimate[quantity.Fraction](e, func(k blend) float64 { return k.parts[i].mass / k.mass }),
			AbsoluteSalinity: estimate[quantity.AbsoluteSalinity](e, func(k blend) float64 { return k.parts[i].sa }),
			Solved:           i == solved,
		}
	}
	return list
}

// check names every fault of the request, and returns which water has no volume, −1 for none.
func (r BlendRequest) check() (solved int, err error) {
	solved = -1
	faults := []error{known("target", r.Target, nil), r.checkAcidity()}
	for i, w := range r.Water {
		faults = append(faults, check(volumes, "water", w.Volume), check(temperatures, "water", w.Temperature), known("water", &w.Salinity, w.Temperature))
		if w.Volume != nil {
			continue
		}
		if solved >= 0 {
			faults = append(faults, &instrument.MissingError{Name: "water", Why: "only one water may leave its volume out", Note: quantity.Note{Code: "one_volume_left_out"}})
		}
		solved = i
	}
	if r.Target != nil && instrument.NeedsTemperature(*r.Target) {
		faults = append(faults, &instrument.ConflictError{Name: "target", Other: "water",
			Why: "the blend's temperature is not known before, and a target in " + string(r.Target.Scale) + " depends on it; give ppt, g/kg or SG", Note: quantity.Note{Code: "blend_target_scale", Params: []any{string(r.Target.Scale)}}})
	}
	switch {
	case len(r.Water) < 2:
		faults = append(faults, &instrument.MissingError{Name: "water", Why: "a blend takes two waters or more", Note: quantity.Note{Code: "blend_of_two"}})
	case solved >= 0 && r.Target == nil:
		faults = append(faults, &instrument.MissingError{Name: "target", Why: "a water without a volume is found from the salinity the blend shall have", Note: quantity.Note{Code: "blend_needs_target"}})
	case solved < 0 && r.Target != nil:
		faults = append(faults, &instrument.ConflictError{Name: "target", Other: "water", Why: "every water has its volume; leave out that of the water to be found", Note: quantity.Note{Code: "blend_solves_nothing"}})
	}
	return solved, errors.Join(faults...)
}

func (r BlendRequest) salinities() []*quantity.Reading {
	var all []*quantity.Reading
	for i := range r.Water {
		all = append(all, &r.Water[i].Salinity)
	}
	return all
}

func (r BlendRequest) alkalinityKnown() bool {
	for _, w := range r.Water {
		if w.Alkalinity == nil {
			return false
		}
	}
	return true
}

// estimates makes the joint function of the blend.
func (r BlendRequest) estimates(solved int) *estimates[blend] {
	e := &estimates[blend]{}
	waters := make([]func([]float64) (part, error), len(r.Water))
	for i, w := range r.Water {
		waters[i] = w.part(&e.joint, "water "+strconv.Itoa(i+1))
	}
	var target func([]float64) (float64, error)
	if r.Target != nil {
		target = e.reading("target", "target", *r.Target, func([]float64) float64 { return float64(standIn) })
	}
	e.of = func(x []float64) (k blend, err error) {
		for _, w := range waters {
			p, err := w(x)
			if err != nil {
				return k, err
			}
			k.parts = append(k.parts, p)
		}
		if solved >= 0 {
			sa, err := target(x)
			if err == nil {
				err = fill(k.parts, solved, sa)
			}
			if err != nil {
				return k, err
			}
		}
		return k, k.pour()
	}
	return e
}

// part returns one water as a function of its inputs.
func (p Portion) part(j *joint, label string) func([]float64) (part, error) {
	volume := labelled(j, "water", label+" volume", p.Volume)
	t := labelled(j, "water", label+" temperature", p.Temperature)
	sa := j.reading("water", label+" salinity", p.Salinity, t)
	alkalinity := labelled(j, "water", label+" alkalinity", p.Alkalinity)
	ph := labelled(j, "water", label+" ph", p.PH)
	return func(x []float64) (part, error) {
		s, err := sa(x)
		if err != nil {
			return part{}, err
		}
		rho, err := density(s, t(x))
		return part{volume(x), volume(x) * rho, s, t(x), alkalinity(x), ph(x)}, err
	}
}

// fill finds the mass of the solved water that brings the blend to sa.
func fill(parts []part, solved int, sa float64) error {
	var mass, salt float64
	for i, p := range parts {
		if i != solved {
			mass += p.mass
			salt += p.mass * p.sa
		}
	}
	p := &parts[solved]
	p.mass = (salt - mass*sa) / (sa - p.sa)
	if others := salt / mass; !(p.mass > 0) || math.IsInf(p.mass, 0) {
		return &UnreachableError{Name: "target", Target: quantity.AbsoluteSalinity(sa),
			Lo: quantity.AbsoluteSalinity(min(others, p.sa)), Hi: quantity.AbsoluteSalinity(max(others, p.sa)),
			Why: "A mix always lies between the waters it is made of.", Note: quantity.Note{Code: "mix_lies_between"}}
	}
	rho, err := density(p.sa, p.t)
	p.volume = p.mass / rho
	return err
}

// pour computes the blend from its parts.
func (k *blend) pour() error {
	var salt, heat, bases float64
	for _, p := range k.parts {
		h, err := seawater.SpecificEnthalpy(quantity.AbsoluteSalinity(p.sa), quantity.Celsius(p.t))
		if err != nil {
			return err
		}
		k.mass += p.mass
		salt += p.mass * p.sa
		heat += p.mass * float64(h)
		bases += p.volume * p.alkalinity
	}
	k.sa = salt / k.mass
	t, err := seawater.TemperatureFromEnthalpy(quantity.SpecificEnthalpy(heat/k.mass), quantity.AbsoluteSalinity(k.sa))
	if err != nil {
		return err
	}
	k.t = float64(t)
	k.rho, err = density(k.sa, k.t)
	k.volume = k.mass / k.rho
	k.alkalinity = bases / k.volume
	return err
}

// Notes returns every note of the blend, for the renderer to fill.
func (b *Blend) Notes() []*quantity.Note {
	return notes(b.Cautions, b.Warnings, b.Assumptions)
}
