package drip

import (
	"math"
	"math/rand/v2"
)

// exhaustive looks for the least objective of a problem in a different way from Solve. It
// carries out every order of settings and pour-offs forwards in time, finds hours, flows
// and levels by differential evolution (Storn and Price 1997, from memory), and then
// improves them one and two at a time.
//
// It is written from the balance of salt and the definition of Problem alone.
type exhaustive struct {
	p       Problem
	rng     *rand.Rand
	thrift  float64 // trials of a single order, as a part of the full number
	words   [][]byte
	spacing float64
	once    float64 // h, with one setting
	best    float64
	bestOf  string
}

func newExhaustive(p Problem, seed uint64, thrift float64) *exhaustive {
	e := &exhaustive{p: p, rng: rand.New(rand.NewPCG(seed, 5)), thrift: thrift, spacing: p.Visits.Spacing, best: math.Inf(1)}
	if e.spacing == 0 {
		e.spacing = DefaultSpacing
	}
	e.once = p.Gap * p.Gap / p.Rate.At(p.Gap) * (1/p.Tolerance - 1/p.Gap)
	return e
}

// fewest is the number of pour-offs that the container forces: fill to the rim, pour
// down to the least, and so on.
func (e *exhaustive) fewest() int {
	if e.p.Overflow != nil {
		return 0
	}
	gap, mass := e.p.Gap, e.p.Mass
	for n := range MostPourOffs + 1 {
		deficit := gap * mass
		for range 30 {
			gap = deficit / e.p.MostMass(gap)
		}
		if gap <= e.p.Tolerance*(1+1e-9) {
			return n
		}
		mass = max(e.p.LeastMass(gap), e.p.LeastFlow*gap/e.p.Rate.At(gap))
	}
	return -1
}

// run tries every order.
func (e *exhaustive) run() float64 {
	if e.size(); e.fewest() < 0 {
		return e.best
	}
	for _, w := range e.words {
		e.order(w)
	}
	return e.best
}

// size spells all orders and counts them.
func (e *exhaustive) size() int {
	pours := min(e.fewest()+e.p.PourOffs, MostPourOffs)
	if e.p.Overflow != nil {
		pours = 0
	}
	e.words = nil
	e.spell(nil, e.p.Settings-1, pours, e.p.Visits.Quiet != nil)
	return len(e.words)
}

// spell collects all words of s (set), p (pour) and b (both), and, where the valve may be
// closed once, of c (close) before an s or b.
func (e *exhaustive) spell(word []byte, sets, pours int, closing bool) {
	closed := len(word) > 0 && word[len(word)-1] == 'c'
	if !closed {
		e.words = append(e.words, append([]byte{}, word...))
	}
	if sets > 0 {
		e.spell(append(word, 's'), sets-1, pours, closing)
	}
	if pours > 0 && !closed {
		e.spell(append(word, 'p'), sets, pours-1, closing)
	}
	if sets > 0 && pours > 0 {
		e.spell(append(word, 'b'), sets-1, pours-1, closing)
	}
	if closing && sets > 0 {
		e.spell(append(word, 'c'), sets, pours, false)
	}
}

// Each leg has three genes: hours, how much slower than the limit, how much more than
// the least is left. Those that an order does not use do nothing.
const genes = 3

// order evolves the numbers of one order. It is long so that the evolution can be read
// from top to bottom.
func (e *exhaustive) order(word []byte) {
	n := genes * (len(word) + 1)
	crowd := int(6*float64(n)*math.Sqrt(e.thrift)) + 8
	rounds := int(120 * math.Sqrt(e.thrift))
	all, merits := make([][]float64, crowd), make([]float64, crowd)
	for i := range all {
		all[i] = make([]float64, n)
		for k := range n {
			switch k % genes {
			case 0:
				all[i][k] = -3.5 * e.rng.Float64()
			case 1:
				all[i][k] = 1.5*e.rng.Float64() - 1
			case 2:
				all[i][k] = 2*e.rng.Float64() - 1
			}
		}
		merits[i] = e.merit(word, all[i])
	}
	trial := make([]float64, n)
	for range rounds {
		for i := range all {
			a, b := e.rng.IntN(crowd), e.rng.IntN(crowd)
			top := 0
			for range 3 { // towards one of the better ones
				if k := e.rng.IntN(crowd); merits[k] < merits[top] {
					top = k
				}
			}
			f := 0.4 + 0.5*e.rng.Float64()
			sure := e.rng.IntN(n)
			for k := range n {
				trial[k] = all[i][k]
				if k == sure || e.rng.Float64() < 0.8 {
					trial[k] += f*(all[top][k]-all[i][k]) + f*(all[a][k]-all[b][k])
				}
			}
			if m := e.merit(word, trial); m <= merits[i] {
				copy(all[i], trial)
				merits[i] = m
			}
		}
	}
	top := 0
	for i := range merits {
		if merits[i] < merits[top] {
			top = i
		}
	}
	if value := e.improve(word, all[top], merits[top]); value < e.best {
		e.best, e.bestOf = value, string(word)
	}
}

// improve moves genes one and two at a time by ever smaller steps; it returns +Inf for
// what breaks a limit.
func (e *exhaustive) improve(word []byte, x []float64, merit float64) float64 {
	for step := 0.2; step > 1e-6; step /= 2 {
		for improved := true; improved; {
			improved = false
			for i := range x {
				for j := range i + 1 {
					for _, by := range [][2]float64{{step, step}, {-step, -step}, {step, -step}, {-step, step}, {step, 0}, {-step, 0}} {
						xi, xj := x[i], x[j]
						x[i] += by[0]
						if j != i {
							x[j] += by[1]
						}
						if m := e.merit(word, x); m < merit*(1-1e-7) {
							merit, improved = m, true
						} else {
							x[i], x[j] = xi, xj
						}
					}
				}
			}
		}
	}
	value, broken := e.carryOut(word, x)
	if broken > 1e-9 {
		return math.Inf(1)
	}
	return value
}

func (e *exhaustive) merit(word []byte, x []float64) float64 {
	value, broken := e.carryOut(word, x)
	return value + 20*e.once*broken
}
