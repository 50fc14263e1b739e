package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxLength is the length of the longest string parsed, in bytes.
const maxLength = 64

var errMagnitude error = &reasonError{"the number is too large or too small", Note{Code: "number_out_of_scale"}}

// split separates "1.010 ± 0.001 SG" into a number, its uncertainty (0 if there is none) and
// what follows, which may be empty. The uncertainty may also be in the concise notation,
// "1.010(1) SG", whose digits refer to the last places of the number [JCGM100, 7.2.2].
func split(s string) (x, u float64, unit string, err error) {
	if len(s) > maxLength || !utf8.ValidString(s) {
		return 0, 0, "", &reasonError{fmt.Sprintf("this is no UTF-8 text of at most %d bytes", maxLength), Note{Code: "text_not_plain", Params: []any{maxLength}}}
	}
	if strings.Contains(s, ",") {
		return 0, 0, "", &reasonError{"a comma is neither a decimal point nor a separator; write a point, or send decimal=comma", Note{Code: "comma_not_read", Params: []any{"decimal=comma"}}}
	}
	rest := strings.TrimSpace(s)
	if !ascii(rest) {
		rest = strings.ReplaceAll(strings.ReplaceAll(rest, "−", "-"), "º", "°")
	}
	if x, u, rest, err = number(rest); err != nil {
		return 0, 0, "", err
	}
	if after, ok := cutPlusMinus(rest); ok {
		var second float64
		if u != 0 {
			return 0, 0, "", &reasonError{"the uncertainty is given twice", Note{Code: "uncertainty_twice"}}
		}
		if u, second, rest, err = number(after); err != nil {
			return 0, 0, "", fmt.Errorf("after ±: %w", err)
		}
		if second != 0 {
			return 0, 0, "", &reasonError{"the uncertainty has an uncertainty", Note{Code: "uncertainty_uncertain"}}
		}
	}
	if rest != "" && strings.ContainsAny(rest[:1], "+-.0123456789(") {
		return 0, 0, "", &reasonError{fmt.Sprintf(`%q follows the number; write one number and its unit, an uncertainty as in "1.010(1) SG" (in a URL a plain + is a blank)`, rest),
			Note{Code: "number_followed_by", Params: []any{strconv.Quote(rest)}}}
	}
	if strings.ContainsFunc(rest, unicode.IsSpace) { // few units contain spaces
		rest = strings.Join(strings.Fields(rest), " ")
	}
	return x, u, rest, nil
}

func ascii(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// number reads the decimal number s begins with, and its uncertainty if it has
// one in brackets. It is stricter than strconv: no 0x, no underscore, no Inf.
func number(s string) (x, u float64, rest string, err error) {
	end := sign(s)
	whole := digits(s[end:])
	end += whole
	places := 0
	if strings.HasPrefix(s[end:], ".") {
		places = digits(s[end+1:])
	}
	if places > 0 {
		end += 1 + places
	}
	if whole+places == 0 {
		return 0, 0, "", &reasonError{"there is no number at the start", Note{Code: "number_missing"}}
	}
	mantissa, brackets, rest := s[:end], "", s[end:]
	if strings.HasPrefix(rest, "(") {
		n := digits(rest[1:])
		if n == 0 || !strings.HasPrefix(rest[1+n:], ")") {
			return 0, 0, "", &reasonError{"brackets hold the uncertainty in digits of the last place, as in 1.010(1)", Note{Code: "brackets_unreadable"}}
		}
		brackets, rest = rest[1:1+n], rest[n+2:]
	}
	exponent := 0
	if n := exponentLength(rest); n > 0 {
		if exponent, err = strconv.Atoi(rest[1:n]); err != nil {
			exponent = math.MaxInt32 // too many digits: decimal refuses it
		}
		rest = rest[n:]
	}
	if x, err = decimal(mantissa, exponent); err == nil && brackets != "" {
		u, err = decimal(brackets, exponent-places)
	}
	return x, u, strings.TrimSpace(rest), err
}

// decimal returns mantissa·10^exponent, refusing what a float64 cannot hold.
func decimal(mantissa string, exponent int) (float64, error) {
	if x, ok := exact(mantissa, exponent); ok {
		return x, nil
	}
	text := mantissa
	if exponent != 0 {
		text += "e" + strconv.Itoa(exponent)
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || x == 0 && strings.ContainsAny(mantissa, "123456789") {
		return 0, errMagnitude
	}
	return x, nil
}

// exact is decimal where the digits and the power of ten are both float64, so that one
// division or multiplication gives the nearest as strconv does, whose way is longer.
func exact(mantissa string, exponent int) (x float64, ok bool) {
	const mostDigits, mostPower = 15, 22
	if len(mantissa) > mostDigits {
		return 0, false
	}
	var digits uint64
	for i := range len(mantissa) {
		switch c := mantissa[i]; {
		case c >= '0' && c <= '9':
			digits = 10*digits + uint64(c-'0')
		case c == '.':
			exponent -= len(mantissa) - i - 1
		default:
			return 0, false
		}
	}
	switch {
	case exponent < -mostPower || exponent > mostPower:
		return 0, false
	case exponent < 0:
		return float64(digits) / math.Pow10(-exponent), true
	}
	return float64(digits) * math.Pow10(exponent), true
}

func sign(s string) int {
	if strings.HasPrefix(s, "+") || strings.HasPrefix(s, "-") {
		return 1
	}
	return 0
}

func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

// exponentLength returns the length of the exponent s begins with, as in e-3, or 0.
func exponentLength(s string) int {
	if s == "" || s[0] != 'e' && s[0] != 'E' {
		return 0
	}
	start := 1 + sign(s[1:])
	n := digits(s[start:])
	if n == 0 {
		return 0
	}
	return start + n
}

func cutPlusMinus(s string) (string, bool) {
	for _, mark := range []string{"±", "+-", "+/-"} {
		if after, ok := strings.CutPrefix(s, mark); ok {
			return strings.TrimSpace(after), true
		}
	}
	return s, false
}

// shortest prints x with the fewest digits that parse to the same float64, without the plus
// sign of an exponent, which a URL would lose.
func shortest(x float64) string { return string(appendShortest(nil, x)) }

func appendShortest(b []byte, x float64) []byte {
	if x == math.Trunc(x) && x != 0 && math.Abs(x) < 1e15 { // strconv's way is longer
		return strconv.AppendInt(b, int64(x), 10)
	}
	if a := math.Abs(x); a == 0 || a >= 1e-6 && a < 1e21 {
		return strconv.AppendFloat(b, x, 'f', -1, 64)
	}
	return append(b, strings.Replace(strconv.FormatFloat(x, 'e', -1, 64), "e+", "e", 1)...)
}
