package transfer

import (
	"math"

	"saltlock/chem/tolerance"
)

// slope is the problem of changing the salinity of a whole tank, day by day,
// on plain numbers: g/kg and days.
type slope struct {
	from, to        float64
	recent          float64                        // changed in the day before
	acid            func(salinity float64) float64 // pH of the tank; nil where it is not known
	mostAcid        float64                        // change of pH in a day
	perDay          float64
	perWeek         func(salinity float64) float64 // while the tank comes to this salinity
	gateStep        float64                        // +Inf without a filter to mind
	gateWait        func(salinity float64) float64 // days from the first day of a step that ends at this salinity
	mostByOneChange func(salinity float64) float64 // what one water change of the greatest share may do there
	along           func(day float64) float64      // the salinity not to go ahead of; nil is none
}

// day is one water change of a ramp.
type day struct {
	day      int
	from, to float64
	gate     int // number of the gate step it belongs to, from 0
}

// longestRamp bounds a ramp, in days: three years.
const longestRamp = 1100

// leastChange is the smallest change worth a bucket, unless it is the last, g/kg.
const leastChange = 0.2

// days schedules the changes, one a day at most. Every day takes as much as its
// own limit, the last seven days, the running gate step and one water change
// allow. Not ok if the way cannot be gone.
func (s slope) days() (list []day, ok bool) {
	at, sign := s.from, math.Copysign(1, s.to-s.from)
	gate, gateDone, gateStart := 0, 0.0, 0
	for n := range longestRamp {
		left := math.Abs(s.to - at)
		if left < 1e-9 {
			return list, true
		}
		if gateDone > s.gateStep-leastChange {
			if float64(n-gateStart) < s.gateWait(at) {
				continue
			}
			gate, gateDone, gateStart = gate+1, 0, n
		}
		if gateDone == 0 {
			gateStart = n
		}
		due := left
		if s.along != nil {
			// Without haste a day's full change is worth the bucket, less is not.
			if due = sign * (s.along(float64(n)) - at); due < min(s.perDay, left)*(1-1e-9) {
				continue
			}
		}
		change := min(due, left, s.perDay, s.gateStep-gateDone, s.mostByOneChange(at))
		if n == 0 {
			change = min(change, s.perDay-s.recent)
		}
		change = min(change, s.perWeek(at+sign*change)-s.week(list, n))
		if change < min(leastChange, left) {
			continue
		}
		change = s.byAcid(at, sign, change)
		list = append(list, day{n, at, at + sign*change, gate})
		at += sign * change
		gateDone += change
	}
	return list, false
}

// week is what the six days before day n and the day itself have changed; the
// day before the ramp is one of them at first.
func (s slope) week(list []day, n int) float64 {
	sum := 0.0
	if n < 6 {
		sum = s.recent
	}
	for i := len(list) - 1; i >= 0 && list[i].day > n-7; i-- {
		sum += math.Abs(list[i].to - list[i].from)
	}
	return sum
}

// newSlope takes the strictest ramp of several classes, and a filter's gate
// where there is one.
func newSlope(from, to float64, classes []tolerance.Class, filter bool) (slope, error) {
	s := slope{from: from, to: to, perDay: math.Inf(1), gateStep: math.Inf(1),
		gateWait: func(float64) float64 { return 0 }, mostByOneChange: func(float64) float64 { return math.Inf(1) }}
	week, salty := math.Inf(1), math.Inf(1)
	for _, c := range classes {
		r, err := tolerance.DefaultRamp(c)
		if err != nil {
			return s, err
		}
		s.perDay = min(s.perDay, float64(r.PerDay))
		week, salty = min(week, float64(r.PerWeek)), min(salty, float64(r.PerWeekSalty))
	}
	s.perWeek = func(salinity float64) float64 {
		if salinity > float64(tolerance.SaltyFrom) {
			return salty
		}
		return week
	}
	if filter {
		gate := tolerance.DefaultGate()
		s.gateStep = float64(gate.Step)
		s.gateWait = func(salinity float64) float64 {
			if salinity > float64(tolerance.SaltyFrom) {
				return float64(gate.WaitSalty) / 24
			}
			return float64(gate.Wait) / 24
		}
	}
	return s, nil
}
