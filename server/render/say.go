package render

import (
	"fmt"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
	"golang.org/x/text/message"

	"saltlock/chem/quantity"
)

// Fill writes the sentence of every note. One that was stored keeps the text it had
// then, where its code is gone since or speaks of other things.
func (v Voice) Fill(notes []*quantity.Note) {
	for _, n := range notes {
		if n.Text = n.Told; n.Told == "" || fits(n.Code, n.Params) {
			n.Text = v.Say(n.Code, n.Params...)
		}
	}
}

// fits tells whether a code has a sentence that speaks of such things.
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

// Say writes the sentence of a code in the reader's language, or in English
// where that language has none.
func (v Voice) Say(code quantity.Code, params ...any) string {
	if !Knows(code) {
		return Name(string(code)) // cannot be: a test reads every code
	}
	spoken := make([]any, len(params))
	for i, p := range params {
		spoken[i] = word{v, p, nil}
		if i+1 < len(params) {
			spoken[i] = word{v, p, params[i+1]}
		}
	}
	said := printerOf(v.speaks(code)).Sprintf(string(code), spoken...)
	if r, size := utf8.DecodeRuneInString(said); strings.HasSuffix(said, ".") { // a whole sentence may begin with a name
		return string(unicode.ToUpper(r)) + said[size:]
	}
	return said
}

var printers sync.Map // of language.Tag; none of them changes

func printerOf(tag language.Tag) *message.Printer {
	if p, ok := printers.Load(tag); ok {
		return p.(*message.Printer)
	}
	p := message.NewPrinter(tag, message.Catalog(catalogue))
	printers.Store(tag, p)
	return p
}

// Language reads the tag of a language; English for one that cannot be read.
func Language(tag string) language.Tag {
	t, err := language.Parse(tag)
	if err != nil {
		return language.English
	}
	return t
}

// speaks is the language that a code is said in.
func (v Voice) speaks(code quantity.Code) language.Tag {
	if _, ok := languages[v.Language][code]; ok {
		return v.Language
	}
	return language.English
}

// Knows tells whether a code has a sentence.
func Knows(code quantity.Code) bool {
	_, ok := english[code]
	return ok
}

// word is something that a sentence speaks of, and to whom.
type word struct {
	voice Voice
	thing any
	next  any // the thing after it, where the two are the ends of a range
}

// Format writes the word; the verb says to which side a bound is rounded.
func (w word) Format(s fmt.State, verb rune) {
	switch verb {
	case verbUp:
		w.voice.lean = up
	case verbDown:
		w.voice.lean = down
	case verbRange:
		fmt.Fprint(s, w.voice.span(w.thing, w.next))
		return
	}
	fmt.Fprint(s, w.voice.Word(w.thing))
}

// PluralForm lets the catalogue choose between once and twice.
func (w word) PluralForm(tag language.Tag, _ int) (plural.Form, int) {
	n, ok := w.thing.(int)
	if !ok {
		return plural.Other, -1
	}
	return plural.Cardinal.MatchPlural(tag, n, 0, 0, 0, 0), n
}

// Word writes one thing that a sentence speaks of.
func (v Voice) Word(p any) string {
	switch p := p.(type) {
	case quantity.Reading:
		return v.Reading(p)
	case string:
		return Name(p)
	case int:
		return strconv.Itoa(p)
	case float64:
		return v.number(p, 2)
	}
	if m, ok := measure(p); ok {
		return v.Quantity(m)
	}
	return fmt.Sprint(p)
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

// Name writes a name of the contract in words: just_shipped. What is no such name stays as it is.
func Name(s string) string {
	if name, ok := englishNames[s]; ok {
		return name
	}
	if contractName.MatchString(s) {
		return strings.NewReplacer("_", " ", "-", " ").Replace(s)
	}
	return s
}

var contractName = regexp.MustCompile(`^[a-z0-9]+([_-][a-z0-9]+)*$`)
