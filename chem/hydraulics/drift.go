package hydraulics

import (
	"errors"
	"math"

	"saltlock/chem/quantity"
)

// DriftMethod is the key of Drift in Methods.
const DriftMethod = "drip-drift"

var laterHead = quantity.Range[quantity.Length]{Lo: 0, Hi: Head.Hi}

// Drift returns the factor by which a drip changes with the head, at one setting of the
// valve.
//
//	before  head when the drip was set, 0.1 to 300 cm
//	now     head now, 0 to 300 cm
//
// Standard uncertainty: not stated; a real valve lies between the two factors.
// Check value: a head fallen from 40 to 10 cm leaves 0.25 to 0.5 of the drip.
//
// Source: through a clamp with slow flow, the drip is proportional to the head (Hagen and
// Poiseuille); through a sharp orifice, to its square root (Torricelli).
func Drift(before, now quantity.Length) (quantity.Range[quantity.Fraction], error) {
	if err := errors.Join(
		Head.Check("line.head", before),
		laterHead.Check("line.head now", now),
	); err != nil {
		return quantity.Range[quantity.Fraction]{}, err
	}
	clamp := float64(now / before)
	orifice := math.Sqrt(clamp)
	return quantity.Range[quantity.Fraction]{
		Lo: quantity.Fraction(min(clamp, orifice)),
		Hi: quantity.Fraction(max(clamp, orifice)),
	}, nil
}
