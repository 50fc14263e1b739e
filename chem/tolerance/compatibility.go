package tolerance

import (
	"errors"
	"slices"

	"saltlock/chem/quantity"
)

// Member is one kind of animal in a community.
type Member struct {
	Taxon Taxon
	Stage LifeStage // empty: the stage that StageFor assumes
	Count int       // how many; 0 means not stated
}

// Compatibility is what water the members of a community share.
type Compatibility struct {
	Status Status `json:"status"`
	// Together is what temper and size mean, which decides before the water does.
	Together Together       `json:"together"`
	Members  []MemberResult `json:"members"`
	Bands
	// LeaveOut lists members of which any one could go so that the rest share a water, and
	// LeaveOutPreferred those for the rest to share a salinity that all prefer.
	LeaveOut          []Leaving       `json:"leave_out,omitempty"`
	LeaveOutPreferred []Leaving       `json:"leave_out_preferred,omitempty"`
	Verdict           Verdict         `json:"verdict,omitempty"` // of the given water: the worst of all; empty if none was given
	Cautions          []quantity.Note `json:"cautions"`          // between members
	Remarks           []quantity.Note `json:"notes"`
	Methods           []string        `json:"methods"`
}

// Notes returns every note of the comparison, for the renderer to fill.
func (c *Compatibility) Notes() []*quantity.Note {
	var all []*quantity.Note
	for _, list := range [][]quantity.Note{c.Together.Reasons, c.Remarks, c.Cautions} {
		for i := range list {
			all = append(all, &list[i])
		}
	}
	for _, m := range c.Members {
		for i := range m.Cautions {
			all = append(all, &m.Cautions[i])
		}
		if m.Judgement == nil {
			continue
		}
		for i := range m.Judgement.Reasons {
			all = append(all, &m.Judgement.Reasons[i])
		}
	}
	return all
}

// Bands are the common bands of a community.
type Bands struct {
	// UsableRange is the band for which all may be planned, and PreferredRange the one that all
	// prefer. SurvivedRange is the one that all are known to survive, not one to keep them in.
	UsableRange    Common[quantity.Salinity, quantity.Salinity]             `json:"usable_range"`
	PreferredRange Common[quantity.Salinity, quantity.Salinity]             `json:"preferred_range"`
	SurvivedRange  Common[quantity.Salinity, quantity.Salinity]             `json:"survived_range"`
	Temperature    Common[quantity.Celsius, quantity.TemperatureDifference] `json:"temperature"`
	PH             Common[quantity.PH, quantity.PH]                         `json:"ph"`
	// The bands of salinity as g/kg, with the same numbers: deprecated.
	Salinity          Common[quantity.AbsoluteSalinity, quantity.AbsoluteSalinity] `json:"salinity"`
	PreferredSalinity Common[quantity.AbsoluteSalinity, quantity.AbsoluteSalinity] `json:"preferred_salinity"`
	SurvivedSalinity  Common[quantity.AbsoluteSalinity, quantity.AbsoluteSalinity] `json:"survived_salinity"`
}

// MemberResult is what the comparison found for one member.
type MemberResult struct {
	Ref
	ScientificName string                      `json:"scientific_name"`
	Count          int                         `json:"count,omitempty"` // 0 means not stated
	Preferred      *Sourced[quantity.Salinity] `json:"preferred_range,omitempty"`
	Survived       *Sourced[quantity.Salinity] `json:"survived_range,omitempty"` // it was seen or is said to survive
	// The bands as g/kg, with the same numbers: deprecated.
	PreferredSalinity *Sourced[quantity.AbsoluteSalinity] `json:"preferred_salinity,omitempty"`
	Salinity          *Sourced[quantity.AbsoluteSalinity] `json:"salinity,omitempty"`
	Temperature       *Sourced[quantity.Celsius]          `json:"temperature,omitempty"`
	PH                *Sourced[quantity.PH]               `json:"ph,omitempty"`
	MaxLength         *Length                             `json:"max_length,omitempty"`
	SensitivityClass  Class                               `json:"sensitivity_class"`
	Confidence        Mark                                `json:"confidence"`
	Local             bool                                `json:"local,omitempty"`
	Cautions          []quantity.Note                     `json:"cautions"`            // of the species, in any company
	Judgement         *Judgement                          `json:"judgement,omitempty"` // of the given water

	stage Stage
	of    Taxon
}

