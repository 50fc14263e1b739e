package seawater

import (
	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// invert returns the x in a range at which a rising function takes a value, or
// tells which values it takes.
func invert[Y, X quantity.Quantity](name string, y Y, f func(float64) float64, over quantity.Range[X]) (X, error) {
	lo, hi := float64(over.Lo), float64(over.Hi)
	reach := quantity.Range[Y]{Lo: Y(f(lo)), Hi: Y(f(hi))}
	if err := reach.Check(name, y); err != nil {
		return 0, err
	}
	x, err := numeric.Root(func(x float64) float64 { return f(x) - float64(y) }, lo, hi)
	return X(x), err
}
