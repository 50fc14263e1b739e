package lifesupport

import (
	"errors"
	"math"
	"strconv"

	"saltlock/chem/quantity"
)

// Animals are some animals of one kind in the container.
type Animals struct {
	Count int
	Mass  quantity.Estimate[quantity.Mass] // of one
}

// Spread is an answer at the least, the likely and the greatest use of the animals: half
// the likely use and twice it, and a little further apart if their mass is uncertain.
type Spread[Q quantity.Quantity] struct {
	Best, Likely, Worst Q
}

// load is how much all animals use together, as the mass of 50 g fish, kg, that would
// use as much.
type load struct{ best, likely, worst float64 }

var (
	animalCount = [2]int{0, 1000000}
	massU       = quantity.Range[quantity.Mass]{Lo: 0, Hi: AnimalMass.Hi}
)

func newLoad(animals []Animals) (load, error) {
	var l load
	var faults []error
	for i, a := range animals {
		at := "animals." + strconv.Itoa(i)
		if a.Count < animalCount[0] || a.Count > animalCount[1] {
			faults = append(faults, &quantity.RangeError{Name: at + ".count", Value: float64(a.Count), Lo: float64(animalCount[0]), Hi: float64(animalCount[1]), Unit: "animals"})
		}
		faults = append(faults, AnimalMass.Check(at+".mass", a.Mass.Value), massU.Check(at+".mass", a.Mass.U))
		all := float64(a.Count) * equivalent(float64(a.Mass.Value))
		// The two factors are independent, so the squares of their logarithms add up.
		apart := math.Exp(math.Hypot(math.Log(UseSpread), 0.80*math.Log1p(float64(a.Mass.U/a.Mass.Value))))
		l.best += all / apart
		l.likely += all
		l.worst += all * apart
	}
	return l, errors.Join(faults...)
}

// spread is an answer for each use.
func spread[Q quantity.Quantity](l load, of func(load float64) float64) Spread[Q] {
	return Spread[Q]{Q(of(l.best)), Q(of(l.likely)), Q(of(l.worst))}
}
