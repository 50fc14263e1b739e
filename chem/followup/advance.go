package followup

import "math"

// How likely it is that somebody set the valve at a mark, or poured off water, without
// logging anything.
const (
	actedUnlogged  = 0.65
	pouredUnlogged = 0.2
	actedAtOnce    = 0.8 // where a mark is near when something is read
	pouredEarly    = 0.3 // where it is near
	closedAtOnce   = 0.97
	ranDry         = 0.4 // if nobody came to a jug, that it held no more than planned
)

// attendance is whether somebody comes to do what the plan asks for.
type attendance int

const (
	acting attendance = iota // somebody does it all
	absent                   // nobody, and the drip runs on
	dry                      // nobody, and it ends with the jug
)

// arrivals returns the ways in which a hypothesis may reach the time of a sighting: with
// every act carried out at its mark; with none, because nobody was there, so that the jug
// may have run dry; and, near a pour-off, with that done before the reading. The next call overwrites them.
func (b *bank) arrivals(from hypothesis, s sighting) []hypothesis {
	all := append(b.ways[:0], from)
	if passed := b.advance(&all[0], s.hours, acting); passed {
		idle := from
		b.advance(&idle, s.hours, absent)
		emptied := from
		b.advance(&emptied, s.hours, dry)
		acted := actedUnlogged
		if all[0].fills > from.fills {
			acted = pouredUnlogged
		}
		all[0].weight += math.Log(acted)
		idle.weight += math.Log(1 - acted)
		emptied.weight += math.Log(1 - acted)
		if emptied.dry {
			idle.weight += math.Log(1 - ranDry)
			emptied.weight += math.Log(ranDry)
			all = append(all, emptied)
		}
		all = append(all, idle)
		for i := range all {
			all[i].born = b.read
		}
	}
	for i := range all {
		h := all[i]
		if steps := b.legs[h.leg].Steps; h.open && h.step+1 < len(steps) && steps[h.step+1].PourTo > 0 && b.toMark(&h) < nearPour {
			early := pouredEarly * b.part(s.hours)
			all[i].weight += math.Log(1 - early)
			h.weight += math.Log(early)
			b.begin(&h, h.step+1)
			h.born = b.read
			all = append(all, h)
		}
	}
	b.ways = all
	return all
}

// advance follows the plan up to a time, and reports whether anything was to be done by then.
func (b *bank) advance(h *hypothesis, to float64, who attendance) (passed bool) {
	for h.at < to-soon {
		b.renew(h)
		end := to
		if n := h.leg + 1; n < len(b.legs) {
			end = min(end, b.legs[n].closes())
		}
		steps := b.legs[h.leg].Steps
		switch {
		case h.step >= len(steps):
			h.at = end
		case !h.open && who != acting && h.opens <= end: // nobody opens the valve
			passed = true
			h.at, h.opens = end, end
		case !h.open:
			if h.at = min(end, h.opens); h.at == h.opens {
				b.open(h)
				passed = passed || b.legs[h.leg].Held > 0
			}
		default:
			passed = b.runStep(h, end, who) || passed
		}
	}
	return passed
}

// runStep runs the present step up to a time, or to its mark or to an empty jug if that comes
// first. It reports whether one of these came.
func (b *bank) runStep(h *hypothesis, end float64, who attendance) (passed bool) {
	mark, empty := b.toMark(h), b.toEmpty(h)
	passed = min(mark, empty) <= end-h.at
	switch {
	case h.dry:
		h.at = end
	case who == dry && empty <= end-h.at:
		b.run(h, empty)
		h.at, h.dry = h.at+empty, true
	case who != acting || mark > end-h.at:
		b.run(h, end-h.at)
		h.at = end
	default:
		b.run(h, mark)
		h.at += mark
		before := h.gauss
		b.begin(h, h.step+1)
		b.crossed(h, before)
	}
	return passed
}

// crossed updates the covariance when a mark is reached and the next step starts. The amount
// of water before decides when the mark is reached, and so how long the next step has run.
// This is the saltation matrix of a system that switches at a surface.
func (b *bank) crossed(h *hypothesis, before gauss) {
	net := before.x[inflow] - before.x[leak]
	if net <= 0 {
		return
	}
	freshens := func(x vector) float64 { return -x[missing] * x[leak] / x[mass] }
	later, lost := -h.x[leak], freshens(before.x)
	if h.open {
		later += h.x[inflow]
	}
	xi := matrix{}
	for i := range states {
		xi[i][i] = 1
	}
	share := min(1, h.x[mass]/before.x[mass]) // that was not poured off
	xi[mass][mass] = later / net
	xi[missing][missing], xi[missing][mass] = share, (freshens(h.x)-share*lost)/net
	noise := 0.0
	if set := b.legs[h.leg].Steps; h.open && set[h.step].Set {
		k := set[h.step].Drip * b.perDrop
		xi[inflow][inflow], xi[inflow][dropSize] = 0, k
		noise = setting * setting * h.x[inflow] * h.x[inflow]
	}
	h.p = xi.times(before.p).times(xi.transposed())
	h.p[inflow][inflow] += noise
	mark := vector{mass: pouring * h.x[mass]}
	if share < 1 {
		mark[missing] = pouring * h.x[missing]
	}
	h.widen(mark)
}

