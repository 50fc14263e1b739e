package followup

import (
	"math"
	"slices"
)

// chances are how likely it is, as logarithms, that something is wrong with one reading, or
// has happened since the one before, where that is seldom or longer ago; and spreads how
// widely a number that is wrong may lie.
var (
	chances = map[Kind]float64{
		jumped: math.Log(1. / 15), PouredOff: math.Log(1. / 100), FilledUp: math.Log(1. / 150), freshened: math.Log(1. / 600), Leak: math.Log(1. / 1000),
		WrongInstrument: math.Log(1. / 400), WrongTime: math.Log(1. / 250),
		WrongSalinity: math.Log(1. / 80), WrongVolume: math.Log(1. / 80), WrongDrops: math.Log(1. / 1000),
	}
	spreads = map[Kind]float64{WrongSalinity: -math.Log(45.), WrongVolume: -math.Log(25.), WrongDrops: -math.Log(20.)} // g/kg, L, drops/s
)

// seldom is the time between two readings, h, below which as much less happens.
const seldom = 0.25

// surprise is from how many standard deviations on, squared and summed over so many numbers,
// other explanations than none are tried: what nine readings of ten stay below.
var surprise = [...]float64{0, 2.7, 4.6, 6.3}

// branches adds the hypotheses that one may become with a sighting.
func (b *bank) branches(from hypothesis, s sighting) {
	if len(b.legs) == 0 || !s.reads() && s.drops.u == 0 {
		if len(b.legs) > 0 {
			b.next = append(b.next, b.arrivals(from, s)...)
		}
		return
	}
	least := math.Inf(1)
	for _, h := range b.arrivals(from, s) {
		if squares := b.take(&h, s, ""); h.fills == from.fills { // if something was poured off, a clog looks alike
			least = min(least, squares)
		}
		b.next = append(b.next, h)
	}
	if least < surprise[s.numbers()] {
		return
	}
	top := math.Inf(-1)
	for i := range b.next {
		top = max(top, b.next[i].weight)
	}
	var greatest [len(faults)]float64
	for i, fault := range faults {
		greatest[i] = s.greatest(fault)
	}
	for _, change := range []Kind{"", jumped, Leak, PouredOff, FilledUp, freshened} {
		for _, h := range b.changed(from, s, change) {
			for i, fault := range faults {
				if fault == "" && change == "" || h.weight+greatest[i] < top-worth {
					continue // done above, or useless however well it fits
				}
				if other := h; b.misread(&other, s, fault, from) && b.fits(&other, h, change) {
					top = max(top, other.weight)
					b.next = append(b.next, other)
				}
			}
		}
	}
}

// faults are what may be wrong with a reading.
var faults = [...]Kind{"", WrongInstrument, WrongTime, WrongSalinity, WrongVolume, WrongDrops}

// numbers is how many numbers a sighting has.
func (s sighting) numbers() (n int) {
	for _, r := range []reading{s.salinity, s.volume, s.drops} {
		if r.u > 0 {
			n++
		}
	}
	return n
}

// greatest is the logarithm of the likelihood of a sighting whose numbers all fit, except one
// that is set aside.
func (s sighting) greatest(aside Kind) float64 {
	sum := 0.0
	if aside != "" {
		sum = chances[aside] + spreads[aside]
	}
	for _, n := range []struct {
		read reading
		kind Kind
	}{{s.salinity, WrongSalinity}, {s.volume, WrongVolume}, {s.drops, WrongDrops}} {
		if n.read.u > 0 && n.kind != aside {
			sum -= math.Log(math.Sqrt(2*math.Pi) * n.read.u)
		}
	}
	return sum
}

// changed returns what a hypothesis may become if, since the sighting before, the valve
// jumped, the container leaked, or water was poured off or filled up.
func (b *bank) changed(from hypothesis, s sighting, kind Kind) []hypothesis {
	b.renew(&from) // a valve that is set now can only jump later
	before := from
	q := max(from.x[inflow], 0.05*b.perDrop)
	switch kind {
	case jumped:
		from.widen(vector{inflow: 1.2 * q})
	case Leak:
		from.widen(vector{leak: 0.8 * q})
	}
	all := b.arrivals(from, s)
	for i := range all {
		h := &all[i]
		switch kind {
		case jumped: // at an unknown time between the two sightings
			h.widen(vector{inflow: q})
		case PouredOff:
			h.widen(vector{mass: moved * h.x[mass], missing: moved * h.x[missing]})
		case FilledUp:
			h.widen(filling(h.x))
		case freshened:
			h.widen(vector{mass: moved * h.x[mass], missing: b.lacking(moved*h.x[mass], 0)})
		}
		if kind != "" {
			h.weight += chances[kind] + math.Log(b.part(s.hours))
			x := b.foundOf(kind, before, s)
			x.held = all[i].x[mass]
			h.note(x)
		}
	}
	return all
}

