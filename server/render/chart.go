package render

import "math"

// Chart is a picture of what happens in time: panels one above the other over
// the same hours.
type Chart struct {
	Title, Description string
	Panels             []Panel
	Marks              []Mark
}

// Panel is one quantity in time.
type Panel struct {
	Name, Unit string
	Points     []Point
	Goal       *Goal
}

// Point is a value at a time, in hours.
type Point struct{ X, Y float64 }

// Goal is a band of values that should be reached.
type Goal struct {
	Lo, Hi float64
	Name   string
}

// Mark is something done at a time.
type Mark struct {
	X    float64
	Name string
}

// hours is how long the chart runs.
func (c Chart) hours() float64 {
	last := 0.0
	for _, p := range c.Panels {
		for _, at := range p.Points {
			last = max(last, at.X)
		}
	}
	return last
}

// span is what the values of a panel reach over, a little wider than they do.
func (p Panel) span() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, at := range p.Points {
		lo, hi = min(lo, at.Y), max(hi, at.Y)
	}
	if p.Goal != nil {
		lo, hi = min(lo, p.Goal.Lo), max(hi, p.Goal.Hi)
	}
	pad := max((hi-lo)*0.06, 0.01*math.Abs(hi), 0.01)
	if lo >= 0 {
		lo = max(lo-pad, 0)
	} else {
		lo -= pad
	}
	return lo, hi + pad
}

// ticks are round values inside a span, about n of them.
func ticks(lo, hi float64, n int) []float64 {
	if !(hi > lo) {
		return nil
	}
	step := math.Pow(10, math.Floor(math.Log10((hi-lo)/float64(n))))
	for _, round := range []float64{1, 2, 5, 10} {
		if (hi-lo)/(step*round) <= float64(n) {
			step *= round
			break
		}
	}
	return multiples(lo, hi, step)
}

// hourSteps are the steps in which people count time.
var hourSteps = []float64{0.25, 0.5, 1, 2, 3, 6, 12, 24, 48, 168, 336, 672}

// hourTicks are round times up to an end, at most six.
func hourTicks(end float64) []float64 {
	for _, step := range hourSteps {
		if end/step <= 6 {
			return multiples(0, end, step)
		}
	}
	return multiples(0, end, hourSteps[len(hourSteps)-1])
}

func multiples(lo, hi, step float64) []float64 {
	var all []float64
	for k := math.Ceil(lo/step-1e-9) + 0; k*step <= hi+1e-9*step; k++ {
		all = append(all, k*step)
	}
	return all
}

// tickLabel writes a round value.
func (v Voice) tickLabel(y float64) string { return v.cell(y, 0) }

// timeLabel writes a time on the axis.
func (v Voice) timeLabel(hours float64) string {
	if hours >= 72 {
		return v.number(hours/24, 1) + " d"
	}
	return v.number(hours, 2) + " h"
}
