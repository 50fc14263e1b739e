package store

import (
	"cmp"
	"errors"
	"io"
	"regexp"
	"slices"
	"strings"

	"saltlock/chem/tolerance"
)

var speciesColumns = []string{
	"scientific_name", "taxon_id", "family", "common_names", "german_names", "synonyms", "group", "life_stage",
	"salinity_min_ppt", "salinity_max_ppt", "preferred_min_ppt", "preferred_max_ppt",
	"temp_min_c", "temp_max_c", "ph_min", "ph_max", "max_length_cm", "greatest_change_survived", "air_breather",
	"source_salinity", "source_temp", "winters_at_c", "source_length", "confidence", "notes",
	"salinity_basis", "salinity_max_basis", "preferred_basis", "change_basis", "source_ph", "length_type", "sensitivity_class",
	"climate_zone", "iucn_2018", "cites_2018", "source_preferred",
	"body_shape", "migration", "hazards", "law", "habitat",
	"temper", "smallest_group", "leaves_water", "lid", "moving",
	"life_cycle", "larva_min_ppt", "larva_max_ppt", "larva_from", "larva_basis", "larva_note", "behaviour_note",
}

// laterColumns are missing from tables written for an older program, whose rows say nothing about
// them.
var laterColumns = []string{
	"short_name", "german_names", "winters_at_c", "salinity_max_basis", "habitat", "temper", "smallest_group", "leaves_water", "lid", "moving",
	"life_cycle", "larva_min_ppt", "larva_max_ppt", "larva_from", "larva_basis", "larva_note", "behaviour_note",
}

// olderColumns are the names of columns before bounds were on the practical scale; the numbers are
// the same.
var olderColumns = map[string]string{
	"salinity_min_g_kg": "salinity_min_ppt", "salinity_max_g_kg": "salinity_max_ppt",
	"preferred_min_g_kg": "preferred_min_ppt", "preferred_max_g_kg": "preferred_max_ppt",
}

// conservationYear is the year of the columns iucn_2018 and cites_2018.
const conservationYear = 2018

// taxonColumns are those in which all rows of a taxon must agree.
var taxonColumns = []string{
	"taxon_id", "family", "common_names", "german_names", "synonyms", "group", "air_breather", "climate_zone", "iucn_2018", "cites_2018",
	"body_shape", "migration", "hazards", "law", "habitat", "temper", "smallest_group", "leaves_water", "lid", "moving",
	"life_cycle", "larva_min_ppt", "larva_max_ppt", "larva_from", "larva_basis", "larva_note", "behaviour_note",
}

// scientificName is a binomial or trinomial, or a genus or higher group whose species one row
// covers.
var scientificName = regexp.MustCompile(`^[A-Z][a-z]+(( [a-z]+){1,2}|( spp\.))$`)

// slug makes an id from a scientific name.
func slug(scientific string) string {
	return strings.ReplaceAll(strings.TrimSuffix(strings.ToLower(scientific), "."), " ", "-")
}

// readTable reads and checks the species table and its sources. It returns the taxa by id, each
// with its stages in order of life.
func readTable(species, sources io.Reader) ([]tolerance.Taxon, error) {
	byKey, err := readSources("sources.csv", sources, map[string]source{})
	if err != nil {
		return nil, err
	}
	taxa, first, err := readTaxa("species.csv", species, byKey)
	if err := errors.Join(err, checkNames(taxa, first), checkShared(taxa, first)); err != nil {
		return nil, err
	}
	return taxa, nil
}

// readTaxa reads a file of species rows. It returns the taxa by id, and the first row of each.
func readTaxa(file string, species io.Reader, byKey map[string]source) ([]tolerance.Taxon, map[string]row, error) {
	taxa := map[string]*tolerance.Taxon{}
	first := map[string]row{}
	err := records(file, species, speciesColumns, func(r row) {
		id := slug(r.text("scientific_name"))
		if taxa[id] == nil {
			taxa[id], first[id] = readTaxon(r, id, byKey), r
		}
		for _, c := range taxonColumns {
			if r.cells[c] != first[id].cells[c] {
				r.fault(c, "differs from line %d of the same taxon", first[id].line)
			}
		}
		stage := readStage(r, byKey)
		for _, have := range taxa[id].Stages {
			if have.Stage == stage.Stage {
				r.fault("life_stage", "stands there twice for %s", id)
			}
		}
		taxa[id].Stages = append(taxa[id].Stages, stage)
	})
	all := make([]tolerance.Taxon, 0, len(taxa))
	for _, t := range taxa {
		slices.SortFunc(t.Stages, func(a, b tolerance.Stage) int {
			return slices.Index(tolerance.LifeStages(), a.Stage) - slices.Index(tolerance.LifeStages(), b.Stage)
		})
		all = append(all, *t)
	}
	slices.SortFunc(all, byID)
	return all, first, err
}

