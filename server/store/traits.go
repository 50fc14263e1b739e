package store

import (
	"slices"
	"strings"

	"saltlock/chem/tolerance"
)

// The words a row may use of its species.
var (
	movements = []string{"anadromous", "catadromous", "amphidromous", "potamodromous", "oceanodromous", "non-migratory"}
	hazards   = []string{"venomous", "poisonous", "wounding", "bites", "ciguatera", "irritant-sap"}
	laws      = []string{"eu-invasive-list", "us-noxious-weed", "us-state-rules", "banned-in-places", "protected-in-places"}
)

// traits reads a list of words, each with what it rests on after a colon: a
// key of sources.csv, or memory or common-practice where there is none.
func (r row) traits(column string, known []string, sources map[string]source) []tolerance.Trait {
	all := []tolerance.Trait{}
	for _, item := range r.list(column) {
		kind, from, _ := strings.Cut(item, ":")
		if !slices.Contains(known, kind) {
			r.fault(column, "%s is none of %s", kind, strings.Join(known, ", "))
		}
		t := tolerance.Trait{Kind: kind, Mark: tolerance.Mark(from)}
		if t.Mark != tolerance.Memory && t.Mark != tolerance.CommonPractice {
			key, _, _ := strings.Cut(from, ":")
			s, ok := sources[key]
			if !ok {
				r.fault(column, "%s rests on %q, which is no key of sources.csv, memory or common-practice", kind, from)
			}
			s.Key = from
			t.Mark, t.Source = markOf(s.read), &s.Source
		}
		all = append(all, t)
	}
	return all
}
