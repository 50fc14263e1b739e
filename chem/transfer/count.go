package transfer

import "math"

// Count is a drip as a person can set it: so many drops in so many seconds.
type Count struct{ Drops, Seconds int }

func (c Count) perSecond() float64 { return float64(c.Drops) / float64(c.Seconds) }

// From this rate on, drops/s, drops are counted in a minute, and in ten seconds. For slower drips
// you time ten drops.
const (
	minuteFrom  = 1. / 3
	secondsFrom = 2.
)

// Countable returns the fastest drip, no faster than this one, that a person can count. It is
// slower by less than 5 %: one drop of the 20 or more that are counted, or one second of the 30 or
// more in which ten drops fall.
func Countable(drip float64) Count {
	switch {
	case drip >= secondsFrom:
		return Count{int(math.Floor(drip * 10 * (1 + inside))), 10}
	case drip >= minuteFrom:
		return Count{int(math.Floor(drip * 60 * (1 + inside))), 60}
	}
	return Count{10, int(math.Ceil(10 / drip * (1 - inside)))}
}

// ByFlow reports whether a drip is too fast to count, so that you catch what comes in a minute
// instead.
func ByFlow(drip float64) bool { return drip > float64(usualMostDrip)*(1+inside) }

// next is the slowest drip that can be counted and is faster than this one.
func (c Count) next() Count {
	switch {
	case c.Drops == 10 && c.Seconds > 31:
		return Count{10, c.Seconds - 1}
	case c.Drops == 10 && c.Seconds > 10:
		return Count{20, 60}
	case c.Seconds == 60 && c.Drops >= 119:
		return Count{20, 10}
	}
	return Count{c.Drops + 1, c.Seconds}
}
