package tolerance

import (
	"strings"

	"saltlock/chem/quantity"
)

// When size calls for a caution. Both figures are proposed here.
const (
	largeFish  quantity.Length = 20 // cm, the least adult size for a caution
	mouthRatio float64         = 3  // the least ratio of lengths at which one may eat the other
)

// Dangers returns how the taxon can hurt people who handle it, as far as is known.
func (t Taxon) Dangers() []quantity.Note {
	var notes []quantity.Note
	for _, h := range t.Hazards {
		notes = append(notes, noteOf(hazardCodes[h.Kind], t.Name(), words(h.Mark)))
	}
	return notes
}

// Cautions returns what a keeper of the taxon must know besides its water: how large it
// grows, whether it can hurt someone, where it goes to breed, and which laws are known to
// apply. What is not known is left out, which does not mean that all is well.
func (t Taxon) Cautions() []quantity.Note {
	notes := []quantity.Note{}
	add := func(code quantity.Code, params ...any) {
		notes = append(notes, noteOf(code, append([]any{t.Name()}, params...)...))
	}
	if l := t.Longest(); l != nil && l.Length.Value >= largeFish {
		add("adult_size", l.Length, l.Type, words(l.Mark))
	}
	notes = append(notes, t.Dangers()...)
	if m := t.Migration; m != nil && breedingCodes[m.Kind] != "" {
		add(breedingCodes[m.Kind], words(m.Mark))
	}
	if len(t.Stages) > 1 && t.Stages[0].Stage == Larva && !t.spawnsAtSea() {
		if p := t.Stages[0].Preferred; p != nil && p.Min != nil && p.Max != nil {
			add("breeding_larvae", *p.Min, *p.Max, words(p.Mark))
		}
	}
	for _, l := range t.Law {
		add(lawCodes[l.Kind], words(l.Mark))
	}
	if c := t.Conservation; c != nil && c.CITES != "" {
		add("law_cites", c.CITES, c.Year, words(c.Mark))
	}
	if c := t.Conservation; c.Threatened() {
		add("law_threatened", c.IUCN, c.Year, words(c.Mark))
	}
	if t.Local {
		add("local_entry")
	}
	return notes
}

// spawnsAtSea reports whether its larvae live in the open sea. Its row of larvae may be
// different, since it describes the first ones that reach the coast.
func (t Taxon) spawnsAtSea() bool { return t.LifeCycle != nil && t.LifeCycle.Kind == "catadromous" }

// The cautions for each kind of trait in the species table.
var (
	hazardCodes = map[string]quantity.Code{
		"venomous": "hazard_venomous", "poisonous": "hazard_poisonous", "wounding": "hazard_wounding",
		"bites": "hazard_bites", "ciguatera": "hazard_ciguatera", "irritant-sap": "hazard_irritant_sap",
	}
	// Only migrations that lead to another water for breeding.
	breedingCodes = map[string]quantity.Code{
		"anadromous": "breeding_anadromous", "catadromous": "breeding_catadromous", "amphidromous": "breeding_amphidromous",
	}
	lawCodes = map[string]quantity.Code{
		"eu-invasive-list": "law_eu_invasive_list", "us-noxious-weed": "law_us_noxious_weed", "us-state-rules": "law_us_state_rules",
		"banned-in-places": "law_banned_in_places", "protected-in-places": "law_protected_in_places",
	}
)

// words writes a mark as in a sentence.
func words(m Mark) string { return strings.ReplaceAll(string(m), "-", " ") }

// Longest returns the largest length on record of any stage; nil if none is known.
func (t Taxon) Longest() *Length {
	var most *Length
	for _, s := range t.Stages {
		if l := s.MaxLength; l != nil && (most == nil || l.Length.Value > most.Length.Value) {
			most = l
		}
	}
	return most
}

// mouths warns of members that grow large enough to eat others.
func mouths(members []Member) []quantity.Note {
	var notes []quantity.Note
	for _, large := range members {
		for _, small := range members {
			a, b := large.Taxon.Longest(), small.Taxon.Longest()
			if large.Taxon.Group != GroupFish || large.Taxon.Behaviour.Is("eats-no-fish") || large.Taxon.Behaviour.Is("predator-of-small-fish") || a == nil || b == nil || float64(a.Length.Value) < mouthRatio*float64(b.Length.Value) {
				continue
			}
			notes = append(notes, noteOf("may_be_eaten", large.Taxon.Name(), a.Length, small.Taxon.Name(), b.Length))
		}
	}
	return notes
}
