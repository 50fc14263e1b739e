package drip

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Problems of two unknowns, worked by hand: the least of ½|d|² − 2a − b.
func TestQuadratic(t *testing.T) {
	for _, c := range []struct {
		name      string
		rows      [][3]float64 // row and room
		a, b, s   float64
		tolerance float64
	}{
		{"free", nil, 2, 1, 0, 1e-6},
		{"one row", [][3]float64{{-1, -1, 1}}, 1, 0, 0, 1e-6},                     // a+b ≤ 1, from (2, 1) along (1, 1)
		{"corner", [][3]float64{{-1, 0, 0.5}, {0, -1, 0.25}}, 0.5, 0.25, 0, 1e-6}, // both bounds
		{"no solution", [][3]float64{{1, 0, -3}, {-1, 0, 1}}, 2, 1, 1, 1e-3},      // 3 ≤ a ≤ 1: half way
	} {
		var q quadratic
		q.resize(2, len(c.rows))
		copy(q.h, []float64{1, 0, 0, 1})
		copy(q.g, []float64{-2, -1})
		copy(q.lo, []float64{-5, -5})
		copy(q.hi, []float64{5, 5})
		for i, r := range c.rows {
			copy(q.row[2*i:], r[:2])
			q.room[i] = r[2]
		}
		q.price = 100
		q.solve()
		if math.Abs(q.d[0]-c.a)+math.Abs(q.d[1]-c.b)+math.Abs(q.d[2]-c.s) > c.tolerance {
			t.Errorf("%s: step %v, want %g, %g with allowance %g", c.name, q.d, c.a, c.b, c.s)
		}
	}
}

// The conditions of an optimum hold for random problems: multipliers are positive
// where rows bind, and the slopes cancel.
func TestQuadraticOptimum(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	var q quadratic
	for range 300 {
		n, rows := 1+rng.IntN(12), rng.IntN(30)
		q.resize(n, rows)
		clear(q.h)
		for i := range n {
			q.h[i*n+i] = 0.1 + rng.Float64()
			q.g[i], q.lo[i], q.hi[i] = rng.NormFloat64(), -1, 1
		}
		for i := range q.row {
			q.row[i] = rng.NormFloat64()
		}
		for i := range q.room {
			q.room[i] = rng.NormFloat64() * 0.3
		}
		q.price = 1000
		q.solve()
		for j := range n {
			slope := q.h[j*n+j]*q.d[j] + q.g[j] - q.dual[rows+1+j] + q.dual[rows+1+n+j]
			for i := range rows {
				slope -= q.dual[i] * q.row[i*n+j]
			}
			if math.Abs(slope) > 1e-5 {
				t.Fatalf("slope %g is left in unknown %d of %d with %d rows", slope, j, n, rows)
			}
		}
		for i := range rows {
			if slack := q.apply(i, q.d) + q.offset(i); slack < -1e-6 || q.dual[i] < 0 || slack*q.dual[i] > 1e-5 {
				t.Fatalf("row %d: slack %g, multiplier %g", i, slack, q.dual[i])
			}
		}
	}
}

func BenchmarkQuadratic(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 2))
	var q quadratic
	n, rows := 9, 26
	q.resize(n, rows)
	for i := range n {
		q.h[i*n+i] = 0.3
		q.g[i], q.lo[i], q.hi[i] = rng.NormFloat64(), -1, 1
	}
	for i := range q.row {
		if rng.IntN(3) == 0 {
			q.row[i] = rng.NormFloat64()
		}
	}
	for i := range q.room {
		q.room[i] = rng.Float64() * 0.3
	}
	q.price = 1000
	for b.Loop() {
		q.solve()
	}
}
