package transfer

import "math"

// count is a drip as a person can set it: so many drops in so many seconds.
type count struct{ drops, seconds float64 }

func (c count) perSecond() float64 { return c.drops / c.seconds }

// From where on drops are counted in a minute, and in ten seconds, in drops/s.
// Slower ones are timed by the ten.
const (
	minuteFrom  = 1. / 3
	secondsFrom = 2.
)

// countable returns the fastest drip up to this one that a person can count. It
// is slower by less than 5 %: by one drop in the 20 or more that are counted,
// or one second in the 30 or more in which ten drops fall.
func countable(drip float64) count {
	switch {
	case drip >= secondsFrom:
		return count{math.Floor(drip * 10 * (1 + inside)), 10}
	case drip >= minuteFrom:
		return count{math.Floor(drip * 60 * (1 + inside)), 60}
	}
	return count{10, math.Ceil(10 / drip * (1 - inside))}
}
