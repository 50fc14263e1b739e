package seawater

import (
	"math"
	"slices"
	"testing"

	"saltlock/chem/quantity"
)

// grid returns n+1 equal steps over a range, ends included.
func grid[Q quantity.Quantity](r quantity.Range[Q], n int) []float64 {
	xs := make([]float64, n+1)
	for i := range xs {
		xs[i] = float64(r.Lo) + (float64(r.Hi)-float64(r.Lo))*float64(i)/float64(n)
	}
	xs[n] = float64(r.Hi)
	return xs
}

// pair is a formula and its inverse, in one variable at a given second one.
type pair struct {
	name             string
	over, at         []float64
	forward, inverse func(x, second float64) float64
}

func two[X, S, Y quantity.Quantity](name string, over quantity.Range[X], at quantity.Range[S],
	forward func(X, S) (Y, error), inverse func(Y, S) (X, error)) pair {
	return pair{
		name, grid(over, 240), grid(at, 40),
		func(x, s float64) float64 { return orNaN(forward(X(x), S(s))) },
		func(y, s float64) float64 { return orNaN(inverse(Y(y), S(s))) },
	}
}

func one[X, Y quantity.Quantity](name string, over quantity.Range[X], forward func(X) (Y, error), inverse func(Y) (X, error)) pair {
	return pair{
		name, grid(over, 1000), []float64{0},
		func(x, _ float64) float64 { return orNaN(forward(X(x))) },
		func(y, _ float64) float64 { return orNaN(inverse(Y(y))) },
	}
}

var pairs = []pair{
	two("density", densitySalinity, densityTemperature, Density, AbsoluteSalinityFromDensity),
	two("salt per litre", densitySalinity, densityTemperature, SaltPerLitre, AbsoluteSalinityFromSaltPerLitre),
	two("conductivity", conductivitySalinity, conductivityTemperature, Conductivity, SalinityFromConductivity),
	two("osmolality", osmoticSalinity, osmoticTemperature, Osmolality, AbsoluteSalinityFromOsmolality),
	two("refractive index", refractiveSalinity, refractiveTemperature, RefractiveIndex, SalinityFromRefractiveIndex),
	two("enthalpy", gibbsTemperature, gibbsSalinity,
		func(t quantity.Celsius, sa quantity.AbsoluteSalinity) (quantity.SpecificEnthalpy, error) {
			return SpecificEnthalpy(sa, t)
		}, TemperatureFromEnthalpy),
	two("specific gravity, water at 4 °C", densitySalinity, densityTemperature,
		func(sa quantity.AbsoluteSalinity, t quantity.Celsius) (quantity.SpecificGravity, error) {
			return SpecificGravity(sa, quantity.Convention{Sample: t, Water: 4})
		},
		func(sg quantity.SpecificGravity, t quantity.Celsius) (quantity.AbsoluteSalinity, error) {
			return AbsoluteSalinityFromSpecificGravity(sg, quantity.Convention{Sample: t, Water: 4})
		}),
	one("reference salinity", scalePractical, AbsoluteSalinity, Salinity),
	one("chlorinity", scalePractical, Chlorinity, SalinityFromChlorinity),
	one("sodium chloride", sodiumChlorideFraction, SodiumChlorideIndex, SodiumChlorideFromIndex),
	one("sucrose", sucroseFraction, SucroseIndex, SucroseFromIndex),
}

// Over the whole domain the inverse returns what went in, to 1e-9 in its own unit, and the
// formula is increasing.
func TestInverse(t *testing.T) {
	for _, p := range pairs {
		for _, second := range p.at {
			last := math.Inf(-1)
			for _, x := range p.over {
				y := p.forward(x, second)
				if !(y > last) {
					t.Fatalf("%s at %g does not rise at %g: %g after %g", p.name, second, x, y, last)
				}
				if got := p.inverse(y, second); !(math.Abs(got-x) <= 1e-9) {
					t.Fatalf("%s at %g: inverse(%.17g) = %.12g, want %.12g", p.name, second, y, got, x)
				}
				last = y
			}
		}
	}
}