// fits reports whether the readings point in the direction of a change, and not the other way.
func (b *bank) fits(h *hypothesis, before hypothesis, change Kind) bool {
	switch change {
	case PouredOff:
		h.drawn, h.filled, h.came = before.drawn, before.filled, before.came
		return h.x[mass] < before.x[mass]
	case FilledUp, freshened:
		h.drawn, h.filled, h.came = before.drawn, before.filled, before.came
		return h.x[mass] > before.x[mass]
	}
	return true
}

// misread takes the numbers of a sighting as they would come about by a fault of the
// instrument, the clock or one number; false where the sighting has none such.
func (b *bank) misread(h *hypothesis, s sighting, fault Kind, from hypothesis) bool {
	switch {
	case (fault == WrongInstrument || fault == WrongSalinity) && s.salinity.u == 0,
		(fault == WrongTime || fault == WrongVolume) && s.volume.u == 0,
		fault == WrongTime && s.salinity.u == 0,
		fault == WrongDrops && s.drops.u == 0:
		return false
	}
	switch fault {
	case WrongInstrument:
		h.widen(vector{bias: 4})
	case WrongTime:
		kept := h.gauss
		x := b.after(h.x, 1)
		h.widen(vector{mass: x[mass] - h.x[mass]})
		till := h.cursor
		b.take(h, s, "")
		h.gauss, h.cursor = kept, till
		h.trace.salt, h.trace.uSalt = b.salt(h.x), h.saltU(&b.vesselModel)
		h.weight += chances[fault]
		h.note(b.foundOf(fault, from, s))
		return true
	}
	b.take(h, s, fault)
	h.weight += chances[fault] + spreads[fault] // none without a fault
	switch fault {
	case "":
	case WrongInstrument:
		h.note(b.foundOf(fault, from, s))
	default: // one number, which the trace sets aside
		h.born = b.read
	}
	return true
}

// foundOf is a change between a hypothesis and a sighting.
func (b *bank) foundOf(kind Kind, from hypothesis, s sighting) found {
	x := found{kind: kind, place: b.read, since: from.at, until: s.hours, set: from.settings}
	if told := b.toldDrip(&from); told > 0 {
		x.before = from.x[inflow] / told
	}
	return x
}

// toldDrip is the planned setting that is running; 0 if none is.
func (b *bank) toldDrip(h *hypothesis) float64 {
	if steps := b.legs[h.leg].Steps; h.open && h.step < len(steps) {
		return steps[h.step].Drip
	}
	return 0
}

// compare records how much was poured off or filled up, and how much a valve that jumped has
// let in since, at this sighting and, unless it was set in between, at the next.
func (b *bank) compare(h *hypothesis) {
	told := b.toldDrip(h)
	for i, x := range h.found {
		if (x.kind == PouredOff || x.kind == FilledUp || x.kind == freshened) && x.place == b.read {
			h.found = slices.Clone(h.found)
			h.found[i].after = math.Abs(h.x[mass]-x.held) / b.density(b.salt(h.x))
		}
		if x.kind == jumped && told > 0 && x.before > 0 && (x.place == b.read || x.place == b.read-1 && x.set == h.settings) {
			h.found = slices.Clone(h.found)
			h.found[i].after = max(1e-3, h.x[inflow]/told/x.before)
		}
	}
}

// mostFound is how many changes a hypothesis remembers, the latest ones, so that each reading of
// a long log costs the same.
const mostFound = 20

// note adds a change that a hypothesis supposes.
func (h *hypothesis) note(f found) {
	h.found, h.born = append(slices.Clip(h.found[max(0, len(h.found)+1-mostFound):]), f), f.place
}
