package main

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	saltlock "saltlock/clients/go"
)

// Pieces of a message. A number may have a decimal comma; see message.decimal.
const (
	number  = `[0-9]+(?:[.,][0-9]+)?`
	volume  = `(` + number + `)\s*(gallons?|gal_imp|gal|lit(?:er|re)s?|ml|l)\b`
	reading = `(` + number + `)\s*(sg\b|ppt\b|psu\b|g/kg\b|g/l\b|ms/cm\b|‰)?`
	strict  = `(` + number + `)\s*(sg|ppt|psu|g/kg|g/l|ms/cm|‰)`
	between = `(?:^|[\s,;.?!])`
)

func piece(pattern string) *regexp.Regexp { return regexp.MustCompile(`(?i)` + between + pattern) }

var (
	howMuch     = piece(`how\s+(?:much|many)\s+(?:(?:kilos?|kg|grams?|pounds?|lbs?|cups?)\s+(?:of\s+)?)?(?:(?:marine|sea|reef)\s+)?salt\b`)
	plan        = regexp.MustCompile(`(?i)(?:^|[.,;?!\n]|\b(?:and|then)\s)\s*(?:plan|how\s+(?:(?:do|can|should|would)\s+(?:i|we)|to)\s+(?:safely\s+)?(?:move|acclimate|acclimatise|acclimatize|transfer|switch|bring|get))\b(?:\s+(?:for|a|an|the|my|some|moving)\b)*`)
	whatFor     = piece(`(?:(?:what|which)\s+)?(?:salinity|sg)\s+(?:is\s+(?:right\s+|best\s+)?for|for|does|do)\b(?:\s+(?:a|an|the|my)\b)*`)
	what        = piece(`(?:(?:what\s+is|what's|whats|convert)\s+(?:the\s+salinity\s+(?:of|at)\s+)?` + reading + `|(?:sg|ppt)\s+(?:to|in)\s+(?:ppt|sg)\b|` + strict + `\s+(?:to|in)\s+(?:sg|ppt|g/kg|g/l|ms/cm)\b)`)
	into        = piece(`(?:to|in|as)\s+(?:sg|ppt|g/kg|g/l|ms/cm)\b`)
	temperature = piece(`(?:at\s+)?(` + number + `)\s*(?:°|degrees?|deg)?\s*([cf])\b`)
	forVolume   = piece(`(?:(?:for|in)\s+)?(?:a\s+|an\s+)?` + volume)
	target      = piece(`(?:at|to)\s+` + reading)
	anyReading  = piece(strict)
	source      = piece(`from\s+` + reading)
	bucket      = piece(`in\s+(?:a\s+|an\s+)?` + volume + `\s*(?:bucket|tub|box|container|bin)?`)
	startVolume = piece(`(?:with|holding)\s+` + volume + `(?:\s+of\s+water)?`)
	airStone    = piece(`(?:(?:with\s+)?(without|no|not)\s+|with\s+|and\s+)?(?:an\s+|any\s+)?(?:air\s*stone|aerated|aeration)\b`)
	ill         = regexp.MustCompile(`(?i)\b(?:sick|ill|diseased?|dying|ich|ick|white\s+spots?|gasp(?:s|ing)?|medicat(?:ed|ing|ion)|medicines?|copper|not\s+(?:eat|feed)(?:ing)?)\b`)
	mass        = piece(`of\s+(` + number + `)\s*(g|kg|oz|lb)\b(?:\s+each)?`)
	origin      = piece(`(captive|wild)(?:[\s-]+(?:bred|caught))?\b`)
	stage       = piece(`(?:(young|juvenile)|(adult))\b`)
	count       = regexp.MustCompile(`^[\s,]*([0-9]+)\s+`) // not the 8 of a figure 8 puffer
	sgFirst     = regexp.MustCompile(`(?i)\bsg\s*(?:of\s+|[:=]\s*)?(1[.,]0[0-9]*)`)
	toSea       = piece(`(?:in)?to\s+(salt\s*water|sea\s*water|full\s+(?:salt|marine)|marine(?:\s+water)?|a\s+reef)\b`)
	vague       = piece(`(from|to|into)\s+(fresh\s*water|fresh|tap\s*water|brackish(?:\s*water)?|low\s+end\s+brackish)\b`)
	filler      = regexp.MustCompile(`(?i)^(?:do|i|need|of|water|please|the|a|an|my|for|and|tank|bucket|some|then|also|is|what)$`)
)

// message is the text of a person, of which pieces are taken away as they are understood.
type message struct {
	skipped string // what stood before the question
	rest    string
	took    []string // what was read into it
	comma   bool     // whether its numbers have a decimal comma
	us      bool     // whether it counts in US gallons
}

var (
	withComma = regexp.MustCompile(`[0-9],[0-9]`)
	withPoint = regexp.MustCompile(`[0-9]\.[0-9]`)
)

// decimal says which mark the numbers of a message have; both at once can mean
// anything, 1,010.5 as well as 1.010 and 25,5.
func decimal(text string) (comma, mixed bool) {
	comma = withComma.MatchString(text)
	return comma, comma && withPoint.MatchString(text)
}

