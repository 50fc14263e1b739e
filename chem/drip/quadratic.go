package drip

import "math"

// quadratic is the problem of minimising ½·dᵀHd + gᵀd over steps d that lie between lo
// and hi and have row·d + margin ≥ 0 for every row.
type quadratic struct {
	n, rows int
	h       []float64 // n×n, positive definite
	g       []float64
	lo, hi  []float64
	row     []float64 // rows×n
	margin  []float64

	d, dual []float64 // the solution; multipliers of rows, of lo and of hi
}

// resize prepares for n unknowns and a number of rows.
func (q *quadratic) resize(n, rows int) {
	q.n, q.rows = n, rows
	for _, v := range []struct {
		of   *[]float64
		size int
	}{{&q.h, n * n}, {&q.g, n}, {&q.lo, n}, {&q.hi, n}, {&q.row, rows * n}, {&q.margin, rows}, {&q.d, n}, {&q.dual, rows + 2*n}} {
		*v.of = grown(*v.of, v.size)
	}
}

// slack is by how much the solution keeps condition i; the rows, lo and hi are counted
// in this order.
func (q *quadratic) slack(i int) float64 {
	switch k := i - q.rows; {
	case k < 0:
		sum := q.margin[i]
		for j, a := range q.row[i*q.n : (i+1)*q.n] {
			sum += a * q.d[j]
		}
		return sum
	case k < q.n:
		return q.d[k] - q.lo[k]
	default:
		return q.hi[k-q.n] - q.d[k-q.n]
	}
}

// gradient writes the slopes of condition i.
func (q *quadratic) gradient(i int, to []float64) {
	clear(to)
	switch k := i - q.rows; {
	case k < 0:
		copy(to, q.row[i*q.n:(i+1)*q.n])
	case k < q.n:
		to[k] = 1
	default:
		to[k-q.n] = -1
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
