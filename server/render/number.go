// Package render writes answers for people and spreadsheets: sentences, short
// text and tables. It is the only place that rounds.
package render

import (
	"math"
	"strconv"
	"strings"

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
	Language language.Tag // English where it is not said
	Units    Units
	Comma    bool // decimal comma
	lean     lean
}

// lean is the way that a bound is rounded, so that what is told still keeps it.
type lean int

const (
	nearest lean = iota
	up
	down
)

// digits is how far off a multiple of the last place a number may be by computing alone.
const digits = 1e-9

// round rounds x to n decimals, where it leans to one side.
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

// customary is the US customary counterpart of a metric unit.
type customary struct {
	unit          string
	scale, offset float64
}

// Factors: NIST SP 811 (2008), appendix B.
var us = map[string]customary{
	"L":    {"gal", 1 / 3.785411784, 0},
	"kg":   {"lb", 1 / 0.45359237, 0},
	"cm":   {"in", 1 / 2.54, 0},
	"cm²":  {"in²", 1 / 6.4516, 0},
	"L/cm": {"gal/in", 2.54 / 3.785411784, 0},
	"°C":   {"°F", 1.8, 32},
	"K":    {"°F", 1.8, 0},
	"K/h":  {"°F/h", 1.8, 0},
}

// decimals is how many places a person can use in each unit, for numbers of one or more.
var decimals = map[string]int{
	"ppt": 1, "g/kg": 1, "g/L": 1, "g/kg Cl": 1, "g/kg/h": 1, "SG": 4, "nD": 4, "kg/m³": 1,
	"mS/cm": 1, "mOsm/kg": 0, "°C": 1, "°F": 0, "K": 1, "K/h": 1, "°F/h": 1,
	"L": 1, "mL": 0, "gal": 1, "fl oz": 0, "kg": 2, "g": 0, "lb": 2, "oz": 1, "cm": 1, "in": 1,
	"L/cm": 2, "gal/in": 2, "mL/min": 1, "drops/s": 1, "drops/min": 0,
	"meq/L": 1, "pH": 1, "mg/L": 1, "mg/L N": 2, "%": 0, "min": 0, "h": 1,
}

// Quantity writes a measure with its unit, as precisely as a keeper can use it.
func (v Voice) Quantity(m quantity.Measure) string {
	if m.Unit == "h" {
		return v.duration(m.Value)
	}
	metric := v.inUnit(handy(m))
	c, ok := us[m.Unit]
	if !ok || v.Units == Metric {
		return metric
	}
	customary := v.inUnit(handy(quantity.Measure{
		Value: m.Value*c.scale + c.offset, Unit: c.unit, Uncertainty: m.Uncertainty * c.scale,
	}))
	if v.Units == US {
		return customary
	}
	return metric + " (" + customary + ")"
}

// handy moves a small amount to the unit people weigh or measure it in.
func handy(m quantity.Measure) quantity.Measure {
	to := func(unit string, scale float64) quantity.Measure {
		return quantity.Measure{Value: m.Value * scale, Unit: unit, Uncertainty: m.Uncertainty * scale}
	}
	size := math.Abs(m.Value)
	switch {
	case m.Unit == "kg" && size < 1:
		return to("g", 1000)
	case m.Unit == "L" && size < 0.1:
		return to("mL", 1000)
	case m.Unit == "lb" && size < 1:
		return to("oz", 16)
	case m.Unit == "gal" && size < 0.1:
		return to("fl oz", 128)
	case m.Unit == "drops/s" && size < 1:
		return to("drops/min", 60)
	case m.Unit == "1":
		return to("%", 100)
	}
	return m
}

func (v Voice) inUnit(m quantity.Measure) string {
	n := places(m)
	text := v.number(m.Value, n)
	if m.Unit == "SG" && len(text) < len("1.010") {
		text = v.point(strconv.FormatFloat(m.Value, 'f', 3, 64)) // nobody says 1.01
	}
	if u := v.number(m.Uncertainty, n); strings.ContainsAny(u, "123456789") {
		text += " ± " + u
	}
	return text + " " + m.Unit
}

// places gives a number at least two digits, and one that is known no more
// digits than its uncertainty leaves it.
func places(m quantity.Measure) int {
	n := decimals[m.Unit]
	if size := math.Abs(m.Value); size < 1 && size > 0 && m.Unit != "°C" && m.Unit != "°F" {
		n = max(n, 1-int(math.Floor(math.Log10(size))))
	}
	if m.Unit == "kg" && m.Value < 10 {
		n = 3 // a kitchen scale shows grams
	}
	if math.Abs(m.Value) >= 100 {
		n = min(n, 1)
	}
	if m.Uncertainty > 0 {
		n = min(n, 1-int(math.Floor(math.Log10(m.Uncertainty))))
	}
	return max(n, 0)
}

// number writes x with n decimals, without the zeros that say nothing.
func (v Voice) number(x float64, n int) string {
	s := strconv.FormatFloat(v.lean.round(x, n), 'f', n, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	return v.point(s)
}

// point writes the decimal mark that the reader uses.
func (v Voice) point(s string) string {
	if v.Comma {
		return strings.Replace(s, ".", ",", 1)
	}
	return s
}

// duration writes hours as people say them.
func (v Voice) duration(hours float64) string {
	if hours >= 72 {
		return v.number(hours/24, 1) + " days"
	}
	minutes := int(math.Round(hours * 60))
	switch {
	case minutes < 60:
		return strconv.Itoa(minutes) + " min"
	case minutes%60 == 0:
		return strconv.Itoa(minutes/60) + " h"
	}
	return strconv.Itoa(minutes/60) + " h " + strconv.Itoa(minutes%60) + " min"
}

// Reading writes what an instrument shows, in steps its user can tell apart.
func (v Voice) Reading(r quantity.Reading) string {
	if r.Scale != quantity.SpecificGravityScale {
		return v.inUnit(quantity.Measure{Value: r.Value, Unit: string(r.Scale)})
	}
	text := strconv.FormatFloat(math.Round(r.Value*2000)/2000, 'f', 4, 64)
	text = strings.TrimSuffix(text, "0") // a hydrometer is read to half a division, 0.0005
	text = v.point(text)
	if r.Convention == nil {
		return text + " SG"
	}
	return text + " SG " + r.Convention.String()
}
