package instrument

import (
	"strings"

	"saltlock/chem/quantity"
)

// Correction is the error that a calibration found in an instrument. It is written as the
// factor "1.02(1)" or, with a unit, as what must be added to its readings, "-0.0012(5) SG".
type Correction struct {
	Scale    quantity.Scale // on which something is added; empty for a factor
	Value, U float64
}

// factors is the range of corrections of a working meter.
var factors = quantity.Range[quantity.Fraction]{Lo: 0.5, Hi: 2}

// String prints the correction so that it can be parsed again.
func (c Correction) String() string {
	return strings.TrimSpace(quantity.Reading{Value: c.Value, U: c.U, Scale: c.Scale}.String())
}

// MarshalText is String.
func (c Correction) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText parses a correction.
func (c *Correction) UnmarshalText(text []byte) error {
	var factor quantity.Estimate[quantity.Fraction]
	if err := factor.UnmarshalText(text); err == nil {
		if factors.Check("correction", factor.Value) != nil {
			return &quantity.ParseError{Given: string(text), Reason: "a factor lies between 0.5 and 2; what is to be added needs the unit of the reading"}
		}
		*c = Correction{Value: float64(factor.Value), U: float64(factor.U)}
		return nil
	}
	var offset quantity.Reading
	if err := offset.UnmarshalText(text); err != nil {
		return err
	}
	*c = Correction{Scale: offset.Scale, Value: offset.Value, U: offset.U}
	return nil
}

// Bind parses a query parameter.
func (c *Correction) Bind(s string) error { return c.UnmarshalText([]byte(s)) }

// apply returns a reading corrected by this much.
func (c Correction) apply(x, by float64) float64 {
	if c.Scale == "" {
		return x * by
	}
	return x + by
}

// undo is the inverse of apply.
func (c Correction) undo(x, by float64) float64 {
	if c.Scale == "" {
		return x / by
	}
	return x - by
}

// corrected returns the sensor with a correction applied, or unchanged if there is none.
func (s sensor) corrected(c *Correction) (sensor, error) {
	switch {
	case c == nil:
		return s, nil
	case c.Scale != "" && c.Scale != s.scale:
		return s, &ConflictError{Name: "correction", Other: "reading",
			Why: "what is added to a reading in " + string(s.scale) + " is not in " + string(c.Scale), Note: quantity.Note{Code: "correction_of_another_scale", Params: []any{string(s.scale), string(c.Scale)}}}
	}
	bare := s
	s = s.marked(func(x float64) (float64, error) { return c.apply(x, c.Value), nil },
		func(x float64) (float64, error) { return c.undo(x, c.Value), nil })
	s.fit = func(x float64, t quantity.Celsius) float64 { return bare.fit(c.apply(x, c.Value), t) }
	s.believed = bare.believed
	s.methods |= methodsOf(CalibrationMethod)
	return s, nil
}