// The reverse also returns the conductivity, unless it is below that of water itself.
func TestConductivityFromSalinity(t *testing.T) {
	for _, temperature := range grid(conductivityTemperature, 40) {
		c, t90 := orNaN(Conductivity(0, quantity.Celsius(temperature))), quantity.Celsius(temperature)
		if !(c > 0 && c < 2.5e-3) {
			t.Errorf("Conductivity(0, %g) = %g, want the 0.0008 to 0.0025 mS/cm at which Hill's curve meets 0", temperature, c)
		}
		for ; c < 60; c *= 1.25 {
			sp, err := SalinityFromConductivity(quantity.Conductivity(c), t90)
			if err != nil {
				break // over 42
			}
			if got := orNaN(Conductivity(sp, t90)); !(math.Abs(got-c) <= 1e-9) {
				t.Fatalf("Conductivity(SalinityFromConductivity(%g, %g)) = %.12g", c, temperature, got)
			}
		}
		for _, below := range []quantity.Conductivity{0, 1e-5, 7e-4} {
			if got := orNaN(SalinityFromConductivity(below, t90)); got != 0 {
				t.Errorf("SalinityFromConductivity(%g, %g) = %g, want 0", below, temperature, got)
			}
		}
	}
}

// Hill's extension meets PSS-78 at 2 without a step.
func TestConductivityJoin(t *testing.T) {
	for _, temperature := range grid(conductivityTemperature, 40) {
		below := orNaN(Conductivity(2-1e-9, quantity.Celsius(temperature)))
		above := orNaN(Conductivity(2, quantity.Celsius(temperature)))
		if step := above - below; !(step > 0 && step < 1e-8) {
			t.Errorf("conductivity at %g °C steps by %g mS/cm at a salinity of 2", temperature, step)
		}
	}
}

// These fall as salt or heat is added.
func TestFalls(t *testing.T) {
	for _, c := range []struct {
		name string
		over []float64
		f    func(x float64) float64
	}{
		{"freezing point with salt", grid(freezingSalinity, 400), freezingPoint},
		{"oxygen with salt", grid(oxygenSaturationSalinity, 400), func(s float64) float64 { return oxygenSaturation(s, 20, 1) }},
		{"oxygen with warmth", grid(oxygenTemperature, 400), func(t float64) float64 { return oxygenSaturation(20, t, 1) }},
		{"oxygen in µmol/kg with warmth", grid(oxygenTemperature, 400), func(t float64) float64 { return oxygenSolubility(20, t) }},
		{"pK with warmth", grid(ammoniaTemperature, 400), func(t float64) float64 { return pKNBS(20, t) }},
		{"heat capacity with salt", grid(gibbsSalinity, 400), func(sa float64) float64 { return specificHeat(sa, 25) }},
		{"viscosity with warmth", grid(viscosityTemperature, 400), func(t float64) float64 { return viscosity(35, t) }},
	} {
		falls := make([]float64, len(c.over))
		for i, x := range c.over {
			falls[i] = -c.f(x)
		}
		if !slices.IsSorted(falls) {
			t.Errorf("%s does not fall all the way", c.name)
		}
	}
}

// The heat capacity is the slope of the enthalpy, by differences of 0.01 °C.
func TestHeatIsSlopeOfEnthalpy(t *testing.T) {
	for _, sa := range grid(gibbsSalinity, 24) {
		for _, temperature := range grid(densityTemperature, 8) {
			slope := (specificEnthalpy(sa, temperature+0.005) - specificEnthalpy(sa, temperature-0.005)) / 0.01
			if got := specificHeat(sa, temperature); math.Abs(got-slope) > 1e-4 {
				t.Errorf("specificHeat(%g, %g) = %.6f, slope of enthalpy %.6f", sa, temperature, got, slope)
			}
		}
	}
}

// As the salt vanishes the coefficient tends to the 1 of pure water.
func TestOsmoticCoefficientOfPureWater(t *testing.T) {
	for _, temperature := range grid(osmoticTemperature, 8) {
		near, at := orNaN(OsmoticCoefficient(1e-8, quantity.Celsius(temperature))), orNaN(OsmoticCoefficient(0, quantity.Celsius(temperature)))
		if !(math.Abs(at-1) < 1e-7 && math.Abs(near-1) < 1e-4) {
			t.Errorf("OsmoticCoefficient at 0 and 1e-8 g/kg, %g °C = %g, %g, want 1, about 1", temperature, at, near)
		}
	}
}

// Hyperhaline is what lies above 40 (Venice system), so 40 itself is not.
func TestZoneAtForty(t *testing.T) {
	for sp, want := range map[quantity.Salinity]Zone{40: Euhaline, 40.001: Hyperhaline} {
		if got, err := ZoneOf(sp); got != want || err != nil {
			t.Errorf("ZoneOf(%g) = %s, %v, want %s", sp, got, err, want)
		}
	}
}
