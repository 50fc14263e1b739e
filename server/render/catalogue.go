package render

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/language"

	"saltlock/chem/quantity"
)

// sentences are what one language says, by code. A sentence is a pattern in the
// syntax of ICU MessageFormat, of which it uses this much:
//
//	{0}          the first thing spoken of: a quantity with its unit
//	{0+} {0-}    the same, rounded up or down where it is a bound (our own addition)
//	{0..1}       from the first to the second, with the unit once (our own addition)
//	{0, name}    a name: of a species, an instrument, a place
//	{0, number}  a number without a unit
//	{0, plural, =1 {once} =2 {twice} other {# times}}
//
// The English sentence of a code settles what it speaks of, and in which order.
type sentences map[quantity.Code]string

// languages are the catalogues there are. A test holds each of them to be complete.
var languages = map[language.Tag]sentences{language.English: english, language.German: german}

// catalogue holds every sentence, parsed. A test checks that none is malformed.
var catalogue, malformed = compile(languages)

// inEnglish is the English catalogue, which stands in where a language has no sentence.
var inEnglish = catalogue[language.English]

func compile(languages map[language.Tag]sentences) (map[language.Tag]map[quantity.Code]pattern, error) {
	all := map[language.Tag]map[quantity.Code]pattern{}
	var faults []error
	for tag, said := range languages {
		all[tag] = make(map[quantity.Code]pattern, len(said))
		for code, sentence := range said {
			p, err := parse(sentence)
			if err == nil {
				err = p.checkForms(tag)
			}
			if err != nil {
				faults = append(faults, fmt.Errorf("%v: %s: %w", tag, code, err))
				continue
			}
			all[tag][code] = p
		}
	}
	return all, errors.Join(faults...)
}

// kind is what a place in a sentence may be filled with.
type kind string

const (
	aQuantity kind = "quantity"
	aName     kind = "name"
	aNumber   kind = "number"
	aCount    kind = "plural"
)

// pattern is a parsed sentence: texts, and places between them.
type pattern []part

// part is a text, or the place of a parameter.
type part struct {
	text    string
	capital bool // the text begins with one
	place   *place
}

type place struct {
	param int
	kind  kind
	lean  lean
	span  bool     // from this parameter to the next
	cases []choice // of a plural
}

// parse parses a sentence.
func parse(sentence string) (pattern, error) {
	var p pattern
	for {
		text, rest, found := strings.Cut(sentence, "{")
		if strings.Contains(text, "}") {
			return nil, fmt.Errorf("a brace that nothing opens in %q", text)
		}
		if text != "" {
			r, _ := utf8.DecodeRuneInString(text)
			p = append(p, part{text: text, capital: unicode.IsUpper(r)})
		}
		if !found {
			return p, nil
		}
		inner, rest, err := closed(rest)
		if err != nil {
			return nil, err
		}
		at, err := parsePlace(inner)
		if err != nil {
			return nil, err
		}
		p, sentence = append(p, part{place: at}), rest
	}
}

// closed returns what comes before the brace that closes one already open, and what follows.
func closed(s string) (inner, rest string, err error) {
	open := 1
	for i, r := range s {
		switch r {
		case '{':
			open++
		case '}':
			open--
		}
		if open == 0 {
			return s[:i], s[i+1:], nil
		}
	}
	return "", "", fmt.Errorf("a brace that nothing closes before %q", s)
}

// parsePlace reads what is between the braces of a place.
func parsePlace(s string) (*place, error) {
	name, rest, kinded := strings.Cut(s, ",")
	at := &place{kind: aQuantity}
	if bare, ok := strings.CutSuffix(name, "+"); ok {
		name, at.lean = bare, up
	} else if bare, ok := strings.CutSuffix(name, "-"); ok {
		name, at.lean = bare, down
	}
	name, to, ranged := strings.Cut(name, "..")
	var err error
	if at.param, err = strconv.Atoi(name); err != nil || at.param < 0 {
		return nil, fmt.Errorf("{%s} names no parameter", s)
	}
	if ranged {
		if at.span = true; kinded || to != strconv.Itoa(at.param+1) {
			return nil, fmt.Errorf("{%s}: a range is of two quantities in a row", s)
		}
	}
	if !kinded {
		return at, nil
	}
	of, cases, _ := strings.Cut(rest, ",")
	switch at.kind = kind(strings.TrimSpace(of)); at.kind {
	case aName, aNumber:
		return at, nil
	case aCount:
		at.cases, err = parseCases(cases, at.param)
		return at, err
	}
	return nil, fmt.Errorf("{%s}: a place is of the kind name, number or plural, or of none", s)
}

// speaksOf lists the kinds of a sentence's parameters, in their order.
func (p pattern) speaksOf() (map[int]kind, error) {
	kinds := map[int]kind{}
	var walk func(pattern) error
	walk = func(p pattern) error {
		for _, x := range p {
			if x.place == nil {
				continue
			}
			at := x.place
			switch before := kinds[at.param]; {
			case before == aCount && at.kind == aNumber: // counted here, written there
			case before == "" || before == at.kind || before == aNumber && at.kind == aCount:
				kinds[at.param] = at.kind
			default:
				return fmt.Errorf("{%d} is a %s and a %s", at.param, before, at.kind)
			}
			if at.span {
				kinds[at.param+1] = aQuantity
			}
			for _, c := range at.cases {
				if err := walk(c.text); err != nil {
					return err
				}
			}
		}
		return nil
	}
	if err := walk(p); err != nil {
		return nil, err
	}
	for i := range kinds {
		if _, ok := kinds[i-1]; i > 0 && !ok {
			return nil, fmt.Errorf("it speaks of {%d} and not of {%d}", i, i-1)
		}
	}
	return kinds, nil
}
