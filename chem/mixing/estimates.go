package mixing

import (
	"math"
	"slices"

	"saltlock/chem/quantity"
)

// estimates turns the numbers that a joint function returns in a struct K into estimates.
// The function is evaluated once for all of them: with the inputs as given, and with each
// uncertain one moved up and down.
type estimates[K any] struct {
	joint
	of     func(x []float64) (K, error)
	solved bool
	given  K
	moved  []moved[K]
	fault  error // of the inputs as given, or of one moved
	err    error
}

// moved is the joint function with one input moved by a part of its uncertainty.
type moved[K any] struct {
	input        int
	part         float64
	up, down     K
	noUp, noDown error
}

// at is the joint function with the inputs as given.
func (e *estimates[K]) at() (K, error) {
	e.solve()
	return e.given, e.fault
}

// solve moves the inputs as quantity.Propagate does.
func (e *estimates[K]) solve() {
	if e.solved {
		return
	}
	e.solved = true
	x := slices.Clone(e.nominal)
	if e.given, e.fault = e.of(x); e.fault != nil {
		return
	}
	uncertain := 0
	for _, in := range e.inputs {
		if in.U != 0 {
			uncertain++
		}
	}
	e.moved = make([]moved[K], 0, uncertain)
	for i, in := range e.inputs {
		if in.U == 0 {
			continue
		}
		m := moved[K]{input: i}
		for m.part = 1; m.part > 1e-3; m.part /= 2 {
			x[i] = in.Value + in.U*m.part
			m.up, m.noUp = e.of(x)
			x[i] = in.Value - in.U*m.part
			if m.down, m.noDown = e.of(x); m.noUp == nil || m.noDown == nil {
				break
			}
		}
		x[i] = in.Value
		e.moved = append(e.moved, m)
	}
}

// change is by how much a number changes with an input; false if quantity.Propagate has to
// look closer.
func (m *moved[K]) change(pick func(K) float64, y float64) (dy float64, ok bool) {
	up, down := math.NaN(), math.NaN()
	if m.noUp == nil {
		up = pick(m.up)
	}
	if m.noDown == nil {
		down = pick(m.down)
	}
	switch {
	case isFinite(up) && isFinite(down):
		return (up - down) / 2 / m.part, true
	case m.noUp == nil && m.noDown == nil: // NaN
		return 0, false
	case isFinite(up):
		return (up - y) / m.part, true
	case isFinite(down):
		return (y - down) / m.part, true
	}
	return 0, false
}

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// estimate returns one of the numbers with its uncertainty. A fault is kept for the end; the
// estimate must then not be used.
func estimate[Q quantity.Quantity, K any](e *estimates[K], pick func(K) float64) quantity.Estimate[Q] {
	q, _ := weighed[Q](e, pick)
	return q
}

// share is estimate that also returns which input contributes most to the variance; nil if
// none contributes.
func share[Q quantity.Quantity, K any](e *estimates[K], pick func(K) float64) (quantity.Estimate[Q], *quantity.Share) {
	q, most := weighed[Q](e, pick)
	if most.Share == 0 {
		return q, nil
	}
	return q, &most
}

// weighed is share without a pointer, which takes memory that most do not need.
func weighed[Q quantity.Quantity, K any](e *estimates[K], pick func(K) float64) (quantity.Estimate[Q], quantity.Share) {
	e.solve()
	y := pick(e.given)
	variance, most, name := 0., 0., ""
	plain := e.fault == nil && isFinite(y)
	for i := range e.moved {
		dy, ok := e.moved[i].change(pick, y)
		plain = plain && ok && e.inputs[e.moved[i].input].U > 0
		if square := dy * dy; square > most {
			most, name = square, e.inputs[e.moved[i].input].Name
		}
		variance += dy * dy
	}
	if !plain {
		return lookCloser[Q](e, pick)
	}
	if most == 0 {
		return quantity.Of[Q](y, 0), quantity.Share{}
	}
	return quantity.Of[Q](y, math.Sqrt(variance)), quantity.Share{Input: name, Share: quantity.Fraction(most) / quantity.Fraction(variance)}
}

// lookCloser is weighed by quantity.Propagate itself, for joint functions with edges.
func lookCloser[Q quantity.Quantity, K any](e *estimates[K], pick func(K) float64) (quantity.Estimate[Q], quantity.Share) {
	q, shares, err := propagate[Q](e, pick, e.inputs)
	var most quantity.Share
	if err != nil {
		e.err = e.blame(err)
		return q, most
	}
	for _, s := range shares {
		if s.Share > most.Share {
			most = s
		}
	}
	return q, most
}

func propagate[Q quantity.Quantity, K any](e *estimates[K], pick func(K) float64, in []quantity.Input) (quantity.Estimate[Q], []quantity.Share, error) {
	return quantity.Propagate[Q](func(x []float64) (float64, error) {
		k, err := e.of(x)
		if err != nil {
			return 0, err
		}
		return pick(k), nil
	}, 0, in...)
}

// blame turns a failed propagation into a fault of the input whose uncertainty reaches beyond
// every possible water, since the inputs themselves are in range.
func (e *estimates[K]) blame(err error) error {
	for i, in := range e.inputs {
		only := slices.Clone(e.inputs)
		for other := range only {
			if other != i {
				only[other].U = 0
			}
		}
		_, _, alone := propagate[quantity.Fraction](e, func(K) float64 { return 0 }, only)
		if alone != nil {
			return &quantity.RangeError{Name: e.origins[i].name, Value: in.U, Lo: 0, Hi: math.Abs(in.Value), Unit: e.origins[i].unit}
		}
	}
	return err
}

// salinity returns a salinity in g/kg on both scales.
func salinity[K any](e *estimates[K], pick func(K) float64) Salinity {
	return Salinity{Absolute: estimate[quantity.AbsoluteSalinity](e, pick), Practical: practical(e, pick)}
}

// practical returns the practical salinity of a salinity in g/kg.
func practical[K any](e *estimates[K], pick func(K) float64) quantity.Estimate[quantity.Salinity] {
	return estimate[quantity.Salinity](e, func(k K) float64 { return pick(k) / quantity.GramsPerPractical })
}
