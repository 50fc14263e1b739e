package instrument

import (
	"math/bits"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// vector is one water in every measure.
type vector [slots]float64

// bench evaluates waters of many salinities and few temperatures.
type bench struct {
	wanted   Measures
	own      seawater.Gravities // of the request's convention; empty if it is one of those in use
	at, at25 seawater.Isotherm
	given    water // the first that was measured
	values   vector
	in       Measures // of its values; empty before it is measured
}

// measure writes a water into a vector, and returns what is wanted and in range.
func (b *bench) measure(w water, v *vector) Measures {
	if b.at.Temperature() != w.t {
		b.at = seawater.AtTemperature(w.t)
	}
	v[absoluteSalinity], v[practicalSalinity] = float64(w.sa), float64(w.sp)
	in := Measures(1<<absoluteSalinity | 1<<practicalSalinity)
	switch {
	case b.in == 0:
		in |= b.byMass(w, v) | b.byPractical(w, v)
		b.given, b.values, b.in = w, *v, in
	case w.t == b.given.t && w.sp == b.given.sp: // as where only the composition is moved
		in |= b.byMass(w, v) | b.again(v, ofPractical)
	case w.t == b.given.t && w.sa == b.given.sa: // or the composition of a salinity by mass
		in |= b.again(v, ofMass) | b.byPractical(w, v)
	default:
		in |= b.byMass(w, v) | b.byPractical(w, v)
	}
	return b.wanted & in
}

// again takes values from the first water, of which these measures are the same.
func (b *bench) again(v *vector, which Measures) (in Measures) {
	in = b.in & which
	for left := in; left != 0; left &= left - 1 {
		s := bits.TrailingZeros32(uint32(left))
		v[s] = b.values[s]
	}
	return in
}

// What byMass and byPractical measure.
const (
	ofMass      Measures = 1<<saltPerLitre | 1<<density | (1<<(ownGravity+1) - 1<<firstGravity) | 1<<osmolality
	ofPractical Measures = AllMeasures &^ ofMass &^ (1<<absoluteSalinity | 1<<practicalSalinity)
)

// byMass measures what follows from the absolute salinity.
func (b *bench) byMass(w water, v *vector) (in Measures) {
	if b.wanted.has(saltPerLitre) {
		q, ok := b.at.SaltPerLitre(w.sa)
		in |= record(v, saltPerLitre, q, ok)
	}
	if b.wanted.has(density) {
		q, ok := b.at.Density(w.sa)
		in |= record(v, density, q, ok)
	}
	if wanted := b.wanted & (1<<ownGravity - 1<<firstGravity); wanted != 0 {
		lo, hi := slot(bits.TrailingZeros32(uint32(wanted))), slot(bits.Len32(uint32(wanted)))
		if gravities[lo-firstGravity:hi-firstGravity].Of(w.sa, v[lo:hi]) {
			in |= wanted
		}
	}
	if len(b.own) > 0 && b.wanted.has(ownGravity) && b.own.Of(w.sa, v[ownGravity:ownGravity+1]) {
		in |= 1 << ownGravity
	}
	if b.wanted.has(osmolality) {
		q, ok := b.at.Osmolality(w.sa)
		in |= record(v, osmolality, q, ok)
	}
	return in
}

// byPractical measures what follows from the practical salinity.
func (b *bench) byPractical(w water, v *vector) (in Measures) {
	if b.wanted.has(conductivity) {
		q, ok := b.at.Conductivity(w.sp)
		in |= record(v, conductivity, q, ok)
	}
	if b.wanted.has(conductivity25) {
		q, ok := b.at25.Conductivity(w.sp)
		in |= record(v, conductivity25, q, ok)
	}
	if b.wanted.has(refractiveIndex) {
		q, ok := b.at.RefractiveIndex(w.sp)
		in |= record(v, refractiveIndex, q, ok)
	}
	if b.wanted.has(chlorinity) {
		q, err := seawater.Chlorinity(w.sp)
		in |= record(v, chlorinity, q, err == nil)
	}
	if b.wanted.has(freezingPoint) {
		q, err := seawater.FreezingPoint(w.sp)
		in |= record(v, freezingPoint, q, err == nil)
	}
	if b.wanted.has(oxygenSaturation) {
		q, ok := b.at.OxygenSaturation(w.sp)
		in |= record(v, oxygenSaturation, q, ok)
	}
	return in
}

func record[Q quantity.Quantity](v *vector, s slot, q Q, ok bool) Measures {
	if !ok {
		return 0
	}
	v[s] = float64(q)
	return 1 << s
}

// fault returns why a water has no such measure.
func fault(s slot, w water) (err error) {
	switch s.kind() {
	case saltPerLitre:
		_, err = seawater.SaltPerLitre(w.sa, w.t)
	case density:
		_, err = seawater.Density(w.sa, w.t)
	case firstGravity:
		_, err = seawater.SpecificGravity(w.sa, conventions[0]) // the limit does not depend on the convention
	case osmolality:
		_, err = seawater.Osmolality(w.sa, w.t)
	case conductivity:
		_, err = seawater.Conductivity(w.sp, w.t)
	case conductivity25:
		_, err = seawater.Conductivity(w.sp, standIn)
	case refractiveIndex:
		_, err = seawater.RefractiveIndex(w.sp, w.t)
	case chlorinity:
		_, err = seawater.Chlorinity(w.sp)
	case freezingPoint:
		_, err = seawater.FreezingPoint(w.sp)
	case oxygenSaturation:
		_, err = seawater.OxygenSaturation(w.sp, w.t, 1)
	}
	return err
}
