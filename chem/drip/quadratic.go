package drip

import "math"

// quadratic is the problem of the least ½·dᵀHd + gᵀd + price·s for steps d within
// lo and hi, and an allowance s ≥ 0 that all rows share: row·d + room + s ≥ 0. With
// the allowance there is always a solution; where s comes out as 0, all rows hold.
type quadratic struct {
	n, rows int
	h       []float64 // n×n, positive definite
	g       []float64
	lo, hi  []float64
	row     []float64 // rows×n
	room    []float64
	price   float64

	d, dual []float64 // the solution, s being the last of d; multipliers of rows, of s, of lo and hi

	y, ry, dy, dl      []float64 // slack, its residual, steps
	normal, rhs, first []float64
}

// resize makes room for n unknowns and a number of rows.
func (q *quadratic) resize(n, rows int) {
	q.n, q.rows = n, rows
	all := rows + 1 + 2*n
	for _, v := range []struct {
		of   *[]float64
		size int
	}{{&q.h, n * n}, {&q.g, n}, {&q.lo, n}, {&q.hi, n}, {&q.row, rows * n}, {&q.room, rows},
		{&q.d, n + 1}, {&q.dual, all}, {&q.y, all}, {&q.ry, all}, {&q.dy, all}, {&q.dl, all},
		{&q.normal, (n + 1) * (n + 1)}, {&q.rhs, n + 1}, {&q.first, n + 1}} {
		if cap(*v.of) < v.size {
			*v.of = make([]float64, v.size)
		}
		*v.of = (*v.of)[:v.size]
	}
}

const (
	mostInner    = 40
	innerEnough  = 1e-11 // mean product of slack and multiplier
	allowanceH   = 1e-6  // curvature of the allowance: keeps the normal matrix regular
	mostOfTheWay = 0.995 // that an inner step goes towards the nearest bound
)

// apply returns row i of all constraints times v, which has the allowance last.
func (q *quadratic) apply(i int, v []float64) float64 {
	switch k := i - q.rows - 1; {
	case k < -1:
		sum := v[q.n]
		for j, a := range q.row[i*q.n : (i+1)*q.n] {
			sum += a * v[j]
		}
		return sum
	case k == -1:
		return v[q.n]
	case k < q.n:
		return v[k]
	default:
		return -v[k-q.n]
	}
}

// offset is the constant of row i of all constraints.
func (q *quadratic) offset(i int) float64 {
	switch k := i - q.rows - 1; {
	case k < -1:
		return q.room[i]
	case k == -1:
		return 0
	case k < q.n:
		return -q.lo[k]
	default:
		return q.hi[k-q.n]
	}
}

// solve finds the solution by the predictor and corrector of interior points
// (Mehrotra 1992, from memory): Newton's steps on the conditions of an optimum, kept
// away from the bounds until the end.
func (q *quadratic) solve() {
	for j := range q.n {
		q.d[j] = (q.lo[j] + q.hi[j]) / 2
	}
	least := 0.0
	for _, r := range q.room {
		least = min(least, r)
	}
	q.d[q.n] = 0.1 - least
	for i := range q.y {
		q.y[i] = max(q.apply(i, q.d)+q.offset(i), 0.1)
		q.dual[i] = 1
		if i <= q.rows {
			q.dual[i] = q.price / float64(q.rows+1)
		}
	}
	for range mostInner {
		mu := 0.0
		for i := range q.y {
			mu += q.y[i] * q.dual[i]
			q.ry[i] = q.apply(i, q.d) + q.offset(i) - q.y[i]
		}
		mu /= float64(len(q.y))
		if mu < innerEnough {
			return
		}
		if !q.factor() {
			return
		}
		q.direct(0, false)
		target := 0.0
		step := q.longest()
		for i := range q.y {
			target += (q.y[i] + step*q.dy[i]) * (q.dual[i] + step*q.dl[i])
		}
		target /= float64(len(q.y))
		share := target / mu
		q.direct(share*share*share*mu, true)
		step = min(1, mostOfTheWay*q.longest())
		for j := range q.d {
			q.d[j] += step * q.rhs[j]
		}
		for i := range q.y {
			q.y[i] += step * q.dy[i]
			q.dual[i] += step * q.dl[i]
		}
	}
}

