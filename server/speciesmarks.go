package server

import (
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/server/render"
)

// survives writes what is known of a range that was survived.
func survives(v render.Voice, s *tolerance.Sourced[quantity.Salinity]) string {
	from := marked(v, s.Mark, s.Source)
	if s.MaxMark != "" {
		from = v.Say("mark_of_both", from, v.Say(markCodes[s.MaxMark]))
	}
	switch {
	case s.Min == nil:
		return v.Say("survives_up_to", s.Max.Value, from)
	case s.Max == nil:
		return v.Say("survives_from", s.Min.Value, from)
	}
	return v.Say("survives", s.Min.Value, s.Max.Value, from)
}

// marked writes a mark in words, with the short name of the source.
func marked(v render.Voice, m tolerance.Mark, s *tolerance.Source) string {
	if s == nil || s.Key == "memory" {
		return v.Say(markCodes[m])
	}
	return v.Say(markOfCodes[m], s.Short)
}

// How well founded a value is, without and with its source.
var (
	markCodes = map[tolerance.Mark]quantity.Code{
		tolerance.Published: "mark_published", tolerance.ByDefinition: "mark_definition", tolerance.CommonPractice: "mark_common_practice",
		tolerance.Memory: "mark_memory", tolerance.ProposedHere: "mark_proposed",
	}
	markOfCodes = map[tolerance.Mark]quantity.Code{
		tolerance.Published: "mark_published_of", tolerance.ByDefinition: "mark_definition_of", tolerance.CommonPractice: "mark_common_practice_of",
		tolerance.Memory: "mark_memory_of", tolerance.ProposedHere: "mark_proposed_of",
	}
)
