package seawater

import "math"

// orNaN makes an error a NaN, which no check lets pass.
func orNaN(x float64, err error) float64 {
	if err != nil {
		return math.NaN()
	}
	return x
}
