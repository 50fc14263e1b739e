package main

import (
	"regexp"
	"strconv"
	"strings"

	saltlock "saltlock/clients/go"
)

// Pieces of a message. A number may have a decimal comma; the service then says
// what it thinks of it.
const (
	number  = `[0-9]+(?:[.,][0-9]+)?`
	volume  = `(` + number + `)\s*(gallons?|gal_imp|gal|lit(?:er|re)s?|ml|l)\b`
	reading = `(` + number + `)\s*(sg\b|ppt\b|psu\b|g/kg\b|g/l\b|ms/cm\b|‰)?`
	between = `(?:^|[\s,;])`
)

func piece(pattern string) *regexp.Regexp { return regexp.MustCompile(`(?i)` + between + pattern) }

var (
	howMuch     = piece(`how\s+much\s+(?:(?:marine|sea|reef)\s+)?salt\b`)
	plan        = regexp.MustCompile(`(?i)^\s*plan\b`)
	temperature = piece(`at\s+(` + number + `)\s*(?:°|degrees?|deg)?\s*([cf])\b`)
	forVolume   = piece(`(?:for|in)\s+(?:a\s+|an\s+)?` + volume)
	target      = piece(`(?:at|to)\s+` + reading)
	source      = piece(`from\s+` + reading)
	bucket      = piece(`in\s+(?:a\s+|an\s+)?` + volume + `\s*(?:bucket|tub|box|container|bin)?`)
	startVolume = piece(`(?:with|holding)\s+` + volume + `(?:\s+of\s+water)?`)
	airStone    = piece(`(?:with\s+|and\s+)?(?:an\s+)?(?:air\s*stone|aerated|aeration)\b`)
	mass        = piece(`of\s+(` + number + `)\s*(g|kg|oz|lb)\b(?:\s+each)?`)
	origin      = piece(`(captive|wild)(?:[\s-]+(?:bred|caught))?\b`)
	stage       = piece(`(?:(young|juvenile)|(adult))\b`)
	count       = piece(`([0-9]+)\s+`)
	filler      = regexp.MustCompile(`(?i)^(?:do|i|need|of|water|please|the|a|an|my|for|and|tank|bucket|some)$`)
)

// message is the text of a person, of which pieces are taken away as they are understood.
type message struct {
	rest string
	took []string // what was read into it
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
// taken for one, and that is told; any other goes on bare, and the service asks.
func (m *message) reading(p *regexp.Regexp) string {
	g := m.take(p)
	if g == nil {
		return ""
	}
	if unit := units[strings.ToLower(g[2])]; unit != "" {
		return g[1] + " " + unit
	}
	if n, err := strconv.ParseFloat(g[1], 64); err == nil && n >= 1 && n < 1.2 && strings.HasPrefix(g[1], "1.0") {
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

// name is what stands before the first piece taken: the animals.
func (m *message) name() string {
	before, after, _ := strings.Cut(strings.TrimLeft(m.rest, " ,"), ",")
	m.rest = after
	return strings.TrimSpace(before)
}

// unread is what nothing was made of.
func (m *message) unread() string {
	var words []string
	for _, word := range strings.FieldsFunc(m.rest, func(r rune) bool { return strings.ContainsRune(" \t\n,;?!", r) }) {
		if !filler.MatchString(word) {
			words = append(words, word)
		}
	}
	return strings.Join(words, " ")
}
