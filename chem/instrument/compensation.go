package instrument

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"saltlock/chem/quantity"
)

// Compensation is how a conductivity meter converts what it measures to its reference
// temperature. It is written "none", "1.91 %/C" or "nlf", followed by "at 20C" if the
// reference is not 25 °C.
type Compensation struct {
	Curve       Curve
	Coefficient float64          // of Linear, per K
	U           float64          // its standard uncertainty
	Reference   quantity.Celsius // 20 or 25 °C
}

// Curve is the form of a compensation.
type Curve string

// The curves in use.
const (
	Uncompensated Curve = "none"
	Linear        Curve = "linear" // display = C / (1 + a (t − reference))
	NonLinear     Curve = "nlf"    // ISO 7888, for natural fresh water
)

// usualCompensation is assumed if a meter's compensation is not stated: 1.91 %/C is the
// commonest setting; 2 and 2.1 %/C occur (from memory).
var usualCompensation = Compensation{Curve: Linear, Coefficient: 0.0191, U: 0.001, Reference: 25}

// The units of a linear coefficient.
var coefficientUnits = []string{"%/C", "%/°C", "%/K"}

// String prints the compensation so that it can be parsed again.
func (c Compensation) String() string {
	s := string(c.Curve)
	if c.Curve == Linear {
		s = roundTrip(100 * c.Coefficient)
		if c.U > 0 {
			s += " ± " + roundTrip(100*c.U)
		}
		s += " " + coefficientUnits[0]
	}
	if c.Reference == 20 {
		s += " at 20C"
	}
	return s
}

// MarshalText is String.
func (c Compensation) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText parses a compensation.
func (c *Compensation) UnmarshalText(text []byte) error {
	s := strings.TrimSpace(string(text))
	read := Compensation{Reference: 25}
	curve, reference, ok := strings.Cut(s, " at ")
	if ok {
		var t quantity.Estimate[quantity.Celsius]
		if err := t.Bind(strings.TrimSpace(reference)); err != nil {
			return err
		}
		if t.U != 0 || t.Value != 20 && t.Value != 25 {
			return compensationError(s, "the reference temperature is 20C or 25C")
		}
		read.Reference = t.Value
	}
	switch curve = strings.TrimSpace(curve); curve {
	case "none", "nlf":
		read.Curve = Curve(curve)
		if curve == "none" && ok {
			return compensationError(s, "without compensation there is no reference temperature")
		}
	default:
		if err := read.linear(curve); err != nil {
			return compensationError(s, err.Error())
		}
	}
	*c = read
	return nil
}

// linear parses a linear coefficient, "1.91 %/C".
func (c *Compensation) linear(s string) error {
	number := s
	for _, unit := range coefficientUnits {
		number = strings.TrimSuffix(number, unit)
	}
	if number == s {
		return fmt.Errorf("write none, nlf, or a coefficient with its unit such as 1.91 %%/C")
	}
	var e quantity.Estimate[quantity.Fraction]
	if err := e.Bind(strings.TrimSpace(number) + " %"); err != nil {
		return err
	}
	if err := cmp.Or(coefficients.Check("coefficient", e.Value), coefficients.Check("uncertainty of the coefficient", e.U)); err != nil {
		return err
	}
	c.Curve, c.Coefficient, c.U = Linear, float64(e.Value), float64(e.U)
	return nil
}

// coefficients is the range of linear coefficients, per K.
var coefficients = quantity.Range[quantity.Fraction]{Lo: 0, Hi: 0.04}

// Bind parses a query parameter.
func (c *Compensation) Bind(s string) error { return c.UnmarshalText([]byte(s)) }

func compensationError(given, why string) error {
	return &quantity.ParseError{Given: given, Reason: why, Allowed: coefficientUnits[:1]}
}

// roundTrip writes a number in per cent without its last bits, which parsing restores.
func roundTrip(percent float64) string {
	short, err := strconv.ParseFloat(strconv.FormatFloat(percent, 'g', 12, 64), 64)
	if err != nil {
		short = percent // not a finite number
	}
	return strconv.FormatFloat(short, 'g', -1, 64)
}
