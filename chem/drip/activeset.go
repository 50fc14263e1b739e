package drip

import "math"

// activeSet solves a quadratic by the dual method of Goldfarb and Idnani (1983, from
// memory). It starts from the unconstrained minimum and repeatedly adds the condition
// that is broken most, dropping those whose multiplier would become negative. Few
// conditions bind, so it is about ten times faster than an interior-point method.
type activeSet struct {
	factor []float64 // n×n, Cholesky factor of h
	j      []float64 // n×n; its first rows span the active conditions
	r      []float64 // n×n, upper triangle
	active []int
	u      []float64 // multipliers of the active conditions and of the one being added
	in     []bool    // by condition
	normal []float64
	d, z   []float64
	back   []float64
}

// How far a condition may be broken, and below what a slope counts as zero.
const (
	slackTolerance = 1e-11
	leastSlope     = 1e-13
)

func (a *activeSet) resize(n, all int) {
	for _, v := range []struct {
		of   *[]float64
		size int
	}{{&a.factor, n * n}, {&a.j, n * n}, {&a.r, n * n}, {&a.u, n + 2}, {&a.normal, n}, {&a.d, n}, {&a.z, n}, {&a.back, n}} {
		*v.of = grown(*v.of, v.size)
	}
	if cap(a.in) < all {
		a.in = make([]bool, all)
	}
	a.in = a.in[:all]
	clear(a.in)
	a.active = a.active[:0]
}

// solve fills in d and dual of the quadratic. It returns false if the rows contradict
// each other or the method gets stuck.
func (a *activeSet) solve(q *quadratic) bool {
	n, all := q.n, len(q.dual)
	a.resize(n, all)
	copy(a.factor, q.h)
	if !cholesky(a.factor, n) {
		return false
	}
	for j := range n {
		q.d[j] = -q.g[j]
	}
	solveCholesky(a.factor, n, q.d)
	a.inverse(n)
	for range stepsOf(n) {
		p, worst := -1, -slackTolerance
		for i := range all {
			if a.in[i] {
				continue
			}
			if slack := q.slack(i); slack < worst {
				p, worst = i, slack
			}
		}
		if p < 0 {
			clear(q.dual)
			for k, i := range a.active {
				q.dual[i] = a.u[k]
			}
			return true
		}
		if !a.take(q, p, worst) {
			return false
		}
	}
	return false
}

// stepsOf bounds the steps for n unknowns; most problems take about n.
func stepsOf(n int) int { return 3*n + 10 }

// inverse fills j with the inverse of the factor.
func (a *activeSet) inverse(n int) {
	clear(a.j)
	for i := range n {
		row, factor := a.j[i*n:(i+1)*n], a.factor[i*n:(i+1)*n]
		for k := range i {
			for c, v := range a.j[k*n : k*n+k+1] {
				row[c] -= factor[k] * v
			}
		}
		for c := range i {
			row[c] /= factor[i]
		}
		row[i] = 1 / factor[i]
	}
}

// take makes condition p, which is broken by −slack, active.
func (a *activeSet) take(q *quadratic, p int, slack float64) bool {
	n := q.n
	q.gradient(p, a.normal)
	a.u[len(a.active)] = 0
	for range stepsOf(n) {
		k := len(a.active)
		length := a.project(n, k)
		drop, t1 := -1, math.Inf(1)
		for i := range k {
			if a.back[i] > leastSlope && a.u[i]/a.back[i] < t1 {
				drop, t1 = i, a.u[i]/a.back[i]
			}
		}
		t2 := math.Inf(1)
		if length > leastSlope {
			t2 = -slack / length
		}
		t := min(t1, t2)
		if math.IsInf(t, 1) {
			return false
		}
		for i := range k {
			a.u[i] -= t * a.back[i]
		}
		a.u[k] += t
		if length > leastSlope {
			for j := range n {
				q.d[j] += t * a.z[j]
			}
		}
		if t == t2 {
			a.add(n, p)
			return true
		}
		a.remove(n, drop)
		slack = min(0, q.slack(p))
	}
	return false
}

// project finds the step that leaves the active conditions unchanged, and what their
// multipliers lose along it. It returns how fast the new condition's slack grows.
func (a *activeSet) project(n, k int) float64 {
	normal, z := a.normal[:n], a.z[:n]
	clear(z)
	for c := range n {
		row, sum := a.j[c*n:(c+1)*n], 0.0
		for i, v := range row {
			sum += v * normal[i]
		}
		if a.d[c] = sum; c < k {
			continue
		}
		for i, v := range row {
			z[i] += sum * v
		}
	}
	length := 0.0
	for i, v := range z {
		length += v * normal[i]
	}
	for i := k - 1; i >= 0; i-- {
		sum := a.d[i]
		for c := i + 1; c < k; c++ {
			sum -= a.r[i*n+c] * a.back[c]
		}
		a.back[i] = sum / a.r[i*n+i]
	}
	return length
}

// rotate turns two rows of j so that b becomes 0, and returns what a becomes.
func (a *activeSet) rotate(n, i, k int, x, y float64) (c, s, h float64) {
	h = math.Sqrt(x*x + y*y)
	if h == 0 {
		return 1, 0, 0
	}
	c, s = x/h, y/h
	one := a.j[i*n : (i+1)*n]
	for col, v := range a.j[k*n : (k+1)*n] {
		u := one[col]
		one[col], a.j[k*n+col] = c*u+s*v, c*v-s*u
	}
	return c, s, h
}

// add makes the projected condition active.
func (a *activeSet) add(n, p int) {
	k := len(a.active)
	for i := n - 1; i > k; i-- {
		if a.d[i] != 0 {
			_, _, a.d[i-1] = a.rotate(n, i-1, i, a.d[i-1], a.d[i])
		}
	}
	for i := range k + 1 {
		a.r[i*n+k] = a.d[i]
	}
	a.active = append(a.active, p)
	a.in[p] = true
}

// remove makes an active condition inactive.
func (a *activeSet) remove(n, l int) {
	k := len(a.active)
	a.in[a.active[l]] = false
	copy(a.active[l:], a.active[l+1:])
	copy(a.u[l:k], a.u[l+1:k+1]) // the multiplier of the condition being added moves down, too
	a.active = a.active[:k-1]
	for c := l; c < k-1; c++ {
		for i := range c + 2 {
			a.r[i*n+c] = a.r[i*n+c+1]
		}
		cos, sin, h := a.rotate(n, c, c+1, a.r[c*n+c], a.r[(c+1)*n+c])
		a.r[c*n+c], a.r[(c+1)*n+c] = h, 0
		for j := c + 1; j < k-1; j++ { // columns not yet shifted are one to the right
			x, y := a.r[c*n+j+1], a.r[(c+1)*n+j+1]
			a.r[c*n+j+1], a.r[(c+1)*n+j+1] = cos*x+sin*y, cos*y-sin*x
		}
	}
}
