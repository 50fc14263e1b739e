package quantity

// Estimate is a value and its standard uncertainty (k = 1), both in Q's unit.
// U = 0 says that nothing is known about the uncertainty. It is what travels
// on the wire: in requests as a string, in answers as an object.
type Estimate[Q Quantity] struct {
	Value, U Q
}

// Of makes an Estimate of two numbers in Q's unit.
func Of[Q Quantity](value, u float64) Estimate[Q] { return Estimate[Q]{Q(value), Q(u)} }

// Exactly makes an Estimate without a stated uncertainty.
func Exactly[Q Quantity](q Q) Estimate[Q] { return Estimate[Q]{Value: q} }
