package followup

import (
	"errors"
	"math"

	"saltlock/chem/internal/numeric"
)

// What is known before anything was read, as standard deviations: of drops in
// time where the keeper counts as told, and where a count tells; of the volume
// of a drop, which differs widely between hoses; of the volume at the start.
const (
	countingDoubt = 0.05
	countedDoubt  = 1
	dropDoubt     = 0.3
	startDoubt    = usualMarks
)

// suspectFrom is from how many standard deviations on a reading is laid aside.
const suspectFrom = 3.5

// sight is one number read on the way, and what the trail would show there.
type sight struct {
	entry    int
	what     string
	hours    float64
	value, u float64
	shows    func(truth) (float64, error)
	unit     string
	aside    bool
	off      float64 // standard deviations from what the others say
}

// fit is the truth that fits what was read, its covariance, and what was held for possible before.
type fit struct {
	x          truth
	covariance [5][5]float64
	doubts     truth // 0: not in doubt
	bounded    bool  // what a sight that is far off may pull
}

// weigh finds the truth that fits the sights best, each weighed by its
// uncertainty against the doubts, and lays aside what cannot belong to it.
//
// The weighted least squares are solved by Gauss and Newton. A sight that is far
// off drags the others with it, so the first fit is one to which it hardly
// matters how far; then the worst are laid aside one at a time, and taken back
// if they fit after all.
func weigh(doubts truth, sights []sight) (fit, error) {
	f := fit{doubts: doubts, bounded: true}
	if err := f.solve(sights); err != nil {
		return f, err
	}
	for i := range sights {
		if err := f.judge(&sights[i]); err != nil {
			return f, err
		}
	}
	for i := range sights {
		sights[i].aside = math.Abs(sights[i].off) > suspectFrom
	}
	f.bounded = false
	for range 2 * len(sights) {
		if err := f.solve(sights); err != nil {
			return f, err
		}
		for i := range sights {
			if err := f.judge(&sights[i]); err != nil {
				return f, err
			}
		}
		if !replaced(sights) {
			return f, nil
		}
	}
	return f, nil
}

// replaced lays aside the worst sight that does not belong, else takes back the best
// that does; false where all are in their place.
func replaced(sights []sight) bool {
	worst, best := -1, -1
	for i, s := range sights {
		off := math.Abs(s.off)
		if !s.aside && off > suspectFrom && (worst < 0 || off > math.Abs(sights[worst].off)) {
			worst = i
		}
		if s.aside && off <= suspectFrom && (best < 0 || off < math.Abs(sights[best].off)) {
			best = i
		}
	}
	switch {
	case worst >= 0:
		sights[worst].aside = true
	case best >= 0:
		sights[best].aside = false
	}
	return worst >= 0 || best >= 0
}

// boundAt is from how many standard deviations on it hardly matters to a bounded
// fit how far off a sight is: Cauchy's distribution, with the width at which it
// is 95 % efficient where all noise is normal.
const boundAt = 2.385

// loss is what a sight adds to the misfit, and weight what it keeps of its pull.
func (f *fit) loss(r float64) float64 {
	if f.bounded {
		return boundAt * boundAt * math.Log1p(r*r/boundAt/boundAt)
	}
	return r * r
}

func (f *fit) weight(r float64) float64 {
	if f.bounded {
		return 1 / (1 + r*r/boundAt/boundAt)
	}
	return 1
}

// judge says by how many standard deviations a sight is off from what the others
// say: the residual of one that was used over σ·√(1−h), h its leverage, is what
// it would be off by had it not been used.
func (f *fit) judge(s *sight) error {
	shown, err := s.shows(f.x)
	if err != nil {
		return err
	}
	slope, err := f.slope(s.shows)
	if err != nil {
		return err
	}
	model := f.variance(slope)
	spread := s.u*s.u + model
	if !s.aside {
		spread = max(s.u*s.u-model, 1e-9*s.u*s.u)
	}
	s.off = (s.value - shown) / math.Sqrt(spread)
	return nil
}

// variance is that of a number with this slope in the truth.
func (f *fit) variance(slope truth) float64 {
	sum := 0.0
	for i := range slope {
		for j := range slope {
			sum += slope[i] * f.covariance[i][j] * slope[j]
		}
	}
	return max(0, sum)
}

