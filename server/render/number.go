// Package render writes answers for people and spreadsheets: sentences, short
// text and tables. It is the only place that rounds.
package render

import (
	"bytes"
	"math"
	"strconv"
	"strings"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"

	"saltlock/chem/quantity"
)

// Units selects the family of units that text and tables use.
type Units string

// The unit families. Text in Both gives the US customary value in brackets.
const (
	Both   Units = ""
	Metric Units = "metric"
	US     Units = "us"
)

// Voice is how a reader wants to be spoken to.
type Voice struct {
	Language language.Tag // if not set, English
	Units    Units
	Comma    bool              // decimal comma
	Animals  map[string]Animal // the language's names of animals, by their usual English names
	lean     lean
	dative   bool  // a case of German, in which days end in n
	first    bool  // a German sentence begins with it, where a name is not inflected
	missed   *bool // set if a sentence was missing; nil if nobody asks
}

// Animal is what a language calls an animal: by itself, and within a sentence, which cannot
// inflect a name.
type Animal struct{ Alone, Within string }

// lean is the direction in which a bound is rounded, so that the rounded one is still safe.
type lean int

const (
	nearest lean = iota
	up
	down
)

// digits is how far computing alone may move a number off a multiple of its last place.
const digits = 1e-9

// round rounds x to n decimals, leaning to one side.
func (l lean) round(x float64, n int) float64 {
	place := math.Pow10(n)
	switch slack := digits * math.Abs(x) * place; l {
	case up:
		return math.Ceil(x*place-slack) / place
	case down:
		return math.Floor(x*place+slack) / place
	}
	return x
}

// decimals is how many decimals a person can use in each unit, for numbers of one or more.
func decimals(unit string) int {
	switch unit {
	case "SG", "nD":
		return 4
	case "kg", "mg/L N":
		return 2
	case "ppt", "g/kg", "g/L", "g/kg Cl", "g/kg/h", "kg/m³", "mS/cm", "°C", "°C/h", "°F/h", "L", "gal", "lb", "oz", "cm", "in",
		"L/cm", "gal/in", "drops/s", "meq/L", "pH", "mg/L", "h":
		return 1
	}
	return 0
}

// byHand reports whether people pour, weigh or wait in a unit. Such a number is never written more
// finely than it can be poured, and from 100 on without decimals.
func byHand(unit string) bool {
	switch unit {
	case "L", "mL", "gal", "fl oz", "kg", "g", "lb", "oz", "cm", "mm", "in", "mL/min", "drops/s", "drops/min", "%", "h", "min", "days":
		return true
	}
	return false
}

// Quantity writes a measure with its unit, as precisely as a keeper can use it.
func (v Voice) Quantity(m quantity.Measure) string { return string(v.appendQuantity(nil, m)) }

func (v Voice) appendQuantity(b []byte, m quantity.Measure) []byte {
	if m.Unit == "h" {
		return append(b, v.duration(m.Value)...)
	}
	metric, customary, both := v.families(m)
	switch {
	case !both || v.Units == Metric:
		return v.appendInUnit(b, metric)
	case v.Units == US:
		return v.appendInUnit(b, customary)
	}
	b = append(v.appendInUnit(b, metric), " ("...)
	return append(v.appendInUnit(b, customary), ')')
}

// leastSet is the shortest length, in cm, that a hand can set with a ruler.
const leastSet = 0.1

// fromTo is the sentence for the two ends of a range; calling Say here would be an initialisation
// cycle.
func (v Voice) fromTo(from, to string) string {
	p, tag, _ := v.sentence("range")
	return string(v.appendSaid(nil, tag, p, []any{from, to}))
}

