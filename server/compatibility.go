package server

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/server/render"
)

// GetCompatibility answers GET /v1/species/compatibility.
func (s *Server) GetCompatibility(c echo.Context, p api.GetCompatibilityParams) error {
	water := &tolerance.Water{Temperature: p.Temperature, PH: p.Ph}
	members, noMembers := s.members(c, "species", p.Species)
	var noSalinity error
	water.Salinity, noSalinity = salinityOf("salinity", p.Salinity)
	if err := errors.Join(noMembers, noSalinity); err != nil {
		return err
	}
	if *water == (tolerance.Water{}) {
		water = nil
	}
	shared, err := tolerance.Compare(members, water)
	if err != nil {
		return err
	}
	return reply(c, p, &shared, view[*tolerance.Compatibility]{
		lines: communityLines,
		rows:  func(c *tolerance.Compatibility) any { return clubRows(c) },
	})
}

// communityLines says first whether they can live together, then in which water, then why not,
// then what else to mind.
func communityLines(v render.Voice, c *tolerance.Compatibility) []string {
	var l lines
	if c.Together.Apart { // then the water matters little
		l.add(v, "community_apart")
		l.notes(c.Together.Reasons[:min(2, len(c.Together.Reasons))])
	}
	fights := func(n quantity.Note) bool { return n.Code == "company_own_kind" || n.Code == "company_one_pair" }
	later := slices.DeleteFunc(slices.Clone(c.Together.Reasons), fights)
	if !c.Together.Apart { // what forbids the company comes before the water
		l.notes(slices.DeleteFunc(slices.Clone(c.Together.Reasons), func(n quantity.Note) bool { return !fights(n) }))
	}
	l = append(l, communityHead(v, c))
	if c.Verdict != "" {
		l = append(l, verdictLine(v, c))
	}
	band := c.PreferredRange
	if band.Status != tolerance.Shared {
		band = c.UsableRange
	}
	if band.Status == tolerance.Shared && c.Status != tolerance.NoneShared && c.PreferredRange.Status != tolerance.NoneShared {
		l = append(l, v.Say("community_limits", names(v, band.Lower.SetBy), ahead(v, band.Lower), names(v, band.Upper.SetBy), ahead(v, band.Upper)))
	}
	for _, x := range c.UsableRange.Conflicts[:min(2, len(c.UsableRange.Conflicts))] {
		l.add(v, "community_conflict", x.Higher.Name, x.AtLeast, x.Lower.Name, x.AtMost)
	}
	warmth := func(n quantity.Note) bool { return n.Code == "no_common_temperature" || n.Code == "no_common_ph" }
	l.notes(slices.DeleteFunc(slices.Clone(c.Remarks), func(n quantity.Note) bool { return !warmth(n) }))
	if t := c.Temperature; t.Status == tolerance.Shared && t.Lower.Value.Value == t.Upper.Value.Value {
		l.add(v, "community_temperature_one", t.Lower.Value)
	} else if t.Status == tolerance.Shared {
		l.add(v, "community_temperature", t.Lower.Value, t.Upper.Value)
	}
	// The head has already said that preferences do not overlap; assumptions come last.
	said := func(n quantity.Note) bool { return n.Code == "no_common_preferred_salinity" || warmth(n) }
	assumed := func(n quantity.Note) bool { return n.Code == "stage_assumed" }
	told := slices.DeleteFunc(slices.Clone(c.Remarks), said)
	l.notes(c.Cautions)
	if !c.Together.Apart {
		l.notes(later)
	}
	l.notes(slices.DeleteFunc(slices.Clone(told), assumed))
	l.notes(slices.DeleteFunc(told, func(n quantity.Note) bool { return !assumed(n) }))
	return append(lines(l.most(mostOfCommunity)), cautionsOfMembers(v, c)...)
}

// How many lines are about the company, and how many cautions about its members are said.
const (
	mostOfCommunity       = 5
	mostCautionsOfMembers = 8
)

// cautionsOfMembers are the cautions about each member: those about danger and law on one line,
// those about size and breeding on another, and how many more there are in a large company.
func cautionsOfMembers(v render.Voice, c *tolerance.Compatibility) lines {
	var grave, others []string
	all := 0
	for _, m := range c.Members {
		for _, n := range m.Cautions {
			all++
			switch {
			case all > mostCautionsOfMembers:
			case strings.HasPrefix(string(n.Code), "hazard_"), strings.HasPrefix(string(n.Code), "law_"):
				grave = append(grave, n.Text)
			default:
				others = append(others, n.Text)
			}
		}
	}
	var l lines
	l.join(grave)
	l.join(others)
	if more := all - mostCautionsOfMembers; more > 0 {
		l.add(v, "community_cautions", more)
	}
	return l
}

// communityHead says in one sentence whether they can live together.
func communityHead(v render.Voice, c *tolerance.Compatibility) string {
	p, s := c.PreferredRange, c.UsableRange
	switch {
	case c.Status == tolerance.Shared && p.Status == tolerance.Shared:
		return v.Say("community_prefers", p.Lower.Value, p.Upper.Value, gravities(v, p.Lower.Value.Value, p.Upper.Value.Value))
	case c.Status == tolerance.Shared && p.Status == tolerance.NoneShared:
		return v.Say("community_survives_only", s.Lower.Value, s.Upper.Value)
	case c.Status == tolerance.Shared:
		return v.Say("community_shared", s.Lower.Value, s.Upper.Value)
	}
	return v.Say(statusCodes[c.Status])
}

