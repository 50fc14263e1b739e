package drip

import "math"

// inner solves programs by sequential quadratic programming with a trust region around
// the current point (Fletcher 1987, from memory). It reuses its memory from one program
// to the next.
type inner struct {
	s *search
	q quadratic
	a activeSet

	p            *program
	x            []float64 // the current point
	value, unit  float64   // of the objective there, and at the start
	missing      float64   // by how much the worst limit is broken there
	price, trust float64
	margins      []float64

	trial, aside      []float64
	moved, movedAside []float64 // margins at the trial point, and at the one set aside
	slope, step       []float64
	legs              []Leg
}

const (
	mostOuter      = 40
	firstTrust     = 0.35
	mostTrust      = 2
	leastTrust     = 1e-7
	firstPrice     = 3
	mostPrice      = 2e5
	leastPromise   = 1e-7 // relative improvement that is not worth another step
	feasible       = 0.9 * tight
	differenceStep = 1e-6 // step of a difference
	firstCurve     = 0.3
	curveShared    = 0.2 // of the curvature so far that an update must keep (Powell's damping)
)

// lack is by how much the worst limit is broken; 0 if all are kept.
func lack(margins []float64) float64 {
	worst := 0.0
	for _, r := range margins {
		if math.IsNaN(r) {
			return math.Inf(1)
		}
		worst = max(worst, -r)
	}
	return worst
}

// solve moves x to the least objective. It returns the objective, and by how much the
// worst limit is broken: more than feasible if no point that keeps them was found.
func (in *inner) solve(p *program, x []float64) (value, missing float64) {
	in.begin(p, x)
	for range mostOuter {
		in.missing = lack(in.margins)
		if in.s.stopped() {
			break
		}
		in.surround()
		allowed, ok := in.quadratic()
		if !ok {
			break
		}
		promised := in.price*(in.missing-allowed) - in.model()
		if promised < leastPromise {
			break
		}
		gained, then := in.attempt(promised)
		switch {
		case gained < 0.1*promised:
			in.trust = 0.4 * min(in.trust, in.length())
		case gained > 0.5*promised:
			in.trust = min(2*in.trust, mostTrust)
		}
		if in.trust < leastTrust {
			break
		}
		if gained > 0 {
			in.move(then)
		}
	}
	p.bend = append(p.bend[:0], in.q.h...)
	return in.value, lack(in.margins)
}

// begin prepares for a program and the point to start from.
func (in *inner) begin(p *program, x []float64) {
	n := p.size
	in.ready(p)
	in.x, in.price, in.trust = x, firstPrice, firstTrust
	in.q.resize(n, p.rows())
	clear(in.q.h)
	copy(in.q.h, p.bend)
	for j := range n {
		if p.bend == nil {
			in.q.h[j*n+j] = firstCurve
		}
		x[j] = min(max(x[j], p.lo[j]), p.hi[j])
	}
	in.value = in.eval(x, in.margins)
	in.unit = max(math.Abs(in.value), 1e-9)
	in.differ()
}

// ready prepares the vectors for a program.
func (in *inner) ready(p *program) {
	in.p = p
	for _, v := range []*[]float64{&in.trial, &in.aside, &in.slope, &in.step} {
		*v = grown(*v, p.size)
	}
	for _, v := range []*[]float64{&in.margins, &in.moved, &in.movedAside} {
		*v = grown(*v, p.rows())
	}
	if legs := len(p.order) + 1; cap(in.legs) < legs {
		in.legs = make([]Leg, legs)
	}
	in.legs = in.legs[:len(p.order)+1]
}

// laid returns the legs at the current point.
func (in *inner) laid() []Leg {
	in.p.lay(in.p.layout, in.x, in.legs)
	return in.legs
}

// eval returns the objective at a point and writes the margins there. Once the context
// has ended it computes nothing, since no schedule will be returned.
func (in *inner) eval(x, margins []float64) float64 {
	if in.s.ctx.Err() != nil {
		return in.value
	}
	in.s.tried++
	return in.p.margins(x, margins, in.legs)
}