// renew starts the leg that has replaced the one before by now.
func (b *bank) renew(h *hypothesis) {
	for n := h.leg + 1; n < len(b.legs) && b.legs[n].closes() <= h.at+soon; n++ {
		h.leg, h.fills, h.filled = n, 0, 0
		b.begin(h, 0)
	}
}

// run leaves the valve open for a number of hours.
func (b *bank) run(h *hypothesis, hours float64) {
	came := h.x[inflow] * hours
	h.drip(&b.vesselModel, hours)
	h.drawn += came
	h.filled += came
	h.came += came
}

// toEmpty is how many hours the jug takes to run dry; +Inf if there is no jug.
func (b *bank) toEmpty(h *hypothesis) float64 {
	jug := b.legs[h.leg].Steps[h.step].Jug
	if len(jug) == 0 || h.x[inflow] <= 0 {
		return math.Inf(1)
	}
	held := 0.0
	for _, litres := range jug {
		held += litres * b.density(b.in)
		if held > h.came+emptied {
			break
		}
	}
	return max(0, held-h.came) / h.x[inflow]
}

// emptied is how much may be left in a jug when it is refilled, kg.
const emptied = 0.01

// toMark is how many hours the present step takes to its mark; never negative.
func (b *bank) toMark(h *hypothesis) float64 {
	s := b.legs[h.leg].Steps[h.step]
	if s.For > 0 {
		return max(0, h.ends-h.at)
	}
	net := h.x[inflow] - h.x[leak]
	left := s.Until*b.density(b.salt(h.x)) - h.x[mass]
	switch {
	case left <= 0:
		return 0
	case net <= 0:
		return math.Inf(1)
	}
	return left / net
}

// begin starts a step of the present leg: first its wait, with the valve closed.
func (b *bank) begin(h *hypothesis, step int) {
	steps := b.legs[h.leg].Steps
	h.step, h.open, h.opens = step, false, math.Inf(1)
	h.came, h.dry, h.shut = 0, false, false
	if step >= len(steps) {
		return
	}
	wait := steps[step].Wait
	if step == 0 {
		wait += b.legs[h.leg].Held
	}
	if h.opens = h.at + wait; wait <= 0 {
		b.open(h)
	}
}

// open pours off and sets the valve, which is how a step starts.
func (b *bank) open(h *hypothesis) {
	s := b.legs[h.leg].Steps[h.step]
	h.ran = s.Drip
	if h.open = true; s.PourTo > 0 {
		h.pour(&b.vesselModel, s.PourTo)
	}
	if h.fills == 0 || s.PourTo > 0 {
		h.fills, h.filled = h.fills+1, 0
	}
	if s.Set || h.x[inflow] == 0 {
		h.settings++
		h.set(&b.vesselModel, s.Drip)
	}
	h.ends = h.at + s.For
}

// take weighs every number of a sighting, except one that is set aside. It returns by how
// many standard deviations they were off, squared and summed.
func (b *bank) take(h *hypothesis, s sighting, aside Kind) (squares float64) {
	r := &record{before: h.trace, hours: s.hours, entry: s.entry, bias: s.bias, dry: h.dry}
	weigh := func(what string, shows func(vector) number, read reading, left bool) {
		of, before := shows(h.x), h.x[mass]
		j := judgement{what: what, read: read, expected: of.shown, aside: left}
		if j.off = (read.value - of.shown) / math.Hypot(read.u, math.Sqrt(h.variance(of.slope))); !left {
			h.weight += h.gauss.read(&b.vesselModel, shows, read.value, read.u)
			squares += j.off * j.off
			h.drawn += h.x[mass] - before
			h.filled += h.x[mass] - before
			h.came += h.x[mass] - before
		}
		r.numbers = append(r.numbers, j)
	}
	if s.salinity.u > 0 {
		if h.device != s.device || h.trace == nil || h.p[bias][bias] == 0 {
			h.instrument(s)
		}
		weigh("salinity", b.salinityOf, s.salinity, aside == WrongSalinity)
	}
	if s.volume.u > 0 {
		weigh("volume", b.volumeOf, s.volume, aside == WrongVolume)
	}
	if s.drops.u > 0 {
		shows := b.dropsOf
		if h.dry || !h.open {
			shows = func(vector) number { return number{} }
		}
		weigh("drops", shows, s.drops, aside == WrongDrops)
	}
	r.salt, r.uSalt = b.salt(h.x), h.saltU(&b.vesselModel)
	if s.salinity.u == 0 && r.before != nil && r.before.unread {
		r.unread, r.salt = true, r.before.salt
	}
	h.trace = r
	return squares
}

// instrument starts with an instrument of unknown bias.
func (h *hypothesis) instrument(s sighting) {
	h.device, h.x[bias] = s.device, 0
	for j := range states {
		h.p[bias][j], h.p[j][bias] = 0, 0
	}
	h.p[bias][bias] = s.bias * s.bias
}
