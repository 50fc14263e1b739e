package tolerance

import (
	"saltlock/chem/quantity"
)

// span is a band whose bounds may be soft. Beyond a soft bound nothing is known; beyond a
// firm one the animal is known, or assumed, not to live.
type span[Q quantity.Quantity] struct {
	Band[Q]
	softMin, softMax softness
	firmBelow        Q // below this the animal is assumed not to live, although the minimum is soft
	firmAbove        Q // the same above a soft maximum
	slack            Q // how far beyond its bounds a note is enough, as a catalogue's range is not a limit
	under, over      Q // how far the bounds admit values beyond them, for the rounding of their source
}

// softness is why nothing is known beyond a bound; empty for a firm one.
type softness string

const (
	pastPreferred softness = "preferred" // no bound is known, and the preferred one replaces it
	pastUsual     softness = "usual"     // the bound is a custom, or follows from the words sea water
)

// firm makes a span of firm bounds.
func firm[Q quantity.Quantity](b Band[Q]) span[Q] { return span[Q]{Band: b} }

// recordSlack is how far beyond the records a temperature only gets a note; proposed here.
const recordSlack quantity.Celsius = 2

// recorded makes a span of the range in which an animal was found or kept.
func recorded(b Band[quantity.Celsius]) span[quantity.Celsius] {
	return span[quantity.Celsius]{Band: b, slack: recordSlack}
}

// rounded makes a span of firm bounds that admit the rounding of their source.
func rounded(b Band[quantity.Salinity]) span[quantity.Salinity] {
	return span[quantity.Salinity]{Band: b, under: rounding(b.Min), over: rounding(b.Max)}
}

// usual reports whether a basis is a custom rather than an observation.
func usual(basis string) bool { return basis == "habitat-flag" || basis == string(CommonPractice) }

// usable is the salinity for which the stage may be planned: what it survives, with the
// preferred bound in place of an unknown one. It never exceeds the preferred band for a
// stenohaline fresh-water fish, nor ordinary sea water for a stenohaline marine one.
func (s Stage) usable() span[quantity.Salinity] {
	known, p := s.Survived.band(), s.Preferred.band()
	u := firm(known)
	if s.Survived != nil {
		if usual(s.Survived.Basis) && u.Min != nil && u.Min.Value > 0 {
			u.softMin, u.firmBelow = pastUsual, min(leastShop, u.Min.Value)
		}
		if usual(s.Survived.Basis) && s.Survived.MaxBasis == "" || usual(s.Survived.MaxBasis) {
			u.softMax = pastUsual
		}
	}
	if s.SensitivityClass == StenohalineMarine {
		return seaSpan(u, p)
	}
	if p.Min != nil && (u.Min == nil || s.SensitivityClass == StenohalineFresh) {
		u.Min, u.softMin, u.firmBelow = p.Min, pastPreferred, 0
	}
	if p.Max != nil && (u.Max == nil || s.SensitivityClass == StenohalineFresh) {
		u.Max, u.softMax = p.Max, pastPreferred
	}
	if s.SensitivityClass == StenohalineFresh {
		u.softMin, u.softMax = "", ""
	}
	u.firmAbove = saltiestSea
	u.under, u.over = rounding(u.Min), rounding(u.Max)
	return u
}

// seaSpan limits a span to ordinary sea water, and to what is preferred beyond that. A lower
// salinity that a fish was seen to survive is not one to keep it in.
func seaSpan(u span[quantity.Salinity], p Band[quantity.Salinity]) span[quantity.Salinity] {
	lo, hi := quantity.Exactly(leastSea), quantity.Exactly(mostSea)
	if p.Min != nil && p.Min.Value < lo.Value {
		lo = *p.Min
	}
	if p.Max != nil && p.Max.Value > hi.Value {
		hi = *p.Max
	}
	if u.Max != nil && u.Max.Value < lo.Value || u.Min != nil && u.Min.Value > hi.Value {
		u.under, u.over = rounding(u.Min), rounding(u.Max)
		return u // its source reports it from another water
	}
	switch {
	case u.Min == nil:
		u.Min, u.softMin, u.firmBelow = &lo, pastUsual, min(leastShop, lo.Value)
	case u.Min.Value < lo.Value:
		u.Min, u.softMin, u.firmBelow = &lo, pastUsual, min(leastShop, lo.Value)
	}
	switch {
	case u.Max == nil:
		u.Max, u.softMax = &hi, pastUsual
	case u.Max.Value > hi.Value:
		u.Max, u.softMax = &hi, ""
	}
	u.firmAbove = saltiestSea
	u.under, u.over = rounding(u.Min), rounding(u.Max)
	return u
}

