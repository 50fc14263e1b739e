package mixing

import (
	"errors"
	"regexp"
	"strings"

	"saltlock/chem/quantity"
)

// between is a comma that separates two quantities: one before a blank, or after something
// that cannot come before a decimal comma.
var between = regexp.MustCompile(`,\s+|([^0-9]),`)

// Bind reads a portion from a query: volume, salinity, temperature, alkalinity
// and pH in any order, distinguished by their units. A portion must have a salinity.
func (p *Portion) Bind(s string) error {
	if len(s) > 160 {
		return &quantity.ParseError{Given: s[:160] + "…", Reason: "this is too long for one water", Note: &quantity.Note{Code: "portion_too_long"}}
	}
	var read Portion
	salinity := false
	for text := range strings.SplitSeq(between.ReplaceAllString(s, "$1\n"), "\n") {
		var again bool
		var err error
		switch {
		case is[quantity.Volume](text):
			again, err = bind(&read.Volume, text)
		case is[quantity.Celsius](text):
			again, err = bind(&read.Temperature, text)
		case is[quantity.Alkalinity](text):
			again, err = bind(&read.Alkalinity, text)
		case is[quantity.PH](text) && strings.HasSuffix(text, "pH"):
			again, err = bind(&read.PH, text)
		default:
			again, err = salinity, read.Salinity.Bind(text)
			salinity = true
		}
		if again {
			err = errors.Join(err, &quantity.ParseError{Given: s, Reason: "one water has one of each: volume, salinity, temperature, alkalinity, pH", Note: &quantity.Note{Code: "portion_repeats"}})
		}
		if err != nil {
			return err
		}
	}
	if !salinity {
		return &quantity.ParseError{Given: s, Reason: "a water needs its salinity, as in 10 L, 35 ppt, 25 C", Note: &quantity.Note{Code: "portion_needs_salinity"}}
	}
	*p = read
	return nil
}

// is reports whether a text is a quantity of this kind.
func is[Q quantity.Quantity](text string) bool {
	return new(quantity.Estimate[Q]).Bind(text) == nil
}

// bind reads an estimate into its place, and reports whether that was already filled.
func bind[Q quantity.Quantity](to **quantity.Estimate[Q], text string) (again bool, err error) {
	again = *to != nil
	*to = new(quantity.Estimate[Q])
	return again, (*to).Bind(text)
}

// UnmarshalText reads a portion as Bind does.
func (p *Portion) UnmarshalText(text []byte) error { return p.Bind(string(text)) }

// MarshalText writes a portion as Bind reads it.
func (p Portion) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// String writes a portion as Bind reads it.
func (p Portion) String() string {
	var parts []string
	if p.Volume != nil {
		parts = append(parts, p.Volume.String())
	}
	parts = append(parts, p.Salinity.String())
	if p.Temperature != nil {
		parts = append(parts, p.Temperature.String())
	}
	if p.Alkalinity != nil {
		parts = append(parts, p.Alkalinity.String())
	}
	if p.PH != nil {
		parts = append(parts, p.PH.String())
	}
	return strings.Join(parts, ", ")
}
