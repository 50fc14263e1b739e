package server

import (
	"errors"
	"fmt"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/server/render"
	"saltlock/server/store"
)

// speciesPage, taxon and community add what every answer carries to what the
// store and the core return.
type (
	speciesPage struct {
		store.Page
		Methods []string `json:"methods"`
	}
	taxon struct {
		tolerance.Taxon
		Methods []string `json:"methods"`
	}
)

func (speciesPage) Notes() []*quantity.Note { return nil }
func (taxon) Notes() []*quantity.Note       { return nil }

// pageSize is how many species a page holds where the request does not say.
const pageSize = 50

// ListSpecies answers GET /v1/species.
func (s *Server) ListSpecies(c echo.Context, p api.ListSpeciesParams) error {
	q := store.Query{Limit: pageSize}
	if p.Limit == nil {
		p.Limit = &q.Limit
	}
	q.Limit = *p.Limit
	if p.Q != nil {
		q.Text = *p.Q
	}
	if p.Group != nil {
		q.Group = *p.Group
	}
	if p.Family != nil {
		q.Family = *p.Family
	}
	if p.Offset != nil {
		q.Offset = *p.Offset
	}
	var err error
	if q.LivesAt, err = salinityOf("lives_at", p.LivesAt); err != nil {
		return err
	}
	page, err := s.store.Species(c.Request().Context(), q)
	if limit, ok := errors.AsType[*quantity.RangeError](err); ok {
		return &quantity.RangeError{Name: "lives_at", Value: limit.Value, Lo: limit.Lo, Hi: limit.Hi, Unit: limit.Unit}
	}
	if err != nil {
		return err
	}
	return reply(c, p, speciesPage{page, []string{}}, view[speciesPage]{
		lines: speciesLines,
		rows:  func(p speciesPage) any { return stageRows(p.Species) },
	})
}

// salinityOf resolves a reading that no instrument stands behind.
func salinityOf(name string, r *quantity.Reading) (*quantity.Estimate[quantity.AbsoluteSalinity], error) {
	if r == nil {
		return nil, nil
	}
	sa, err := instrument.SalinityOf(name, *r)
	if err != nil {
		return nil, err
	}
	return &sa, nil
}

func speciesLines(v render.Voice, p speciesPage) []string {
	var l lines
	l.add(v, "species_found", p.Total)
	for _, t := range p.Species[:min(5, len(p.Species))] {
		l = append(l, t.ScientificName+" ("+strings.Join(t.CommonNames, ", ")+")")
	}
	return l
}

// stageRow is one life stage of one species, for tables.
type stageRow struct {
	ID             string   `json:"id"`
	ScientificName string   `json:"scientific_name"`
	CommonNames    []string `json:"common_names"`
	Group          string   `json:"group"`
	Family         string   `json:"family"`
	tolerance.StageSummary
}

func stageRows(list []tolerance.Summary) []stageRow {
	var rows []stageRow
	for _, t := range list {
		for _, st := range t.Stages {
			rows = append(rows, stageRow{t.ID, t.ScientificName, t.CommonNames, string(t.Group), t.Family, st})
		}
	}
	return rows
}

// GetSpecies answers GET /v1/species/{id}.
func (s *Server) GetSpecies(c echo.Context, id string) error {
	t, err := s.store.Taxon(c.Request().Context(), id)
	if err != nil {
		return err
	}
	return reply(c, struct {
		ID string `json:"id"`
	}{id}, taxon{t, []string{}}, view[taxon]{
		lines: taxonLines,
		rows:  func(t taxon) any { return stageRows([]tolerance.Summary{t.Summary()}) },
	})
}

func taxonLines(v render.Voice, t taxon) []string {
	l := lines{t.ScientificName + " (" + strings.Join(t.CommonNames, ", ") + "), " + t.Family}
	for _, st := range t.Stages {
		name := render.Name(string(st.Stage))
		if p := st.PreferredSalinity; p != nil && p.Min != nil && p.Max != nil {
			l.add(v, "stage_preferred", name, *p.Min, *p.Max, render.Name(string(p.Mark)))
		} else {
			l.add(v, "stage_unknown", name)
		}
	}
	return l
}

// GetCompatibility answers GET /v1/species/compatibility.
func (s *Server) GetCompatibility(c echo.Context, p api.GetCompatibilityParams) error {
	members := make([]tolerance.Member, len(p.Species))
	for i, name := range p.Species {
		id, stage, _ := strings.Cut(name, ":")
		t, err := s.store.Taxon(c.Request().Context(), id)
		if err != nil {
			return err
		}
		members[i] = tolerance.Member{Taxon: t, Stage: tolerance.LifeStage(stage)}
	}
	water := &tolerance.Water{Temperature: p.Temperature, PH: p.Ph}
	var err error
	if water.Salinity, err = salinityOf("salinity", p.Salinity); err != nil {
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
		rows:  func(c *tolerance.Compatibility) any { return c.Members },
	})
}

func communityLines(v render.Voice, c *tolerance.Compatibility) []string {
	l := lines{v.Say("community_" + string(c.Status))}
	if c.Salinity.Lower != nil && c.Salinity.Upper != nil && c.Status == tolerance.Shared {
		l.add(v, "community_band", c.Salinity.Lower.Value, names(c.Salinity.Lower.SetBy), c.Salinity.Upper.Value, names(c.Salinity.Upper.SetBy))
	}
	for _, x := range c.Salinity.Conflicts[:min(3, len(c.Salinity.Conflicts))] {
		l.add(v, "community_conflict", x.Higher.Name, x.AtLeast, x.Lower.Name, x.AtMost)
	}
	if c.Verdict != "" {
		l = append(l, v.Say("community_verdict_"+string(c.Verdict)))
	}
	l.notes(c.Remarks)
	return l.most(6)
}

func names(refs []tolerance.Ref) string {
	list := make([]string, len(refs))
	for i, r := range refs {
		list[i] = fmt.Sprintf("%s (%s)", r.Name, r.Stage)
	}
	return strings.Join(list, ", ")
}