// verdictLine says what the given water means for all of them.
func verdictLine(v render.Voice, c *tolerance.Compatibility) string {
	var briefly []tolerance.Ref
	for _, m := range c.Members {
		if m.Judgement.Briefly() {
			briefly = append(briefly, m.Ref)
		}
	}
	if c.Verdict == tolerance.Tolerated && len(briefly) > 0 {
		return v.Say("community_verdict_briefly", names(v, briefly))
	}
	return v.Say(verdictCodes[c.Verdict])
}

// What is said first where no range is shared, and about the given water.
var (
	statusCodes = map[tolerance.Status]quantity.Code{
		tolerance.NoneShared: "community_none", tolerance.UnknownShared: "community_unknown",
	}
	verdictCodes = map[tolerance.Verdict]quantity.Code{
		tolerance.Preferred: "community_verdict_preferred", tolerance.Tolerated: "community_verdict_tolerated",
		tolerance.Unknown: "community_verdict_unknown", tolerance.Outside: "community_verdict_outside",
	}
)

// ahead says how much wider a range would be without those who set its bound.
func ahead[Q, D quantity.Quantity](v render.Voice, b *tolerance.Bound[Q, D]) string {
	if b.Without == nil {
		return ""
	}
	return v.Say("community_without", *b.Without)
}

func names(v render.Voice, refs []tolerance.Ref) string {
	list := make([]string, len(refs))
	for i, r := range refs {
		list[i] = v.Name(atStage(r))
	}
	return strings.Join(list, ", ")
}

// atStage names a species with its life stage, unless what is said holds for all stages.
func atStage(r tolerance.Ref) string {
	if r.Stage == tolerance.AllStages {
		return r.Name
	}
	return r.Name + " (" + string(r.Stage) + ")"
}

// clubRow is a member as the table shows it.
type clubRow struct {
	ID             string                                    `json:"id"`
	Name           string                                    `json:"name"`
	ScientificName string                                    `json:"scientific_name"`
	Stage          string                                    `json:"stage"`
	Count          string                                    `json:"count"`
	Preferred      tolerance.Band[quantity.Salinity]         `json:"preferred_range"`
	PreferredMark  string                                    `json:"preferred_salinity_mark"`
	PreferredFrom  string                                    `json:"preferred_salinity_source"`
	Survived       tolerance.Band[quantity.Salinity]         `json:"survived_range"`
	SurvivedMark   string                                    `json:"survived_salinity_mark"`
	SurvivedFrom   string                                    `json:"survived_salinity_source"`
	Temperature    tolerance.Band[quantity.Celsius]          `json:"temperature"`
	TemperatureOf  string                                    `json:"temperature_mark"`
	PH             tolerance.Band[quantity.PH]               `json:"ph"`
	PHMark         string                                    `json:"ph_mark"`
	MaxLength      *quantity.Estimate[quantity.Length]       `json:"max_length"`
	Class          string                                    `json:"sensitivity_class"`
	Local          bool                                      `json:"local"`
	Verdict        string                                    `json:"verdict"`
	Cautions       []string                                  `json:"cautions"`
	PreferredGrams tolerance.Band[quantity.AbsoluteSalinity] `json:"preferred_salinity"` // the same numbers; deprecated
	SurvivedGrams  tolerance.Band[quantity.AbsoluteSalinity] `json:"survived_salinity"`  // the same numbers; deprecated
}

func clubRows(c *tolerance.Compatibility) []clubRow {
	rows := make([]clubRow, len(c.Members))
	for i, m := range c.Members {
		r := clubRow{ID: m.ID, Name: m.Name, ScientificName: m.ScientificName, Stage: string(m.Stage), Class: string(m.SensitivityClass), Local: m.Local}
		if m.Count > 0 {
			r.Count = fmt.Sprint(m.Count)
		}
		r.Preferred, r.PreferredMark, r.PreferredFrom = cells(m.Preferred)
		r.Survived, r.SurvivedMark, r.SurvivedFrom = cells(m.Survived)
		r.PreferredGrams, _, _ = cells(m.PreferredSalinity)
		r.SurvivedGrams, _, _ = cells(m.Salinity)
		r.Temperature, r.TemperatureOf, _ = cells(m.Temperature)
		r.PH, r.PHMark, _ = cells(m.PH)
		if m.MaxLength != nil {
			r.MaxLength = &m.MaxLength.Length
		}
		if m.Judgement != nil {
			r.Verdict = string(m.Judgement.Verdict)
		}
		for _, n := range m.Cautions {
			r.Cautions = append(r.Cautions, n.Text)
		}
		rows[i] = r
	}
	return rows
}

// cells splits a range into its bounds, its mark and the key of its source.
func cells[Q quantity.Quantity](s *tolerance.Sourced[Q]) (b tolerance.Band[Q], mark, source string) {
	if s == nil {
		return b, "", ""
	}
	if s.Source != nil {
		source = s.Source.Key
	}
	return s.Band, string(s.Mark), source
}
