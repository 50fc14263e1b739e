package render

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/language"

	"saltlock/chem/quantity"
)

// Fill writes the sentence of every note. A stored note keeps its old text if its code is gone or
// now takes other values.
func (v Voice) Fill(notes []*quantity.Note) {
	for _, n := range notes {
		if n.Told == "" || fits(n.Code, n.Params) {
			n.Text = v.Say(n.Code, n.Params...)
			continue
		}
		n.Text = n.Told
		if !v.english() { // as it was stored
			v.miss()
		}
	}
}

// fits reports whether a code has a sentence that takes such values.
func fits(code quantity.Code, params []any) bool {
	p, err := parse(english[code])
	if err != nil || !Knows(code) {
		return false
	}
	want, err := p.speaksOf()
	if err != nil || len(want) != len(params) {
		return false
	}
	for i, thing := range params {
		fit := want[i] == aQuantity
		switch thing.(type) {
		case string:
			fit = want[i] == aName
		case int:
			fit = want[i] == aCount || want[i] == aNumber
		case float64:
			fit = want[i] == aNumber
		}
		if !fit {
			return false
		}
	}
	return true
}

// Say writes the sentence of a code in the reader's language, or in English if that language has
// none.
func (v Voice) Say(code quantity.Code, params ...any) string {
	p, tag, known := v.sentence(code)
	if !known {
		return nameInEnglish(string(code)) // impossible: a test reads every code
	}
	if len(p) == 1 && p[0].place == nil && p[0].capital {
		return p[0].text
	}
	var space [mostSaid]byte
	said := v.appendSaid(space[:0], tag, p, params)
	if len(said) == 0 || said[len(said)-1] != '.' {
		return string(said)
	}
	// A whole sentence may begin with a name.
	if r, size := utf8.DecodeRune(said); unicode.ToUpper(r) != r {
		return string(unicode.ToUpper(r)) + string(said[size:])
	}
	return string(said)
}

// mostSaid is how long sentences are; longer ones allocate.
const mostSaid = 256

// sentence is the sentence of a code, and its language.
func (v Voice) sentence(code quantity.Code) (p pattern, tag language.Tag, known bool) {
	if !v.english() {
		if p, known = catalogue[v.Language][code]; known {
			return p, v.Language, true
		}
		v.miss()
	}
	p, known = inEnglish[code]
	return p, language.English, known
}

// appendSaid fills the places of a sentence.
func (v Voice) appendSaid(b []byte, tag language.Tag, p pattern, params []any) []byte {
	for i := range p {
		at := p[i].place
		if at == nil {
			b = append(b, p[i].text...)
			continue
		}
		if at.param >= len(params) || at.span && at.param+1 >= len(params) {
			continue // impossible: a test reads every call
		}
		thing, to := params[at.param], v
		to.dative, to.first = tag == language.German && dativeBefore(b), tag == language.German && len(b) == 0
		if at.lean != nearest {
			to.lean = at.lean
		}
		switch {
		case at.span:
			b = append(b, v.span(thing, params[at.param+1])...)
		case at.cases != nil:
			b = v.appendSaid(b, tag, at.choose(tag, thing), params)
		case at.kind == aName && tag == language.German:
			b = to.appendGermanName(b, to.Word(thing))
		default:
			b = to.appendWord(b, thing)
		}
	}
	return b
}

func (v Voice) english() bool { return v.Language == language.Und || v.Language == language.English }

// Language parses a language tag; English if it cannot be parsed.
func Language(tag string) language.Tag {
	if tag == "" {
		return language.English
	}
	t, err := language.Parse(tag)
	if err != nil {
		return language.English
	}
	return t
}

// Attentive returns the voice, and a flag that becomes true when its language lacks a sentence. The
// whole answer is then in English.
func (v Voice) Attentive() (Voice, *bool) {
	if v.english() {
		return v, &nothingMissed
	}
	v.missed = new(bool)
	return v, v.missed
}

// nothingMissed is for English, which has every sentence.
var nothingMissed bool

func (v Voice) miss() {
	if v.missed != nil {
		*v.missed = true
	}
}

// Knows reports whether a code has a sentence.
func Knows(code quantity.Code) bool {
	_, ok := english[code]
	return ok
}

// Word writes one value of a sentence.
func (v Voice) Word(p any) string { return string(v.appendWord(nil, p)) }

func (v Voice) appendWord(b []byte, p any) []byte {
	switch p := p.(type) {
	case quantity.Reading:
		return append(b, v.Reading(p)...)
	case string:
		return append(b, v.Name(p)...)
	case int:
		return strconv.AppendInt(b, int64(p), 10)
	case float64:
		return v.appendNumber(b, p, 2)
	}
	if m, ok := measure(p); ok {
		return v.appendQuantity(b, m)
	}
	return append(b, fmt.Sprint(p)...) // into memory that stays on the stack
}

// measure is the value and unit of a quantity.
func measure(p any) (quantity.Measure, bool) {
	switch p := p.(type) {
	case quantity.Measure:
		return p, true
	case interface{ Measure() quantity.Measure }:
		return p.Measure(), true
	case interface{ Unit() string }:
		return quantity.Measure{Value: reflect.ValueOf(p).Float(), Unit: p.Unit()}, true
	}
	return quantity.Measure{}, false
}

// Name writes a name of the contract or of an animal in words. Anything else stays as it is.
func (v Voice) Name(s string) string {
	if v.Language == language.German {
		return v.germanName(s)
	}
	return nameInEnglish(s)
}

// nameInEnglish writes a name of the contract in words, such as just_shipped.
func nameInEnglish(s string) string {
	if name, ok := englishNames[s]; ok {
		return name
	}
	for i := range len(s) { // small letters and digits, and between them one mark at a time
		switch c := s[i]; {
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
		case (c == '_' || c == '-') && i > 0 && i < len(s)-1 && s[i-1] != '_' && s[i-1] != '-':
		default:
			return s
		}
	}
	return inWords.Replace(s)
}

var inWords = strings.NewReplacer("_", " ", "-", " ")
