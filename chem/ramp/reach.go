package ramp

import (
	"math"
	"slices"
)

// window is how many days a week's limit looks back.
const window = 7

// label is a tank on the evening of a day, with the part of its past that limits its
// future. Its way is the change of salinity from the start in the direction of To, g/kg.
type label struct {
	way    [window]float64 // by this evening, by the one before, …
	parent int             // index of the label of the evening before
	count  int             // changes so far
	moved  bool            // there was a change today
}

// search is a problem in terms of the way, which grows in either direction.
type search struct {
	*Problem
	sign   float64
	gentle float64 // each change replaces at most this many days' evaporation; 0: no such limit
	salty  float64 // way at which the tank becomes salty, or stops being so
	labels []label
	spent  int // labels made, over all runs
}

func newSearch(p *Problem) *search {
	s := &search{Problem: p, sign: math.Copysign(1, p.To-p.From)}
	s.salty = s.sign * (p.Limits.Salty - p.From)
	return s
}

// at is the salinity at a way.
func (s *search) at(way float64) float64 { return s.From + s.sign*way }

// isSalty reports whether the salinity at a way is one with longer waits.
func (s *search) isSalty(way float64) bool {
	if s.sign > 0 {
		return way > s.salty+slack
	}
	return way < s.salty-slack
}

// slack is the rounding error allowed in sums, g/kg.
const slack = 1e-9

// first is the tank before the first day. Any recent change is assumed to have been made
// on the day before.
func (s *search) first() label {
	l := label{parent: -1}
	for i := 1; i < window; i++ {
		l.way[i] = -s.Limits.Recent
	}
	return l
}

// most is how far a change on a day may take the tank.
func (s *search) most(l label, day int) float64 {
	way, at := l.way[0], s.at(l.way[0])
	perDay := s.Limits.PerDay
	if day == 0 {
		perDay = max(0, perDay-s.Limits.Recent)
	}
	to := way + min(s.perDay(at, perDay), s.Limits.AtOnce)
	to = min(to, s.weekEnd(l), s.filterEnd(l))
	if s.Ahead != nil {
		to = min(to, s.sign*(s.Ahead(float64(day))-s.From))
	}
	if s.gentle > 0 {
		to = min(to, way+s.gentle*(s.before(at).changed(0, s.Saltiest)-at))
	}
	return s.byPH(way, s.byShare(way, to))
}

// perDay is a day's limit. On the way down, only half as much is allowed for the part of
// the change below HalvedBelow.
func (s *search) perDay(at, limit float64) float64 {
	if above := max(0, at-s.Limits.HalvedBelow); s.sign < 0 && above < limit {
		return (limit + above) / 2
	}
	return limit
}

// weekEnd is the furthest way that the week's limit allows.
func (s *search) weekEnd(l label) float64 {
	before := slices.Min(l.way[:])
	if s.sign < 0 {
		if s.isSalty(l.way[0]) {
			return before + s.Limits.SaltyWeek
		}
		return before + s.Limits.PerWeek
	}
	return max(before+s.Limits.SaltyWeek, min(before+s.Limits.PerWeek, s.salty))
}

// filterEnd is the furthest way that the filter allows: one step in the days of its wait,
// including today.
func (s *search) filterEnd(l label) float64 {
	wait := s.wait(l.way[0])
	if wait == 0 {
		return math.Inf(1)
	}
	return slices.Min(l.way[:wait]) + s.Limits.Step
}

// wait is the filter's wait at a way.
func (s *search) wait(way float64) int {
	if s.isSalty(way) {
		return s.Limits.SaltyWait
	}
	return s.Limits.Wait
}

// byShare shortens a day's way to what one change of the greatest share reaches.
func (s *search) byShare(from, to float64) float64 {
	k, new := s.before(s.at(from)), s.newWater()
	if to <= from || s.sign*(new-s.at(to)) > 0 && k.with(new, s.at(to))*k.volume <= s.Share*s.Volume {
		return to
	}
	return min(to, s.sign*(k.furthest(new)-s.From))
}

// newWater is the salinity of the new water that changes the tank most.
func (s *search) newWater() float64 {
	if s.sign > 0 {
		return s.Saltiest
	}
	return s.Source
}

// byPH shortens a day's way to what the limit on pH allows.
func (s *search) byPH(from, to float64) float64 {
	if s.Limits.PH == nil || to <= from {
		return to
	}
	at := s.Limits.PH(s.at(from))
	breaks := func(way float64) bool { return math.Abs(s.Limits.PH(s.at(way))-at) > s.Limits.PHPerDay }
	if !breaks(to) {
		return to
	}
	for range 40 {
		if mid := (from + to) / 2; breaks(mid) {
			to = mid
		} else {
			from = mid
		}
	}
	return from
}

// idle is the label after a day without a change.
func (s *search) idle(l label, parent int) label {
	n := l
	copy(n.way[1:], l.way[:])
	if s.Evaporation > 0 && s.Source > 0 {
		made := s.before(s.at(l.way[0])).changed(0, s.Source)
		n.way[0] = s.sign * (made - s.From)
	}
	n.parent, n.moved = parent, false
	return n
}

// change is the label after a change to a way.
func (s *search) change(l label, parent int, to float64) label {
	n := l
	copy(n.way[1:], l.way[:])
	n.way[0], n.parent, n.moved, n.count = to, parent, true, l.count+1
	return n
}

// beats reports whether a can do at least as well as b from here on: it is nowhere behind
// b, and no longer wait applies to it alone.
func (s *search) beats(a, b label) bool {
	for i := range a.way {
		if a.way[i] < b.way[i]-slack {
			return false
		}
	}
	return s.sign < 0 || !s.isSalty(a.way[0]) || s.isSalty(b.way[0])
}
