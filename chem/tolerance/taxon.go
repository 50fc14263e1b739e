package tolerance

import (
	"fmt"
	"slices"
	"strings"

	"saltlock/chem/quantity"
)

// Group is the kind of organism.
type Group string

// The groups.
const (
	GroupFish        Group = "fish"
	GroupCrustacean  Group = "crustacean"
	GroupMollusc     Group = "mollusc"
	GroupPlant       Group = "plant"
	GroupAlgae       Group = "algae"
	GroupCnidarian   Group = "cnidarian"
	GroupAmphibian   Group = "amphibian"
	GroupReptile     Group = "reptile"
	GroupRotifer     Group = "rotifer"
	GroupChelicerate Group = "chelicerate"
)

// Groups returns every group.
func Groups() []Group {
	return []Group{GroupFish, GroupCrustacean, GroupMollusc, GroupPlant, GroupAlgae, GroupCnidarian, GroupAmphibian, GroupReptile,
		GroupRotifer, GroupChelicerate}
}

// LifeStage is a stage of life.
type LifeStage string

// The life stages. AllStages is used where a source does not distinguish them.
const (
	Larva    LifeStage = "larva"
	Juvenile LifeStage = "juvenile"
	Adult    LifeStage = "adult"
	// Fry and Smolt are the trade's words for young fish. The table's row for juveniles, or
	// for all stages, applies to them.
	Fry       LifeStage = "fry"
	Smolt     LifeStage = "smolt"
	AllStages LifeStage = "all"
)

// LifeStages returns the life stages in the order of life.
func LifeStages() []LifeStage { return []LifeStage{Larva, Juvenile, Adult, AllStages} }

// Taxon is a species with what is known of each of its life stages.
type Taxon struct {
	ID             string        `json:"id"` // the scientific name in lower case with hyphens
	ScientificName string        `json:"scientific_name"`
	DatabaseID     string        `json:"database_id,omitempty"` // where the source database keeps it
	Family         string        `json:"family"`
	CommonNames    []string      `json:"common_names"`
	GermanNames    []string      `json:"german_names"`
	SharedNames    []string      `json:"shared_names"`          // of these, names that other species also have, in the table or elsewhere
	UsualNames     []string      `json:"usual_names,omitempty"` // of these, names that mean it alone, although names of others end in them
	Synonyms       []string      `json:"synonyms"`
	Group          Group         `json:"group"`
	Collective     bool          `json:"collective,omitempty"` // represents a group of species, which may differ
	Habitat        []Trait       `json:"habitat"`              // fresh, brackish, marine
	Behaviour      Behaviour     `json:"behaviour"`
	LifeCycle      *LifeCycle    `json:"life_cycle,omitempty"`
	AirBreather    string        `json:"air_breather,omitempty"` // yes or facultative; empty is not known
	ClimateZone    string        `json:"climate_zone,omitempty"`
	Conservation   *Conservation `json:"conservation,omitempty"`
	Migration      *Trait        `json:"migration,omitempty"` // between waters, such as anadromous
	Hazards        []Trait       `json:"hazards"`             // to people and tank mates
	Law            []Trait       `json:"law"`                 // known rules; others may apply
	Shape          Shape         `json:"body_shape,omitempty"`
	Local          bool          `json:"local,omitempty"` // added by the operator of this service
	Stages         []Stage       `json:"stages"`          // in the order of life
}

// Conservation is how a species was listed in a year. Lists change: the law of the place and
// day applies.
type Conservation struct {
	IUCN  string `json:"iucn,omitempty"`  // category of the Red List, as the source spells it
	CITES string `json:"cites,omitempty"` // appendix
	Year  int    `json:"year"`
	Mark  Mark   `json:"mark"`
	// Source is where both were read.
	Source *Source `json:"source,omitempty"`
}

// Threatened reports whether the Red List of that year lists the species as threatened.
func (c *Conservation) Threatened() bool {
	return c != nil && slices.Contains([]string{"VU", "EN", "CR"}, c.IUCN)
}

