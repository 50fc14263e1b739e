package seawater

import (
	"math"

	"saltlock/chem/quantity"
)

// atEnd returns the end of a range at which a rising function takes a value but
// for rounding, or tells which values it takes.
func atEnd[Y, X quantity.Quantity](name string, y Y, f func(float64) float64, over quantity.Range[X]) (X, error) {
	reach := quantity.Range[Y]{Lo: Y(f(float64(over.Lo))), Hi: Y(f(float64(over.Hi)))}
	if near(float64(y), float64(reach.Lo)) {
		return over.Lo, nil
	}
	if near(float64(y), float64(reach.Hi)) {
		return over.Hi, nil
	}
	return 0, reach.Check(name, y)
}

// rounding is how far, in parts, a value may lie past an end of a range for having
// been carried to it and back: a water is readable on what it shows.
const rounding = 1e-13

func near(y, end float64) bool { return math.Abs(y-end) <= rounding*math.Abs(end) }
