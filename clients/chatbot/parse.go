package main

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	saltlock "saltlock/clients/go"
)

// Pieces of a message. Numbers may have a decimal comma, which the service reads.
const (
	number  = `[0-9]+(?:[.,][0-9]+)?`
	scale   = `(SG|ppt|psu|g/kg|g/l|mg/l|ms/cm|µs/cm|ppm|%)`
	volume  = `(` + number + `)\s*(gal_imp|gal|L|mL|m³)`
	between = `(?:^|[\s,;.?!=(])`
	behind  = `(?:$|[\s,;.?!=)])`
)

func piece(pattern string) *regexp.Regexp {
	return regexp.MustCompile(`(?i)` + between + pattern + behind)
}

var (
	temperature = piece(`(?:at\s+)?(` + number + `)\s*(?:°|degrees?|deg)?\s*([cf])(?:elsius|ahrenheit)?`)
	bucket      = piece(`(?:in\s+)?(?:a\s+|an\s+)?(?:` + volume + `\s*(?:bucket|tub|box|container|bin)|(?:bucket|tub|box|container|bin)\s+of\s+` + volume + `)`)
	startVolume = piece(`(?:with|holding)\s+` + volume + `(?:\s+of\s+water)?`)
	someVolume  = piece(volume)
	mass        = piece(`of\s+(` + number + `)\s*(g|kg|oz|lb)(?:\s+each)?`)
	origin      = piece(`(captive|wild)(?:[\s-]+(?:bred|caught))?`)
	stage       = piece(`(?:(young|juveniles?)|(adults?)|(?:larvae?|larval))`)
	airStone    = piece(`(?:(?:with\s+)?(without|no|not)\s+|with\s+|and\s+)?(?:an\s+|any\s+)?(?:air\s*stone|aerated|aeration)`)
	source      = piece(`(?:from|(?:is|are|am|i'm|im|was|it's|its|now|currently|already|says|reads|shows|showing|measures|sits|sitting|raise|raising|lower|lowering|increase)(?:\s+at)?)\s+(` + number + `)\s*` + scale + `?`)
	target      = piece(`(?:at|to|until|reach|hit|want|salinity|@)\s+(?:an?\s+|of\s+|is\s+)?(` + number + `)\s*` + scale + `?`)
	reading     = piece(`(` + number + `)\s*` + scale)
	gravity     = piece(`(1[.,]0[0-9]+|10[0-3][0-9])()`)
	bare        = regexp.MustCompile(`(?i)^\s*(?:(?:what|what's|whats|convert|is)\s+)*(` + number + `)()\s*(?:in\s+(?:ppt|SG))?\s*[?.!]*\s*$`)
	toSea       = piece(`(saltwater|reef|full\s+strength)`)
	vague       = piece(`(freshwater|fresh|tap\s*water|brackish(?:\s*water)?|low\s+end\s+brackish)`)
	instrument  = piece(`(refractometer|(?:swing[\s-]*arm|plastic|pointer)\s+hydrometer|hydrometer)`)
	malformed   = regexp.MustCompile(`[0-9]+[.,][0-9]*[.,][0-9.,]*[0-9]`)
	withComma   = regexp.MustCompile(`[0-9],[0-9]`)
	withPoint   = regexp.MustCompile(`[0-9]\.[0-9]`)
)

// message is one question of a person. Pieces are removed from rest as they are understood; what
// is left may name an animal.
type message struct {
	text, rest string
	german     bool
	comma      bool // whether its numbers have a decimal comma
	us         bool // whether it counts in US gallons
	took       []string
	warmth     []string // temperatures, in their order
	source     string   // the water as it is
	target     string   // the water wanted, or any other reading
	many       bool     // whether it has several readings without saying which is which
	words      string   // water in words that can mean many waters
	sea        bool
	bucket     *string
	start      *string
	volume     *string
	instrument saltlock.InstrumentKind
	count      string
	mass       *string
	origin     *saltlock.Origin
	stage      *saltlock.LifeStage
	aerated    *bool
	animals    []animal
	before     []animal // those of the previous question, for “them”
}