// keepsToNarrow reports whether the class must not leave the band in which it is kept: what
// such a fish survived for some days is not a water to keep it in.
func (s Stage) keepsToNarrow() bool {
	return s.SensitivityClass == StenohalineFresh || s.SensitivityClass == StenohalineMarine
}

// Usable returns the band of salinity for which the stage may be planned: what it is known to
// survive, or the preferred bound if that is unknown, since missing data gives no freedom. It
// is narrower for stenohaline fish. A bound that stays nil is unknown. Bounds admit the
// rounding of their source: see Past.
func (s Stage) Usable() Band[quantity.AbsoluteSalinity] {
	var b Band[quantity.AbsoluteSalinity]
	u := s.usable()
	if u.Min != nil {
		e := absolute(u.Min.Value)
		b.Min = &e
	}
	if u.Max != nil {
		e := absolute(u.Max.Value)
		b.Max = &e
	}
	return b
}

// Lean reports whether a salinity is below ordinary sea water, but not so far that it is
// refused for a marine animal. It gets a warning.
func (s Stage) Lean(sa quantity.AbsoluteSalinity) bool {
	u, sp := s.usable(), practical(quantity.Exactly(sa)).Value
	return u.softMin == pastUsual && sp < u.Min.Value-u.under && sp >= u.firmBelow
}

// Past says on which side a salinity lies outside the band for which the stage may be planned:
// -1 below, 1 above, 0 inside or if no bound excludes it. It is judged on the practical scale,
// with the rounding of the source: a bound given as 15 admits 15.2. A salinity that is only
// Lean is inside.
func (s Stage) Past(sa quantity.AbsoluteSalinity) int {
	if s.Lean(sa) {
		return 0
	}
	return s.usable().past(practical(quantity.Exactly(sa)).Value)
}

// Unrecorded reports whether a salinity lies outside that band only because no record says what
// the stage survives, and what it prefers stands in for it.
func (s Stage) Unrecorded(sa quantity.AbsoluteSalinity) bool {
	u := s.usable()
	switch s.Past(sa) {
	case -1:
		return u.softMin == pastPreferred
	case 1:
		return u.softMax == pastPreferred && practical(quantity.Exactly(sa)).Value <= u.firmAbove
	}
	return false
}

// past is Past for a value in the span's own quantity.
func (u span[Q]) past(q Q) int {
	switch {
	case u.Min != nil && q < u.Min.Value-u.under:
		return -1
	case u.Max != nil && q > u.Max.Value+u.over:
		return 1
	}
	return 0
}

// Nearest returns the salinity closest to a given one at which the stage may be kept: within
// what it prefers or, if that is not known, what may be planned for. It is not ok if the given
// salinity will do, or if no bound excludes it.
func (s Stage) Nearest(sa quantity.AbsoluteSalinity) (nearest quantity.Salinity, ok bool) {
	u, sp := s.usable(), practical(quantity.Exactly(sa)).Value
	if p := rounded(s.Preferred.band()); p.Min != nil && p.Max != nil {
		if s.seaWaterWillDo(sp) && u.past(sp) == 0 {
			return sp, false
		}
		u = p
	}
	switch u.past(sp) {
	case -1:
		return u.Min.Value, true
	case 1:
		return u.Max.Value, true
	}
	return sp, false
}

// Ordinary reports whether a salinity is ordinary sea water, in which a marine animal may
// stay although it is best kept in a narrower band.
func (s Stage) Ordinary(sa quantity.AbsoluteSalinity) bool {
	return s.seaWaterWillDo(practical(quantity.Exactly(sa)).Value)
}

// PastSurvived says on which side a salinity lies outside what the stage was observed to
// survive: -1 below, 1 above, 0 inside or if only a custom or a preference excludes it.
func (s Stage) PastSurvived(sa quantity.AbsoluteSalinity) int {
	if s.Survived == nil {
		return 0
	}
	b := s.Survived.band()
	if usual(s.Survived.Basis) {
		b.Min = nil
	}
	if usual(s.Survived.Basis) && s.Survived.MaxBasis == "" || usual(s.Survived.MaxBasis) {
		b.Max = nil
	}
	return rounded(b).past(practical(quantity.Exactly(sa)).Value)
}

// seaWaterWillDo reports whether a salinity is ordinary sea water and the animal is best kept
// in sea water.
func (s Stage) seaWaterWillDo(sp quantity.Salinity) bool {
	p := s.Preferred.band()
	return p.Min != nil && p.Min.Value >= leastKept && sp >= leastSea-0.5 && sp <= mostSea+0.5
}
