package server

import (
	"errors"
	"fmt"
	"maps"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/server/contract"
	"saltlock/server/render"
	"saltlock/server/store"
)

// speciesPage adds what every answer carries to what the store returns.
type speciesPage struct {
	store.Page
	Methods []string `json:"methods"`
}

func (speciesPage) Notes() []*quantity.Note { return nil }

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
	if p.Sort != nil {
		q.Sort = store.Sort(*p.Sort)
	}
	if p.Offset != nil {
		q.Offset = *p.Offset
	}
	var noSalinity, noCompany error
	q.LivesAt, noSalinity = salinityOf("lives_at", p.LivesAt)
	if p.KeepsWith != nil {
		q.KeepsWith, noCompany = s.members(c, "keeps_with", *p.KeepsWith)
	}
	if err := errors.Join(noSalinity, noCompany); err != nil {
		return err
	}
	page, err := s.store.Species(c.Request().Context(), q)
	if limit, ok := errors.AsType[*quantity.RangeError](err); ok {
		return &quantity.RangeError{Name: "lives_at", Value: limit.Value, Lo: limit.Lo, Hi: limit.Hi, Unit: limit.Unit}
	}
	if err != nil {
		return err
	}
	if next := q.Offset + q.Limit; next < page.Total {
		a := askedOf(c)
		a.link = linkNext(c.Request().URL.Path, a.Query, next)
	}
	return reply(c, p, speciesPage{page, []string{}}, view[speciesPage]{
		lines: speciesLines,
		rows:  func(p speciesPage) any { return stageRows(p.Species) },
	})
}

// linkNext leads to the next rows of a list (RFC 8288).
func linkNext(path string, query url.Values, from int) string {
	q := maps.Clone(query)
	q.Set("offset", strconv.Itoa(from))
	return "<" + path + "?" + q.Encode() + `>; rel="next"`
}

// salinityOf resolves a reading that is independent of any instrument.
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

// mostCounted is the most animals of a kind that a request may name.
const mostCounted = 1_000_000

// members looks up a list of species, each with a life stage and a count after colons if given. It
// reports everything it cannot find or read.
func (s *Server) members(c echo.Context, where string, list []string) ([]tolerance.Member, error) {
	members := make([]tolerance.Member, len(list))
	var faults []error
	for i, text := range list {
		id, rest, _ := strings.Cut(text, ":")
		t, unknown := s.species(c, where, id)
		stage, count, err := stageAndCount(where, text, rest)
		if faults = append(faults, unknown, err); unknown != nil {
			continue
		}
		if _, _, err := t.StageFor(stage); err != nil {
			faults = append(faults, &placedError{where, err})
		}
		members[i] = tolerance.Member{Taxon: t, Stage: stage, Count: count}
	}
	return members, errors.Join(faults...)
}

// stageAndCount reads what follows the name of a member: at most one of each.
func stageAndCount(where, member, rest string) (stage tolerance.LifeStage, count int, err error) {
	wrong := func(rule, reason string, of ...any) {
		reason = fmt.Sprintf("%q "+reason, append([]any{contract.Clip(member)}, of...)...)
		err = errors.Join(err, &contract.Fault{Where: where, Reason: reason, Rule: rule})
	}
	for part := range strings.SplitSeq(rest, ":") {
		n, noNumber := strconv.Atoi(part)
		switch as := tolerance.LifeStage(part); {
		case part == "":
		case slices.Contains(tolerance.LifeStages(), as) && stage == "":
			stage = as
		case slices.Contains(tolerance.LifeStages(), as):
			wrong("repeated", "has two life stages; name the species once for each of them")
		case noNumber != nil && !errors.Is(noNumber, strconv.ErrRange):
			wrong("stage", "has %q, which is neither a life stage (%s) nor a count%s", contract.Clip(part), strings.Join(stageNames(), ", "), contract.Hint(part, stageNames()))
		case count != 0:
			wrong("repeated", "has two counts; give one")
		case n < 1 || n > mostCounted:
			x, _ := strconv.ParseFloat(part, 64) // n may be too small for it
			err = errors.Join(err, &quantity.RangeError{Name: where, Value: x, Lo: 1, Hi: mostCounted, Unit: "animals"})
			count = mostCounted
		default:
			count = n
		}
	}
	return stage, count, err
}

func stageNames() []string {
	var names []string
	for _, s := range tolerance.LifeStages() {
		names = append(names, string(s))
	}
	return names
}

// stageRow is one life stage of one species, for tables.
type stageRow struct {
	ID             string   `json:"id"`
	ScientificName string   `json:"scientific_name"`
	CommonNames    []string `json:"common_names"`
	GermanNames    []string `json:"german_names"`
	Group          string   `json:"group"`
	Family         string   `json:"family"`
	Local          bool     `json:"local"`
	tolerance.StageSummary
}

func stageRows(list []tolerance.Summary) []stageRow {
	var rows []stageRow
	for _, t := range list {
		for _, st := range t.Stages {
			rows = append(rows, stageRow{t.ID, t.ScientificName, t.CommonNames, t.GermanNames, string(t.Group), t.Family, t.Local, st})
		}
	}
	return rows
}

// GetSpecies answers GET /v1/species/{id}.
func (s *Server) GetSpecies(c echo.Context, id string) error {
	t, err := s.species(c, "species", id)
	if err != nil {
		return err
	}
	p, err := t.Profile()
	if err != nil {
		return err
	}
	return reply(c, struct {
		ID string `json:"id"`
	}{t.ID}, &p, view[*tolerance.Profile]{
		lines: profileLines,
		rows:  func(p *tolerance.Profile) any { return stageRows([]tolerance.Summary{p.Summary()}) },
	})
}

// GetSpeciesGrowth answers GET /v1/species/{id}/growth.
func (s *Server) GetSpeciesGrowth(c echo.Context, id string, p api.GetSpeciesGrowthParams) error {
	t, err := s.species(c, "species", id)
	if err != nil {
		return err
	}
	request := tolerance.GrowthRequest{GrownIn: p.GrownIn}
	if p.Stage != nil {
		request.Stage = *p.Stage
	}
	var noSalinity, noTarget error
	request.Salinity, noSalinity = salinityOf("salinity", p.Salinity)
	request.Target, noTarget = salinityOf("target", p.Target)
	if err := errors.Join(noSalinity, noTarget); err != nil {
		return err
	}
	g, err := tolerance.Grow(t, request)
	if err != nil {
		return err
	}
	return reply(c, p, &g, view[*tolerance.Growth]{
		lines: growthLines,
		rows:  func(g *tolerance.Growth) any { return g.Path },
	})
}

func growthLines(v render.Voice, g *tolerance.Growth) []string {
	l := lines{}
	for i, p := range g.Path {
		stage, from := v.Name(string(p.Stage)), marked(v, p.Preferred.Mark, p.Preferred.Source)
		if i == 0 {
			l.add(v, "growth_now", g.Name, stage, p.Practical, *p.Preferred.Min, *p.Preferred.Max, from)
		} else {
			l.add(v, "growth_later", stage, p.Practical, *p.Preferred.Min, *p.Preferred.Max, from, p.Time)
		}
	}
	l.notes(g.Remarks)
	return l.most(6)
}