// longest is how far the step may go until a slack or a multiplier is 0.
func (q *quadratic) longest() float64 {
	step := 1 / mostOfTheWay
	for i := range q.y {
		if q.dy[i] < 0 {
			step = min(step, -q.y[i]/q.dy[i])
		}
		if q.dl[i] < 0 {
			step = min(step, -q.dual[i]/q.dl[i])
		}
	}
	return step
}

// factor makes the normal matrix and its Cholesky factor.
func (q *quadratic) factor() bool {
	n, m := q.n, q.n+1
	for j := range n {
		copy(q.normal[j*m:j*m+n], q.h[j*n:j*n+n])
		q.normal[j*m+j] += q.dual[q.rows+1+j]/q.y[q.rows+1+j] + q.dual[q.rows+1+n+j]/q.y[q.rows+1+n+j]
		q.normal[n*m+j] = 0
	}
	corner := allowanceH + q.dual[q.rows]/q.y[q.rows]
	for i := range q.rows {
		w := q.dual[i] / q.y[i]
		row := q.row[i*n : (i+1)*n]
		for j, a := range row {
			if a == 0 {
				continue
			}
			wa := w * a
			for k := range j + 1 {
				q.normal[j*m+k] += wa * row[k]
			}
			q.normal[n*m+j] += wa
		}
		corner += w
	}
	q.normal[n*m+n] = corner
	return cholesky(q.normal, m)
}

// direct finds the step of all unknowns towards products of slack and multiplier of
// a size, corrected, the second time, by those that the first step would leave.
func (q *quadratic) direct(size float64, again bool) {
	n := q.n
	for j := range n {
		sum := -q.g[j]
		for k := range n {
			sum -= q.h[j*n+k] * q.d[k]
		}
		q.rhs[j] = sum
	}
	q.rhs[n] = -q.price - allowanceH*q.d[n]
	for i := range q.y {
		// λ + dλ = (size − correction − λ·dy)/y, dy = A·d + residual
		c := size
		if again {
			c -= q.dy[i] * q.dl[i]
		}
		q.dl[i] = (c - q.dual[i]*q.ry[i]) / q.y[i]
		q.add(i, q.dl[i])
	}
	solveCholesky(q.normal, n+1, q.rhs)
	for i := range q.y {
		a := q.apply(i, q.rhs)
		q.dl[i] -= q.dual[i] + q.dual[i]/q.y[i]*a
		q.dy[i] = a + q.ry[i]
	}
}

// add adds so many times row i of all constraints to the right-hand side.
func (q *quadratic) add(i int, times float64) {
	switch k := i - q.rows - 1; {
	case k < -1:
		for j, a := range q.row[i*q.n : (i+1)*q.n] {
			q.rhs[j] += times * a
		}
		q.rhs[q.n] += times
	case k == -1:
		q.rhs[q.n] += times
	case k < q.n:
		q.rhs[k] += times
	default:
		q.rhs[k-q.n] -= times
	}
}

// cholesky replaces the lower half of a symmetric matrix by its factor.
func cholesky(a []float64, n int) bool {
	for j := range n {
		for i := j; i < n; i++ {
			sum := a[i*n+j]
			for k := range j {
				sum -= a[i*n+k] * a[j*n+k]
			}
			if i > j {
				a[i*n+j] = sum / a[j*n+j]
				continue
			}
			if !(sum > 0) {
				return false
			}
			a[j*n+j] = math.Sqrt(sum)
		}
	}
	return true
}

func solveCholesky(a []float64, n int, x []float64) {
	for i := range n {
		for k := range i {
			x[i] -= a[i*n+k] * x[k]
		}
		x[i] /= a[i*n+i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			x[i] -= a[k*n+i] * x[k]
		}
		x[i] /= a[i*n+i]
	}
}