// ErrNoMembers says that there is no member to compare.
var ErrNoMembers = errors.New("no species given")

// Compare returns the water that all members share at their life stages, and which member
// limits each side of it. If there is no such water, it returns the conflicting members. If
// a water is given, it also says what that water means for each member. It is long because
// it fills in every field of the answer.
//
// An unknown bound of salinity is replaced with that of the preferred band, and a conflict
// that depends on such a bound is not proven. Stenohaline fish are confined to their
// preferred band. A bound that cannot be replaced stays unknown, and so does the shared
// band. The members share a water only if salinity, temperature and pH each leave one.
// Bounds of temperature and pH that no source gives are named but do not count.
//
// Source: the intersection of intervals, by definition; the replacement of an unknown bound
// is a default proposed here.
func Compare(members []Member, water *Water) (Compatibility, error) {
	if len(members) == 0 {
		return Compatibility{}, ErrNoMembers
	}
	c := Compatibility{Remarks: []quantity.Note{}, Cautions: []quantity.Note{}, Methods: []string{"common-band"}}
	var faults []error
	for _, m := range members {
		stage, assumed, err := m.Taxon.StageFor(m.Stage)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		r := MemberResult{
			Ref:               Ref{ID: m.Taxon.ID, Name: m.Taxon.Name(), Stage: stage.Stage},
			ScientificName:    m.Taxon.ScientificName,
			Count:             m.Count,
			Preferred:         stage.Preferred,
			Survived:          stage.Survived,
			PreferredSalinity: sourcedInGrams(stage.Preferred),
			Salinity:          sourcedInGrams(stage.Survived),
			Temperature:       stage.Temperature,
			PH:                stage.PH,
			MaxLength:         m.Taxon.Longest(),
			SensitivityClass:  stage.SensitivityClass,
			Confidence:        stage.Confidence,
			Local:             m.Taxon.Local,
			Cautions:          m.Taxon.Cautions(),
			stage:             stage,
			of:                m.Taxon,
		}
		if assumed {
			c.Remarks = append(c.Remarks, noteOf("stage_assumed", r.Name, string(stage.Stage)))
		}
		c.Members = append(c.Members, r)
	}
	if err := errors.Join(faults...); err != nil {
		return Compatibility{}, err
	}
	c.Together = together(members)
	c.Bands = bandsOf(c.Members)
	c.Status = c.Bands.status()
	c.noteConflicts()
	c.LeaveOut = c.leaving(c.Status == NoneShared, Bands.status, func(b Bands) Common[quantity.Salinity, quantity.Salinity] { return b.UsableRange })
	c.LeaveOutPreferred = c.leaving(c.PreferredRange.Status == NoneShared, func(b Bands) Status { return b.PreferredRange.Status },
		func(b Bands) Common[quantity.Salinity, quantity.Salinity] { return b.PreferredRange })
	c.noteLeaving()
	c.Cautions = append(c.Cautions, mouths(members)...)
	if water == nil {
		return c, nil
	}
	return c, c.judge(*water)
}

// bandsOf intersects the bands of all members.
func bandsOf(members []MemberResult) Bands {
	b := Bands{
		UsableRange: common[quantity.Salinity, quantity.Salinity](holders(members, Stage.usable)),
		PreferredRange: common[quantity.Salinity, quantity.Salinity](holders(members, func(s Stage) span[quantity.Salinity] {
			return firm(s.Preferred.band())
		})),
		SurvivedRange: common[quantity.Salinity, quantity.Salinity](holders(members, func(s Stage) span[quantity.Salinity] {
			return firm(s.Survived.band())
		})),
		Temperature: common[quantity.Celsius, quantity.TemperatureDifference](holders(members, func(s Stage) span[quantity.Celsius] {
			return recorded(s.Temperature.band())
		})),
		PH: common[quantity.PH, quantity.PH](holders(members, func(s Stage) span[quantity.PH] {
			return firm(s.PH.band())
		})),
	}
	b.Salinity, b.PreferredSalinity, b.SurvivedSalinity = commonInGrams(b.UsableRange), commonInGrams(b.PreferredRange), commonInGrams(b.SurvivedRange)
	return b
}

