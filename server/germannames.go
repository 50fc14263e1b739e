package server

import (
	"slices"
	"strings"

	"saltlock/chem/tolerance"
	"saltlock/server/render"
)

// germanNames gives the German names of animals by their usual English names. Inside a sentence it
// uses a one-word name that no sentence inflects and no other animal shares, or else the
// scientific name.
func germanNames(taxa []tolerance.Taxon) map[string]render.Animal {
	all := make(map[string]render.Animal, len(taxa))
	for _, t := range taxa {
		own := func(name string) bool { return !strings.Contains(name, "(") && !slices.Contains(t.SharedNames, name) }
		ofOneWord := func(name string) bool { return own(name) && !strings.Contains(name, " ") }
		said := render.Animal{Alone: t.Name(), Within: t.ScientificName}
		if i := slices.IndexFunc(t.GermanNames, own); i >= 0 {
			said.Alone = t.GermanNames[i]
		}
		if i := slices.IndexFunc(t.GermanNames, ofOneWord); i >= 0 {
			said = render.Animal{Alone: t.GermanNames[i], Within: t.GermanNames[i]} // one name throughout an answer
		}
		all[t.Name()] = said
	}
	return all
}
