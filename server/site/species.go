package site

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/chem/quantity"
	"saltlock/server/render"
)

// speciesCard is a species as pages show it.
type speciesCard struct {
	ID             string
	ScientificName string   `json:"scientific_name"`
	CommonNames    []string `json:"common_names"`
	GermanNames    []string `json:"german_names"`
	Family, Group  string
	Summary        string
	Stages         []stageCard
	Behaviour      *struct{ Notes []string }
}

// stageCard is one stage of its life.
type stageCard struct {
	Stage       string
	Survived    *band  `json:"survived_range"`
	Preferred   *band  `json:"preferred_range"`
	Standing    string `json:"preferred_salinity_mark"` // in a list, where ranges have no mark of their own
	Temperature *band
	PH          *band
	MaxLength   *struct {
		Length quantity.Measure
		Mark   string
	} `json:"max_length"`
	Notes []string
}

// Name is the stage in words.
func (s stageCard) Name() string { return choiceName(s.Stage) }

// Name is the first common name, or the Latin one.
func (s *speciesCard) Name() string {
	if len(s.CommonNames) == 0 {
		return s.ScientificName
	}
	return upperFirst(s.CommonNames[0])
}

// Card is the species itself, for types that embed it.
func (s *speciesCard) Card() *speciesCard { return s }

// Others are its further common names.
func (s *speciesCard) Others() string {
	if len(s.CommonNames) < 2 {
		return ""
	}
	return strings.Join(s.CommonNames[1:], ", ")
}

// Lines are what the service says about it.
func (s *speciesCard) Lines() []string { return strings.Split(strings.TrimSpace(s.Summary), "\n") }

// More is what it says beside where each stage is to be kept, which the stages show.
func (s *speciesCard) More() []string { return s.Lines()[1:] }

// Sources are the works that its ranges come from, each once.
func (s *speciesCard) Sources() []string {
	var list []string
	for _, stage := range s.Stages {
		for _, b := range []*band{stage.Survived, stage.Preferred, stage.Temperature, stage.PH} {
			if b != nil && b.Source != nil && !slices.Contains(list, b.Source.Citation) {
				list = append(list, b.Source.Citation)
			}
		}
	}
	return list
}

// Main is the range shown when choosing a species: that of the young if it is known.
func (s *speciesCard) Main() stageCard {
	for _, want := range []string{"juvenile", "all", "adult"} {
		for _, stage := range s.Stages {
			if stage.Stage == want {
				return stage
			}
		}
	}
	return s.Stages[0]
}

