package drip

// move goes to the trial point and updates the curvature from the change of slopes (the
// damped formula of Broyden, Fletcher, Goldfarb and Shanno, from memory).
func (in *inner) move(then float64) {
	in.lagrange(in.slope, 0)
	for j := range in.x {
		in.step[j] = in.trial[j] - in.x[j]
	}
	copy(in.x, in.trial)
	copy(in.margins, in.moved)
	in.value = then
	in.differ()
	in.lagrange(in.slope, -1)
	in.curve()
}

// lagrange writes the slope of the Lagrangian to a vector, and adds kept times what the
// vector held before.
func (in *inner) lagrange(to []float64, kept float64) {
	q, n := &in.q, in.p.size
	for j := range n {
		sum := q.g[j]
		for i := range in.margins {
			sum -= q.dual[i] * q.row[i*n+j]
		}
		to[j] = sum + kept*to[j]
	}
}

// curve updates the curvature with a step and the change of slope along it.
func (in *inner) curve() {
	q, n, step, slope := &in.q, in.p.size, in.step, in.slope
	bent := q.d[:n] // scratch: curvature times step
	shs, sy := 0.0, 0.0
	for j := range n {
		bent[j] = 0
		for k := range n {
			bent[j] += q.h[j*n+k] * step[k]
		}
		shs += step[j] * bent[j]
		sy += step[j] * slope[j]
	}
	if shs < 1e-18 {
		return
	}
	if sy < curveShared*shs {
		theta := (1 - curveShared) * shs / (shs - sy)
		for j := range n {
			slope[j] = theta*slope[j] + (1-theta)*bent[j]
		}
		sy = curveShared * shs
	}
	for j := range n {
		for k := range n {
			q.h[j*n+k] += slope[j]*slope[k]/sy - bent[j]*bent[k]/shs
		}
	}
}
