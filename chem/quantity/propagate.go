package quantity

import (
	"fmt"
	"math"
	"slices"
)

// Input is one uncertain input of a joint function.
type Input struct {
	Name  string
	Value float64
	U     float64
}

// Share is the part of an answer's variance that comes from one input.
type Share struct {
	Input string   `json:"input"`
	Share Fraction `json:"share"`
}

// Propagate returns f of the inputs with its standard uncertainty, which includes the
// formula's own, fit. It also returns the share of each input in the variance; what they
// lack to 1 is the formula's share.
//
// The rule is of first order and assumes independent inputs [JCGM100, 5.1.2]. So f must be
// the joint function of the raw inputs: chaining two propagations would count an input that
// both share twice. Half the difference of f between one standard uncertainty up and one
// down replaces the derivative [JCGM100, 5.1.3 note 2], which evens out mild curvature. At
// the edge of f's domain, the difference to one side is used. An input with U = 0, which
// means not stated, contributes nothing; if none is stated, the fit remains.
func Propagate[R Quantity](f func(x []float64) (float64, error), fit float64, in ...Input) (Estimate[R], []Share, error) {
	x := make([]float64, len(in))
	for i, input := range in {
		x[i] = input.Value
	}
	y, err := evaluate(f, x)
	if err != nil {
		return Estimate[R]{}, nil, err
	}
	variance := fit * fit
	shares := make([]Share, len(in))
	for i, input := range in {
		dy, err := change(f, x, i, input.U, y)
		if err != nil {
			return Estimate[R]{}, nil, fmt.Errorf("uncertainty of %s: %w", input.Name, err)
		}
		shares[i] = Share{input.Name, Fraction(dy * dy)}
		variance += dy * dy
	}
	for i := range shares {
		if variance > 0 {
			shares[i].Share /= Fraction(variance)
		}
	}
	return Of[R](y, math.Sqrt(variance)), shares, nil
}

// change returns by how much f(x) = y changes when x[i] changes by u. If u leaves the domain
// on both sides, a smaller step is scaled up.
func change(f func([]float64) (float64, error), x []float64, i int, u, y float64) (dy float64, err error) {
	if u == 0 {
		return 0, nil
	}
	if !(u > 0 && u <= magnitude) {
		return 0, fmt.Errorf("%g is no standard uncertainty", u)
	}
	at := func(h float64) (float64, error) {
		moved := slices.Clone(x)
		moved[i] += h
		return evaluate(f, moved)
	}
	for part := 1.0; part > 1e-3; part /= 2 {
		up, noUp := at(u * part)
		down, noDown := at(-u * part)
		switch {
		case noUp == nil && noDown == nil:
			return (up - down) / 2 / part, nil
		case noUp == nil:
			return (up - y) / part, nil
		case noDown == nil:
			return (y - down) / part, nil
		}
		err = noUp
	}
	return 0, err
}

func evaluate(f func([]float64) (float64, error), x []float64) (float64, error) {
	y, err := f(x)
	if err == nil {
		err = finite(y)
	}
	return y, err
}

// Propagate1 returns f(a) with the uncertainty from a and the formula's fit; see Propagate.
func Propagate1[A, R Quantity](f func(A) (R, error), fit R, a Estimate[A]) (Estimate[R], error) {
	r, _, err := Propagate[R](func(x []float64) (float64, error) {
		y, err := f(A(x[0]))
		return float64(y), err
	}, float64(fit), input("first input", a))
	return r, err
}

// Propagate2 returns f(a, b) with the uncertainty from a, b and the formula's fit; see Propagate.
func Propagate2[A, B, R Quantity](f func(A, B) (R, error), fit R, a Estimate[A], b Estimate[B]) (Estimate[R], error) {
	r, _, err := Propagate[R](func(x []float64) (float64, error) {
		y, err := f(A(x[0]), B(x[1]))
		return float64(y), err
	}, float64(fit), input("first input", a), input("second input", b))
	return r, err
}

// Propagate3 returns f(a, b, c) with the uncertainty from a, b, c and the formula's fit; see Propagate.
func Propagate3[A, B, C, R Quantity](f func(A, B, C) (R, error), fit R, a Estimate[A], b Estimate[B], c Estimate[C]) (Estimate[R], error) {
	r, _, err := Propagate[R](func(x []float64) (float64, error) {
		y, err := f(A(x[0]), B(x[1]), C(x[2]))
		return float64(y), err
	}, float64(fit), input("first input", a), input("second input", b), input("third input", c))
	return r, err
}

func input[Q Quantity](name string, e Estimate[Q]) Input {
	return Input{name, float64(e.Value), float64(e.U)}
}