func byID(a, b tolerance.Taxon) int { return cmp.Compare(a.ID, b.ID) }

// readTaxon reads what a row says about its taxon.
func readTaxon(r row, id string, sources map[string]source) *tolerance.Taxon {
	t := &tolerance.Taxon{
		ID:             id,
		ScientificName: r.cells["scientific_name"],
		DatabaseID:     r.cells["taxon_id"],
		Family:         r.text("family"),
		Collective:     strings.HasSuffix(r.cells["scientific_name"], " spp."),
		Habitat:        r.traits("habitat", habitats, sources),
		Behaviour:      readBehaviour(r, sources),
		LifeCycle:      readLifeCycle(r, sources),
		Synonyms:       r.list("synonyms"),
		Group:          tolerance.Group(r.oneOf("group", words(tolerance.Groups())...)),
		AirBreather:    r.oneOf("air_breather", "", "yes", "facultative"),
		ClimateZone:    r.oneOf("climate_zone", "", "tropical", "subtropical", "temperate"),
		Shape:          tolerance.Shape(r.oneOf("body_shape", append(words(tolerance.Shapes()), "")...)),
		Hazards:        r.traits("hazards", hazards, sources),
		Law:            r.traits("law", laws, sources),
	}
	t.SharedNames = []string{}
	t.CommonNames = unqualified(r.list("common_names"), &t.SharedNames, &t.UsualNames)
	t.GermanNames = unqualified(r.list("german_names"), &t.SharedNames, &t.UsualNames)
	if t.Shape != "" && t.Group != tolerance.GroupFish {
		r.fault("body_shape", "is for fish only")
	}
	if m := r.oneOf("migration", append(slices.Clone(movements), "")...); m != "" {
		t.Migration = &tolerance.Trait{Kind: m, Mark: tolerance.Published, Source: r.flags(sources)}
	}
	if !scientificName.MatchString(t.ScientificName) {
		r.fault("scientific_name", "is not a genus and a species in plain letters")
	}
	if iucn, cites := r.cells["iucn_2018"], r.cells["cites_2018"]; iucn+cites != "" {
		t.Conservation = &tolerance.Conservation{IUCN: iucn, CITES: cites, Year: conservationYear,
			Mark: tolerance.Published, Source: r.flags(sources)}
	}
	return t
}

// checkNames checks that a scientific name, present or old, means one taxon.
func checkNames(taxa []tolerance.Taxon, first map[string]row) error {
	var faults []error
	owner := map[string]string{}
	for _, t := range taxa {
		for _, name := range append([]string{t.ScientificName}, t.Synonyms...) {
			if other, taken := owner[slug(name)]; taken {
				r, ok := first[t.ID]
				if !ok { // t is built in, so the other is not
					r = first[other]
				}
				r.faults = &faults
				r.fault("synonyms", "%s is a name of %s and of %s", name, other, t.ID)
			}
			owner[slug(name)] = t.ID
		}
	}
	return errors.Join(faults...)
}

// unqualified takes "(part)" and "(usual)" off names, and records every name that is not the
// species' own: one with a qualifier. A colour form is the species itself, though, and a usual
// name means it though other species' names end with it.
func unqualified(names []string, shared, usual *[]string) []string {
	for i, n := range names {
		said := qualifier.FindStringSubmatch(n)
		if said == nil || said[1] == "colour form" {
			continue
		}
		if said[1] == usualName {
			names[i] = qualifier.ReplaceAllString(n, "")
			*usual = append(*usual, names[i])
			continue
		}
		bare := qualifier.ReplaceAllString(n, "")
		*shared = append(*shared, bare)
		if said[1] == "part" {
			names[i] = bare
		}
	}
	return names
}

// usualName marks a name that means the species though other species' names end with it.
const usualName = "usual"

// checkShared checks that each of several taxa with the same common name marks it as shared, so
// that it identifies none of them even if the others are removed.
func checkShared(taxa []tolerance.Taxon, first map[string]row) error {
	owners := map[string][]name{}
	for i, t := range taxa {
		for _, n := range namesOf(i, t) {
			if !n.latin {
				owners[n.key] = append(owners[n.key], n)
			}
		}
	}
	var faults []error
	for _, names := range owners {
		for _, n := range names {
			if n.shared {
				continue
			}
			if slices.ContainsFunc(names, func(o name) bool { return o.taxon != n.taxon }) {
				r := first[taxa[n.taxon].ID]
				r.faults = &faults
				r.fault("common_names", "%q is what others are called as well: write (part) behind it", n.text)
			}
		}
	}
	return errors.Join(faults...)
}
