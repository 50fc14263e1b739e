package store

import (
	"slices"
	"strconv"
	"strings"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// The words a row may use about its species.
var (
	movements = []string{"anadromous", "catadromous", "amphidromous", "potamodromous", "oceanodromous", "non-migratory"}
	hazards   = []string{"venomous", "poisonous", "wounding", "bites", "ciguatera", "irritant-sap"}
	habitats  = []string{"fresh", "brackish", "marine"}
	tempers   = []string{"peaceful", "semi-aggressive", "aggressive", "fin-nipper", "predator-of-fish", "predator-of-small-fish", "predator-of-shrimp-and-snails",
		"eats-no-fish", "species-only", "one-pair"}
	landings  = []string{"no", "perch", "land-and-water"}
	lids      = []string{"yes", "no"}
	carriages = []string{"under-water", "keep-wet-short", "in-air-ok"}
	cycles    = []string{"direct", "amphidromous", "anadromous", "catadromous"}
	laws      = []string{"eu-invasive-list", "us-noxious-weed", "us-state-rules", "banned-in-places", "protected-in-places"}
)

// traits reads a list of words, each with its evidence after a colon: a key of sources.csv, or
// memory or common-practice.
func (r row) traits(column string, known []string, sources map[string]source) []tolerance.Trait {
	all := []tolerance.Trait{}
	for _, item := range r.list(column) {
		kind, from, _ := strings.Cut(item, ":")
		if !slices.Contains(known, kind) {
			r.fault(column, "%s is none of %s", kind, strings.Join(known, ", "))
		}
		t := tolerance.Trait{Kind: kind}
		t.Mark, t.Source = r.founded(column, kind, from, sources)
		all = append(all, t)
	}
	return all
}

// founded returns the mark of a word, and its source if it has one.
func (r row) founded(column, word, from string, sources map[string]source) (tolerance.Mark, *tolerance.Source) {
	if m := tolerance.Mark(from); m == tolerance.Memory || m == tolerance.CommonPractice {
		return m, nil
	}
	key, _, _ := strings.Cut(from, ":")
	s, ok := sources[key]
	if !ok {
		r.fault(column, "%s rests on %q, which is no key of sources.csv, memory or common-practice", word, from)
	}
	s.Key = from
	return markOf(s.read), &s.Source
}

// trait reads the one word of a column; nil if it is empty.
func (r row) trait(column string, known []string, sources map[string]source) *tolerance.Trait {
	all := r.traits(column, known, sources)
	switch len(all) {
	case 0:
		return nil
	case 1:
		return &all[0]
	}
	r.fault(column, "holds more than one word")
	return nil
}

// readBehaviour reads how a species lives with others and how to carry it.
func readBehaviour(r row, sources map[string]source) tolerance.Behaviour {
	b := tolerance.Behaviour{
		Temper:      r.traits("temper", tempers, sources),
		LeavesWater: r.trait("leaves_water", landings, sources),
		Lid:         r.trait("lid", lids, sources),
		Moving:      r.trait("moving", carriages, sources),
		Notes:       r.list("behaviour_note"),
	}
	if count, from, _ := strings.Cut(r.cells["smallest_group"], ":"); count != "" {
		n, err := strconv.Atoi(count)
		if err != nil || n < 1 || n > 100 {
			r.fault("smallest_group", "is not a number of animals from 1 to 100")
		}
		g := tolerance.GroupOfOwn{Count: n}
		g.Mark, g.Source = r.founded("smallest_group", count, from, sources)
		b.SmallestGroup = &g
	}
	return b
}

// readLifeCycle reads which waters the young live in; nil if nothing is known.
func readLifeCycle(r row, sources map[string]source) *tolerance.LifeCycle {
	l := tolerance.LifeCycle{Notes: r.list("larva_note")}
	if t := r.trait("life_cycle", cycles, sources); t != nil {
		l.Kind, l.Mark, l.Source = t.Kind, t.Mark, t.Source
	}
	larva := band(r, "larva_min_ppt", "larva_max_ppt", salinityCells)
	if from := r.cells["larva_from"]; larva.Empty() != (from == "") {
		r.fault("larva_from", "and the salinity of the larvae go together")
	} else if from != "" {
		m, source := r.founded("larva_from", "the salinity of the larvae", from, sources)
		basis := r.oneOf("larva_basis", "experiment", "experiment-related-taxon", "")
		l.Larva = &tolerance.Sourced[quantity.Salinity]{Band: larva, Mark: m, Basis: basis, Source: source}
	}
	if l.Kind == "" && l.Larva == nil && len(l.Notes) == 0 {
		return nil
	}
	return &l
}
