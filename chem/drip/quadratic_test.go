package drip

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Problems of two unknowns, worked by hand: the least of ½|d|² − 2a − b.
func TestQuadratic(t *testing.T) {
	for _, c := range []struct {
		name string
		rows [][3]float64 // row and room
		a, b float64
	}{
		{"free", nil, 2, 1},
		{"one row", [][3]float64{{-1, -1, 1}}, 1, 0}, // a+b ≤ 1, from (2, 1) along (1, 1)
		{"corner", [][3]float64{{-1, 0, 0.5}, {0, -1, 0.25}}, 0.5, 0.25},
		{"one of two", [][3]float64{{-1, -1, 1}, {-1, -1, 2}}, 1, 0},
	} {
		q := twoUnknowns(c.rows)
		var a activeSet
		if !a.solve(q) || math.Abs(q.d[0]-c.a)+math.Abs(q.d[1]-c.b) > 1e-9 {
			t.Errorf("%s: step %v, want %g, %g", c.name, q.d, c.a, c.b)
		}
	}
	var a activeSet
	if q := twoUnknowns([][3]float64{{1, 0, -3}, {-1, 0, 1}}); a.solve(q) {
		t.Errorf("3 ≤ a ≤ 1 is solved by %v", q.d)
	}
}

func twoUnknowns(rows [][3]float64) *quadratic {
	q := &quadratic{}
	q.resize(2, len(rows))
	copy(q.h, []float64{1, 0, 0, 1})
	copy(q.g, []float64{-2, -1})
	copy(q.lo, []float64{-5, -5})
	copy(q.hi, []float64{5, 5})
	for i, r := range rows {
		copy(q.row[2*i:], r[:2])
		q.margin[i] = r[2]
	}
	return q
}

// The conditions of an optimum hold for random problems: slopes cancel, multipliers are
// not negative, and only conditions that bind have one. A step of 0 keeps all conditions
// of these problems, so each has a solution.
func TestQuadraticOptimum(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	var a activeSet
	for range 3000 {
		q := randomQuadratic(rng, 1+rng.IntN(12), rng.IntN(30))
		if !a.solve(q) {
			t.Fatalf("no solution of %d unknowns with %d rows", q.n, q.rows)
		}
		for j := range q.n {
			slope := q.g[j] - q.dual[q.rows+j] + q.dual[q.rows+q.n+j]
			for k := range q.n {
				slope += q.h[j*q.n+k] * q.d[k]
			}
			for i := range q.rows {
				slope -= q.dual[i] * q.row[i*q.n+j]
			}
			if math.Abs(slope) > 1e-8 {
				t.Fatalf("slope %g is left in unknown %d of %d with %d rows", slope, j, q.n, q.rows)
			}
		}
		for i := range q.dual {
			if slack := q.slack(i); slack < -1e-9 || q.dual[i] < -1e-9 || slack*q.dual[i] > 1e-8 {
				t.Fatalf("condition %d: slack %g, multiplier %g", i, slack, q.dual[i])
			}
		}
	}
}

func randomQuadratic(rng *rand.Rand, n, rows int) *quadratic {
	q := &quadratic{}
	q.resize(n, rows)
	for i := range n {
		q.h[i*n+i] = 0.6 + rng.Float64()
		q.g[i], q.lo[i], q.hi[i] = rng.NormFloat64(), -1, 1
	}
	for range n {
		i, k := rng.IntN(n), rng.IntN(n)
		if v := 0.05 * rng.NormFloat64(); i != k {
			q.h[i*n+k] += v
			q.h[k*n+i] += v
		}
	}
	for i := range q.row {
		if rng.IntN(2) == 0 {
			q.row[i] = rng.NormFloat64()
		}
	}
	for i := range q.margin {
		q.margin[i] = math.Abs(rng.NormFloat64()) * 0.3
	}
	return q
}

func BenchmarkQuadratic(b *testing.B) {
	q := randomQuadratic(rand.New(rand.NewPCG(1, 2)), 9, 26)
	var a activeSet
	for b.Loop() {
		a.solve(q)
	}
}
