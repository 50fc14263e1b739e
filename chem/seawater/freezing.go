package seawater

import (
	"math"

	"saltlock/chem/quantity"
)

// FreezingMethod is the key of FreezingPoint in Methods.
const FreezingMethod = "freezing-millero1978"

// FreezingPointFit is how far the formula differs from the ice equilibrium of TEOS-10 between 1 and 42 g/kg.
const FreezingPointFit quantity.Celsius = 0.005

// The source gives the formula for 4 to 40. Below 4 it tends to the 0 °C of pure water, and
// it still agrees with TEOS-10, so it is used from 0 to 42.
var (
	freezingSalinity       = quantity.Range[quantity.Salinity]{Lo: 0, Hi: 42}
	freezingSourceSalinity = quantity.Range[quantity.Salinity]{Lo: 4, Hi: 40}
)

// FreezingPoint returns the temperature at which ice forms in sea water.
//
//	sp  practical salinity, 0 to 42; the source has 4 to 40
//
// Standard uncertainty: 0.005 °C (FreezingPointFit), the difference from TEOS-10.
// Check value: sp = 35 gives -1.9218401 °C.
//
// Source: Millero 1978 in [UNESCO44], page 30, converted from IPTS-68 to ITS-90.
func FreezingPoint(sp quantity.Salinity) (quantity.Celsius, error) {
	if !freezingSalinity.Contains(sp) {
		return 0, freezingSalinity.Check("salinity", sp)
	}
	return quantity.Celsius(freezingPoint(float64(sp))), nil
}

func freezingPoint(sp float64) float64 {
	t68 := -0.0575*sp + 1.710523e-3*sp*math.Sqrt(sp) - 2.154996e-4*sp*sp
	return t68 / 1.00024
}
