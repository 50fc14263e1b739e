package seawater

import (
	"math"

	"saltlock/chem/quantity"
)

// atEnd returns the end of a range at which an increasing function takes a value, apart
// from rounding. Otherwise its error says which values the function takes.
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

// rounding is the relative distance by which a value may exceed the end of a range, because
// it was converted there and back: what an instrument shows for a water can be read again.
const rounding = 1e-13

func near(y, end float64) bool { return math.Abs(y-end) <= rounding*math.Abs(end) }
