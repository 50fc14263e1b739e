package main

import (
	"regexp"
	"strings"
)

// question is what was understood of a message.
type question struct {
	kind         string   // salt, plan, species, reading; empty if none
	salinities   []string // as the service takes them, in the order of the message
	volumes      []string
	temperatures []string
	name         string // of an animal
	air          bool   // an air stone is spoken of
	taken        []string
	left         []string // words that nothing was made of
}

// quantity finds a number with a unit, or a number that can only be a specific gravity.
var quantity = regexp.MustCompile(`(?i)(\d+(?:[.,]\d+)?)\s*(gallons?|gal|litres?|liters?|l|ppt|psu|‰|g/kg|g/l|ms/cm|sg|°?\s?[cf])(?:\s|$|[,;.?!])|\b(1[.,]0\d\d?)\b`)

// spellings of units that the service does not know.
var spellings = map[string]string{"gallon": "gal", "gallons": "gal", "litre": "L", "litres": "L", "liter": "L", "liters": "L", "l": "L",
	"ms/cm": "mS/cm", "sg": "SG", "g/l": "g/L", "c": "C", "f": "F", "°c": "C", "°f": "F", "° c": "C", "° f": "F"}

// kinds of question by their words, the more telling first.
var kinds = []struct {
	kind  string
	words *regexp.Regexp
}{
	{"plan", regexp.MustCompile(`(?i)\b(plan|move|drip|acclimat\w+|acclimatis\w+)\b`)},
	{"salt", regexp.MustCompile(`(?i)how much (marine |sea )?salt|\bsalt for\b`)},
	{"species", regexp.MustCompile(`(?i)what (salinity|sg|gravity)( does| do)?( for| need)?|\bneeds?\b`)},
}

// idle are words that carry nothing beyond the kind of the question.
var idle = regexp.MustCompile(`(?i)^(a|an|the|my|our|of|for|to|from|at|in|into|is|are|i|we|do|does|need|needs|how|much|many|what|salt|marine|sea|water|salinity|sg|ppt|plan|move|drip|bucket|container|tank|with|and|please|it|they|them|me|over|by|read|reads|reading|mean|means|gravity|specific|acclimat\w*|acclimatis\w*|hi|hello|hey|thanks?|convert)$`)

var (
	airStone = regexp.MustCompile(`(?i)\b(air ?stones?|aerat\w+|bubbl\w+)\b`)
	apart    = regexp.MustCompile(`[\s,;:!?"()]+`)
)

// read makes what it can of a message and keeps what it cannot.
func read(text string) question {
	var q question
	for _, k := range kinds {
		if k.words.MatchString(text) {
			q.kind = k.kind
			break
		}
	}
	if q.air = airStone.MatchString(text); q.air {
		text = airStone.ReplaceAllString(text, " ")
	}
	rest := quantity.ReplaceAllStringFunc(text, func(found string) string {
		m := quantity.FindStringSubmatch(found)
		number, unit := m[1], strings.ToLower(m[2])
		if m[3] != "" {
			number, unit = m[3], "sg"
			q.taken = append(q.taken, "I read "+m[3]+" as a specific gravity.")
		}
		if known, ok := spellings[unit]; ok {
			unit = known
		}
		value := strings.ReplaceAll(number, ",", ".") + " " + unit
		switch unit {
		case "gal", "L":
			q.volumes = append(q.volumes, value)
		case "C", "F":
			q.temperatures = append(q.temperatures, value)
		default:
			q.salinities = append(q.salinities, value)
		}
		return " "
	})
	var words []string
	for _, w := range apart.Split(rest, -1) {
		if w = strings.Trim(w, ".'’"); w != "" && !idle.MatchString(w) {
			words = append(words, w)
		}
	}
	switch {
	case q.kind == "" && len(q.salinities) > 0:
		q.kind, q.left = "reading", words
	case q.kind == "plan" || q.kind == "species":
		q.name = strings.Join(words, " ")
	default:
		q.left = words
	}
	return q
}
