package tolerance

import (
	"fmt"
	"math"
	"slices"

	"saltlock/chem/quantity"
)

// Shape is the build of a fish, which determines its mass at a length.
type Shape string

// The shapes.
const (
	EelLike      Shape = "eel-like"
	Elongated    Shape = "elongated"
	Fusiform     Shape = "fusiform" // the usual build
	ShortAndDeep Shape = "short-and-deep"
)

// Shapes returns the shapes from slender to deep.
func Shapes() []Shape { return []Shape{EelLike, Elongated, Fusiform, ShortAndDeep} }

// lengthWeight is W = a·L^b, in g and cm of total length, with the standard deviation of
// log10 of the mass.
type lengthWeight struct{ a, b, spread float64 }

// byShape holds the relation of each shape. The spread of the mass follows from those of a
// and b at about 10 cm.
var byShape = map[Shape]lengthWeight{
	EelLike:      {0.00102, 3.06, 0.20},
	Elongated:    {0.00389, 3.12, 0.19},
	Fusiform:     {0.0112, 3.04, 0.18},
	ShortAndDeep: {0.0195, 3.01, 0.18},
}

// fishLength is the range of total lengths for which the relation is used, cm.
var fishLength = quantity.Range[quantity.Length]{Lo: 0.5, Hi: 200}

// MassMethod is the key of MassFromLength.
const MassMethod = "length-weight"

// ShapeError says that no relation of length and mass is known for a build.
type ShapeError struct{ Shape Shape }

func (e *ShapeError) Error() string {
	return fmt.Sprintf("no relation of length and mass is known for the build %q; known are %v", string(e.Shape), Shapes())
}

// MassFromLength returns the mass of a fish from its total length.
//
//	l  total length, 0.5 to 200 cm
//
// Standard uncertainty: a factor of 1.5 to 1.6 (half as much again, or a third less) for a
// fish in usual condition, and that from the length.
// Check value: a fusiform fish of 10 cm has 12 g (0.0112·10^3.04, by hand).
//
// Source: W = a·L^b. From memory: a, b and their spread by build are recalled from the priors
// of Froese, Thorson and Reyes 2014 [Froese2014], of which no copy was read.
func MassFromLength(s Shape, l quantity.Estimate[quantity.Length]) (quantity.Estimate[quantity.Mass], error) {
	if !slices.Contains(Shapes(), s) {
		return quantity.Estimate[quantity.Mass]{}, &ShapeError{s}
	}
	if err := fishLength.Check("length", l.Value); err != nil {
		return quantity.Estimate[quantity.Mass]{}, err
	}
	r := byShape[s]
	grams := r.a * math.Pow(float64(l.Value), r.b)
	// Both parts refer to the logarithm of the mass and are independent.
	spread := math.Hypot(r.spread*math.Ln10, r.b*float64(l.U/l.Value))
	return quantity.Of[quantity.Mass](grams/1000, grams/1000*math.Expm1(spread)), nil
}
