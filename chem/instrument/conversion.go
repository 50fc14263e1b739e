package instrument

import (
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// ConversionRequest is one reading and what is known about how it was taken.
type ConversionRequest struct {
	Reading     quantity.Reading                     `json:"reading"`
	Temperature *quantity.Estimate[quantity.Celsius] `json:"temperature,omitempty"` // of the water, when read
	Instrument  *Kind                                `json:"instrument,omitempty"`
	Calibration *quantity.Convention                 `json:"calibration,omitempty"` // what a hydrometer is marked for
	// As in Setup.
	Scale                  *RefractometerScale                  `json:"scale,omitempty"`
	TemperatureCompensated *bool                                `json:"temperature_compensated,omitempty"`
	ZeroTemperature        *quantity.Estimate[quantity.Celsius] `json:"zero_temperature,omitempty"`
	Compensation           *Compensation                        `json:"compensation,omitempty"`
	TdsFactor              *float64                             `json:"tds_factor,omitempty"`
	Correction             *Correction                          `json:"correction,omitempty"`
}

// Conversion is one water in every measure. A measure is nil if it is outside its formula's
// range; a warning then says so.
type Conversion struct {
	PracticalSalinity *quantity.Estimate[quantity.Salinity]         `json:"practical_salinity,omitempty"`
	AbsoluteSalinity  *quantity.Estimate[quantity.AbsoluteSalinity] `json:"absolute_salinity,omitempty"`
	SaltPerLitre      *quantity.Estimate[quantity.SaltPerLitre]     `json:"salt_per_litre,omitempty"`
	Density           *quantity.Estimate[quantity.Density]          `json:"density,omitempty"`
	SpecificGravity   []ConventionGravity                           `json:"specific_gravity"`
	Conductivity      *quantity.Estimate[quantity.Conductivity]     `json:"conductivity,omitempty"`
	Conductivity25    *quantity.Estimate[quantity.Conductivity]     `json:"conductivity_25,omitempty"` // of the same water at 25 °C
	RefractiveIndex   *quantity.Estimate[quantity.RefractiveIndex]  `json:"refractive_index,omitempty"`
	Chlorinity        *quantity.Estimate[quantity.Chlorinity]       `json:"chlorinity,omitempty"`
	Osmolality        *quantity.Estimate[quantity.Osmolality]       `json:"osmolality,omitempty"`
	FreezingPoint     *quantity.Estimate[quantity.Celsius]          `json:"freezing_point,omitempty"`
	OxygenSaturation  *quantity.Estimate[quantity.DissolvedOxygen]  `json:"oxygen_saturation,omitempty"`
	Temperature       quantity.Estimate[quantity.Celsius]           `json:"temperature"`
	Zone              seawater.Zone                                 `json:"zone"`
	ReadAs            ReadAs                                        `json:"read_as,omitempty"` // where the reading can mean more than one water
	Interpretations   []Interpretation                              `json:"interpretations,omitempty"`
	Corrections       []quantity.Note                               `json:"corrections"`
	// Dominant is the input that contributes most to the variance of the absolute salinity.
	Dominant    *quantity.Share `json:"dominant,omitempty"`
	Warnings    []quantity.Note `json:"warnings"`
	Assumptions []quantity.Note `json:"assumptions"`
	Methods     []string        `json:"methods"`
}

// ConventionGravity is the specific gravity of a water on one convention.
type ConventionGravity struct {
	Convention quantity.Convention                         `json:"convention"`
	Value      quantity.Estimate[quantity.SpecificGravity] `json:"value"`
}

// Notes returns every note of the conversion, for the renderer to fill.
func (c *Conversion) Notes() []*quantity.Note {
	return notes(c.Corrections, c.Warnings, c.Assumptions)
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
