package quantity

import "strings"

// Formats returns the check of each string format that the contract names after a quantity:
// volume, temperature-rate, reading, convention and so on. A check returns nil or the
// *ParseError from parsing the string.
func Formats() map[string]func(string) error {
	checks := map[string]func(string) error{
		"reading":    func(s string) error { return new(Reading).Bind(s) },
		"convention": func(s string) error { return new(Convention).Bind(s) },
	}
	for _, d := range dimensions {
		checks[d.format()] = func(s string) error {
			_, _, err := d.parse(s)
			return err
		}
	}
	return checks
}

// DecimalComma rewrites a quantity whose numbers have a decimal comma,
// "1,010 SG", as the parsers of this package read it, "1.010 SG". A point in it
// is a *ParseError, because "1.000,5" is ambiguous.
func DecimalComma(s string) (string, error) {
	if strings.Contains(s, ".") {
		return "", &ParseError{Given: s, Reason: "with decimal=comma a point is neither a decimal point nor a separator; write a comma",
			Note: &Note{Code: "point_not_read"}}
	}
	return strings.ReplaceAll(s, ",", "."), nil
}
