package mixing

import (
	"errors"
	"math"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// WaterChangeRequest asks about a water change. With Target and NewWater, it asks how much
// must be exchanged. With Change, it asks what the new water must be so that the tank stays
// as it is or reaches Target. With Change and NewWater, it asks what the tank will be.
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
	Weekly   ChangeMode = "weekly"   // what the new water of a given change must be
	Outcome  ChangeMode = "outcome"  // what a given change with a given water gives
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

// ChangeStep is one of several consecutive water changes.
type ChangeStep struct {
	TakeOut           quantity.Estimate[quantity.Volume]           `json:"take_out"`
	PutIn             quantity.Estimate[quantity.Volume]           `json:"put_in"`
	NewWaterSalinity  Salinity                                     `json:"new_water_salinity"`
	AbsoluteSalinity  quantity.Estimate[quantity.AbsoluteSalinity] `json:"absolute_salinity"` // of the tank after it
	PracticalSalinity quantity.Estimate[quantity.Salinity]         `json:"practical_salinity"`
}

// Salinity is one salinity on the absolute and on the practical scale.
type Salinity struct {
	Absolute  quantity.Estimate[quantity.AbsoluteSalinity] `json:"absolute"`
	Practical quantity.Estimate[quantity.Salinity]         `json:"practical"`
}

// WithDefaults returns the request with its defaults filled in, except where omitting an
// input has a meaning of its own.
func (r WaterChangeRequest) WithDefaults() WaterChangeRequest {
	if r.Temperature == nil {
		r.Temperature = new(quantity.Exactly(standIn))
	}
	if r.oversalted() {
		r.NewWater = &quantity.Reading{Scale: quantity.AbsoluteScale}
	}
	if r.Source == nil && r.NewWater == nil {
		r.Source = &quantity.Reading{Scale: quantity.AbsoluteScale}
	}
	return r
}

// oversalted reports whether the only question is how to lower a tank, which takes fresh water.
func (r WaterChangeRequest) oversalted() bool {
	if r.Change != nil || r.NewWater != nil || r.Source != nil || r.Target == nil {
		return false
	}
	now, noNow := instrument.SalinityOf("salinity", r.Salinity)
	then, noThen := instrument.SalinityOf("target", *r.Target)
	return noNow == nil && noThen == nil && then.Value < now.Value
}

// inOneGo is the change, g/kg, above which steps are recommended for the animals: the daily
// limit of animals that are not hardy. Proposed here.
const inOneGo = 2

// mode returns which question is asked.
func (r WaterChangeRequest) mode() ChangeMode {
	switch {
	case r.Change == nil:
		return Exchange
	case r.NewWater == nil:
		return Weekly
	}
	return Outcome
}

// Change returns what to take out of a tank and what to put in.
//
//	Volume         of the tank, 0.001 to 1e9 L, all waters at Temperature, 0 to 40 °C
//	GreatestShare  of the tank in one step, above 0 to 1
//
// The tank is filled back to its level, so volumes are computed from masses. The function is
// long because each question fills in other fields of the answer.
//
// Standard uncertainty: of the inputs given.
// Check value: 50 L of 100 L pure water changed for 35 ppt at 25 °C takes 50.015 L
// and gives 17.730 ppt (conservation over TEOS-10 density).
//
// Source: conservation of mass and salt.
func Change(given WaterChangeRequest) (WaterChange, error) {
	r := given.WithDefaults()
	if err := r.check(); err != nil {
		return WaterChange{}, err
	}
	e, err := r.estimates()
	if err != nil {
		return WaterChange{}, err
	}
	k, err := e.at()
	if err != nil {
		return WaterChange{}, err
	}
	last := len(k.steps) - 1
	w := WaterChange{
		Mode:             r.mode(),
		TakeOut:          estimate[quantity.Volume](e, func(k change) float64 { return k.total(func(s step) float64 { return s.out }) }),
		PutIn:            estimate[quantity.Volume](e, func(k change) float64 { return k.total(func(s step) float64 { return s.in }) }),
		NewWaterSalinity: salinity(e, func(k change) float64 { return k.steps[last].fresh }),
		SalinityAfter:    salinity(e, func(k change) float64 { return k.steps[last].after }),
		Steps:            stepsOf(e, len(k.steps)),
		Cautions:         []quantity.Note{note("dechlorinate_first"), note("limits_of_animals_decide"), note("no_animals_near_the_salt"), note("never_siphon_by_mouth")},
		Warnings:         []quantity.Note{},
		Assumptions:      assumed(given.Temperature, &r.Salinity, r.Target, r.NewWater, r.Source),
		Methods:          []string{WaterChangeMethod, seawater.DensityMethod, seawater.ReferenceSalinityMethod},
	}
	if r.Source != nil {
		w.Salt = new(estimate[quantity.Mass](e, func(k change) float64 { return k.salt }))
		w.SourceWater = new(estimate[quantity.Volume](e, func(k change) float64 { return k.source }))
		w.Methods = append(w.Methods, SaltBalanceMethod)
		if r.ProductWaterContent == nil {
			w.SaltHydrated = new(estimate[quantity.Mass](e, func(k change) float64 { return k.hydrated }))
			w.Assumptions = append(w.Assumptions, note("product_taken_dry", *w.Salt, *w.SaltHydrated))
			w.Methods = append(w.Methods, HydratedMethod)
		}
	}
	if given.oversalted() {
		w.Assumptions = append(w.Assumptions, note("new_water_taken_fresh"))
	}
	before, noBefore := instrument.SalinityOf("salinity", r.Salinity)
	if apart := math.Abs(k.steps[last].after - float64(before.Value)); noBefore == nil && len(k.steps) == 1 && apart > inOneGo {
		w.Warnings = append(w.Warnings, note("change_in_steps", quantity.Exactly(quantity.AbsoluteSalinity(apart)), quantity.Exactly[quantity.AbsoluteSalinity](inOneGo)))
	}
	if w.Mode == Exchange {
		_, w.Dominant = share[quantity.Volume](e, func(k change) float64 { return k.steps[0].out })
	} else {
		_, w.Dominant = share[quantity.AbsoluteSalinity](e, func(k change) float64 { return k.steps[last].fresh + k.steps[last].after })
	}
	return w, e.err
}

// stepsOf returns the steps, n in all.
func stepsOf(e *estimates[change], n int) []ChangeStep {
	list := make([]ChangeStep, n)
	for i := range list {
		after := salinity(e, func(k change) float64 { return k.steps[i].after })
		list[i] = ChangeStep{
			TakeOut:           estimate[quantity.Volume](e, func(k change) float64 { return k.steps[i].out }),
			PutIn:             estimate[quantity.Volume](e, func(k change) float64 { return k.steps[i].in }),
			NewWaterSalinity:  salinity(e, func(k change) float64 { return k.steps[i].fresh }),
			AbsoluteSalinity:  after.Absolute,
			PracticalSalinity: after.Practical,
		}
	}
	return list
}

// check names every fault that shows before anything is computed.
func (r WaterChangeRequest) check() error {
	faults := []error{
		volumes.Check("volume", r.Volume.Value), check(volumes, "change", r.Change),
		check(temperatures, "temperature", r.Temperature), check(contents, "product_water_content", r.ProductWaterContent),
		check(shares, "greatest_share", r.GreatestShare), check(differences, "greatest_change", r.GreatestChange),
		known("salinity", &r.Salinity, r.Temperature), known("target", r.Target, r.Temperature), known("new_water", r.NewWater, r.Temperature), known("source", r.Source, r.Temperature),
	}
	if r.Change != nil && r.Change.Value > r.Volume.Value {
		faults = append(faults, &quantity.RangeError{Name: "change", Value: float64(r.Change.Value), Lo: 0, Hi: float64(r.Volume.Value), Unit: "L"})
	}
	if r.mode() == Weekly && r.GreatestShare != nil && r.Change.Value > r.Volume.Value*quantity.Volume(r.GreatestShare.Value) {
		faults = append(faults, &instrument.ConflictError{Name: "change", Other: "greatest_share", Why: "that change is more of the tank than one step may change; make it smaller", Note: quantity.Note{Code: "change_over_share"}})
	}
	faults = append(faults, unused("source", "it tells how much product the new water takes from the source; give that too", quantity.Note{Code: "content_without_source"},
		idle{"product_water_content", r.ProductWaterContent != nil && r.NewWater != nil && r.Source == nil}))
	switch {
	case r.Change == nil && r.Target == nil:
		faults = append(faults, &instrument.MissingError{Name: "change", Why: "give the volume that is changed anyway, or a target and the new water at hand", Note: quantity.Note{Code: "change_or_target_needed"}})
	case r.Change == nil && r.NewWater == nil:
		faults = append(faults, &instrument.MissingError{Name: "new_water", Why: "how much to change depends on the salinity of the new water; or give the volume to change", Note: quantity.Note{Code: "new_water_or_change_needed"}})
	case r.Change != nil && r.NewWater != nil && r.Target != nil:
		faults = append(faults, &instrument.ConflictError{Name: "target", Other: "new_water", Why: "a given volume of a given water leaves nothing to choose; leave one of target, change and new_water out", Note: quantity.Note{Code: "change_leaves_no_choice"}})
	}
	return errors.Join(faults...)
}

var (
	shares      = quantity.Range[quantity.Fraction]{Lo: 1e-3, Hi: 1}
	differences = quantity.Range[quantity.AbsoluteSalinity]{Lo: 1e-2, Hi: 120}
)

// Notes returns every note of the water change, for the renderer to fill.
func (w *WaterChange) Notes() []*quantity.Note {
	return notes(w.Cautions, w.Warnings, w.Assumptions)
}
