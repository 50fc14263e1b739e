package transfer

import (
	"math"
	"slices"
)

// rateLimit is how fast the salinity may change, as a function of the gap still to close. Between
// breaks it is a straight line, and rate(gap)/gap² does not fall while the gap closes; only at a
// break may it drop.
type rateLimit struct {
	at     func(gap float64) float64 // g/kg/h
	breaks []float64                 // gaps where its form changes, the widest first
}

// inside keeps a point that rounding put on the far side of a break on its own side.
const inside = 1e-9

// check is a gap at which a drip may come closest to the limit, and the gap just there or beyond
// at which to read the limit.
type check struct{ gap, just float64 }

// checks are the start of a stage, and every break that it passes.
func (l rateLimit) checks(from, to float64) []check {
	all := []check{{from, from}}
	for _, b := range l.breaks {
		if l.passed(b, from, to) {
			all = append(all, check{b, b * (1 - inside)})
		}
	}
	return all
}

// passed reports whether a stage goes over a break.
func (l rateLimit) passed(b, from, to float64) bool {
	return b <= from*(1+inside) && b > to*(1+inside)
}

// hours returns the least time in which any schedule can close the gap.
func (l rateLimit) hours(from, to float64) float64 {
	total := 0.0
	for from > to {
		next := to
		if i := slices.IndexFunc(l.breaks, func(b float64) bool { return b < from }); i >= 0 {
			next = max(to, l.breaks[i])
		}
		total += (from - next) / logMean(l.line(from, next))
		from = next
	}
	return total
}

// line returns the limit at both ends of a stretch without breaks, as seen from inside.
func (l rateLimit) line(from, to float64) (atFrom, atTo float64) {
	a, b := l.at(to+0.75*(from-to)), l.at(to+0.25*(from-to))
	return a + (a-b)/2, b + (b-a)/2
}

// logMean returns (a−b)/ln(a/b): the constant rate that takes as long as one that goes in a
// straight line from a to b.
func logMean(a, b float64) float64 {
	if d := (a - b) / b; math.Abs(d) > 1e-6 {
		return (a - b) / math.Log1p(d)
	}
	return (a + b) / 2
}
