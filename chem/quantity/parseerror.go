package quantity

import (
	"errors"
	"fmt"
	"strings"
)

// ParseError says why a text is not the quantity it should be.
type ParseError struct {
	Given   string   // the text, shortened if very long
	Reason  string   // what is wrong with it
	Allowed []string // the units it may come in
	Note    *Note    // the reason as a sentence of the catalogue; nil if it has none
}

func (e *ParseError) Error() string {
	s := fmt.Sprintf("%q cannot be read: %s", e.Given, e.Reason)
	if len(e.Allowed) > 0 {
		s += ". Units allowed: " + strings.Join(e.Allowed, ", ")
	}
	return s
}

// parseError returns the error that says why given is not a quantity of d.
func (d *dimension) parseError(given string, why error) *ParseError {
	if len(given) > maxLength {
		given = given[:maxLength] + "…"
	}
	e := &ParseError{Given: strings.ToValidUTF8(given, ""), Reason: why.Error(), Allowed: d.allowed()}
	if said := new(reasonError); errors.As(why, &said) {
		e.Note = &said.note
	}
	return e
}

// reasonError is why a text cannot be read, and its sentence in the catalogue.
type reasonError struct {
	text string
	note Note
}

func (e *reasonError) Error() string { return e.text }

// near returns the unit of d that may have been meant by name, or "".
func (d *dimension) near(name string) string {
	best, least := "", 2 // one slip is forgiven; with two, mg/L NO2 would be close to mg/L N
	for _, u := range d.units {
		for _, n := range u.names {
			typed, known := strings.ToLower(name), strings.ToLower(n)
			if slips := distance(typed, known); slips < min(least, len(known)) {
				best, least = u.names[0], slips
			}
			if best == "" && len(known) > 2 && !strings.Contains(known, "/") && strings.HasPrefix(typed, known) {
				best = u.names[0] // gallons
			}
		}
	}
	return best
}