func (s *speciesCard) stageNames() []string {
	var list []string
	for _, stage := range s.Stages {
		if stage.Stage != "all" {
			list = append(list, stage.Stage)
		}
	}
	return list
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// found is how a name was understood: as one species, or as several to choose from. The service
// decides; this page never guesses.
type found struct {
	Picked  *speciesCard
	Species []speciesCard
	Near    []speciesCard
	Total   int
	Match   struct {
		Outcome, Asked string
		Candidates     []struct{ ID string }
	}
	Summary string
}

// mostFound is how many species a page lists.
const mostFound = 12

// findSpecies asks for species by a name.
func findSpecies(ask asker, l tongue, name string) (found, error) {
	var f found
	if strings.TrimSpace(name) == "" {
		return f, nil
	}
	if status, body := ask(http.MethodGet, l.here("/v1/species/"+url.PathEscape(name)), nil); status == http.StatusOK { // an id, or a name of one species alone
		f.Picked = new(speciesCard)
		return f, json.Unmarshal(body, f.Picked)
	}
	status, body := ask(http.MethodGet, fmt.Sprintf("/v1/species?limit=%d&q=%s", mostFound, escape(name)), nil)
	if status != http.StatusOK {
		return f, nil
	}
	err := json.Unmarshal(body, &f)
	if err == nil && len(f.Species) == 0 { // what it may have been meant for
		for _, c := range f.Match.Candidates {
			if status, body := ask(http.MethodGet, l.here("/v1/species/"+c.ID), nil); status == http.StatusOK {
				var s speciesCard
				if json.Unmarshal(body, &s) == nil {
					f.Species = append(f.Species, s)
				}
			}
		}
	}
	return f, err
}

// said is how the name was understood, in a sentence.
func (f found) said(v render.Voice, name string) string {
	switch {
	case len(f.Species) == 0:
		return v.Say("page_no_species", name)
	case f.Match.Outcome == "spelling":
		return v.Say("page_species_meant", name)
	case f.Match.Outcome == "none":
		return v.Say("page_species_like", name)
	case f.Total > len(f.Species):
		return v.Say("page_species_many", name, f.Total)
	}
	return v.Say("page_species_choose", name)
}

// picker is the choice of a species for a plan.
type picker struct {
	Name, Asked string // of its entry, and what was typed there
	Picked      *speciesCard
	Found       []pick
	Said        string
	Other       string // address that asks for another species
	Skip        string // address that goes on without a species
}

// pick is a species to choose, with the address that chooses it.
type pick struct {
	*speciesCard
	To string
}

// picker asks which species of one kind is meant.
func (p *planner) picker(q planQuery, ask asker, kind int) *picker {
	name := ofKind(kind, "species")
	to := []string{"step", "animals", "kind", fmt.Sprint(kind)}
	view := &picker{Name: name, Asked: q.Get(name), Other: q.with(append(to, name, "", ofKind(kind, "stage"), "")...), Skip: q.with("step", "waters", name, "")}
	f, err := findSpecies(ask, q.tongue, view.Asked)
	if err != nil || view.Asked == "" {
		return view
	}
	if view.Picked = f.Picked; f.Picked != nil {
		return view
	}
	view.Said = f.said(q.voice(), view.Asked)
	for i := range f.Species {
		view.Found = append(view.Found, pick{&f.Species[i], q.with(append(to, name, f.Species[i].ID)...)})
	}
	return view
}

// exampleSpecies are shown where no name was asked for: from fresh water to the sea.
var exampleSpecies = []string{"poecilia-sphenops", "caridina-multidentata", "brachygobius-xanthozonus", "periophthalmus-barbarus", "scatophagus-argus", "monodactylus-argenteus"}

// listSpecies answers GET /species.
func (s *Site) listSpecies(c echo.Context) error {
	name := strings.TrimSpace(c.QueryParam("q"))
	l := tongueOf(c.QueryParams())
	f, err := findSpecies(s.asks(c), l, name)
	if err != nil {
		return err
	}
	if f.Picked != nil {
		return c.Redirect(http.StatusSeeOther, l.here("/species/"+f.Picked.ID))
	}
	body := struct {
		Asked, Said     string
		Found, Examples []speciesCard
	}{Asked: name, Found: f.Species}
	if name != "" {
		body.Said = f.said(l.voice(), name)
	}
	for i := 0; name == "" && i < len(exampleSpecies); i++ {
		example, err := findSpecies(s.asks(c), l, exampleSpecies[i])
		if err != nil {
			return err
		}
		if example.Picked != nil {
			body.Examples = append(body.Examples, *example.Picked)
		}
	}
	return s.write(c, "specieslist.html", sheet{Path: "/species", Tongue: l, Other: switched(c.Request().URL), Title: "Which water does it live in?", Description: "Salinity, temperature and company of fish, shrimps, crabs, snails and plants, by life stage and with sources.", Body: body})
}

// speciesPage answers GET /species/{id}.
func (s *Site) speciesPage(c echo.Context) error {
	ask := s.asks(c)
	l := tongueOf(c.QueryParams())
	name := strings.TrimPrefix(c.Request().URL.Path, "/species/") // a parameter may be escaped still
	f, err := findSpecies(ask, l, name)
	if err != nil {
		return err
	}
	if f.Picked == nil {
		return c.Redirect(http.StatusSeeOther, l.here("/species?q="+escape(name)))
	}
	if f.Picked.ID != name {
		return c.Redirect(http.StatusSeeOther, l.here("/species/"+f.Picked.ID))
	}
	body := struct {
		*speciesCard
		With            string
		Company, Growth []string
	}{speciesCard: f.Picked, With: strings.TrimSpace(c.QueryParam("with"))}
	if body.With != "" {
		target := "/v1/species/compatibility?species=" + f.Picked.ID + "&species=" + escape(body.With) + "&format=text"
		_, text := ask(http.MethodGet, l.here(target), nil)
		body.Company = strings.Split(strings.TrimSpace(string(text)), "\n")
	}
	if status, text := ask(http.MethodGet, l.here("/v1/species/"+f.Picked.ID+"/growth?format=text"), nil); status == http.StatusOK {
		body.Growth = strings.Split(strings.TrimSpace(string(text)), "\n")
	}
	return s.write(c, "species.html", sheet{Path: "/species/" + f.Picked.ID, Tongue: l, Other: switched(c.Request().URL), Title: l.called(f.Picked) + " (" + f.Picked.ScientificName + ")", Description: body.Lines()[0], Body: body})
}

// write sends a page that is written for this request alone.
func (s *Site) write(c echo.Context, file string, p sheet) error {
	body, err := s.spoken(file, p)
	if err != nil {
		return err
	}
	c.Response().Header().Set("Content-Language", p.Tongue.code())
	c.Response().Header().Set("Content-Security-Policy", Policy)
	return NewAsset("text/html; charset=utf-8", body).Send(c)
}