// Trait is one property of a species and how well founded it is.
type Trait struct {
	Kind   string  `json:"kind"`
	Mark   Mark    `json:"mark"`
	Source *Source `json:"source,omitempty"`
}

// Stage is what is known about a life stage. Nil means unknown.
type Stage struct {
	Stage LifeStage `json:"stage"`
	// Survived is what it was seen or is said to survive, not where to keep it.
	Survived  *Sourced[quantity.Salinity] `json:"survived_range,omitempty"`
	Preferred *Sourced[quantity.Salinity] `json:"preferred_range,omitempty"`
	// Temperature and PH are where sources found or keep it; they are not lethal limits.
	Temperature *Sourced[quantity.Celsius] `json:"temperature,omitempty"`
	// WintersAt has as its minimum the coldest water in which it winters out of doors.
	WintersAt *Sourced[quantity.Celsius] `json:"winters_at,omitempty"`
	PH        *Sourced[quantity.PH]      `json:"ph,omitempty"`
	MaxLength *Length                    `json:"max_length,omitempty"`
	// GreatestChangeSurvived is what one laboratory observed; it is never a limit.
	GreatestChangeSurvived *Change  `json:"greatest_change_survived,omitempty"`
	SensitivityClass       Class    `json:"sensitivity_class"`
	Confidence             Mark     `json:"confidence"` // of the salinity as a whole
	Notes                  []string `json:"notes"`
}

// Length is the largest length on record, often more than in captivity.
type Length struct {
	Length quantity.Estimate[quantity.Length] `json:"length"`
	Type   string                             `json:"length_type"` // TL total, SL standard …
	Mark   Mark                               `json:"mark"`
	Source *Source                            `json:"source,omitempty"`
}

// Change is the largest change of salinity that a laboratory saw tolerated.
type Change struct {
	Change quantity.Estimate[quantity.AbsoluteSalinity] `json:"change"`
	Basis  string                                       `json:"basis"` // how it was done and what the result was
	Mark   Mark                                         `json:"mark"`
	Source *Source                                      `json:"source,omitempty"`
}

// StageError says that a taxon has no row for the life stage asked for.
type StageError struct {
	ID    string
	Stage LifeStage
	Have  []LifeStage
}

func (e *StageError) Error() string {
	have := make([]string, len(e.Have))
	for i, s := range e.Have {
		have[i] = string(s)
	}
	return fmt.Sprintf("%s: nothing is known of life stage %q; known: %s", e.ID, string(e.Stage), strings.Join(have, ", "))
}

// standIns are the rows that may replace that of a stage, the closest first. A smolt is ready
// for the sea like an adult; fry are juveniles.
var standIns = map[LifeStage][]LifeStage{
	Larva: {Larva}, Juvenile: {Juvenile}, Adult: {Adult}, AllStages: {AllStages},
	Fry: {Fry, Juvenile, Larva, Adult}, Smolt: {Smolt, Adult},
}

// StageFor returns the row for a life stage. A row for all stages applies to each. If no
// stage is asked for (empty), it returns that of the adult, or of all stages, or of the
// oldest, and sets assumed.
func (t Taxon) StageFor(s LifeStage) (stage Stage, assumed bool, err error) {
	try := slices.Concat(standIns[s], []LifeStage{AllStages})
	if s == Smolt && !t.Smolts() {
		try = nil // no other animal has them
	}
	if s == "" {
		try = []LifeStage{Adult, AllStages, Juvenile, Larva}
	}
	for _, want := range try {
		i := slices.IndexFunc(t.Stages, func(have Stage) bool { return have.Stage == want })
		if i >= 0 {
			// A row for all stages leaves nothing to assume.
			return t.Stages[i], s == "" && want != AllStages, nil
		}
	}
	have := make([]LifeStage, len(t.Stages))
	for i, st := range t.Stages {
		have[i] = st.Stage
	}
	return Stage{}, false, &StageError{ID: t.ID, Stage: s, Have: have}
}

// Smolts reports whether its young turn into smolts before they go to sea.
func (t Taxon) Smolts() bool {
	return t.Family == "Salmonidae" && t.LifeCycle != nil && t.LifeCycle.Kind == "anadromous"
}

