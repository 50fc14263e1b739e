package transfer

import (
	"math"
	"slices"
)

// The steps of settle, as logarithms of gaps; how far apart in their order acts
// may be that it moves together; how often it goes through them at each step.
const (
	widest     = 0.2
	coarse     = 0.02
	finest     = 1e-5
	fine       = 1e-3 // of what is only compared with
	reach      = 2
	mostRounds = 20
)

// finest is the last step of a search.
func (d *drip) finest() float64 {
	if d.quick {
		return fine
	}
	return finest
}

// settle moves the acts, without changing their order, to where they take the
// least time, by a direct search with ever smaller steps.
//
// With pour-offs the fastest schedules lie on edges that one act alone cannot
// follow, as where a pour-off goes just as low as flow and animals both allow;
// so acts are moved in pairs, too, and on in the direction that helped.
func (d *drip) settle(acts []act, first, last float64) ([]act, float64) {
	s := search{d: d, way: math.Log(d.gap / d.tolerance), best: slices.Clone(acts), trial: slices.Clone(acts), least: d.hours(acts, nil)}
	edges := slices.ContainsFunc(acts, func(a act) bool { return a.pour })
	from := slices.Clone(acts)
	for step := first; step > last; step /= 3 {
		for range mostRounds {
			before := s.least
			copy(from, s.best)
			s.round(step, edges)
			if !(s.least < before*(1-1e-3*step)) {
				break
			}
			s.goOn(from)
		}
	}
	return s.best, s.least
}

// search is the state of settle.
type search struct {
	d           *drip
	way         float64 // ln(gap at the start/tolerance)
	best, trial []act
	least       float64
}

// round tries every act in turn.
func (s *search) round(step float64, edges bool) {
	for i := range s.best {
		s.move(i, i, step, 0)
		s.move(i, i, -step, 0)
		for _, on := range []float64{0, step, -step} {
			s.retain(i, step, on)
			s.retain(i, -step, on)
		}
		s.snap(i)
		for j := max(0, i-reach); edges && j < i; j++ {
			for _, by := range [][2]float64{{1, 1}, {1, -1}, {2, 1}, {1, 2}} {
				s.move(i, j, by[0]*step, by[1]*step)
				s.move(i, j, -by[0]*step, -by[1]*step)
			}
		}
	}
}

// move shifts one or two acts as long as that saves time. One that comes
// earlier takes along those before it, which would else hold it back, as one
// that comes later does with those after it.
func (s *search) move(i, j int, by, and float64) {
	for {
		copy(s.trial, s.best)
		s.trial[i].way += by
		s.trial[j].way += and
		for k := i; i == j && k > 0; k-- {
			s.trial[k-1].way = min(s.trial[k-1].way, s.trial[k].way)
		}
		if !s.better() {
			return
		}
	}
}

// retain changes what a pour-off leaves in the container, and perhaps when the
// act after it follows.
func (s *search) retain(i int, by, on float64) {
	for s.best[i].pour {
		copy(s.trial, s.best)
		s.trial[i].keep = max(0, s.trial[i].keep+by)
		if i+1 < len(s.trial) {
			s.trial[i+1].way += on
		}
		if !s.better() {
			return
		}
	}
}

// snap sets the valve just where the limit drops, for a flow set before that
// point and kept beyond it must be slow enough from its start.
func (s *search) snap(i int) {
	for _, b := range s.d.speed.breaks {
		if b > s.d.gap || b < s.d.tolerance {
			continue
		}
		copy(s.trial, s.best)
		s.trial[i].way = math.Log(s.d.gap / b)
		s.better()
	}
}

// goOn follows the way that a round of moves has gone.
func (s *search) goOn(from []act) {
	by := make([]float64, len(from))
	for i := range from {
		by[i] = s.best[i].way - from[i].way
	}
	for {
		copy(s.trial, s.best)
		for i := range by {
			s.trial[i].way += by[i]
		}
		if !s.better() {
			return
		}
	}
}

// better keeps the trial if it saves time.
func (s *search) better() bool {
	at := 0.0
	for i := range s.trial {
		s.trial[i].way = min(max(s.trial[i].way, at), s.way)
		at = s.trial[i].way
	}
	s.d.tried++
	hours := s.d.hours(s.trial, nil)
	if !(hours < s.least*(1-1e-11)) {
		return false
	}
	s.least = hours
	s.best, s.trial = s.trial, s.best
	return true
}
