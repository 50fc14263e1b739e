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

// MostAnimals returns how many of the animals, as a share of those given, keep
// the limits all along the course: 0 where the waters break one by themselves.
// There is no such number, and false, where nothing is used or given off.
//
// One over the share is how many times larger the container must be with the
// same animals, if its surface, its drip and its exchange grow alike.
//
// Source: the balances are linear in the load, so each point gives its most in closed form.
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

// quotient is how often a part goes into the room that is left for it: without
// end where there is room and no part, never where there is none.
func quotient(room, part float64) float64 {
	switch {
	case !(room >= 0): // NaN too
		return 0
	case part == 0:
		return math.Inf(1)
	}
	return room / part
}
