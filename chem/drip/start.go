package drip

import "math"

// fills returns where each filling ends, as ln(gap at the start/gap), if each goes up
// to the rim and each pour-off as low as it may: between them lie the fewest
// pour-offs. It gives up after the most; the last entry then says how far they reach.
func (m *model) fills() []float64 {
	var ends []float64
	deficit, gap := m.deficit, m.Gap
	for range MostPourOffs + 1 {
		for range 20 { // the mass at the rim hardly depends on the gap: this settles at once
			gap = deficit / m.MostMass(gap)
		}
		ends = append(ends, math.Log(m.Gap/gap))
		if gap <= m.Tolerance*(1+near) {
			break
		}
		deficit = m.leastLeft(gap, m.Tolerance)
	}
	return ends
}

// dealt is an order with pour-offs at the ends of the given fills, which the
// settings are dealt out to, first along with the pour-offs, then between them; and
// the ways of its acts.
func (m *model) dealt(ends []float64, settings int) (o order, ways []float64) {
	last := len(ends) - 1
	free := settings - 1
	along := min(free, last)
	free -= along
	from := 0.0
	for i := 0; i <= last; i++ {
		to := m.way
		if i < last {
			to = ends[i]
		}
		n := (free + last - i) / (last + 1)
		rungs := ladder(n+1, to-from)
		for _, rung := range rungs[:n] {
			from += rung
			o, ways = append(o, set), append(ways, from)
		}
		if i == last {
			break
		}
		a := pour
		if i < along {
			a |= set
		}
		o, ways = append(o, a), append(ways, to)
		from = to
	}
	return o, ways
}

// begin fills in the unknowns of an order from the ways of its acts: the fastest
// flows that the limits leave, and pour-offs as low as those flows and the animals
// allow. It is not ok where the container or the valve cannot follow.
func (m *model) begin(l *layout, ways []float64, x []float64) (ok bool) {
	n := len(l.order)
	gap := func(i int) float64 { // at the start of leg i
		switch {
		case i == 0:
			return m.Gap
		case i > n:
			return m.Tolerance
		}
		return m.gapAt(ways[i-1])
	}
	rooms := make([]float64, n+1) // the most deficit of each leg
	rooms[n] = m.MostMass(m.Tolerance) * m.Tolerance
	for i := n - 1; i >= 0; i-- {
		rooms[i] = rooms[i+1]
		if l.order[i]&pour != 0 {
			rooms[i] = m.MostMass(gap(i+1)) * gap(i+1)
		}
	}
	for i, at := range ways {
		x[l.way[i]] = at
	}
	if end := l.way[n]; end >= 0 {
		x[end] = m.way
	}
	deficit, flow := m.deficit, 0.0
	for i := 0; i <= n; i++ {
		if i == 0 || l.order[i-1]&set != 0 {
			flow = min(m.MostFlow, deficit/m.needOver(gap(i), gap(i+1)))
			if i > 0 && l.order[i-1]&pour != 0 {
				deficit = min(deficit, rooms[i], m.leastLeft(gap(i), gap(i+1)))
				flow = min(m.MostFlow, deficit/m.needOver(gap(i), gap(i+1)))
			}
			for k := i + 1; k <= n && l.order[k-1]&set == 0; k++ {
				flow = min(flow, rooms[k]/m.needOver(gap(k), gap(k+1)))
			}
			if flow = max(flow, m.LeastFlow); m.Countable != nil {
				flow, _ = m.Countable(flow)
			}
			if !(flow >= m.LeastFlow*(1-near)) {
				return false
			}
		} else if l.order[i-1]&pour != 0 {
			deficit = min(deficit, rooms[i], max(m.LeastMass(gap(i))*gap(i), flow*m.needOver(gap(i), gap(i+1))))
		}
		if at := l.left[i]; at >= 0 {
			x[at] = math.Log(deficit)
		}
		x[l.flow[i]] = math.Log(flow)
		ok = deficit <= rooms[i]*(1+near) && flow*m.needOver(gap(i), gap(i+1)) <= deficit*(1+near)
		if !ok {
			return false
		}
	}
	return true
}

// ladder returns how the gap should fall, as logarithms of its ratio, in each
// of several legs of one fill that each start at an even limit, so that all of
// them take the least time.
//
// A leg that takes the gap from g to g/ρ at the flow that its start allows lasts
// g·(ρ−1)/rate. The sum has no slope in the gaps between when
// ρ' = (1+ρ²)/2 from each leg to the next; the first ρ then follows from the
// ratio of the whole, by halving, since the sum rises with it.
func ladder(legs int, way float64) []float64 {
	rungs := make([]float64, legs)
	lo, hi := 0.0, way
	for range 60 {
		first := (lo + hi) / 2
		total := 0.0
		for i := range rungs {
			rungs[i] = first
			total += first
			first = math.Log((1 + math.Exp(min(2*first, 600))) / 2) // kept finite
		}
		if total > way {
			hi = (lo + hi) / 2
		} else {
			lo = (lo + hi) / 2
		}
	}
	return rungs
}