// Dishes reports whether it lives on land and drinks from dishes, so that there is no
// salinity in which it is kept.
func (t Taxon) Dishes() bool {
	return t.Behaviour.Land() && len(t.Stages) == 1 && t.Stages[0].Preferred == nil && t.Stages[0].Survived == nil
}

// Keepable reports whether the salinity in which to keep it is known for some life stage.
func (t Taxon) Keepable() bool {
	return slices.ContainsFunc(t.Stages, func(s Stage) bool {
		p := s.Preferred.band()
		return p.Min != nil && p.Max != nil
	})
}

// StageOfPassage returns the row that replaces a missing one for a stage that moves between
// waters: the young of an animal that hatches in salt water and whose larvae or adults are
// known, and unknown larvae.
func (t Taxon) StageOfPassage(s LifeStage) (Stage, error) {
	for _, want := range []LifeStage{Larva, Adult} {
		if s == Larva && t.spawnsAtSea() || s == Smolt {
			break // larvae of the open sea, which nobody keeps, or smolts, which it does not have
		}
		if i := slices.IndexFunc(t.Stages, func(have Stage) bool { return have.Stage == want }); i >= 0 && (want != Larva || t.LifeCycle.Kind == "catadromous") {
			return t.Stages[i], nil
		}
	}
	_, _, err := t.StageFor(s)
	return Stage{}, err
}

// Name returns what most people call it: the first common name, or else the scientific name.
func (t Taxon) Name() string {
	if len(t.CommonNames) > 0 {
		return t.CommonNames[0]
	}
	return t.ScientificName
}

// Summary is a Taxon in a list.
type Summary struct {
	ID             string         `json:"id"`
	ScientificName string         `json:"scientific_name"`
	CommonNames    []string       `json:"common_names"`
	GermanNames    []string       `json:"german_names"`
	SharedNames    []string       `json:"shared_names"`
	Synonyms       []string       `json:"synonyms"`
	Collective     bool           `json:"collective,omitempty"`
	Group          Group          `json:"group"`
	Family         string         `json:"family"`
	Local          bool           `json:"local,omitempty"`
	Dishes         bool           `json:"-"` // see Taxon.Dishes
	Stages         []StageSummary `json:"stages"`
}

// StageSummary is a Stage in a list.
type StageSummary struct {
	Stage            LifeStage               `json:"stage"`
	Survived         Band[quantity.Salinity] `json:"survived_range"`
	SalinityMark     Mark                    `json:"salinity_mark,omitempty"` // empty where no bound is known
	Preferred        Band[quantity.Salinity] `json:"preferred_range"`
	PreferredMark    Mark                    `json:"preferred_salinity_mark,omitempty"`
	SensitivityClass Class                   `json:"sensitivity_class"`
	Confidence       Mark                    `json:"confidence"`
	// The bands as g/kg, with the same numbers: deprecated.
	Salinity          Band[quantity.AbsoluteSalinity] `json:"salinity"`
	PreferredSalinity Band[quantity.AbsoluteSalinity] `json:"preferred_salinity"`
}

// Summary returns the taxon in the form of a list.
func (t Taxon) Summary() Summary {
	s := Summary{ID: t.ID, ScientificName: t.ScientificName, CommonNames: t.CommonNames, GermanNames: t.GermanNames, SharedNames: t.SharedNames, Collective: t.Collective, Synonyms: t.Synonyms, Group: t.Group, Family: t.Family, Local: t.Local, Dishes: t.Dishes()}
	for _, st := range t.Stages {
		s.Stages = append(s.Stages, StageSummary{
			Stage:             st.Stage,
			Survived:          st.Survived.band(),
			SalinityMark:      st.Survived.mark(),
			Preferred:         st.Preferred.band(),
			PreferredMark:     st.Preferred.mark(),
			Salinity:          inGrams(st.Survived.band()),
			PreferredSalinity: inGrams(st.Preferred.band()),
			SensitivityClass:  st.SensitivityClass,
			Confidence:        st.Confidence,
		})
	}
	return s
}
