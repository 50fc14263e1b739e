package seawater

import (
	"math"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// invert returns the x in a range at which a rising function takes a value, or
// tells which values it takes.
func invert[Y, X quantity.Quantity](name string, y Y, f func(float64) float64, over quantity.Range[X]) (X, error) {
	lo, hi := float64(over.Lo), float64(over.Hi)
	y = withinRounding(y, Y(f(lo)), Y(f(hi)))
	reach := quantity.Range[Y]{Lo: Y(f(lo)), Hi: Y(f(hi))}
	if err := reach.Check(name, y); err != nil {
		return 0, err
	}
	x, err := numeric.Root(func(x float64) float64 { return f(x) - float64(y) }, lo, hi)
	return X(x), err
}

// rounding is how far, in parts, a value may lie past an end of a range for having
// been carried to it and back: a water is readable on what it shows.
const rounding = 1e-13

// withinRounding returns the end that a value lies past by no more than rounding.
func withinRounding[Y quantity.Quantity](y, lo, hi Y) Y {
	switch {
	case y < lo && y >= lo-Y(rounding*math.Abs(float64(lo))):
		return lo
	case y > hi && y <= hi+Y(rounding*math.Abs(float64(hi))):
		return hi
	}
	return y
}
