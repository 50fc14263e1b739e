package quantity

import (
	"fmt"
)

// Estimate is a value and its standard uncertainty (k = 1), both in Q's unit.
// U = 0 means that the uncertainty is not known. On the wire it is a string in requests and
// an object in answers.
type Estimate[Q Quantity] struct {
	Value, U Q
}

// Of makes an Estimate from two numbers in Q's unit.
func Of[Q Quantity](value, u float64) Estimate[Q] { return Estimate[Q]{Q(value), Q(u)} }

// Exactly makes an Estimate without a stated uncertainty.
func Exactly[Q Quantity](q Q) Estimate[Q] { return Estimate[Q]{Value: q} }

// String prints the estimate so that it can be parsed again: with all its digits, in the
// fixed unit or in a smaller one that is easier to read.
func (e Estimate[Q]) String() string { return string(e.append(nil)) }

func (e Estimate[Q]) append(b []byte) []byte {
	of := e.Value.dimension().printed(float64(e.Value))
	return appendWritten(b, of.written(float64(e.Value)), float64(e.U)*of.den/of.num, of.names[0])
}

// appendWritten prints a number, its uncertainty unless that is 0, and a unit.
func appendWritten(b []byte, x, u float64, unit string) []byte {
	b = appendShortest(b, x)
	if u != 0 {
		b = appendShortest(append(b, " ± "...), u)
	}
	return append(append(b, ' '), unit...)
}

// MarshalText is String for an estimate that is finite.
func (e Estimate[Q]) MarshalText() ([]byte, error) { return e.AppendText(nil) }

// AppendText is MarshalText that appends.
func (e Estimate[Q]) AppendText(b []byte) ([]byte, error) {
	if err := finite(float64(e.Value), float64(e.U)); err != nil {
		return b, err
	}
	return e.append(b), nil
}

// UnmarshalText parses a number with its unit, "120 gal", and its standard
// uncertainty if it is stated, "120 ± 2 gal" or "120(2) gal".
func (e *Estimate[Q]) UnmarshalText(text []byte) error { return e.Bind(string(text)) }

// Bind parses a query parameter, or any other text, as UnmarshalText does.
func (e *Estimate[Q]) Bind(s string) error {
	value, u, err := e.Value.dimension().parse(s)
	if err != nil {
		return err
	}
	*e = Of[Q](value, u)
	return nil
}

// MarshalJSON writes the object of an answer, in the fixed unit.
func (e Estimate[Q]) MarshalJSON() ([]byte, error) {
	if err := finite(float64(e.Value), float64(e.U)); err != nil {
		return nil, err
	}
	b := appendNumber([]byte(`{"value":`), float64(e.Value))
	b = append(append(append(b, `,"unit":"`...), e.Value.Unit()...), '"')
	if e.U != 0 {
		b = appendNumber(append(b, `,"uncertainty":`...), float64(e.U))
	}
	return append(b, '}'), nil
}

// UnmarshalJSON accepts the string of a request or the object of an answer, so that stored
// estimates can be loaded again.
func (e *Estimate[Q]) UnmarshalJSON(b []byte) error {
	d := e.Value.dimension()
	if x, u, unit, ok := plain(b); ok {
		value, u, err := d.fixed(x, u, unit)
		if err != nil {
			return d.parseError(string(b), err)
		}
		*e = Of[Q](value, u)
		return nil
	}
	text, o, err := decode(b)
	if err != nil {
		return d.parseError(string(b), err)
	}
	if o == nil {
		return e.Bind(text)
	}
	if o.Convention != nil {
		return d.parseError(string(b), fmt.Errorf("only a specific gravity has a convention"))
	}
	value, u, err := d.fixed(*o.Value, o.Uncertainty, o.Unit)
	if err != nil {
		return d.parseError(string(b), err)
	}
	*e = Of[Q](value, u)
	return nil
}
