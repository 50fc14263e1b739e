package transfer

import (
	"math"
	"slices"
)

// The steps of settle, as logarithms of gaps.
const (
	firstStep = 0.2
	coarse    = 5e-3
	finest    = 1e-5
)

// pairs are the directions in which settle moves two acts at once: with pour-offs,
// the fastest schedules lie on edges that one act alone cannot follow.
var pairs = [][2]float64{{1, 1}, {1, -1}, {1, 2}, {-1, -1}, {-1, 1}, {-1, -2}}

// settle moves the acts, without changing their order, to where they take the
// least time.
func (d *drip) settle(acts []act) ([]act, float64) { return d.settleTo(acts, finest) }

// settleTo is settle by a direct search with ever smaller steps, down to the last.
func (d *drip) settleTo(acts []act, lastStep float64) ([]act, float64) {
	way := math.Log(d.gap / d.tolerance)
	s := search{d: d, way: way, best: slices.Clone(acts), trial: slices.Clone(acts)}
	s.least = d.hours(acts, nil)
	edges := slices.ContainsFunc(acts, func(a act) bool { return a.pour })
	for step := firstStep; step > lastStep; {
		before := s.least
		for i := range acts {
			s.singles(i, step)
			for j := range acts {
				if edges && i != j {
					s.doubles(i, j, step)
				}
			}
		}
		if !(s.least < before*(1-1e-9)) {
			step /= 2
		}
	}
	return s.best, s.least
}

type search struct {
	d           *drip
	way         float64
	best, trial []act
	least       float64
}

func (s *search) singles(i int, step float64) {
	for _, by := range []float64{step, -step} {
		for s.try(func(acts []act) { acts[i].way += by }) {
		}
		if s.best[i].set && s.best[i].pour {
			for s.try(func(acts []act) { acts[i].keep = max(0, acts[i].keep+by) }) {
			}
		}
	}
}

func (s *search) doubles(i, j int, step float64) {
	for _, p := range pairs {
		for s.try(func(acts []act) { acts[i].way += p[0] * step; acts[j].way += p[1] * step }) {
		}
	}
}

// try keeps a change if it saves time.
func (s *search) try(change func([]act)) bool {
	copy(s.trial, s.best)
	change(s.trial)
	at := 0.0
	for i := range s.trial {
		s.trial[i].way = min(max(s.trial[i].way, at), s.way)
		at = s.trial[i].way
	}
	hours := s.d.hours(s.trial, nil)
	if !(hours < s.least*(1-1e-10)) {
		return false
	}
	s.least = hours
	s.best, s.trial = s.trial, s.best
	return true
}
