package server

import (
	"context"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/tolerance"
	"saltlock/server/render"
	"saltlock/server/store"
)

// understood is a species asked for by a name other than its id.
type understood struct {
	Asked          string `json:"asked"`
	ID             string `json:"id"`
	Name           string `json:"name"`
	ScientificName string `json:"scientific_name"`
}

// placedError says where in a request the fault of an error lies, for an error that does not know:
// the name of one animal among several, or its life stage.
type placedError struct {
	where string
	error
}

func (e *placedError) Unwrap() error { return e.error }

// named finds the species that a request names, by its id or by a name that only it has.
func (s *Server) named(ctx context.Context, where, name string) (tolerance.Taxon, error) {
	t, err := s.store.Taxon(ctx, name)
	if _, ok := err.(*store.UnclearError); ok {
		return tolerance.Taxon{}, &placedError{where, err}
	}
	return t, err
}

// species is named, and tells the client how the name was understood.
func (s *Server) species(c echo.Context, where, name string) (tolerance.Taxon, error) {
	t, err := s.named(c.Request().Context(), where, name)
	if err == nil {
		understand(c, name, t)
	}
	return t, err
}

// understand records how a name was understood, unless it is the id.
func understand(c echo.Context, name string, t tolerance.Taxon) {
	if t.ID == name {
		return
	}
	a := askedOf(c)
	a.understood = append(a.understood, understood{name, t.ID, t.Name(), t.ScientificName})
}

// understanding is understand for a request with several names.
func understanding(c echo.Context) func(name string, t tolerance.Taxon) {
	return func(name string, t tolerance.Taxon) { understand(c, name, t) }
}

// understoodLines say how names were understood.
func understoodLines(v render.Voice, list []understood) lines {
	var l lines
	for _, u := range list {
		l.add(v, "name_understood", u.Asked, v.Animal(u.Name), u.ScientificName)
	}
	return l
}

// unclearLine says why a name identifies no species, and what to do.
func unclearLine(v render.Voice, name string, outcome store.Outcome, meant []store.Candidate) string {
	said := make([]string, len(meant))
	for i, c := range meant {
		said[i] = v.Animal(c.Name) + " (" + c.ScientificName + ")"
	}
	list := strings.Join(said, ", ")
	switch {
	case outcome == store.Several && len(meant) == 1 && strings.EqualFold(meant[0].By, name):
		return v.Say("name_not_alone", name, list)
	case outcome == store.Several && len(meant) == 1:
		return v.Say("name_in_part", name, list)
	case outcome == store.Several:
		return v.Say("name_several", name, list)
	case outcome == store.Spelling:
		return v.Say("name_spelling", name, list)
	case len(meant) > 0:
		return v.Say("name_none_near", name, list)
	}
	return v.Say("name_none", name)
}

// unclearFault is the fault of a name, with the species it may mean for programs.
func unclearFault(v render.Voice, e *store.UnclearError, where string) api.Fault {
	f := api.Fault{Where: where, Reason: unclearLine(v, e.Name, e.Outcome, e.Candidates), Rule: "not_found"}
	switch e.Outcome {
	case store.Several:
		f.Rule = "ambiguous"
	case store.Spelling:
		f.Rule = "spelling"
	}
	if len(e.Candidates) > 0 {
		meant := make([]api.NameCandidate, len(e.Candidates))
		for i, c := range e.Candidates {
			meant[i] = api.NameCandidate{By: c.By, Id: c.ID, Name: c.Name, ScientificName: c.ScientificName}
		}
		f.Candidates = &meant
	}
	return f
}
