package server

import (
	"slices"

	"github.com/labstack/echo/v4"

	"saltlock/chem/followup"
	"saltlock/chem/hydraulics"
	"saltlock/chem/instrument"
	"saltlock/chem/lifesupport"
	"saltlock/chem/mixing"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
	"saltlock/chem/tolerance"
	"saltlock/chem/transfer"
	"saltlock/server/render"
)

// methodList is the answer of GET /v1/methods.
type methodList struct {
	Items   []quantity.Method `json:"items"`
	Methods []string          `json:"methods"`
}

func (methodList) Notes() []*quantity.Note { return nil }

// allMethods lists every formula that an answer may name.
func allMethods() []quantity.Method {
	return slices.Concat(seawater.Methods(), instrument.Methods(), mixing.Methods(), lifesupport.Methods(), hydraulics.Methods(), transfer.Methods(), followup.Methods(), tolerance.Methods())
}

// ListMethods answers GET /v1/methods.
func (s *Server) ListMethods(c echo.Context) error {
	list := methodList{Items: allMethods(), Methods: []string{}}
	return reply(c, nil, list, view[methodList]{
		lines: func(_ render.Voice, l methodList) []string {
			text := make([]string, len(l.Items))
			for i, m := range l.Items {
				text[i] = m.Key + ": " + m.Title + ". " + m.Source
			}
			return text
		},
		rows:    func(l methodList) any { return l.Items },
		english: true,
	})
}
