package server

import (
	"strings"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
	"saltlock/chem/tolerance"
	"saltlock/server/render"
	"saltlock/server/store"
)

// mostListed is how many species a short answer lists.
const mostListed = 4

// speciesLines says what salinity the species of a name needs. If several species share the name
// it says so and lists them; without a name it counts.
func speciesLines(v render.Voice, p speciesPage) []string {
	var l lines
	m := p.Match
	switch {
	case p.Only != nil:
		return append(keepingLines(v, *p.Only), understoodLines(v, understoodBy(p))...)
	case m == nil || p.Total == 0 && (m.Outcome == store.Exact || m.Outcome == store.Several):
		l.add(v, "species_found", p.Total)
	case m.Outcome == store.NotThere:
		return append(l, unclearLine(v, m.Asked, m.Outcome, p.Near))
	case m.Outcome == store.Spelling:
		return append(l, unclearLine(v, m.Asked, m.Outcome, m.Candidates))
	case p.Total == 1:
		l.add(v, "species_one_of", m.Asked)
	default:
		l.add(v, "species_which", m.Asked, p.Total)
	}
	for _, t := range p.Species[:min(mostListed, len(p.Species))] {
		l = append(l, keepLine(v, t))
	}
	if more := p.Total - mostListed; more > 0 && m != nil {
		l.add(v, "species_more", more)
	}
	return l
}

// understoodBy says how the name in a search was understood, if it is neither the usual nor the
// scientific name.
func understoodBy(p speciesPage) []understood {
	t := p.Only
	for _, said := range []string{t.Name(), t.ScientificName, t.ID} {
		if strings.EqualFold(strings.ReplaceAll(said, "-", " "), strings.ReplaceAll(p.Match.Asked, "-", " ")) {
			return nil
		}
	}
	return []understood{{p.Match.Asked, t.ID, t.Name(), t.ScientificName}}
}

// keepLine says where to keep a species in a list.
func keepLine(v render.Voice, t tolerance.Summary) string {
	known, keep := false, make([]string, len(t.Stages))
	for i, s := range t.Stages {
		known = known || s.PreferredMark != ""
		keep[i] = keepAt(v, s.Stage, s.Preferred, s.PreferredMark, nil)
	}
	name := t.ScientificName
	if len(t.CommonNames) > 0 {
		name = t.CommonNames[0]
	}
	if t.Dishes {
		return v.Say("species_dishes", v.Animal(name), t.ScientificName)
	}
	return keepSentence(v, v.Animal(name), t.ScientificName, keep, known)
}

// keepSentence says where to keep a species, stage by stage, unless no record says so of any.
func keepSentence(v render.Voice, name, scientific string, keep []string, known bool) string {
	if !known {
		return v.Say("species_keep_unknown", name, scientific)
	}
	return v.Say("species_keep", name, scientific, strings.Join(keep, " "))
}

// stageCodes introduce what holds for a life stage.
var stageCodes = map[tolerance.LifeStage]quantity.Code{
	tolerance.AllStages: "of_all", tolerance.Larva: "of_larvae", tolerance.Juvenile: "of_young", tolerance.Adult: "of_adults",
}

// classCodes say whom default limits are for.
var classCodes = map[tolerance.Class]quantity.Code{
	tolerance.Hardy: "class_hardy", tolerance.Moderate: "class_moderate", tolerance.Delicate: "class_delicate", tolerance.Invertebrate: "class_invertebrate",
	tolerance.StenohalineFresh: "class_stenohaline_fresh", tolerance.StenohalineMarine: "class_stenohaline_marine", tolerance.Plant: "class_plant",
}

// keepingLines say where to keep a species, what it was seen to survive and how carefully to move
// it, each with its evidence.
func keepingLines(v render.Voice, t tolerance.Taxon) lines {
	if t.Dishes() {
		return lines{v.Say("species_dishes", v.Animal(t.Name()), t.ScientificName)}
	}
	var keep []string
	for _, s := range t.Stages {
		p := s.Preferred
		if p == nil {
			p = &tolerance.Sourced[quantity.Salinity]{}
		}
		keep = append(keep, keepAt(v, s.Stage, p.Band, p.Mark, p.Source))
	}
	l := lines{keepSentence(v, v.Animal(t.Name()), t.ScientificName, keep, t.Keepable())}
	if t.Collective {
		l.add(v, "species_group_row", t.Name())
	}
	if line := survivalLine(v, t); line != "" {
		l = append(l, line)
	}
	oldest := t.Stages[len(t.Stages)-1]
	if line := warmthLine(v, t, oldest); line != "" {
		l = append(l, line)
	}
	if t.Behaviour.Land() {
		l.add(v, "species_land")
		return l
	}
	if limits, err := tolerance.LimitsOf(oldest.SensitivityClass); err == nil {
		// of unknown origin: such animals go down no faster than up
		l.add(v, "species_moves", limits.Up.AtOnce, limits.Up.PerHour, limits.Up.Per24Hours, v.Say(classCodes[oldest.SensitivityClass]))
	}
	return l
}

