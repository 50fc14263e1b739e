package drip

import "math"

// inner solves programs by a sequence of quadratic ones with a region of trust
// around each point. It keeps its room from one program to the next.
type inner struct {
	s *search
	q quadratic

	x, trial, slope, old []float64
	rooms, moved         []float64
	legs                 []Leg
}

const (
	mostOuter   = 40
	firstTrust  = 0.7
	leastTrust  = 1e-7
	usualPrice  = 20
	mostPrice   = 2e5
	enough      = 1e-7 // relative improvement that is not worth another step
	feasible    = 0.9 * tight
	nudge       = 1e-6 // step of a difference
	firstCurve  = 0.3
	curveShared = 0.2 // of the curvature so far that an update must keep (Powell's damping)
)

// lack is how much room is missing at worst.
func lack(rooms []float64) float64 {
	worst := 0.0
	for _, r := range rooms {
		if !(r >= -worst) {
			worst = -r
		}
	}
	return worst
}

// solve moves x to the least objective, and returns it and what room is missing:
// more than feasible where the limits leave none. It stops early, with a bound that
// is above it, once the objective is seen to be no less than hopeless.
func (in *inner) solve(p *program, x []float64) (value, missing float64) {
	n, rows := p.size, p.rows()
	in.resize(n, rows, len(p.order)+1)
	q, price, trust := &in.q, float64(usualPrice), firstTrust
	for j := range x {
		x[j] = min(max(x[j], p.lo[j]), p.hi[j])
	}
	clear(q.h)
	for j := range n {
		q.h[j*n+j] = firstCurve
	}
	value = in.eval(p, x, in.rooms)
	unit := max(math.Abs(value), 1e-9)
	in.differ(p, x, value, unit)
	for range mostOuter {
		missing = lack(in.rooms)
		if in.s.stopped() {
			return value, missing
		}
		for j := range n {
			q.lo[j], q.hi[j] = max(p.lo[j]-x[j], -trust), min(p.hi[j]-x[j], trust)
			if q.hi[j]-q.lo[j] < 1e-13 {
				q.hi[j] = q.lo[j] + 1e-13
			}
		}
		copy(q.room, in.rooms)
		q.price = price
		q.solve()
		allowed := max(0, q.d[n])
		promised := price*(missing-allowed) - in.model(n)
		if promised < enough*(1+price*missing) {
			if missing <= feasible || price >= mostPrice || allowed < missing*0.5 {
				if missing <= feasible || price >= mostPrice {
					return value, missing
				}
			}
			price *= 30
			continue
		}
		for j := range n {
			in.trial[j] = min(max(x[j]+q.d[j], p.lo[j]), p.hi[j])
		}
		then := in.eval(p, in.trial, in.moved)
		gained := (value-then)/unit + price*(missing-lack(in.moved))
		if !(gained > 0.1*promised) {
			trust = 0.4 * min(trust, in.length(n))
			if trust < leastTrust {
				return value, missing
			}
			if !(gained > 0) {
				continue
			}
		} else if gained > 0.7*promised {
			trust = min(2*trust, 2)
		}
		in.update(p, x, then, unit)
		value = then
	}
	return value, lack(in.rooms)
}

// model is the change of the objective that the quadratic program sees.
func (in *inner) model(n int) float64 {
	q, sum := &in.q, 0.0
	for j := range n {
		row := 0.0
		for k := range n {
			row += q.h[j*n+k] * q.d[k]
		}
		sum += q.d[j] * (q.g[j] + row/2)
	}
	return sum
}

func (in *inner) length(n int) float64 {
	most := 0.0
	for _, d := range in.q.d[:n] {
		most = max(most, math.Abs(d))
	}
	return most
}

func (in *inner) eval(p *program, x, rooms []float64) float64 {
	in.s.tried++
	return p.rooms(x, rooms, in.legs)
}

// differ fills in the slopes at x of the objective, in units, and of all rooms.
func (in *inner) differ(p *program, x []float64, value, unit float64) {
	q, n := &in.q, p.size
	copy(in.trial, x)
	for j := range n {
		h := nudge
		if x[j]+h > p.hi[j] {
			h = -nudge
		}
		in.trial[j] = x[j] + h
		q.g[j] = (in.eval(p, in.trial, in.moved) - value) / h / unit
		for i, r := range in.moved {
			q.row[i*n+j] = (r - in.rooms[i]) / h
		}
		in.trial[j] = x[j]
	}
}

// update goes to the trial and takes from the change of slopes what it says about
// the curvature (BFGS, damped).
func (in *inner) update(p *program, x []float64, value, unit float64) {
	q, n := &in.q, p.size
	step := in.old
	lagrange := func(j int) float64 {
		sum := q.g[j]
		for i := range q.rows {
			sum -= q.dual[i] * q.row[i*n+j]
		}
		return sum
	}
	for j := range n {
		in.slope[j] = lagrange(j)
		step[j] = in.trial[j] - x[j]
	}
	copy(x, in.trial)
	copy(in.rooms, in.moved)
	in.differ(p, x, value, unit)
	sHs, sy := 0.0, 0.0
	hs := q.d[:n]
	for j := range n {
		in.slope[j] = lagrange(j) - in.slope[j]
		hs[j] = 0
		for k := range n {
			hs[j] += q.h[j*n+k] * step[k]
		}
		sHs += step[j] * hs[j]
		sy += step[j] * in.slope[j]
	}
	if sHs < 1e-18 {
		return
	}
	if sy < curveShared*sHs {
		theta := (1 - curveShared) * sHs / (sHs - sy)
		for j := range n {
			in.slope[j] = theta*in.slope[j] + (1-theta)*hs[j]
		}
		sy = curveShared * sHs
	}
	for j := range n {
		for k := range n {
			q.h[j*n+k] += in.slope[j]*in.slope[k]/sy - hs[j]*hs[k]/sHs
		}
	}
}

func (in *inner) resize(n, rows, legs int) {
	in.q.resize(n, rows)
	for _, v := range []*[]float64{&in.x, &in.trial, &in.slope, &in.old} {
		*v = grown(*v, n)
	}
	in.rooms, in.moved = grown(in.rooms, rows), grown(in.moved, rows)
	if cap(in.legs) < legs {
		in.legs = make([]Leg, legs)
	}
	in.legs = in.legs[:legs]
}

func grown(v []float64, n int) []float64 {
	if cap(v) < n {
		return make([]float64, n)
	}
	return v[:n]
}