// slope is how a number changes with the truth, by central differences.
func (f *fit) slope(shows func(truth) (float64, error)) (truth, error) {
	const h = 1e-4
	var slope truth
	for i, doubt := range f.doubts {
		if doubt == 0 {
			continue
		}
		up, down := f.x, f.x
		up[i] += h
		down[i] -= h
		a, noA := shows(up)
		b, noB := shows(down)
		if err := errors.Join(noA, noB); err != nil {
			return slope, err
		}
		slope[i] = (a - b) / (2 * h)
	}
	return slope, nil
}

// misfit is the weighted sum of squares that is to be least.
func (f *fit) misfit(x truth, sights []sight) (float64, error) {
	sum := 0.0
	for i, doubt := range f.doubts {
		if doubt > 0 {
			sum += x[i] * x[i] / doubt / doubt
		}
	}
	for _, s := range sights {
		if s.aside {
			continue
		}
		shown, err := s.shows(x)
		if err != nil {
			return 0, err
		}
		sum += f.loss((s.value - shown) / s.u)
	}
	return sum, nil
}

// solve looks for the least misfit, from the best of several drop volumes on:
// pour-offs leave more than one hollow.
func (f *fit) solve(sights []sight) error {
	least := math.Inf(1)
	for try := -1.5; try <= 1; try += 0.05 {
		x := truth{dropOff: try}
		if sum, err := f.misfit(x, sights); err == nil && sum < least {
			least, f.x = sum, x
		}
	}
	if math.IsInf(least, 1) {
		_, err := f.misfit(truth{}, sights)
		return errors.Join(numeric.ErrNoConvergence, err)
	}
	for range 60 {
		step, err := f.newton(sights)
		if err != nil {
			return err
		}
		size := 1.0
		for ; size > 1e-6; size /= 2 {
			x := f.x
			for i := range x {
				x[i] += size * step[i]
			}
			if sum, err := f.misfit(x, sights); err == nil && sum < least {
				least, f.x = sum, x
				break
			}
		}
		moved := 0.0
		for _, d := range step {
			moved = max(moved, math.Abs(d)*size)
		}
		if size <= 1e-6 || moved < 1e-9 {
			break
		}
	}
	_, err := f.newton(sights) // for the covariance at the end
	return err
}

// newton returns the step to where the squares are least if all is linear, and keeps the covariance.
func (f *fit) newton(sights []sight) (truth, error) {
	var normal [5][5]float64
	var right, step truth
	for i, doubt := range f.doubts {
		normal[i][i] = 1
		if doubt > 0 {
			normal[i][i] = 1 / doubt / doubt
			right[i] = -f.x[i] / doubt / doubt
		}
	}
	for _, s := range sights {
		if s.aside {
			continue
		}
		shown, noShow := s.shows(f.x)
		slope, noSlope := f.slope(s.shows)
		if err := errors.Join(noShow, noSlope); err != nil {
			return step, err
		}
		w := f.weight((s.value-shown)/s.u) / s.u / s.u
		for i := range slope {
			right[i] += w * slope[i] * (s.value - shown)
			for j := range slope {
				normal[i][j] += w * slope[i] * slope[j]
			}
		}
	}
	f.covariance = inverse(normal)
	for i, doubt := range f.doubts {
		if doubt == 0 {
			f.covariance[i][i] = 0
		}
		for j := range right {
			step[i] += f.covariance[i][j] * right[j]
		}
	}
	return step, nil
}

// inverse is that of a matrix that is symmetric and positive, by Gauss and Jordan.
func inverse(a [5][5]float64) [5][5]float64 {
	var b [5][5]float64
	for i := range b {
		b[i][i] = 1
	}
	for k := range a {
		p := a[k][k]
		for j := range a {
			a[k][j] /= p
			b[k][j] /= p
		}
		for i := range a {
			q := a[i][k]
			if i == k {
				continue
			}
			for j := range a {
				a[i][j] -= q * a[k][j]
				b[i][j] -= q * b[k][j]
			}
		}
	}
	return b
}
