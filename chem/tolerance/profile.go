package tolerance

import (
	"errors"

	"saltlock/chem/quantity"
)

// Profile is a taxon with everything that a keeper needs to know, including the limits of
// each life stage.
type Profile struct {
	Taxon
	Stages []StageProfile `json:"stages"` // replaces those of Taxon
	// UnknownStages are those missing in the species table, if its rows differ by stage.
	UnknownStages []LifeStage     `json:"unknown_stages"`
	Cautioned     []quantity.Note `json:"cautions"`
	Methods       []string        `json:"methods"`
}

// StageProfile is a life stage with the limits of its sensitivity class.
type StageProfile struct {
	Stage
	Limits ClassLimits `json:"limits"`
	// The bands as g/kg, with the same numbers: deprecated.
	Salinity          *Sourced[quantity.AbsoluteSalinity] `json:"salinity,omitempty"`
	PreferredSalinity *Sourced[quantity.AbsoluteSalinity] `json:"preferred_salinity,omitempty"`
}

// ClassLimits are the default limits of a sensitivity class for an animal of unknown origin.
type ClassLimits struct {
	Mark Mark            `json:"mark"` // always ProposedHere
	Up   DirectionLimits `json:"up"`
	Down DirectionLimits `json:"down"`
	Ramp RampLimits      `json:"ramp"`
}

// DirectionLimits are the limits of moving an animal one way.
type DirectionLimits struct {
	AtOnce     quantity.Estimate[quantity.AbsoluteSalinity] `json:"at_once"`
	PerHour    quantity.Estimate[quantity.SalinityRate]     `json:"per_hour"`
	Per24Hours quantity.Estimate[quantity.AbsoluteSalinity] `json:"per_24_hours"`
}

// RampLimits are the limits of changing the tank around it.
type RampLimits struct {
	PerDay  quantity.Estimate[quantity.AbsoluteSalinity] `json:"per_day"`
	PerWeek quantity.Estimate[quantity.AbsoluteSalinity] `json:"per_week"` // the stricter of the two that Ramp has
}

// Notes returns every note of the profile, for the renderer to fill.
func (p *Profile) Notes() []*quantity.Note {
	all := make([]*quantity.Note, len(p.Cautioned))
	for i := range p.Cautioned {
		all[i] = &p.Cautioned[i]
	}
	return all
}

// LimitsOf returns the default limits of a class in the form of an answer.
//
// Standing: proposed here; see DefaultLimits and DefaultRamp.
func LimitsOf(c Class) (ClassLimits, error) {
	up, noUp := DefaultLimits(c, true, UnknownOrigin)
	down, noDown := DefaultLimits(c, false, UnknownOrigin)
	ramp, noRamp := DefaultRamp(c)
	direction := func(l Limits) DirectionLimits {
		return DirectionLimits{quantity.Exactly(l.AtOnce), quantity.Exactly(l.PerHour), quantity.Exactly(l.Per24Hours)}
	}
	return ClassLimits{Mark: ProposedHere, Up: direction(up), Down: direction(down),
		Ramp: RampLimits{quantity.Exactly(ramp.PerDay), quantity.Exactly(min(ramp.PerWeek, ramp.PerWeekSalty))},
	}, errors.Join(noUp, noDown, noRamp)
}

// Profile returns the taxon with the limits of its stages, the unknown stages, and its
// cautions.
func (t Taxon) Profile() (Profile, error) {
	p := Profile{Taxon: t, Stages: make([]StageProfile, len(t.Stages)), UnknownStages: []LifeStage{},
		Cautioned: append(t.Company(), t.Cautions()...), Methods: []string{"limits-by-class"}}
	for i, s := range t.Stages {
		limits, err := LimitsOf(s.SensitivityClass)
		if err != nil {
			return Profile{}, err
		}
		p.Stages[i] = StageProfile{s, limits, sourcedInGrams(s.Survived), sourcedInGrams(s.Preferred)}
	}
	for _, s := range []LifeStage{Larva, Juvenile, Adult} {
		if _, _, err := t.StageFor(s); err != nil {
			p.UnknownStages = append(p.UnknownStages, s)
		}
	}
	return p, nil
}