// differ fills in the slopes of the objective, in units, and of all margins.
func (in *inner) differ() {
	q, n := &in.q, in.p.size
	copy(in.trial, in.x)
	for j := range n {
		h := in.away(j, in.x)
		in.trial[j] = in.x[j] + h
		q.g[j] = (in.eval(in.trial, in.moved) - in.value) / h / in.unit
		for i, r := range in.moved {
			q.row[i*n+j] = (r - in.margins[i]) / h
		}
		in.trial[j] = in.x[j]
	}
}

// away is the step of a difference, away from the bound.
func (in *inner) away(j int, x []float64) float64 {
	if x[j]+differenceStep > in.p.hi[j] {
		return -differenceStep
	}
	return differenceStep
}

// surround sets the bounds of the quadratic program around the current point.
func (in *inner) surround() {
	q, p := &in.q, in.p
	for j, x := range in.x {
		q.lo[j] = max(p.lo[j]-x, -in.trust)
		q.hi[j] = max(min(p.hi[j]-x, in.trust), q.lo[j]+1e-13)
	}
}

// mending lists the parts of a violation that a step tries to remove, the largest first.
var mending = [...]float64{1, 0.5, 0.2, 0.05}

// quadratic solves the quadratic program and returns by how much limits may still be
// broken after its step. It raises the price of a violation above the sum of the
// multipliers; from there on, breaking a limit costs more than it gains. It is not ok if
// no step reduces the violation.
func (in *inner) quadratic() (allowed float64, ok bool) {
	q := &in.q
	for _, part := range mending {
		allowed = (1 - part) * in.missing
		for i, r := range in.margins {
			q.margin[i] = r + allowed
		}
		if in.a.solve(q) {
			sum := 0.0
			for _, u := range q.dual[:q.rows] {
				sum += u
			}
			in.price = max(in.price, min(2*sum, mostPrice))
			return allowed, true
		}
		if in.missing == 0 {
			break
		}
	}
	return 0, false
}

// model is the change of the objective that the quadratic program predicts.
func (in *inner) model() float64 {
	q, n, sum := &in.q, in.p.size, 0.0
	for j := range n {
		row := 0.0
		for k := range n {
			row += q.h[j*n+k] * q.d[k]
		}
		sum += q.d[j] * (q.g[j] + row/2)
	}
	return sum
}

// length is the largest step in any unknown.
func (in *inner) length() float64 {
	most := 0.0
	for _, d := range in.q.d[:in.p.size] {
		most = max(most, math.Abs(d))
	}
	return most
}

// attempt tries the step. If the limits curve away from it, it also tries a corrected
// step that aims at where they really are. It returns the gain, to compare with promised.
func (in *inner) attempt(promised float64) (gained, then float64) {
	gained, then = in.look()
	if gained >= 0.7*promised || lack(in.moved) <= feasible {
		return gained, then
	}
	q, n := &in.q, in.p.size
	for i, r := range in.moved {
		for j := range n {
			r -= q.row[i*n+j] * q.d[j]
		}
		q.margin[i] = r
	}
	copy(in.aside, in.trial)
	copy(in.movedAside, in.moved)
	if !in.a.solve(q) {
		return gained, then
	}
	if g, t := in.look(); g > gained {
		return g, t
	}
	copy(in.trial, in.aside)
	copy(in.moved, in.movedAside)
	return gained, then
}

// look evaluates the point to which the step leads.
func (in *inner) look() (gained, then float64) {
	for j, x := range in.x {
		in.trial[j] = min(max(x+in.q.d[j], in.p.lo[j]), in.p.hi[j])
	}
	then = in.eval(in.trial, in.moved)
	return (in.value-then)/in.unit + in.price*(in.missing-lack(in.moved)), then
}

func grown(v []float64, n int) []float64 {
	if cap(v) < n {
		return make([]float64, n)
	}
	return v[:n]
}