// read takes out everything that is not an animal, beginning with quantities with units.
func (m *message) read() {
	m.us = regexp.MustCompile(`(?i)[0-9]\s*gal\b`).MatchString(m.rest)
	for g := m.take(temperature); g != nil; g = m.take(temperature) {
		m.warmth = append(m.warmth, g[1]+" "+strings.ToUpper(g[2]))
	}
	m.bucket, m.start, m.volume = m.amount(bucket), m.amount(startVolume), m.amount(someVolume)
	m.readCrew()
	if g := m.take(instrument); g != nil {
		m.instrument = instruments[strings.ToLower(g[1])]
		if m.instrument == "" {
			m.instrument = saltlock.InstrumentKindPointerHydrometer
		}
	}
	m.source = m.reading(source)
	for _, p := range []*regexp.Regexp{target, reading, gravity, bare} {
		if m.target == "" {
			m.target = m.reading(p)
		}
	}
	m.many = m.source == "" && (m.take(reading) != nil || m.take(gravity) != nil)
	if g := m.take(toSea); g != nil {
		m.sea = true
	}
	if g := m.take(vague); g != nil {
		m.words = strings.ToLower(g[1])
	}
}

// readCrew takes out what is said about the animals next to their name.
func (m *message) readCrew() {
	m.mass = m.amount(mass)
	if g := m.take(origin); g != nil {
		m.origin = new(saltlock.Origin(strings.ToLower(g[1])))
	}
	if g := m.take(stage); g != nil {
		switch {
		case g[1] != "":
			m.stage = new(saltlock.Juvenile)
		case g[2] != "":
			m.stage = new(saltlock.Adult)
		default:
			m.stage = new(saltlock.Larva)
		}
	}
	if g := m.take(airStone); g != nil {
		m.aerated = new(g[1] == "") // not if the message says there is none
	}
}

// take finds a piece, removes it and returns its groups; nil if it is not there.
func (m *message) take(p *regexp.Regexp) []string {
	at := p.FindStringSubmatchIndex(m.rest)
	if at == nil {
		return nil
	}
	groups := p.FindStringSubmatch(m.rest)
	m.rest = m.rest[:at[0]] + " , " + m.rest[at[1]:]
	return groups
}

// amount takes out a volume or a mass.
func (m *message) amount(p *regexp.Regexp) *string {
	g := m.take(p)
	if g == nil {
		return nil
	}
	text := strings.TrimSpace(strings.Join(g[1:], " ")) // one of the two ways to say it is empty
	return &text
}

// instruments by name; any other is a box with a pointer.
var instruments = map[string]saltlock.InstrumentKind{"refractometer": saltlock.InstrumentKindRefractometer, "hydrometer": saltlock.InstrumentKindHydrometer}

// units of readings as the service writes them.
var units = map[string]string{"sg": "SG", "psu": "ppt", "g/l": "g/L", "mg/l": "mg/L", "ms/cm": "mS/cm", "µs/cm": "µS/cm"}

// reading takes out a salinity. A bare number that can only be a specific gravity is read as one,
// and the answer says so; any other stays bare, and the service asks.
func (m *message) reading(p *regexp.Regexp) string {
	g := m.take(p)
	if g == nil {
		return ""
	}
	unit := strings.ToLower(g[2])
	switch {
	case unit != "":
		if u := units[unit]; u != "" {
			unit = u
		}
		return g[1] + " " + unit
	case strings.HasPrefix(strings.Replace(g[1], ",", ".", 1), "1.0"):
		m.note(asGravity, g[1])
		return g[1] + " SG"
	case m.instrument == saltlock.InstrumentKindRefractometer:
		m.note(asPPT, g[1], g[1])
		return g[1] + " ppt"
	}
	return g[1]
}

// slip finds a failed reading, and says what it may mean.
func (m *message) slip() string {
	for _, said := range []string{m.source, m.target} {
		digits, unit, _ := strings.Cut(said, " ")
		n, err := strconv.ParseFloat(strings.Replace(digits, ",", ".", 1), 64)
		switch {
		case said == "" || err != nil || unit != "" && unit != "SG":
		case n > 1.1 && n < 2:
			return m.say(askSG, digits, "1.0"+digits[2:])
		case n > 1000 && n < 1100:
			return m.say(askSG, digits, "1.0"+digits[2:])
		case unit == "" && n > 50:
			return m.say(askUnit, digits)
		}
	}
	return ""
}