// mark is the parameter that announces a decimal comma.
func mark[T ~string](m *message) *T {
	if !m.comma {
		return nil
	}
	return new(T("comma"))
}

// sea is the salinity that sea water stands for where no number is said.
const sea = "35 ppt"

// waterTo takes the salinity to go to, in words where it is the sea's.
func (m *message) waterTo() string {
	if g := m.take(toSea); g != nil {
		m.took = append(m.took, "“"+g[1]+"” as "+sea)
		return sea
	}
	return m.reading(target)
}

// gallons reports whether a message counts in US gallons.
var gallons = regexp.MustCompile(`(?i)[0-9]\s*(?:gallons?|gal)\b`)

// questions cuts a message before each question but the first, so that what
// stands before the first goes with it.
func questions(text string) []string {
	var starts []int
	for _, p := range []*regexp.Regexp{howMuch, plan, whatFor, what} {
		for _, at := range p.FindAllStringIndex(text, -1) {
			starts = append(starts, at[0])
		}
	}
	slices.Sort(starts)
	var parts []string
	from := 0
	for i, at := range slices.Compact(starts) {
		if i > 0 {
			parts = append(parts, text[from:at])
			from = at
		}
	}
	return append(parts, text[from:])
}

// take finds a piece, takes it away and gives its groups; nil if it is not there.
func (m *message) take(p *regexp.Regexp) []string {
	at := p.FindStringSubmatchIndex(m.rest)
	if at == nil {
		return nil
	}
	groups := p.FindStringSubmatch(m.rest)
	m.rest = m.rest[:at[0]] + " , " + m.rest[at[1]:]
	return groups
}

// begins reports whether the message has a question whose animals are named behind
// it, and leaves out what comes before it.
func (m *message) begins(p *regexp.Regexp) bool {
	at := p.FindStringIndex(m.rest)
	if at != nil {
		m.skipped, m.rest = m.rest[:at[0]], m.rest[at[1]:]
	}
	return at != nil
}

// volume takes a volume in the units of the service.
func (m *message) volume(p *regexp.Regexp) *string {
	g := m.take(p)
	if g == nil {
		return nil
	}
	unit := strings.ToLower(g[2])
	switch {
	case strings.HasPrefix(unit, "gal") && unit != "gal_imp":
		unit = "gal"
	case strings.HasPrefix(unit, "l"):
		unit = "L"
	case unit == "ml":
		unit = "mL"
	}
	return new(g[1] + " " + unit)
}

// units of readings as the service writes them.
var units = map[string]string{"sg": "SG", "ppt": "ppt", "psu": "ppt", "‰": "ppt", "g/kg": "g/kg", "g/l": "g/L", "ms/cm": "mS/cm"}

// reading takes a salinity. A bare number that can only be a specific gravity is
// taken for one, and the answer says so; any other goes on bare, and the service asks.
func (m *message) reading(p *regexp.Regexp) string {
	if g := m.take(p); g != nil {
		return m.scaled(g)
	}
	return ""
}

// scaled gives the number in g[1] the unit in g[2].
func (m *message) scaled(g []string) string {
	if unit := units[strings.ToLower(g[2])]; unit != "" {
		return g[1] + " " + unit
	}
	if strings.HasPrefix(strings.Replace(g[1], ",", ".", 1), "1.0") {
		m.took = append(m.took, g[1]+" as specific gravity")
		return g[1] + " SG"
	}
	return g[1]
}

func (m *message) temperature() *string {
	g := m.take(temperature)
	if g == nil {
		return nil
	}
	return new(g[1] + " " + strings.ToUpper(g[2]))
}

// animals takes what is said of them, and gives their name.
func (m *message) animals(p *saltlock.GetTransferPlanParams) (name string, err error) {
	if g := m.take(mass); g != nil {
		p.Mass = new(g[1] + " " + strings.ToLower(g[2]))
	}
	if g := m.take(origin); g != nil {
		p.Origin = new(saltlock.Origin(strings.ToLower(g[1])))
	}
	if g := m.take(stage); g != nil {
		p.Stage = new(saltlock.Juvenile)
		if g[2] != "" {
			p.Stage = new(saltlock.Adult)
		}
	}
	if g := m.take(count); g != nil {
		n, err := strconv.Atoi(g[1])
		if err != nil {
			return "", err
		}
		p.Count = &n
	}
	return m.name(), nil
}

// name is what comes before the first piece taken: the animals.
func (m *message) name() string {
	before, after, _ := strings.Cut(strings.TrimLeft(m.rest, " ,"), ",")
	m.rest = after
	return strings.TrimSpace(before)
}

// unread is what nothing was made of.
func (m *message) unread() string {
	var words []string
	for _, word := range strings.FieldsFunc(m.skipped+" "+m.rest, func(r rune) bool { return strings.ContainsRune(" \t\n,;?!", r) }) {
		if !filler.MatchString(word) {
			words = append(words, word)
		}
	}
	return strings.Join(words, " ")
}
