package lifesupport

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

// As many animals as MostAnimals says come exactly to the limit, in the likely
// case and in the worst; so do the same ones in a container that is larger by as much.
func TestMostAnimalsMeetsTheLimit(t *testing.T) {
	_, start, stretches, care := drip()
	care.Held = new(quantity.Celsius(25))
	for name, limits := range map[string]Limits{"ammonia": {Ammonia: 0.05, Oxygen: 0}, "oxygen": {Ammonia: 500, Oxygen: 5}} {
		given := course(t, fish(10, 0.005), start, stretches, care)
		most, ok := given.MostAnimals(limits)
		if !ok {
			t.Fatalf("%s: there is no greatest number", name)
		}
		// A share of animals, as that of their mass to the power of the formula.
		scaled := func(share quantity.Fraction) Course {
			return course(t, fish(10, 0.005*math.Pow(float64(share), 1/0.80)), start, stretches, care)
		}
		reached := func(c Course) Spread[quantity.Fraction] {
			if name == "oxygen" {
				return Spread[quantity.Fraction]{Likely: quantity.Fraction(c.LeastOxygen.Likely / limits.Oxygen), Worst: quantity.Fraction(c.LeastOxygen.Worst / limits.Oxygen)}
			}
			return Spread[quantity.Fraction]{Likely: quantity.Fraction(c.GreatestAmmonia.Likely / limits.Ammonia), Worst: quantity.Fraction(c.GreatestAmmonia.Worst / limits.Ammonia)}
		}
		if got := reached(scaled(most.Likely)).Likely; math.Abs(float64(got)-1) > 1e-9 {
			t.Errorf("%s: %g of the animals come to %g of the limit", name, most.Likely, got)
		}
		if got := reached(scaled(most.Worst)).Worst; math.Abs(float64(got)-1) > 1e-9 {
			t.Errorf("%s: %g of the animals come at worst to %g of the limit", name, most.Worst, got)
		}
		larger := make([]Stretch, len(stretches))
		for i, s := range stretches {
			s.Volume /= quantity.Volume(most.Likely)
			s.Inflow /= quantity.Flow(most.Likely)
			larger[i] = s
		}
		if name == "oxygen" {
			continue // the surface of a larger bucket grows less than its volume
		}
		if got := reached(course(t, fish(10, 0.005), start, larger, care)).Likely; math.Abs(float64(got)-1) > 1e-9 {
			t.Errorf("%s: in %g times the container they come to %g of the limit", name, 1/most.Likely, got)
		}
	}
}

func TestMostAnimalsAtTheEdges(t *testing.T) {
	animals, start, stretches, care := drip()
	c := course(t, animals, start, stretches, care)
	for name, limits := range map[string]Limits{
		"foul water":         {Ammonia: 0.001, Oxygen: 5},
		"stale water":        {Ammonia: 500, Oxygen: 8.3},
		"no limit at all":    {Ammonia: quantity.AmmoniaNitrogen(math.NaN()), Oxygen: 5},
		"no limit of oxygen": {Ammonia: 500, Oxygen: quantity.DissolvedOxygen(math.NaN())},
	} {
		most, ok := c.MostAnimals(limits)
		if !ok && name != "no limit of oxygen" || most.Best != 0 && name != "no limit of oxygen" {
			t.Errorf("%s: %v animals, %v, want none", name, most, ok)
		}
	}
	if most, ok := course(t, nil, start, stretches, care).MostAnimals(Limits{Ammonia: 0.05, Oxygen: 5}); ok {
		t.Errorf("of no animals %v are allowed", most)
	}
	care.Aerated = true
	aerated, ok := course(t, animals, start, stretches, care).MostAnimals(Limits{Ammonia: 0.05, Oxygen: 5})
	free, _ := course(t, animals, start, stretches, care).MostAnimals(Limits{Ammonia: 0.05, Oxygen: 0})
	if !ok || aerated != free {
		t.Errorf("with an air stone %v animals, without a limit of oxygen %v", aerated, free)
	}
}