// count is how many animals there are, written before their name; not the 8 of a figure 8 puffer.
var count = regexp.MustCompile(`^([0-9]+)(?:\s+(.+))?$`)

var (
	apart  = regexp.MustCompile(`(?i)[,;:?!\n()]+|\.(?:\s|$)|\s(?:and|or|und|oder)\s`)
	meant  = regexp.MustCompile(`(?i)\b(?:for|my|our|with|mein(?:e[nr]?)?)\s`)
	inside = regexp.MustCompile(`(?i)\s(?:in|at|to|into|from|of|for|with|if|an?|the|my|our|your|ein(?:e[mnrs]?)?|de[nmr]|die|das|` +
		`do|does|is|are|be|keep|live|survive|tolerate|handle|take|needs?|likes?|wants?)\s`)
	notAName = regexp.MustCompile(`^(?:[0-9]+[.,][0-9]+|[0-9]+x[0-9x]+)$`)
	ofWater  = regexp.MustCompile(`(?i)^(?:marine|sea|reef|salt|saltwater|fresh|freshwater|brackish|water|pond|tank)$`)
)

// names finds what may be animals in what is left of the message.
func (m *message) names() []animal {
	var all []animal
	for _, part := range apart.Split(m.rest, -1) {
		named := len(part)
		if at := meant.FindStringIndex(part); at != nil {
			named = at[0]
		}
		from := 0
		for _, at := range append(inside.FindAllStringIndex(part, -1), []int{len(part), len(part)}) {
			name := bareName(strings.Fields(part[from:max(from, at[0])]))
			if g := count.FindStringSubmatch(name); g != nil {
				m.count, name = g[1], g[2]
			}
			if name != "" {
				all = append(all, animal{name: name, meant: from >= named})
			}
			from = at[1] - min(1, at[1]-at[0]) // neighbouring words share a blank
		}
	}
	return all
}

// bareName leaves out the words around a name. A marine betta is not a betta, so a word for water
// goes only if no name follows.
func bareName(words []string) string {
	idle := func(w string) bool { return filler.MatchString(w) || notAName.MatchString(w) }
	for len(words) > 0 && idle(words[len(words)-1]) {
		words = words[:len(words)-1]
	}
	for len(words) > 0 && idle(words[0]) && (len(words) == 1 || !ofWater.MatchString(words[0]) || idle(words[1])) {
		words = words[1:]
	}
	return strings.Join(words, " ")
}

// decimal says which mark the numbers of a message have; with both marks they can mean anything,
// 1,010.5 as well as 1.010 and 25,5.
func decimal(text string) (comma, mixed bool) {
	comma = withComma.MatchString(text)
	return comma, comma && withPoint.MatchString(text)
}

// mark is the parameter that announces a decimal comma.
func mark[T ~string](m *message) *T { return sent[T](m.comma, "comma") }
func lang[T ~string](m *message) *T { return sent[T](m.german, "de") }

func sent[T ~string](is bool, value T) *T {
	if !is {
		return nil
	}
	return &value
}

// say is a sentence of the bot in the message's language.
func (m *message) say(sentence string, values ...any) string {
	if translated := inGermanToo[sentence]; m.german && translated != "" {
		sentence = translated
	}
	if len(values) == 0 {
		return sentence
	}
	return fmt.Sprintf(sentence, values...)
}

// note records what was read into a message, for the answer to say.
func (m *message) note(sentence string, values ...any) {
	m.took = append(m.took, m.say(sentence, values...))
}

// questions cuts a message before each question but the first, which keeps what comes before it.
func questions(text string) []string {
	var parts []string
	from := 0
	for i, at := range begin.FindAllStringIndex(text, -1) {
		if i > 0 {
			parts = append(parts, text[from:at[0]])
			from = at[0]
		}
	}
	return append(parts, text[from:])
}
