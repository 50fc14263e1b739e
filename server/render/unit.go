package render

import (
	"strings"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
)

// unitWords are the units that a language writes as words; all others are symbols.
var unitWords = map[language.Tag]map[string]map[plural.Form]string{
	language.English: {
		"drops/s":   {plural.One: "drop a second", plural.Other: "drops a second"},
		"drops/min": {plural.One: "drop a minute", plural.Other: "drops a minute"},
		"days":      {plural.One: "day", plural.Other: "days"},
		"g/kg/h":    {plural.Other: "g/kg an hour"},
		"°C/h":      {plural.Other: "°C an hour"},
		"°F/h":      {plural.Other: "°F an hour"},
	},
	language.German: {
		"drops/s":   {plural.Other: "Tropfen pro Sekunde"},
		"drops/min": {plural.Other: "Tropfen pro Minute"},
		"days":      {plural.One: "Tag", plural.Other: "Tage"},
		"g/kg/h":    {plural.Other: "g/kg pro Stunde"},
		"°C/h":      {plural.Other: "°C pro Stunde"},
		"°F/h":      {plural.Other: "°F pro Stunde"},
	},
}

var daysInDative = map[plural.Form]string{plural.One: "Tag", plural.Other: "Tagen"}

// englishUnits are the words for units if a language has none of its own.
var englishUnits = unitWords[language.English]

// unitWords are the words for a unit; nil if it is a symbol.
func (v Voice) unitWords(unit string) map[plural.Form]string {
	switch unit {
	default:
		return nil // a symbol in every language; sparing a map, since most units are
	case "drops/s", "drops/min", "days", "g/kg/h", "°C/h", "°F/h":
	}
	if v.dative && unit == "days" {
		return daysInDative
	}
	if !v.english() {
		if words, ok := unitWords[v.Language]; ok {
			return words[unit]
		}
	}
	return englishUnits[unit]
}

// appendUnit adds a unit to a number.
func (v Voice) appendUnit(b []byte, form plural.Form, unit string) []byte {
	words := v.unitWords(unit)
	if word, ok := words[form]; ok {
		unit = word
	} else if word, ok := words[plural.Other]; ok {
		unit = word
	}
	return append(append(b, ' '), unit...)
}

// form is the plural form of a number as it is written: 1 drop, but 1.5 drops.
func (v Voice) form(number string) plural.Form {
	whole, fraction, _ := strings.Cut(strings.Replace(strings.TrimPrefix(number, "-"), ",", ".", 1), ".")
	tag := v.Language
	if tag == language.Und {
		tag = language.English
	}
	short := strings.TrimRight(fraction, "0")
	return plural.Cardinal.MatchPlural(tag, atoi(whole), len(fraction), len(short), atoi(fraction), atoi(short))
}

// atoi reads the digits at the start of a text.
func atoi(s string) int {
	n := 0
	for _, r := range s {
		if r < '0' || r > '9' {
			break
		}
		n = n*10 + int(r-'0')
	}
	return n
}
