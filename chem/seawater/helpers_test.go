package seawater

import (
	"math"

	"saltlock/chem/quantity"
)

// orNaN makes a bare number of an answer, and of an error a NaN, which no check lets pass.
func orNaN[Q quantity.Quantity](q Q, err error) float64 {
	if err != nil {
		return math.NaN()
	}
	return float64(q)
}
