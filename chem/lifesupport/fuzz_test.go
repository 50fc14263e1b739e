package lifesupport

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// Whatever happens to a container, the answer is finite and plausible, or an input is blamed.
// It is long because each field of the answer has a check of its own.
func FuzzSupport(f *testing.F) {
	f.Add(4, 0.005, 0.001, 8.2, 0.2, 25., 3., 6., 40., 0., 27., 5.5, 20., 8.2, true, false)
	f.Add(0, 1e-5, 0., 0., 0., 0., 1000., 0.01, 0., 0., 40., 40., 40., 4., false, false)
	f.Add(1000000, 10., 10., 60., 500., 40., 0., 1e5, 1e5, 1e5, 0., 0., 0., 11., false, true)
	f.Add(1, 1., 0., 1., 1., 40., 1e-9, 1., 1e-300, 0., 40., 1., 40., 7., false, false)
	f.Fuzz(func(t *testing.T, count int, mass, massU, oxygen, tan, temperature, hours, volume, inflow, overflow, warmth, salinity, room, ph float64, aerated, held bool) {
		if hours > 50 {
			hours = math.Mod(hours, 50) // no use in thousands of points
		}
		care := Care{Aerated: aerated, Room: quantity.Celsius(room), PH: quantity.PH(ph)}
		if held {
			care.Held = new(quantity.Celsius(room))
		}
		start := State{quantity.DissolvedOxygen(oxygen), quantity.AmmoniaNitrogen(tan), quantity.Celsius(temperature)}
		one := Stretch{quantity.Duration(hours), quantity.Volume(volume), quantity.Flow(inflow), quantity.Flow(overflow),
			State{start.Oxygen, start.Ammonia, quantity.Celsius(warmth)}, quantity.AbsoluteSalinity(salinity), 0}
		two := one
		two.SalinityAtStart = 0
		c, err := Support([]Animals{{count, quantity.Of[quantity.Mass](mass, massU)}}, start, []Stretch{one, two}, care)
		if err != nil {
			return
		}
		for _, p := range c.Points {
			within(t, "oxygen", p.Oxygen, 0, 60)
			within(t, "ammonia", p.Ammonia, 0, 1e300)
			within(t, "un-ionized", p.Unionized, 0, p.Ammonia)
			within(t, "temperature", p.Temperature, 0, 40)
		}
		limits := Limits{Ammonia: HarmfulAmmonia, Oxygen: LowOxygen}
		most, ok := c.MostAnimals(limits)
		if !ok {
			most = Spread[quantity.Fraction]{}
		}
		ordered(t, "most animals", most)
		ordered(t, "without air", c.WithoutAir)
		ordered(t, "least oxygen", c.LeastOxygen)
		n := c.GreatestAmmonia
		ordered(t, "greatest ammonia", Spread[quantity.AmmoniaNitrogen]{Best: n.Worst, Likely: n.Likely, Worst: n.Best})
		within(t, "warming", c.Warming, 0, 1e12)
		within(t, "cooling", c.Cooling, 0, 1e12)
	})
}

// Every other formula answers finitely, or blames an input.
func FuzzFormulas(f *testing.F) {
	f.Add(0.005, 25., 5., 24., 8., 10., 2.3)
	f.Add(1e-5, 0., 500., 0., 4., 40., 20.)
	f.Add(10., 40., 0., 1000., 11., 0., 0.)
	f.Fuzz(func(t *testing.T, mass, temperature, tan, hours, ph, salinity, alkalinity float64) {
		celsius, sa := quantity.Celsius(temperature), quantity.AbsoluteSalinity(salinity)
		if use, err := OxygenUse(quantity.Mass(mass), celsius); err == nil {
			within(t, "OxygenUse", quantity.DissolvedOxygen(use), 5, 10000)
		}
		if out, err := AmmoniaOutput(quantity.Mass(mass), celsius); err == nil {
			within(t, "AmmoniaOutput", quantity.AmmoniaNitrogen(out), 0.1, 500)
		}
		a := Acidity{new(quantity.Of[quantity.PH](ph, 0)), new(quantity.Of[quantity.Alkalinity](alkalinity, 0)), sa, celsius}
		if got, err := HighestPH(a, a); err == nil {
			within(t, "HighestPH", got, quantity.PH(ph), 12)
		}
		drip, err := BagVerdict(new(quantity.AmmoniaNitrogen(tan)), new(quantity.Duration(hours)), quantity.PH(ph), sa, celsius)
		if err == nil && quantity.AmmoniaNitrogen(tan) <= HarmlessAmmonia && drip != DripAllowed {
			t.Errorf("BagVerdict = %s with %g mg/L N in all", drip, tan)
		}
	})
}

func within[Q quantity.Quantity](t *testing.T, name string, got, lo, hi Q) {
	t.Helper()
	if !(got >= lo && got <= hi) {
		t.Errorf("%s is %g, want %g to %g", name, float64(got), float64(lo), float64(hi))
	}
}

// ordered checks that the best is no less than the likely, and the likely no less than the worst.
func ordered[Q quantity.Quantity](t *testing.T, name string, s Spread[Q]) {
	t.Helper()
	if !(s.Best >= s.Likely && s.Likely >= s.Worst && s.Worst >= 0) || math.IsInf(float64(s.Best), 0) {
		t.Errorf("%s: %v out of order", name, s)
	}
}
