package server

import (
	"github.com/labstack/echo/v4"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/server/render"
)

// conversionAnswer is a conversion, and what its water means for a species.
type conversionAnswer struct {
	*instrument.Conversion
	Suits *speciesJudgement `json:"suits,omitempty"`
}

// conversionInputs adds the species to what is echoed.
type conversionInputs struct {
	instrument.ConversionRequest
	Species *string `json:"species,omitempty"`
	Stage   *string `json:"stage,omitempty"`
}

// speciesJudgement is what a water means for a life stage of a species.
type speciesJudgement struct {
	tolerance.Ref
	tolerance.Judgement
	NearestSalinity *quantity.Estimate[quantity.Salinity] `json:"nearest_salinity,omitempty"`
	// Nearest has the same number as g/kg: deprecated.
	Nearest *quantity.Estimate[quantity.AbsoluteSalinity] `json:"nearest,omitempty"`
}

// suitsRow is a conversion that was asked for a species.
type suitsRow struct {
	conversionRow
	Suits *speciesJudgement `json:"suits"`
}

// Notes returns the notes of the conversion and the reasons of the judgement.
func (a conversionAnswer) Notes() []*quantity.Note {
	all := a.Conversion.Notes()
	if a.Suits != nil {
		for i := range a.Suits.Reasons {
			all = append(all, &a.Suits.Reasons[i])
		}
	}
	return all
}

// suits judges the water for the species of the query; nil without one. The temperature counts
// only if it was given.
func (s *Server) suits(c echo.Context, in *conversionInputs, r instrument.ConversionRequest, w instrument.Conversion) (*speciesJudgement, error) {
	q := askedOf(c).Query
	id, stage := q.Get("species"), q.Get("stage")
	if id == "" {
		if stage != "" {
			return nil, &instrument.MissingError{Name: "species", Why: "a life stage is one of some species", Note: quantity.Note{Code: "stage_needs_species"}}
		}
		return nil, nil
	}
	if stage != "" {
		in.Stage = &stage
	}
	t, err := s.species(c, "species", id)
	if err != nil {
		return nil, err
	}
	in.Species = &t.ID
	at, _, err := t.StageFor(tolerance.LifeStage(stage))
	if err != nil {
		return nil, err
	}
	j, err := t.Judge(at, tolerance.Water{Salinity: w.AbsoluteSalinity, Temperature: r.Temperature})
	if err != nil {
		return nil, err
	}
	found := &speciesJudgement{Ref: tolerance.Ref{ID: t.ID, Name: t.Name(), Stage: at.Stage}, Judgement: j}
	if nearest, off := at.Nearest(w.AbsoluteSalinity.Value); off {
		e, grams := quantity.Exactly(nearest), quantity.Exactly(quantity.AbsoluteSalinity(nearest))
		found.NearestSalinity, found.Nearest = &e, &grams
	}
	return found, nil
}

// suitsCodes say what a water means for one species.
var suitsCodes = map[tolerance.Verdict]quantity.Code{
	tolerance.Preferred: "suits_preferred", tolerance.Tolerated: "suits_tolerated", tolerance.Unknown: "suits_unknown", tolerance.Outside: "suits_outside",
}

// suitsCode is what is said first about a water.
func suitsCode(j tolerance.Judgement) quantity.Code {
	switch {
	case j.Verdict == tolerance.Unknown && j.Lean():
		return "suits_lean"
	case j.Verdict != tolerance.Tolerated || j.Briefly():
		return suitsCodes[j.Verdict]
	case j.SeaWaterWillDo():
		return "suits_sea_water"
	}
	return "suits_survived"
}

// suitsLines says first whether the water is right, then why not.
func suitsLines(v render.Voice, j *speciesJudgement) lines {
	if j == nil {
		return nil
	}
	l := lines{v.Say(suitsCode(j.Judgement), atStage(j.Ref))}
	l.notes(j.Reasons)
	l.add(v, "suits_nearest", j.Name, j.NearestSalinity)
	return l
}
