package render

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"saltlock/chem/quantity"
)

// Fill writes the sentence of every note.
func (v Voice) Fill(notes []*quantity.Note) {
	for _, n := range notes {
		n.Text = v.Say(n.Code, n.Params...)
	}
}

// Say writes the sentence of a code in English. A code without a sentence is a
// programmer's mistake; a test reads every code in chem. In a sentence {0} is the
// first parameter, {0+} the same rounded up and {0-} rounded down, where it is a bound.
func (v Voice) Say(code string, params ...any) string {
	sentence, ok := english[code]
	if !ok {
		panic("render: no sentence for " + code)
	}
	for i, p := range params {
		for way, mark := range map[lean]string{nearest: "}", up: "+}", down: "-}"} {
			if place := "{" + strconv.Itoa(i) + mark; strings.Contains(sentence, place) {
				spoken := v
				spoken.lean = way
				sentence = strings.ReplaceAll(sentence, place, spoken.Word(p))
			}
		}
	}
	return sentence
}

// Knows tells whether a code has a sentence.
func Knows(code string) bool {
	_, ok := english[code]
	return ok
}

// Word writes one thing that a sentence speaks of.
func (v Voice) Word(p any) string {
	switch p := p.(type) {
	case interface{ Measure() quantity.Measure }:
		return v.Quantity(p.Measure())
	case quantity.Measure:
		return v.Quantity(p)
	case quantity.Reading:
		return v.Reading(p)
	case interface{ Unit() string }:
		return v.Quantity(quantity.Measure{Value: reflect.ValueOf(p).Float(), Unit: p.Unit()})
	case string:
		return strings.ReplaceAll(p, "_", " ") // a name of the contract, in words
	case float64:
		return v.number(p, 2)
	default:
		return fmt.Sprint(p)
	}
}

// Name writes the name of an enum value in words: mesohaline_beta, just_shipped.
func Name(s string) string { return strings.NewReplacer("_", " ", "-", " ").Replace(s) }