// holders takes one span of each member.
func holders[Q quantity.Quantity](members []MemberResult, of func(Stage) span[Q]) []holder[Q] {
	hs := make([]holder[Q], len(members))
	for i, m := range members {
		hs[i] = holder[Q]{ref: m.Ref, span: of(m.stage)}
	}
	return hs
}

// status says whether the members share a water.
func (b Bands) status() Status {
	if b.Temperature.Status == NoneShared || b.PH.Status == NoneShared {
		return NoneShared
	}
	return b.UsableRange.Status
}

// Leaving is a member without which the rest share a band, or at least are not known to share
// none.
type Leaving struct {
	Ref
	Status Status                   `json:"status"`          // of the rest
	Range  *Band[quantity.Salinity] `json:"range,omitempty"` // they share
	// The band as g/kg, with the same numbers: deprecated.
	Lower *quantity.Estimate[quantity.AbsoluteSalinity] `json:"lower,omitempty"`
	Upper *quantity.Estimate[quantity.AbsoluteSalinity] `json:"upper,omitempty"`
}

// leaving tries the community without each member in turn. It finds none if nothing is wrong.
func (c *Compatibility) leaving(amiss bool, status func(Bands) Status, band func(Bands) Common[quantity.Salinity, quantity.Salinity]) []Leaving {
	if !amiss || len(c.Members) < 2 {
		return nil
	}
	var found []Leaving
	for i, m := range c.Members {
		rest := bandsOf(slices.Concat(c.Members[:i], c.Members[i+1:]))
		if status(rest) == NoneShared {
			continue
		}
		l := Leaving{Ref: m.Ref, Status: status(rest)}
		if b := band(rest); b.Lower != nil && b.Upper != nil {
			l.Range = &Band[quantity.Salinity]{Min: &b.Lower.Value, Max: &b.Upper.Value}
			l.Lower, l.Upper = gramsLabel(l.Range.Min), gramsLabel(l.Range.Max)
		}
		found = append(found, l)
	}
	return found
}

// noteLeaving notes which member would have to go.
func (c *Compatibility) noteLeaving() {
	for _, l := range c.LeaveOut {
		code := quantity.Code("leave_one_out")
		if l.Status == UnknownShared {
			code = "leave_one_out_unproven"
		}
		c.Remarks = append(c.Remarks, noteOf(code, l.Name))
	}
	for _, l := range c.LeaveOutPreferred {
		if l.Range != nil && len(c.Members) > 2 {
			c.Remarks = append(c.Remarks, noteOf("leave_one_out_preferred", l.Name, *l.Range.Min, *l.Range.Max))
		}
	}
}

// noteConflicts notes the widest conflict of each quantity.
func (c *Compatibility) noteConflicts() {
	c.Remarks = append(c.Remarks, c.UsableRange.widest("no_common_salinity", "unproven_common_salinity")...)
	c.Remarks = append(c.Remarks, c.Temperature.widest("no_common_temperature", "unproven_common_temperature")...)
	c.Remarks = append(c.Remarks, c.PH.widest("no_common_ph", "unproven_common_ph")...)
	if c.UsableRange.Status == Shared && len(c.PreferredRange.Conflicts) > 0 {
		c.Remarks = append(c.Remarks, noteOf("no_common_preferred_salinity"))
	}
}

// widest returns a note of the widest proven conflict, or of the widest if none is proven.
func (c Common[Q, D]) widest(proven, unproven quantity.Code) []quantity.Note {
	if len(c.Conflicts) == 0 {
		return nil
	}
	code, x := unproven, c.Conflicts[0]
	for _, y := range c.Conflicts {
		if y.Proven {
			code, x = proven, y
			break
		}
	}
	return []quantity.Note{noteOf(code, x.Higher.Name, x.AtLeast, x.Lower.Name, x.AtMost)}
}

// judge says what the water means for each member and, by the worst, for all.
func (c *Compatibility) judge(w Water) error {
	c.Verdict = Preferred
	c.Methods = append(c.Methods, "water-verdict")
	for i := range c.Members {
		j, err := c.Members[i].of.Judge(c.Members[i].stage, w)
		if err != nil {
			return err
		}
		c.Members[i].Judgement = &j
		if j.Verdict.rank() > c.Verdict.rank() {
			c.Verdict = j.Verdict
		}
	}
	return nil
}
