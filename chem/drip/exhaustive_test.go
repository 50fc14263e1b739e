package drip

import (
	"math"
	"math/rand/v2"
)

// exhaustive looks for the least objective of a problem in another way than Solve: it
// carries out every order of settings and pour-offs forwards in time, with hours,
// flows and levels that evolve by themselves (differential evolution, Storn and Price
// 1997, from memory) and are then improved one and two at a time.
//
// It is written from the balance of salt and the words of Problem alone.
type exhaustive struct {
	p       Problem
	rng     *rand.Rand
	thrift  float64 // how many trials a single order gets, of the usual
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

// carryOut follows an order forwards and returns its objective, and by how much in
// all it breaks limits.
func (e *exhaustive) carryOut(word []byte, x []float64) (value, broken float64) {
	p := &e.p
	gap, mass, clock, water, flow := p.Gap, p.Mass, 0.0, 0.0, 0.0
	if p.Overflow != nil {
		mass = p.Overflow(gap)
	}
	states := make([][]float64, len(p.Constraints))
	for i, c := range p.Constraints {
		states[i] = c.Start
	}
	follow := func(of func(c *Constraint, next, state []float64) float64) {
		for i := range p.Constraints {
			next := make([]float64, len(states[i]))
			broken += max(0, -of(&p.Constraints[i], next, states[i]))
			states[i] = next
		}
	}
	acts := 2.0 // start and end
	for i := range len(word) + 1 {
		act := Act{Time: clock, Gap: gap, FromMass: mass, ToMass: mass, Set: i == 0}
		hours, slow, more := x[genes*i], x[genes*i+1], x[genes*i+2]
		if i > 0 {
			acts++
			w := word[i-1]
			act.Set, act.Close = w == 's' || w == 'b', w == 'c'
			if w == 'p' || w == 'b' {
				act.Pour = true
				least := max(p.LeastMass(gap), p.LeastFlow*gap/p.Rate.At(gap))
				if w == 'p' {
					least = max(least, flow*gap/p.Rate.At(gap))
				}
				mass = min(mass, least*math.Exp(max(0, more)))
				act.ToMass = mass
			}
		}
		fastest := min(p.MostFlow, mass*p.Rate.At(gap)/gap)
		if act.Set {
			flow = fastest * math.Exp(-max(0, slow))
			if flow = max(flow, p.LeastFlow); p.Countable != nil {
				below, above := p.Countable(flow)
				if flow = below; flow < p.LeastFlow {
					flow = above
				}
			}
		}
		if act.Close {
			flow = 0
		}
		broken += max(0, flow/fastest-1-1e-9)
		act.Flow = flow
		follow(func(c *Constraint, next, state []float64) float64 { return c.act(next, state, act) })
		leg := e.leg(gap, mass, flow, clock, e.once*math.Exp(hours), i, i == len(word))
		if leg.Flow != flow && leg.Flow > 0 {
			if !act.Set {
				broken += flow/leg.Flow - 1
			}
			flow = leg.Flow
		}
		if p.Overflow == nil {
			broken += max(0, leg.ToMass/p.MostMass(leg.ToGap)-1-1e-9)
		}
		broken += e.late(leg, i)
		follow(func(c *Constraint, next, state []float64) float64 { return c.leg(next, state, leg) })
		gap, mass, clock, water = leg.ToGap, leg.ToMass, leg.End(), water+leg.Flow*leg.Hours
	}
	broken += max(0, gap/p.Tolerance-1-1e-9)
	end := Act{Time: clock, Gap: gap, FromMass: mass, ToMass: mass, Close: true, End: true}
	follow(func(c *Constraint, next, state []float64) float64 { return c.act(next, state, end) })
	switch p.Objective {
	case Duration:
		return clock, broken
	case FewestVisits:
		return acts + 1e-3*clock, broken
	case LeastWater:
		return water + 1e-3*clock, broken
	}
	return clock + acts/4, broken
}

// leg drips for some hours, or less if the container is full before or the limit
// drops and forbids the flow beyond; the last one to the tolerance.
func (e *exhaustive) leg(gap, mass, flow, clock, hours float64, i int, last bool) Leg {
	p := &e.p
	l := Leg{Start: clock, FromGap: gap, FromMass: mass, Flow: flow, Overflow: p.Overflow != nil}
	if flow == 0 {
		l.Hours, l.ToGap, l.ToMass, l.Overflow = max(hours, e.apart(i)), gap, mass, false
		return l
	}
	to := p.Tolerance
	if !last {
		to = e.after(gap, mass, flow, max(hours, e.apart(i)))
		if full := gap * mass / p.MostMass(to); p.Overflow == nil && to < full {
			to = full
		}
	}
	for _, b := range p.Rate.Breaks {
		if b > gap || b <= to*(1+1e-9) {
			continue
		}
		at := mass * gap / b // the mass then
		if p.Overflow != nil {
			at = p.Overflow(b)
		}
		if most := at * p.Rate.At(b*(1-1e-9)) / b; flow > most*(1+1e-9) {
			if !last && b < gap {
				to = b
				break
			}
			if l.Flow = most; p.Countable != nil {
				l.Flow, _ = p.Countable(most)
			}
			flow = l.Flow
		}
	}
	l.ToGap = to
	e.time(&l)
	if last && l.Hours < e.apart(i) { // it may drip on
		l.Hours = e.apart(i)
	}
	for _, q := range p.Visits.Quiet {
		if last && l.End() > q[0] && l.End() < q[1] {
			l.Hours = q[1] - l.Start
		}
	}
	if l.ToGap = e.after(gap, mass, l.Flow, l.Hours); p.Overflow == nil {
		l.ToMass = mass + l.Flow*l.Hours
	} else {
		l.ToMass = p.Overflow(l.ToGap)
	}
	return l
}

func (e *exhaustive) apart(i int) float64 {
	if i == 0 {
		return max(e.spacing, e.p.Visits.First)
	}
	return max(e.spacing, e.p.Visits.Every)
}

// after is the gap after some hours of drip.
func (e *exhaustive) after(gap, mass, flow, hours float64) float64 {
	if e.p.Overflow == nil {
		return gap * mass / (mass + flow*hours)
	}
	const steps = 64 // by the midpoint of each
	for range steps {
		mid := gap * math.Exp(-flow*hours/steps/2/e.p.Overflow(gap))
		gap *= math.Exp(-flow * hours / steps / e.p.Overflow(mid))
	}
	return gap
}

// time is how long a leg takes to its gap.
func (e *exhaustive) time(l *Leg) {
	if e.p.Overflow == nil {
		l.Hours = l.FromMass * (l.FromGap/l.ToGap - 1) / l.Flow
		return
	}
	const steps = 64
	ratio := math.Log(l.FromGap / l.ToGap)
	l.Hours = 0
	for i := range steps {
		l.Hours += ratio / steps * e.p.Overflow(l.FromGap*math.Exp(-ratio*(float64(i)+0.5)/steps)) / l.Flow
	}
}

// late is by how much a leg ends too early or at a time when nobody comes.
func (e *exhaustive) late(l Leg, i int) float64 {
	broken := max(0, 1-l.Hours/e.apart(i)-1e-9)
	for _, q := range e.p.Visits.Quiet {
		if l.End() > q[0]+1e-9 && l.End() < q[1]-1e-9 {
			broken += min(l.End()-q[0], q[1]-l.End()) / (q[1] - q[0])
		}
	}
	return broken
}
