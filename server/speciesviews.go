package server

import (
	"regexp"
	"slices"
	"strings"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
	"saltlock/chem/tolerance"
	"saltlock/server/render"
)

// speciesLines answers what salinity the best match of a name needs, in three
// lines; without a name it counts.
func speciesLines(v render.Voice, p speciesPage) []string {
	var l lines
	switch {
	case p.Total == 0 && len(p.NearMisses) > 0:
		near := make([]string, len(p.NearMisses))
		for i, n := range p.NearMisses {
			near[i] = n.Name
		}
		l.add(v, "species_near", strings.Join(near, ", "))
		return l
	case p.named && p.Clear:
		l = keepingLines(v, *p.Best)
		if p.Total > 1 {
			l.add(v, "species_also", strings.Join(namesOf(p.summaries(), p.Best.ID), ", "), p.Total-1)
		}
		return l
	}
	l.add(v, "species_found", p.Total)
	for _, t := range p.Species[:min(5, len(p.Species))] {
		l = append(l, keepLine(v, t.Summary))
	}
	return l
}

// keepLine tells of a species in a list where to keep it.
func keepLine(v render.Voice, t tolerance.Summary) string {
	keep := make([]string, len(t.Stages))
	for i, s := range t.Stages {
		keep[i] = stageName(s.Stage) + keepAt(v, s.PreferredSalinity, s.PreferredMark, nil)
	}
	name := t.ScientificName
	if len(t.CommonNames) > 0 {
		name = t.CommonNames[0]
	}
	return v.Say("species_keep", name, t.ScientificName, strings.Join(keep, "; "))
}

// stageName is what a stage is called before what holds for it; nothing where
// it holds for all.
func stageName(s tolerance.LifeStage) string {
	if s == tolerance.AllStages {
		return ""
	}
	return render.Name(string(s)) + " "
}

// namesOf lists a few species by name, all but one.
func namesOf(list []tolerance.Summary, but string) []string {
	var names []string
	for _, t := range list {
		if t.ID != but && len(names) < 5 {
			name := t.ScientificName
			if len(t.CommonNames) > 0 {
				name = t.CommonNames[0]
			}
			names = append(names, name)
		}
	}
	return names
}

// keepingLines tells in three lines where to keep a species, what it was seen
// to survive, and how carefully to move it, each with what it rests on.
func keepingLines(v render.Voice, t tolerance.Taxon) lines {
	var keep, survive, move []string
	for _, s := range t.Stages {
		stage := stageName(s.Stage)
		if p := s.PreferredSalinity; p != nil {
			keep = append(keep, stage+keepAt(v, p.Band, p.Mark, p.Source))
		} else {
			keep = append(keep, stage+v.Say("keep_unknown"))
		}
		survive = append(survive, stage+survives(v, s.Salinity))
		move = append(move, stage+render.Name(string(s.SensitivityClass)))
	}
	if !slices.ContainsFunc(t.Stages, func(s tolerance.Stage) bool { return s.SensitivityClass != t.Stages[0].SensitivityClass }) {
		move = []string{render.Name(string(t.Stages[0].SensitivityClass))}
	}
	var l lines
	l.add(v, "species_keep", t.Name(), t.ScientificName, strings.Join(keep, "; "))
	l.add(v, "species_survives", strings.Join(survive, "; "))
	oldest := t.Stages[len(t.Stages)-1]
	if limits, err := tolerance.LimitsOf(oldest.SensitivityClass); err == nil {
		l.add(v, "species_moves", strings.Join(move, ", "), limits.Up.AtOnce, limits.Up.PerHour, limits.Up.Per24Hours, render.Name(string(oldest.SensitivityClass)))
	}
	return l
}

// profileLines are the three lines, and the first of the cautions.
func profileLines(v render.Voice, p *tolerance.Profile) []string {
	l := keepingLines(v, p.Taxon)
	l.notes(p.Cautioned)
	return l.most(6)
}

// keepAt writes a preferred band with its specific gravity and what it rests on.
func keepAt(v render.Voice, p tolerance.Band[quantity.AbsoluteSalinity], m tolerance.Mark, from *tolerance.Source) string {
	if p.Min == nil || p.Max == nil {
		return v.Say("keep_unknown")
	}
	return v.Say("keep_at", p.Min.Value, p.Max.Value, gravityOf(v, p.Min.Value), gravityOf(v, p.Max.Value), marked(v, m, from))
}

// usualGravity is the convention that a bare specific gravity has.
var usualGravity = quantity.Convention{Sample: 25, Water: 25}

// gravityOf is the specific gravity at 25C/25C. The table holds salinities to
// 200 g/kg; past what the formula covers it has no specific gravity to show.
func gravityOf(v render.Voice, sa quantity.AbsoluteSalinity) string {
	sg, err := seawater.SpecificGravity(sa, usualGravity)
	if err != nil {
		return "-"
	}
	return v.Word(quantity.Exactly(sg))
}

// survives writes what is known of a band that was survived.
func survives(v render.Voice, s *tolerance.Sourced[quantity.AbsoluteSalinity]) string {
	switch {
	case s == nil || s.Empty():
		return v.Say("survives_unknown")
	case s.Min == nil:
		return v.Say("survives_up_to", s.Max.Value, marked(v, s.Mark, s.Source))
	case s.Max == nil:
		return v.Say("survives_from", s.Min.Value, marked(v, s.Mark, s.Source))
	}
	return v.Say("survives", s.Min.Value, s.Max.Value, marked(v, s.Mark, s.Source))
}

// marked writes a mark, with the key of the source that was read.
func marked(v render.Voice, m tolerance.Mark, s *tolerance.Source) string {
	if s == nil {
		return v.Say(markCodes[m])
	}
	return v.Say(markOfCodes[m], sourceName(s))
}

// sourceName is the short name of a source for a person, as Chang, 2005.
func sourceName(s *tolerance.Source) string {
	key, _, _ := strings.Cut(s.Key, ":")
	parts := sourceKey.FindStringSubmatch(key)
	if parts == nil {
		return strings.ReplaceAll(key, "-", " ")
	}
	name, known := sourceNames[parts[1]]
	if !known {
		name = camelCase.ReplaceAllString(parts[1], "$1 and $2")
	}
	return name + ", " + parts[2]
}

var (
	sourceKey   = regexp.MustCompile(`^([A-Za-z]+)((?:19|20)\d\d)[A-Za-z]*$`)
	camelCase   = regexp.MustCompile(`([a-z])([A-Z])`)
	sourceNames = map[string]string{"FB": "FishBase", "SLB": "SeaLifeBase", "NAS": "US Geological Survey"}
)

// What is said of how well a value is founded, without and with the source of it.
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
