package lifesupport

import (
	"math"

	"saltlock/chem/quantity"
)

// Limits are the most un-ionized ammonia, as nitrogen, and the least oxygen.
type Limits struct {
	Ammonia quantity.AmmoniaNitrogen
	Oxygen  quantity.DissolvedOxygen
}

// MostAnimals returns the largest share of the given animals with which the whole course
// keeps the limits. The share may be above 1; it is 0 if the water breaks a limit without
// any animals. It returns false if there is no such share, because the animals use and
// excrete nothing.
//
// One over the share is how many times larger the container must be for the same animals,
// if its surface, its drip and its exchange grow in proportion.
//
// Source: the balances are linear in the load, so each point gives its greatest load in
// closed form.
func (c Course) MostAnimals(limits Limits) (Spread[quantity.Fraction], bool) {
	most := math.Inf(1)
	for i := range c.Points {
		most = min(most, c.Points[i].mostLoad(limits))
	}
	if most/c.load.best > math.MaxFloat64 || math.IsNaN(most/c.load.best) {
		return Spread[quantity.Fraction]{}, false
	}
	return spread[quantity.Fraction](c.load, func(load float64) float64 { return most / load }), true
}

// mostLoad is the greatest load that keeps the limits at a point.
func (p *Point) mostLoad(limits Limits) float64 {
	most := quotient(float64(limits.Ammonia)-p.unionized(0), p.trace.share*p.trace.added)
	if p.trace.floor < float64(limits.Oxygen) {
		most = min(most, quotient(p.trace.free-float64(limits.Oxygen), p.trace.used))
	}
	return max(0, most)
}

// quotient is how often a part fits into what is left for it: infinitely often if the
// part is 0, and never if nothing is left.
func quotient(left, part float64) float64 {
	switch {
	case !(left >= 0): // NaN too
		return 0
	case part == 0:
		return math.Inf(1)
	}
	return left / part
}
