package drip

import (
	"fmt"
	"math"
)

// everyCup tries every list of cups of a problem: each interval, each size on the
// measure, each of several levels to pour off to, cup by cup. It is written from the
// definition of CupProblem and the balance of salt alone.
type everyCup struct {
	p      CupProblem
	rounds int
	pours  int
	most   int // cups
	every  []float64
	levels int
	best   float64
	bestOf string
}

// handful is a list of cups that is still growing.
type handful struct {
	salt, mass     float64 // the new water has Gap g/kg more salt than the old, which has none
	time           float64 // of the last cup
	step, interval float64 // of the last cup, g/kg, h
	every, size    float64
	cups, rounds   int
	pours          int
	water          float64
	states         [][]float64
	listed         string
}

func (e *everyCup) run() float64 {
	e.best = math.Inf(1)
	start := handful{mass: e.p.Mass}
	for _, c := range e.p.Constraints {
		start.states = append(start.states, c.Start)
	}
	e.next(start)
	return e.best
}

func (e *everyCup) next(h handful) {
	gap := e.p.Gap - h.salt/h.mass
	if gap <= e.p.Tolerance*(1+1e-9) {
		if v := e.objective(h); v < e.best {
			e.best, e.bestOf = v, h.listed
		}
		return
	}
	if h.cups == e.most {
		return
	}
	if h.cups > 0 {
		e.pour(h, h.every, h.size, h.mass, h.rounds)
	}
	if h.rounds == e.rounds+h.pours && h.pours == e.pours {
		return
	}
	for _, every := range e.every {
		for size := e.p.Mark; size <= e.p.MostCup*(1+1e-9); size += e.p.Mark {
			if h.rounds < e.rounds+h.pours {
				e.pour(h, every, size, h.mass, h.rounds+1)
			}
			if least := e.p.LeastMass(gap); h.pours < e.pours && least < h.mass {
				for i := range e.levels {
					e.pour(h, every, size, least+(h.mass-least)*float64(i)/float64(e.levels), h.rounds+1)
				}
			}
		}
	}
}

// pour follows one cup. It is long because each limit is checked where it can be broken.
func (e *everyCup) pour(h handful, every, size, left float64, rounds int) {
	p, gap := &e.p, e.p.Gap-h.salt/h.mass
	n := h
	n.rounds, n.every, n.size, n.cups = rounds, every, size, h.cups+1
	if left < h.mass {
		n.pours++
	}
	if last := left * (gap/p.Tolerance - 1); size > last {
		size = math.Ceil(last/p.Mark*(1-1e-9)) * p.Mark
	}
	n.salt, n.mass, n.water = h.salt*left/h.mass+size*p.Gap, left+size, h.water+size
	to := p.Gap - n.salt/n.mass
	n.step = gap - to
	// The hourly limit is evaluated at many gaps of the step.
	slow := math.Inf(1)
	for i := range 65 {
		slow = min(slow, p.Rate.At(to+n.step*float64(i)/64))
	}
	n.interval = n.step / slow
	if n.step > p.AtOnce*(1+1e-9) || n.interval > every*(1+1e-9) || n.mass > p.MostMass(to)*(1+1e-9) {
		return
	}
	if h.cups > 0 {
		n.time = h.time + max(every, h.every)
		for _, q := range p.Visits.Quiet {
			if n.time > q[0] && n.time < q[1] {
				n.time = q[1]
			}
		}
	}
	n.states = nil
	leg := Leg{Start: n.time, Hours: Pouring, FromGap: gap, ToGap: to, FromMass: left, ToMass: n.mass, Flow: size / Pouring}
	for i := range p.Constraints {
		c, state := &p.Constraints[i], h.states[i]
		if h.cups > 0 {
			wait := Leg{Start: h.time + Pouring, Hours: n.time - h.time - Pouring, FromGap: gap, ToGap: gap, FromMass: h.mass, ToMass: h.mass}
			next := make([]float64, len(state))
			if c.leg(next, state, wait) < 0 {
				return
			}
			state = next
		}
		next := make([]float64, len(state))
		if c.leg(next, state, leg) < 0 {
			return
		}
		n.states = append(n.states, next)
	}
	if e.objective(n) < e.best {
		n.listed += fmt.Sprintf("%.3g kg, %.0f min; ", size, every*60)
		e.next(n)
	}
}

func (e *everyCup) objective(h handful) float64 {
	switch hours := h.time + Pouring; e.p.Objective {
	case Duration:
		return hours + 1e-3*float64(h.cups)
	case FewestVisits:
		return float64(h.cups) + 1e-3*hours
	case LeastWater:
		return h.water + 1e-3*hours
	default:
		return hours + float64(h.cups)/4
	}
}
