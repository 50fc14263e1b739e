package server

import (
	"slices"
	"strings"

	"saltlock/chem/tolerance"
	"saltlock/server/render"
)

// germanNames are what animals are called in German, by their usual names in English.
// Within a sentence it is a name of one word, whose form no sentence changes, and that
// no other animal shares; the scientific one where there is none.
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
			said = render.Animal{Alone: t.GermanNames[i], Within: t.GermanNames[i]} // one name in all of an answer
		}
		all[t.Name()] = said
	}
	return all
}
