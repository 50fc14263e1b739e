package seawater

import (
	"math"

	"saltlock/chem/quantity"
)

// orNaN turns an answer into a bare number, and an error into NaN, which fails every check.
func orNaN[Q quantity.Quantity](q Q, err error) float64 {
	if err != nil {
		return math.NaN()
	}
	return float64(q)
}
