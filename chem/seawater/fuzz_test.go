package seawater

import (
	"errors"
	"math"
	"testing"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// A formula as a function of bare numbers, with what it needs and what it may answer.
type formula struct {
	name    string
	inputs  int
	lo, hi  float64 // of a plausible answer
	compute func(x [3]float64) (float64, error)
}

func of1[A, R quantity.Quantity](name string, lo, hi float64, f func(A) (R, error)) formula {
	return formula{name, 1, lo, hi, func(x [3]float64) (float64, error) {
		r, err := f(A(x[0]))
		return float64(r), err
	}}
}

func of2[A, B, R quantity.Quantity](name string, lo, hi float64, f func(A, B) (R, error)) formula {
	return formula{name, 2, lo, hi, func(x [3]float64) (float64, error) {
		r, err := f(A(x[0]), B(x[1]))
		return float64(r), err
	}}
}

func of3[A, B, C, R quantity.Quantity](name string, lo, hi float64, f func(A, B, C) (R, error)) formula {
	return formula{name, 3, lo, hi, func(x [3]float64) (float64, error) {
		r, err := f(A(x[0]), B(x[1]), C(x[2]))
		return float64(r), err
	}}
}

// formulas are all that the package exports but ZoneOf.
var formulas = []formula{
	of2("Density", 990, 1100, Density),
	of2("AbsoluteSalinityFromDensity", 0, 120, AbsoluteSalinityFromDensity),
	of3("SpecificGravity", 0.99, 1.11, func(sa quantity.AbsoluteSalinity, sample, water quantity.Celsius) (quantity.SpecificGravity, error) {
		return SpecificGravity(sa, quantity.Convention{Sample: sample, Water: water})
	}),
	of3("AbsoluteSalinityFromSpecificGravity", 0, 120, func(sg quantity.SpecificGravity, sample, water quantity.Celsius) (quantity.AbsoluteSalinity, error) {
		return AbsoluteSalinityFromSpecificGravity(sg, quantity.Convention{Sample: sample, Water: water})
	}),
	of2("Conductivity", 0, 85, Conductivity),
	of2("SalinityFromConductivity", 0, 42.0001, SalinityFromConductivity),
	of1("AbsoluteSalinity", 0, 120, AbsoluteSalinity),
	of1("Salinity", 0, 120, Salinity),
	of1("Chlorinity", 0, 67, Chlorinity),
	of1("SalinityFromChlorinity", 0, 120, SalinityFromChlorinity),
	of2("SaltPerLitre", 0, 135, SaltPerLitre),
	of2("AbsoluteSalinityFromSaltPerLitre", 0, 120, AbsoluteSalinityFromSaltPerLitre),
	of2("SpecificEnthalpy", -12000, 175000, SpecificEnthalpy),
	of2("SpecificHeat", 3500, 4250, SpecificHeat),
	of2("TemperatureFromEnthalpy", -1, 41, TemperatureFromEnthalpy),
	of2("Osmolality", 0, 4500, Osmolality),
	of2("OsmoticCoefficient", 0.85, 1.1, OsmoticCoefficient),
	of2("AbsoluteSalinityFromOsmolality", 0, 120, AbsoluteSalinityFromOsmolality),
	of1("FreezingPoint", -2.5, 0, FreezingPoint),
	of2("RefractiveIndex", 1.33, 1.35, RefractiveIndex),
	of2("SalinityFromRefractiveIndex", 0, 43, SalinityFromRefractiveIndex),
	of1("SodiumChlorideIndex", 1.33, 1.36, SodiumChlorideIndex),
	of1("SodiumChlorideFromIndex", 0, 0.10, SodiumChlorideFromIndex),
	of1("SucroseIndex", 1.33, 1.38, SucroseIndex),
	of1("SucroseFromIndex", 0, 0.26, SucroseFromIndex),
	of3("OxygenSaturation", 2, 17, OxygenSaturation),
	of2("OxygenSolubility", 150, 460, func(sp quantity.Salinity, t quantity.Celsius) (quantity.Fraction, error) {
		o, err := OxygenSolubility(sp, t)
		return quantity.Fraction(o), err
	}),
	of2("AmmoniaPK nbs", 8.7, 10.3, pKOn(NBSScale)),
	of2("AmmoniaPK total", 8.7, 10.3, pKOn(TotalScale)),
	of2("AmmoniaPK free", 8.7, 10.3, pKOn(FreeScale)),
	of3("UnionizedAmmonia", 0, 1, func(ph quantity.PH, sp quantity.Salinity, t quantity.Celsius) (quantity.Fraction, error) {
		return UnionizedAmmonia(ph, sp, t, NBSScale)
	}),
	of2("Viscosity", 0.6, 2.5, Viscosity),
	// 0.1 dKH too little of alkalinity is let pass; at pH 5 nearly all of the carbon is acid and brings none.
	of3("InorganicCarbon", -40, 2e6, func(ph quantity.PH, alkalinity quantity.Fraction, sp quantity.Salinity) (quantity.Fraction, error) {
		c, err := InorganicCarbon(ph, float64(alkalinity), sp, 25, NBSScale)
		return quantity.Fraction(c), err
	}),
	of3("PHFromCarbon", 2.5, 12, func(alkalinity, carbon quantity.Fraction, sp quantity.Salinity) (quantity.PH, error) {
		return PHFromCarbon(float64(alkalinity), float64(carbon), sp, 25, TotalScale)
	}),
	of3("PHInAir", 5, 11, func(alkalinity quantity.Fraction, sp quantity.Salinity, t quantity.Celsius) (quantity.PH, error) {
		return PHInAir(float64(alkalinity), sp, t, TotalScale)
	}),
}

func pKOn(scale PHScale) func(quantity.Salinity, quantity.Celsius) (quantity.PH, error) {
	return func(sp quantity.Salinity, t quantity.Celsius) (quantity.PH, error) { return AmmoniaPK(sp, t, scale) }
}

// Whatever goes in, a formula returns a plausible number or names the ranges that were
// left. The pH of a mixture may also return ErrNoConvergence, if no pH balances it.
func FuzzSeawater(f *testing.F) {
	for _, seed := range [][3]float64{
		{35.16504, 25, 1}, {0, 0, 0}, {120, 40, 1.1}, {42, 40, 0.5}, {1e-12, 15, 8.1}, {1.0264, 25, 25}, {1023.34, 25, 4}, {42.914, 15, 0},
		{1.339, 20, 0}, {99796.7, 35, 0}, {1047.6, 25, 0}, {8.1, 34, 25}, {-1, 41, 2}, {math.NaN(), 25, 1}, {35, math.Inf(1), 1}, {math.MaxFloat64, -math.MaxFloat64, 5e-324}, {5e-324, 25, 5e-324},
		{2300, 2000, 35}, {25000, 0, 0}, {8.1, 2300, 35}, {9, 0, 35}, {7, 8, 25}, {8, 20, 1},
	} {
		f.Add(seed[0], seed[1], seed[2])
	}
	f.Fuzz(func(t *testing.T, x, y, z float64) {
		for _, formula := range formulas {
			got, err := formula.compute([3]float64{x, y, z})
			var out *quantity.RangeError
			if err != nil && (!errors.As(err, &out) && !errors.Is(err, numeric.ErrNoConvergence) || got != 0) {
				t.Errorf("%s(%g, %g, %g) = %g, %v, want 0 and a range", formula.name, x, y, z, got, err)
			}
			if err == nil && !(got >= formula.lo && got <= formula.hi) {
				t.Errorf("%s(%g, %g, %g) = %g, want %g to %g", formula.name, x, y, z, got, formula.lo, formula.hi)
			}
		}
		if sp := quantity.Salinity(x); sp >= 0 {
			if zone, err := ZoneOf(sp); (err == nil) == (zone == "") {
				t.Errorf("ZoneOf(%g) = %q, %v", x, zone, err)
			}
		}
	})
}

// Inputs that no formula accepts, alone or together. Formulas that are computed directly
// name every fault at once.
func TestRefuses(t *testing.T) {
	inverse := map[string]bool{
		"AbsoluteSalinityFromDensity": true, "AbsoluteSalinityFromSpecificGravity": true, "SalinityFromConductivity": true,
		"AbsoluteSalinityFromSaltPerLitre": true, "TemperatureFromEnthalpy": true, "AbsoluteSalinityFromOsmolality": true,
		"SalinityFromRefractiveIndex": true, // their range depends on the other input
	}
	for _, formula := range formulas {
		for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1e6, 1e6} {
			_, err := formula.compute([3]float64{bad, bad, bad})
			if got := faults(err); got == 0 || (got != formula.inputs && !inverse[formula.name]) {
				t.Errorf("%s of %g: %d faults told, want %d: %v", formula.name, bad, got, formula.inputs, err)
			}
		}
	}
	if _, err := ZoneOf(quantity.Salinity(math.NaN())); faults(err) != 1 {
		t.Errorf("ZoneOf(NaN): %v, want a range", err)
	}
	const unknown PHScale = "seawater"
	_, pK := AmmoniaPK(35, 25, unknown)
	_, carbon := InorganicCarbon(8, 2300, 35, 25, unknown)
	_, closed := PHFromCarbon(2300, 2000, 35, 25, unknown)
	_, open := PHInAir(2300, 35, 25, unknown)
	if pK == nil || carbon == nil || closed == nil || open == nil {
		t.Errorf("an unknown pH scale is taken: %v, %v, %v, %v", pK, carbon, closed, open)
	}
}

// faults counts the ranges that an error names.
func faults(err error) int {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		n := 0
		for _, e := range joined.Unwrap() {
			n += faults(e)
		}
		return n
	}
	var out *quantity.RangeError
	if errors.As(err, &out) {
		return 1
	}
	return 0
}
