package seawater

import (
	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// Keys in Methods of the other two solutions for which refractometer scales are made.
const (
	SodiumChlorideMethod = "refractive-index-nacl"
	SucroseMethod        = "refractive-index-sucrose"
)

// The standard uncertainty of the fits to the handbook's four decimals, as an
// index and as a mass fraction of sodium chloride and of sucrose.
const (
	SolutionIndexFit  quantity.RefractiveIndex = 3e-5
	SodiumChlorideFit quantity.Fraction        = 2e-4
	SucroseFit        quantity.Fraction        = 2e-4
)

var (
	sodiumChlorideFraction = quantity.Range[quantity.Fraction]{Lo: 0, Hi: 0.10}
	sucroseFraction        = quantity.Range[quantity.Fraction]{Lo: 0, Hi: 0.26}
)

// SodiumChlorideIndex returns the refractive index at 20 °C and 589.3 nm, relative
// to air, of a solution of sodium chloride.
//
//	w  mass fraction, 0 to 0.10
//
// Standard uncertainty: 3e-5 (SolutionIndexFit).
// Check value: w = 0.035 gives 1.3391.
//
// Source: table in [CRC102], after Wolf 1966. The quadratic is fitted to it here and is not
// a standard.
func SodiumChlorideIndex(w quantity.Fraction) (quantity.RefractiveIndex, error) {
	return sodiumChloride.index(w)
}

// SodiumChlorideFromIndex returns the mass fraction of sodium chloride that a
// refractometer with a sodium chloride scale shows for a refractive index.
//
//	n  refractive index at 20 °C and 589.3 nm relative to air, from water to a fraction of 0.10
//
// Standard uncertainty: 2e-4 (SodiumChlorideFit).
// Check value: n = 1.3391 gives 0.035.
//
// Source: inverse of SodiumChlorideIndex [CRC102].
func SodiumChlorideFromIndex(n quantity.RefractiveIndex) (quantity.Fraction, error) {
	return sodiumChloride.fraction(n)
}

// SucroseIndex returns the refractive index at 20 °C and 589.3 nm, relative to
// air, of a solution of sucrose. This is the Brix scale: 1 °Bx is a fraction of 0.01.
//
//	w  mass fraction, 0 to 0.26
//
// Standard uncertainty: 3e-5 (SolutionIndexFit).
// Check value: w = 0.10 gives 1.3478.
//
// Source: table in [CRC102], after Wolf 1966. The cubic is fitted to it here and is not a
// standard.
func SucroseIndex(w quantity.Fraction) (quantity.RefractiveIndex, error) {
	return sucrose.index(w)
}

// SucroseFromIndex returns the mass fraction of sucrose that a Brix refractometer
// shows for a refractive index.
//
//	n  refractive index at 20 °C and 589.3 nm relative to air, from water to a fraction of 0.26
//
// Standard uncertainty: 2e-4 (SucroseFit).
// Check value: n = 1.3478 gives 0.10.
//
// Source: inverse of SucroseIndex [CRC102].
func SucroseFromIndex(n quantity.RefractiveIndex) (quantity.Fraction, error) {
	return sucrose.fraction(n)
}

// waterIndex is the index of pure water at 20 °C by Millard & Seaver.
const waterIndex = 1.332986

// solution is the index as a cubic in mass per cent, starting from waterIndex.
type solution struct {
	reach      quantity.Range[quantity.Fraction]
	c1, c2, c3 float64
}

var (
	sodiumChloride = solution{sodiumChlorideFraction, 1.76048e-3, -7.287e-7, 0}
	sucrose        = solution{sucroseFraction, 1.43330e-3, 4.9529e-6, 2.806e-8}
)

func (s *solution) index(w quantity.Fraction) (quantity.RefractiveIndex, error) {
	if !s.reach.Contains(w) {
		return 0, s.reach.Check("mass_fraction", w)
	}
	return quantity.RefractiveIndex(s.at(float64(w))), nil
}

// fraction is the inverse of index. The curves are nearly straight, so five Newton steps
// from the straight line reach the last bit.
func (s *solution) fraction(n quantity.RefractiveIndex) (quantity.Fraction, error) {
	percent := (float64(n) - waterIndex) / s.c1
	for range 5 {
		percent -= (s.at(percent/100) - float64(n)) / numeric.Quadratic(percent, s.c1, 2*s.c2, 3*s.c3)
	}
	if w := quantity.Fraction(percent / 100); s.reach.Contains(w) {
		return w, nil
	}
	return atEnd("refractive_index", n, s.at, s.reach)
}

func (s *solution) at(w float64) float64 { return numeric.Cubic(100*w, waterIndex, s.c1, s.c2, s.c3) }
