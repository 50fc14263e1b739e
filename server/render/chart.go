package render

import (
	"math"
	"slices"
)

// Chart is a picture of what happens over time: panels one above the other over the same hours.
type Chart struct {
	Title  string
	Panels []Panel
	Marks  []Mark
	Clock  func(hours float64) string // of the time axis; nil counts from the start
}

// Panel is one quantity over time.
type Panel struct {
	Name, Unit string
	Points     []Point
	Goals      []Goal
	Bars       []Bar
}

// Bar is a reading at a time, with its standard uncertainty.
type Bar struct {
	X, Y, U float64
	Aside   bool // it does not fit and was left out
}

// Point is a value at a time, in hours.
type Point struct{ X, Y float64 }

// Goal is a range of values to reach or, if Lo is Hi, a limit to keep.
type Goal struct {
	Lo, Hi float64
	Name   string
}

// Mark is something done at a time.
type Mark struct {
	X    float64
	Name string
	Must bool // be named, before the others
}

// letter is how much of a panel's width a letter takes at most.
const letter = 0.024

// caption is the name of a mark, written to the left of its time or, if that would leave the
// panel, to the right.
type caption struct {
	Mark
	onward bool
}

// captions are the marks whose names fit in one line: first those that must be named, then from
// the last on, since a release matters and one pouring off is like another.
func (c Chart) captions() []caption {
	marks := slices.Clone(c.Marks)
	slices.Reverse(marks)
	if len(marks) > 0 { // the last, a release, before all
		slices.SortStableFunc(marks[1:], func(a, b Mark) int { return rank(a) - rank(b) })
	}
	var list []caption
	var taken [][2]float64
	for _, m := range marks {
		width := letter * float64(len([]rune(m.Name)))
		to := m.X / max(c.hours(), 1e-9)
		name := caption{m, to < width}
		if name.onward {
			to += width
		}
		from := to - width
		if !slices.ContainsFunc(taken, func(t [2]float64) bool { return from < t[1]+letter && to > t[0]-letter }) {
			list, taken = append(list, name), append(taken, [2]float64{from, to})
		}
	}
	return list
}

func rank(m Mark) int {
	if m.Must {
		return 0
	}
	return 1
}

// hours is how long the chart runs.
func (c Chart) hours() float64 {
	last := 0.0
	for _, p := range c.Panels {
		for _, at := range p.Points {
			last = max(last, at.X)
		}
		for _, b := range p.Bars {
			last = max(last, b.X)
		}
	}
	return last
}

// span is the range of a panel's values, a little widened.
func (p Panel) span() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, at := range p.Points {
		lo, hi = min(lo, at.Y), max(hi, at.Y)
	}
	for _, b := range p.Bars {
		lo, hi = min(lo, b.Y-b.U), max(hi, b.Y+b.U)
	}
	for _, g := range p.Goals {
		lo, hi = min(lo, g.Lo), max(hi, g.Hi)
	}
	pad := max((hi-lo)*0.06, 0.01*math.Abs(hi), 0.01)
	under := pad
	if slices.ContainsFunc(p.Goals, func(g Goal) bool { return g.Hi == lo }) {
		under = max(pad, (hi-lo)*underLine) // the name of the line stands there
	}
	if lo >= 0 {
		under = min(under, lo)
	}
	return lo - under, hi + pad
}

// underLine is the room that a name needs below its line, as a share of the panel.
const underLine = 0.16

// low reports whether the name has no room below the upper edge.
func (g Goal) low(lo, hi float64) bool {
	room := 0.2
	if g.Lo == g.Hi {
		room = 0.12
	}
	return (g.Hi-lo)/(hi-lo) < room
}

// panel converts a panel to the unit family of the voice. In Both it stays metric, and the
// pictures write the counterpart next to it.
func (v Voice) panel(p Panel) Panel {
	c, ok := us(p.Unit)
	if !ok || v.Units != US {
		return p
	}
	to := func(y float64) float64 { return y*c.scale + c.offset }
	turned := Panel{Name: p.Name, Unit: c.unit}
	for _, at := range p.Points {
		turned.Points = append(turned.Points, Point{at.X, to(at.Y)})
	}
	for _, b := range p.Bars {
		turned.Bars = append(turned.Bars, Bar{b.X, to(b.Y), b.U * c.scale, b.Aside})
	}
	for _, g := range p.Goals {
		turned.Goals = append(turned.Goals, Goal{Lo: to(g.Lo), Hi: to(g.Hi), Name: g.Name})
	}
	return turned
}

// axisTicks is how many values an axis names at most.
const axisTicks = 6

// ticks are about n round values within a span.
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

// axis is how the time axis is named, and how its ticks are.
func (v Voice) axis(c Chart) (name string, label func(hours float64) string) {
	if c.Clock == nil {
		return v.Say("axis_after_start"), v.timeLabel
	}
	return v.Say("axis_by_clock"), c.Clock
}

// timeLabel writes a time on the axis.
func (v Voice) timeLabel(hours float64) string {
	if hours >= 72 {
		return v.number(hours/24, 1) + " d"
	}
	return v.number(hours, 2) + " h"
}
