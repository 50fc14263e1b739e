package transfer

import (
	"math"
	"slices"
)

// runsOver tells whether the container has an overflow, so that nothing is poured off.
func (t *task) runsOver() bool {
	o := t.request.Container.Overflow
	return o != nil && *o
}

// held is water that an overflow keeps at one volume, in L. While new water
// enters, d(gap)/gap = −inflow/mass, so the gap falls exponentially.
type held struct {
	volume  float64
	gap     float64                    // at the start of the drip
	density func(left float64) float64 // kg/L, by the share of the gap that is left
}

func (h *held) mass(gap float64) float64 { return h.volume * h.density(gap/h.gap) }

// Nodes and weights of the three-point rule of Gauss and Legendre on [−1, 1].
var (
	gaussNodes   = [3]float64{-math.Sqrt(0.6), 0, math.Sqrt(0.6)}
	gaussWeights = [3]float64{5. / 9, 8. / 9, 5. / 9}
)

// panel is how much of the gap's logarithm one application of the rule spans:
// the mass changes by a few per cent at the most all the way.
const panel = 0.5

// inflow is the mass of new water that takes the gap from one value to another:
// the integral of mass over the gap's logarithm.
func (h *held) inflow(from, to float64) float64 {
	way := math.Log(from / to)
	n := max(1, math.Ceil(way/panel))
	half, sum := way/n/2, 0.0
	for i := range int(n) {
		mid := (2*float64(i) + 1) * half
		for k, x := range gaussNodes {
			sum += gaussWeights[k] * half * h.mass(from*math.Exp(-mid-half*x))
		}
	}
	return sum
}

// after is the gap that is left once so much new water has come in.
func (h *held) after(from, inflow float64) float64 {
	way := inflow / h.mass(from)
	for range 6 { // of Newton: the mass hardly changes, so each gains three digits
		gap := from * math.Exp(-way)
		way += (inflow - h.inflow(from, gap)) / h.mass(gap)
	}
	return from * math.Exp(-way)
}

// overflow is the problem of closing a gap with an overflow.
type overflow struct {
	drip
	held *held
}

// most is the fastest flow from one gap to another that limit and valve allow.
func (o *overflow) most(from, to float64) float64 {
	flow := min(o.mostFlow, o.speed.at(from)*o.held.mass(from)/from)
	for _, b := range o.speed.breaks {
		if o.speed.passed(b, from, to) {
			flow = min(flow, o.speed.at(b*(1-inside))*o.held.mass(b)/b)
		}
	}
	if o.countable != nil {
		flow = o.countable(flow)
	}
	return flow
}

// stages are those between the gaps at which the valve is set, given as
// ln(gap at the start/gap then).
func (o *overflow) stages(ways []float64) []stage {
	list, from := make([]stage, 0, len(ways)+1), o.gap
	for i := range len(ways) + 1 {
		to := o.tolerance
		if i < len(ways) {
			to = o.gap * math.Exp(-ways[i])
		}
		list = append(list, stage{from: from, to: to, flow: o.most(from, to), set: true, held: o.held})
		from = to
	}
	return list
}

// hours is how long they take; +Inf where the valve cannot drip so slowly.
func (o *overflow) hours(ways []float64) float64 {
	if o.ended() != nil {
		return math.Inf(1)
	}
	total := 0.0
	for _, s := range o.stages(ways) {
		if s.flow < o.leastFlow*(1-inside) {
			return math.Inf(1)
		}
		total += s.hours()
	}
	return total
}