// span writes a range, with the unit once if both ends have the same.
func (v Voice) span(from, to any) string {
	lo, okLo := measure(from)
	hi, okHi := measure(to)
	both := func(lo, hi quantity.Measure) string {
		if lo.Unit != hi.Unit || lo.Unit == "pH" {
			return v.fromTo(v.inUnit(lo), v.inUnit(hi))
		}
		said := string(v.appendAmount(nil, lo))
		if end := string(v.appendAmount(nil, hi)); end != said {
			said = v.fromTo(said, end)
		}
		return string(v.appendUnit([]byte(said), plural.Other, hi.Unit))
	}
	if !okLo || !okHi || lo.Unit == "h" {
		return v.fromTo(v.Word(from), v.Word(to))
	}
	if lo.Unit == "cm" && lo.Value > 0 && lo.Value < leastSet && hi.Value > leastSet {
		lo.Value = leastSet // within the range
	}
	metric, customary, us := v.families(lo) // nobody says 0 mL to 5 L
	metricTo, customaryTo, usTo := v.families(hi)
	if lo.Value == 0 && us && usTo && lo.Unit != "°C" {
		metric.Unit, customary.Unit = metricTo.Unit, customaryTo.Unit
	}
	switch {
	case !us || !usTo || v.Units == Metric:
		return both(metric, metricTo)
	case v.Units == US:
		return both(customary, customaryTo)
	}
	return both(metric, metricTo) + " (" + both(customary, customaryTo) + ")"
}

func (v Voice) inUnit(m quantity.Measure) string { return string(v.appendInUnit(nil, m)) }

// appendInUnit writes a measure in its own unit. A pH has its unit in front.
func (v Voice) appendInUnit(b []byte, m quantity.Measure) []byte {
	if m.Unit == "pH" {
		return v.appendAmount(append(b, "pH "...), m)
	}
	if m.Unit == "SG" && v.Language == language.German {
		if m.Value > halfWater {
			b = append(b, "Dichte "...)
		}
		return v.appendAmount(b, m)
	}
	start := len(b)
	b = v.appendAmount(b, m)
	if v.unitWords(m.Unit) == nil {
		return append(append(b, ' '), m.Unit...)
	}
	return v.appendUnit(b, v.form(string(b[start:])), m.Unit)
}

// appendAmount writes the number of a measure, with its uncertainty if that adds something.
func (v Voice) appendAmount(b []byte, m quantity.Measure) []byte {
	n, start := places(m), len(b)
	b = v.appendNumber(b, m.Value, n)
	if m.Unit == "SG" && len(b)-start < len("1.010") { // nobody says 1.01
		b = append(b[:start], v.point(strconv.FormatFloat(m.Value, 'f', 3, 64))...)
	}
	if m.Uncertainty == 0 || byHand(m.Unit) {
		return b
	}
	end := len(b)
	b = append(b, " ± "...)
	said := len(b)
	if b = v.appendNumber(b, m.Uncertainty, n); !bytes.ContainsAny(b[said:], "123456789") {
		b = b[:end]
	}
	return b
}

// places gives a number at least two digits, and if its uncertainty is known no more digits than
// that allows.
func places(m quantity.Measure) int {
	n := decimals(m.Unit)
	if size := math.Abs(m.Value); size < 1 && size > 0 && m.Unit != "°C" && m.Unit != "°F" {
		n = max(n, 1-magnitude(size))
	}
	switch size := math.Abs(m.Value); {
	case size >= 100 && byHand(m.Unit):
		n = 0
	case size >= 10 && m.Unit == "kg", size >= 100:
		n = min(n, 1)
	}
	if m.Uncertainty > 0 {
		n = min(n, 1-magnitude(m.Uncertainty))
	}
	return max(n, 0)
}

// number writes x with n decimals, without trailing zeros that mean nothing.
func (v Voice) number(x float64, n int) string { return string(v.appendNumber(nil, x, n)) }

func (v Voice) appendNumber(b []byte, x float64, n int) []byte {
	start := len(b)
	b = appendFixed(b, v.lean.round(x, n), n)
	if point := bytes.IndexByte(b[start:], '.'); point >= 0 {
		b = bytes.TrimRight(b, "0")
		if b = bytes.TrimSuffix(b, []byte(".")); v.Comma && len(b) > start+point {
			b[start+point] = ','
		}
	}
	if string(b[start:]) == "-0" {
		b = append(b[:start], '0')
	}
	return b
}

// point writes the reader's decimal mark.
func (v Voice) point(s string) string {
	if v.Comma {
		return strings.Replace(s, ".", ",", 1)
	}
	return s
}
