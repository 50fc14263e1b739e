package tolerance

import (
	"math"

	"saltlock/chem/quantity"
)

// Ordinary sea water, ppt. Common practice, no source: a fully marine animal is assumed to
// tolerate it unless a source says less.
const (
	leastSea quantity.Salinity = 33
	mostSea  quantity.Salinity = 37
	// leastReef is the lowest bound of corals, which are kept in slightly less salty water.
	leastReef quantity.Salinity = 32
	// leastKept is the least lower bound of an animal that is best kept in sea water; one with
	// a lower bound is an estuarine animal.
	leastKept quantity.Salinity = 30
	// leastShop is where shops and quarantine keep such animals. Down to here a salinity gets a
	// warning and is not refused.
	leastShop quantity.Salinity = 28
	// saltiestSea is the most that animals of the sea live in anywhere: the north of the Red
	// Sea (from memory). Above it none is assumed to live, unless a source says so.
	saltiestSea quantity.Salinity = 41
)

// OrdinarySea reports whether what a stage survives is ordinary sea water, in which it is
// also kept.
func (s Stage) OrdinarySea() bool {
	b, p := s.Survived.band(), s.Preferred.band()
	return b.Min != nil && b.Min.Value >= leastReef && b.Max != nil && b.Max.Value == mostSea && p.Min != nil && p.Min.Value >= b.Min.Value
}

// practical is a salinity on the scale of the bounds. The two scales are proportional, and so
// are their uncertainties.
func practical(sa quantity.Estimate[quantity.AbsoluteSalinity]) quantity.Estimate[quantity.Salinity] {
	return quantity.Estimate[quantity.Salinity]{
		Value: quantity.Salinity(sa.Value / quantity.GramsPerPractical),
		U:     quantity.Salinity(sa.U / quantity.GramsPerPractical),
	}
}

// absolute is the inverse of practical.
func absolute(sp quantity.Salinity) quantity.Estimate[quantity.AbsoluteSalinity] {
	return quantity.Exactly(quantity.AbsoluteSalinity(sp * quantity.GramsPerPractical))
}

// rounding is half of the last printed digit of a bound, with at most three decimals: a bound
// of 15 admits 15.2, one of 0.5 admits 0.54.
func rounding(bound *quantity.Estimate[quantity.Salinity]) quantity.Salinity {
	if bound == nil {
		return 0
	}
	half, x := 0.5, float64(bound.Value)
	for range 3 {
		if math.Abs(x-math.Round(x)) < 1e-9 {
			break
		}
		x, half = x*10, half/10
	}
	return quantity.Salinity(half)
}

// inGrams labels a band of practical salinity as g/kg, with the same numbers, as answers did
// before bounds were on the practical scale.
func inGrams(b Band[quantity.Salinity]) Band[quantity.AbsoluteSalinity] {
	return Band[quantity.AbsoluteSalinity]{Min: gramsLabel(b.Min), Max: gramsLabel(b.Max)}
}

func gramsLabel(e *quantity.Estimate[quantity.Salinity]) *quantity.Estimate[quantity.AbsoluteSalinity] {
	if e == nil {
		return nil
	}
	return &quantity.Estimate[quantity.AbsoluteSalinity]{Value: quantity.AbsoluteSalinity(e.Value), U: quantity.AbsoluteSalinity(e.U)}
}

// sourcedInGrams is inGrams for a band with its source.
func sourcedInGrams(s *Sourced[quantity.Salinity]) *Sourced[quantity.AbsoluteSalinity] {
	if s == nil {
		return nil
	}
	return &Sourced[quantity.AbsoluteSalinity]{Band: inGrams(s.Band), Mark: s.Mark, Basis: s.Basis, Source: s.Source,
		MaxMark: s.MaxMark, MaxBasis: s.MaxBasis}
}

// commonInGrams is inGrams for a shared band.
func commonInGrams(c Common[quantity.Salinity, quantity.Salinity]) Common[quantity.AbsoluteSalinity, quantity.AbsoluteSalinity] {
	bound := func(b *Bound[quantity.Salinity, quantity.Salinity]) *Bound[quantity.AbsoluteSalinity, quantity.AbsoluteSalinity] {
		if b == nil {
			return nil
		}
		return &Bound[quantity.AbsoluteSalinity, quantity.AbsoluteSalinity]{Value: *gramsLabel(&b.Value), SetBy: b.SetBy,
			Without: gramsLabel(b.Without), By: gramsLabel(b.By)}
	}
	g := Common[quantity.AbsoluteSalinity, quantity.AbsoluteSalinity]{Status: c.Status, Lower: bound(c.Lower), Upper: bound(c.Upper),
		UnknownLower: c.UnknownLower, UnknownUpper: c.UnknownUpper}
	for _, x := range c.Conflicts {
		g.Conflicts = append(g.Conflicts, Conflict[quantity.AbsoluteSalinity, quantity.AbsoluteSalinity]{
			Higher: x.Higher, AtLeast: *gramsLabel(&x.AtLeast), Lower: x.Lower, AtMost: *gramsLabel(&x.AtMost),
			Gap: *gramsLabel(&x.Gap), Proven: x.Proven})
	}
	return g
}
