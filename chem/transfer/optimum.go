package transfer

import (
	"cmp"
	"math"
	"slices"

	"saltlock/chem/internal/numeric"
)

// ladder returns how the gap should fall, as logarithms of its ratio, in each
// of several stages of one fill that each start at the limit, so that all of
// them take the least time.
//
// A stage that takes the gap from g to g/ρ at the flow its start allows lasts
// g·(ρ−1)/rate. The sum has no slope in the gaps between when
// ρ' = (1+ρ²)/2 from each stage to the next; the first ρ then follows from the
// ratio of the whole.
func ladder(stages int, way float64) []float64 {
	rungs := make([]float64, stages)
	climb := func(first float64) float64 {
		total := 0.0
		for i := range rungs {
			rungs[i] = first
			total += first
			first = math.Log((1 + math.Exp(min(2*first, 600))) / 2) // kept finite
		}
		return total - way
	}
	if first, err := numeric.Root(climb, 0, way); err == nil {
		climb(first)
	}
	return rungs
}

// fewestPours returns where each fill ends, as ln(gap at the start/gap), if each goes
// up to the rim: between them lie the fewest pour-offs that reach the
// tolerance. It gives up after most pour-offs; the last entry then says how far
// they reach.
func (d *drip) fewestPours(most int) []float64 {
	var ends []float64
	deficit, gap := d.gap*d.mass, d.gap
	for range most + 1 {
		for range 20 { // mass at the rim hardly depends on the gap: this settles at once
			gap = deficit / d.mostMass(gap)
		}
		ends = append(ends, math.Log(d.gap/gap))
		if gap <= d.tolerance*(1+inside) {
			break
		}
		deficit = d.least(gap)
	}
	return ends
}

// patience bounds how many schedules are tried before the order of settings and
// pour-offs is left as it is: more than a handful of either can be ordered in
// more ways than are worth the wait, and there is little left to gain then.
//
// With visits, each schedule takes many times as long to try.
const (
	patience         = 40000
	patienceOnVisits = 4000
)

// spent tells that enough schedules were tried.
func (d *drip) spent() bool {
	if d.visits != nil {
		return d.tried > patienceOnVisits
	}
	return d.tried > patience
}

// hopeless is how much slower than the best another start may settle and still
// be improved on.
const hopeless = 1.05

// optimum returns the acts that close the gap soonest with the pour-offs
// between these fills, and how long that takes.
func (d *drip) optimum(fills []float64) ([]act, float64) {
	way := math.Log(d.gap / d.tolerance)
	if len(fills) == 1 {
		var acts []act
		at := 0.0
		for _, rung := range ladder(d.settings, way)[:d.settings-1] {
			at += rung
			acts = append(acts, act{way: at, set: true})
		}
		return d.settle(acts, coarse, d.finest())
	}
	var best []act
	least := math.Inf(1)
	d.tried = 0
	for _, start := range d.starts(fills, way) {
		acts, hours := d.settle(start, widest, coarse)
		if hours < least*hopeless && !d.quick {
			acts, hours = d.reordered(acts, hours, way)
		}
		if best == nil || hours < least {
			best, least = acts, hours
		}
	}
	return d.settle(best, coarse, d.finest())
}

// reordered improves on a schedule by sending settings of the valve elsewhere.
func (d *drip) reordered(best []act, least, way float64) ([]act, float64) {
	tried := map[string]bool{order(best): true}
	for improved := true; improved; {
		improved = false
		for _, acts := range neighbours(best, way) {
			if tried[order(acts)] || d.spent() {
				continue
			}
			tried[order(acts)] = true
			if acts, hours := d.settle(acts, widest, coarse); hours < least*(1-1e-4) {
				best, least, improved = acts, hours, true
				break
			}
		}
	}
	return best, least
}

// starts are schedules to begin the search with, for a schedule may be best in
// its neighbourhood and yet not the best: pour-offs as late and as early as the
// container allows, settings of the valve between them and along with them.
func (d *drip) starts(fills []float64, way float64) [][]act {
	last := len(fills) - 1
	late, early := fills[:last], make([]float64, last)
	for i := range early {
		early[i] = max(0, way-(fills[last]-fills[i])*(1-inside))
	}
	if d.quick {
		return [][]act{d.spread(late, way, false)}
	}
	var all [][]act
	for _, pours := range [][]float64{late, early} {
		for _, along := range []bool{false, true} {
			all = append(all, d.spread(pours, way, along))
		}
	}
	deep := d.spread(early, way, false)
	for i := range deep {
		if deep[i].pour {
			deep[i].keep = 0.4
		}
	}
	return append(all, deep)
}

// spread deals the settings of the valve out to pour-offs, along with them as
// far as they go, or between.
func (d *drip) spread(pours []float64, way float64, along bool) []act {
	var acts []act
	free := d.settings - 1
	for i := 0; i < len(pours) && along; i++ {
		acts = append(acts, act{way: pours[i], pour: true, set: free > 0})
		free = max(0, free-1)
	}
	from := 0.0
	for i := 0; i <= len(pours); i++ {
		to := way
		if i < len(pours) {
			to = pours[i]
			if !along {
				acts = append(acts, act{way: to, pour: true})
			}
		}
		n := (free + len(pours) - i) / (len(pours) + 1)
		for k := range n {
			acts = append(acts, act{way: from + (to-from)*float64(k+1)/float64(n+1), set: true})
		}
		from = to
	}
	slices.SortStableFunc(acts, func(a, b act) int { return cmp.Compare(a.way, b.way) })
	return acts
}

// neighbours returns the orders of acts in which one setting of the valve has
// gone elsewhere: alone between two others, or joined with a pour-off.
func neighbours(acts []act, way float64) [][]act {
	var all [][]act
	for i, a := range acts {
		if !a.set {
			continue
		}
		var rest []act
		if a.pour {
			rest = slices.Clone(acts)
			rest[i].set = false
		} else {
			rest = slices.Delete(slices.Clone(acts), i, i+1)
		}
		from := 0.0
		for k := 0; k <= len(rest); k++ {
			to := way
			if k < len(rest) {
				to = rest[k].way
			}
			all = append(all, slices.Insert(slices.Clone(rest), k, act{way: (from + to) / 2, set: true}))
			if k < len(rest) && !rest[k].set {
				joined := slices.Clone(rest)
				joined[k].set = true
				all = append(all, joined)
			}
			from = to
		}
	}
	return all
}

// order tells what is done after what, whenever.
func order(acts []act) string {
	kinds := make([]byte, len(acts))
	for i, a := range acts {
		switch {
		case a.set && a.pour:
			kinds[i] = 'b'
		case a.pour:
			kinds[i] = 'p'
		default:
			kinds[i] = 's'
		}
	}
	return string(kinds)
}
