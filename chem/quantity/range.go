package quantity

import "fmt"

// Range is the range in which a formula holds, including its ends.
type Range[Q Quantity] struct{ Lo, Hi Q }

// String prints the range with its unit, "0 to 42 g/kg".
func (r Range[Q]) String() string {
	of := r.Hi.dimension().printed(float64(r.Hi))
	return shortest(of.written(float64(r.Lo))) + " to " + shortest(of.written(float64(r.Hi))) + " " + of.names[0]
}

// Contains reports whether q lies in the range. NaN is in no range.
func (r Range[Q]) Contains(q Q) bool { return q >= r.Lo && q <= r.Hi }

// Check returns nil if q lies in the range and a *RangeError if not.
func (r Range[Q]) Check(name string, q Q) error {
	if r.Contains(q) {
		return nil
	}
	return &RangeError{Name: name, Value: float64(q), Lo: float64(r.Lo), Hi: float64(r.Hi), Unit: q.Unit()}
}

// RangeError says that a value lies outside the range in which its formula holds.
type RangeError struct {
	Name          string // of the input, as the contract spells it
	Value, Lo, Hi float64
	Unit          string
}

func (e *RangeError) Error() string {
	unit := " " + e.Unit
	if e.Unit == "1" {
		unit = ""
	}
	return fmt.Sprintf("%s: %g%s is outside %g to %g%s", e.Name, e.Value, unit, e.Lo, e.Hi, unit)
}