// warmthLine says at which temperatures the oldest stage was found or kept; without a record,
// which water its climate usually has.
func warmthLine(v render.Voice, t tolerance.Taxon, s tolerance.Stage) string {
	b := s.Temperature
	switch {
	case b != nil && b.Min != nil && b.Max != nil:
		return v.Say("species_warmth", *b.Min, *b.Max, marked(v, b.Mark, b.Source))
	case b != nil && b.Max != nil:
		return v.Say("species_warmth_up_to", *b.Max, marked(v, b.Mark, b.Source))
	case b != nil && b.Min != nil:
		return v.Say("species_warmth_from", *b.Min, marked(v, b.Mark, b.Source))
	case t.ClimateZone == "":
		return v.Say("species_warmth_unknown")
	}
	usual := t.WarmthOf(s)
	return v.Say("species_warmth_of_zone", quantity.Exactly(usual.Least), quantity.Exactly(usual.Most))
}

// survivalLine says what a species was seen to survive, which is not a water to keep it in. The
// exception is ordinary sea water for an animal of the sea.
func survivalLine(v render.Voice, t tolerance.Taxon) string {
	var known, byStage []string
	open, same := "", false
	for _, s := range t.Stages {
		b, p := s.Survived, s.Preferred
		switch {
		case b == nil || b.Empty():
		case p != nil && sameBand(b.Band, p.Band):
			same = true // it survives nothing outside the preferred water
		case b.Max == nil && b.Min.Value == 0:
			open = v.Say("survives_no_max", marked(v, b.Mark, b.Source))
		case s.OrdinarySea():
			return v.Say("species_sea_water", b.Min.Value, b.Max.Value, marked(v, b.Mark, b.Source))
		case s.Stage == tolerance.AllStages || len(t.Stages) > 1 && everyStage(t, b.Band):
			known = append(known, survives(v, b))
		default:
			code := quantity.Code("stage_survives")
			if !t.Keepable() {
				code = "stage_survives_only"
			}
			byStage = append(byStage, v.Say(code, v.Say(stageCodes[s.Stage]), survives(v, b)))
		}
	}
	switch {
	case len(known) > 0 && t.Keepable():
		return v.Say("species_survives", known[0])
	case len(known) > 0:
		return v.Say("species_survives_only", known[0])
	case len(byStage) > 0:
		return strings.Join(byStage, " ")
	case open != "":
		return open
	case same:
		return ""
	}
	return v.Say("survives_unknown")
}

// everyStage reports whether all life stages with any record survive the same range.
func everyStage(t tolerance.Taxon, b tolerance.Band[quantity.Salinity]) bool {
	for _, s := range t.Stages {
		if s.Survived != nil && !s.Survived.Empty() && !sameBand(s.Survived.Band, b) {
			return false
		}
	}
	return true
}

// sameBand reports whether two ranges have the same bounds: what was survived is then what is
// preferred.
func sameBand(a, b tolerance.Band[quantity.Salinity]) bool {
	same := func(x, y *quantity.Estimate[quantity.Salinity]) bool {
		return x == nil && y == nil || x != nil && y != nil && x.Value == y.Value
	}
	return same(a.Min, b.Min) && same(a.Max, b.Max)
}

// profileLines are these lines and the first of the cautions.
func profileLines(v render.Voice, p *tolerance.Profile) []string {
	l := keepingLines(v, p.Taxon)
	l.notes(p.Cautioned)
	return l.most(8)
}

// leastWeighed is the salinity, in ppt, below which a hydrometer shows nothing.
const leastWeighed quantity.Salinity = 0.5

// keepAt writes a preferred range in words and on two scales, with its evidence.
func keepAt(v render.Voice, stage tolerance.LifeStage, p tolerance.Band[quantity.Salinity], m tolerance.Mark, from *tolerance.Source) string {
	if p.Min == nil || p.Max == nil {
		return v.Say("keep_unknown", v.Say(stageCodes[stage]))
	}
	lo, hi := p.Min.Value, p.Max.Value
	if hi <= leastWeighed {
		return v.Say("keep_at_fresh", v.Say(stageCodes[stage]), v.Say(waterCode(lo, hi)), lo, hi, marked(v, m, from))
	}
	return v.Say("keep_at", v.Say(stageCodes[stage]), v.Say(waterCode(lo, hi)), lo, hi, gravities(v, lo, hi), marked(v, m, from))
}

// Where fresh water ends and the sea begins in the Venice system, in ppt.
const (
	freshTo quantity.Salinity = 0.5
	seaFrom quantity.Salinity = 30
)

// waterCode names the waters from one salinity to another.
func waterCode(lo, hi quantity.Salinity) quantity.Code {
	switch {
	case hi <= freshTo:
		return "water_fresh"
	case lo >= seaFrom:
		return "water_sea"
	case lo > freshTo && hi < seaFrom:
		return "water_brackish"
	case lo > freshTo:
		return "water_brackish_to_sea"
	case hi < seaFrom:
		return "water_fresh_to_brackish"
	}
	return "water_fresh_to_sea"
}

// usualGravity is the convention that a bare specific gravity has.
var usualGravity = quantity.Convention{Sample: 25, Water: 25}

// gravityOf is the specific gravity at 25C/25C. The table holds salinities up to 300 ppt; past
// what the formula covers there is no specific gravity to show.
func gravityOf(v render.Voice, sp quantity.Salinity) string {
	sa, err := seawater.AbsoluteSalinity(sp)
	if err != nil {
		return "-"
	}
	sg, err := seawater.SpecificGravity(sa, usualGravity)
	if err != nil {
		return "-"
	}
	return v.Gravity(sg)
}

// gravities are the specific gravities of two salinities, or the one that both show.
func gravities(v render.Voice, lo, hi quantity.Salinity) string {
	a, b := gravityOf(v, lo), gravityOf(v, hi)
	if a == b {
		return v.Say("gravity_one", a)
	}
	return v.Say("gravity_two", a, b)
}