// exponentials returns how the gap should fall, as logarithms of its ratio, in
// each of several stages that each start at an even limit, with an even mass.
//
// A stage that takes the gap from g to g/ρ lasts (g/rate)·ln ρ. The sum has no
// slope in the gaps between when ρ' = exp(ρ−1) from each stage to the next; the
// first ρ then follows from the ratio of the whole.
func exponentials(stages int, way float64) []float64 {
	rungs := make([]float64, stages)
	climb := func(first float64) float64 {
		total := 0.0
		for i := range rungs {
			rungs[i] = first
			total += first
			first = math.Exp(min(first, 50)) - 1 // kept finite
		}
		return total - way
	}
	lo, hi := 0.0, way
	for range 80 { // by halves: it rises steeply
		if mid := (lo + hi) / 2; climb(mid) > 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	climb(lo)
	return rungs
}

// soonest returns when to set the valve so that the gap is closed soonest. It
// sets out from where an even limit would have it, and where the limit or the
// valve bends that, from the best on a grid of gaps.
func (o *overflow) soonest() ([]float64, float64) {
	way := math.Log(o.gap / o.tolerance)
	at := 0.0
	var ladder []float64
	for _, rung := range exponentials(o.settings, way)[:o.settings-1] {
		at += rung
		ladder = append(ladder, at)
	}
	best, least := o.settle(ladder, way)
	if ways, hours := o.settle(o.onGrid(way), way); hours < least {
		return ways, hours
	}
	return best, least
}

// gridSteps is how many steps the grid has, the breaks of the limit apart.
const gridSteps = 64

// onGrid returns the best schedule that sets the valve at the gaps of a grid
// alone: the best way to each gap with one setting more is the best to some gap
// before it, and one stage.
func (o *overflow) onGrid(way float64) []float64 {
	at := o.grid(way)
	hours := make([]float64, len(at)) // to each gap, so far with one setting
	from := make([][]int, o.settings) // the gap before it, by the number of settings
	for j := range at {
		hours[j] = o.stageHours(0, at[j])
	}
	for k := 1; k < o.settings; k++ {
		from[k] = make([]int, len(at))
		for j := len(at) - 1; j > 0; j-- {
			from[k][j] = j           // one setting more does not help
			for i := 1; i < j; i++ { // hours[i] is still that of one setting less
				if h := hours[i] + o.stageHours(at[i], at[j]); h < hours[j] {
					hours[j], from[k][j] = h, i
				}
			}
		}
	}
	ways := make([]float64, o.settings-1)
	j := len(at) - 1
	for k := o.settings - 1; k > 0; k-- {
		j = from[k][j]
		ways[k-1] = at[j]
	}
	slices.Sort(ways)
	return ways
}

// grid is where the valve may be set, as ln(gap at the start/gap then).
func (o *overflow) grid(way float64) []float64 {
	var at []float64
	for i := range gridSteps + 1 {
		at = append(at, way*float64(i)/gridSteps)
	}
	for _, b := range o.speed.breaks {
		if b < o.gap && b > o.tolerance {
			at = append(at, math.Log(o.gap/b))
		}
	}
	slices.Sort(at)
	return at
}

// stageHours is how long one stage takes; +Inf where the valve cannot drip so slowly.
func (o *overflow) stageHours(from, to float64) float64 {
	s := stage{from: o.gap * math.Exp(-from), to: o.gap * math.Exp(-to), held: o.held}
	if s.flow = o.most(s.from, s.to); s.flow < o.leastFlow*(1-inside) {
		return math.Inf(1)
	}
	return s.hours()
}

// settle moves the settings to where they save time, by ever smaller steps.
func (o *overflow) settle(ways []float64, way float64) ([]float64, float64) {
	best, least := slices.Clone(ways), o.hours(ways)
	trial := slices.Clone(ways)
	for step := widest; step > finest; step /= 3 {
		for improved := true; improved; {
			improved = false
			for i := range best {
				for _, by := range []float64{step, -step} {
					copy(trial, best)
					trial[i] = min(max(trial[i]+by, 0), way)
					slices.Sort(trial)
					if hours := o.hours(trial); hours < least*(1-1e-9) {
						best, trial, least, improved = trial, best, hours, true
					}
				}
			}
		}
	}
	return best, least
}

// solveOverflow finds the schedule; nil, with faults, if there is none.
func (t *task) solveOverflow(v vat) (*solved, error) {
	d, err := t.problem(v)
	if err != nil {
		return nil, err
	}
	rho, err := t.densities()
	if err != nil {
		return nil, err
	}
	if v.visits != nil {
		t.refuse("visits", noteOf("no_visits_with_overflow"))
		return nil, nil
	}
	if t.tolerance == 0 {
		t.refuse("tolerance", noteOf("overflow_never_ends", salinity(t.rules.atOnce/2)))
		return nil, nil
	}
	o := &overflow{*d, &held{v.start, t.gap, rho}}
	o.mostFlow = math.Inf(1)
	if excess := o.leastFlow / o.most(t.gap, t.tolerance); excess > 1+inside {
		t.tooFast(v, excess)
		return nil, nil
	}
	o.mostFlow = d.mostFlow
	ideal, exact := o.soonest()
	if err := t.ended(); err != nil {
		return nil, err
	}
	s := &solved{drip: d, ideal: joined(o.stages(ideal)), exact: exact}
	o.countable = v.settable
	counted, _ := o.settle(ideal, math.Log(t.gap/t.tolerance))
	if err := t.ended(); err != nil {
		return nil, err
	}
	s.stages = joined(o.stages(counted))
	for _, stage := range s.stages { // as the phases count it, to the last digit
		s.rounded += stage.hours()
	}
	s.exact = min(exact, s.rounded)
	return s, nil
}

// kind is what happens in a stage.
func (s stage) kind() PhaseKind {
	if s.held != nil {
		return RunOver
	}
	return Fill
}
