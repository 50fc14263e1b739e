package followup

import (
	"math"
	"slices"
)

// sighting is what was read or happened at one time, on plain numbers.
type sighting struct {
	entry    int
	hours    float64
	salinity reading // g/kg
	volume   reading // L
	drops    reading // drops/s
	bias     float64 // standard deviation of what the instrument shows too much; what its readings share
	device   string  // the instrument; another has another bias
	closes   bool    // the clamp, until the next leg
	touched  bool    // the clamp
	refilled bool    // jug or container
}

// reading is one number read, with its standard uncertainty; 0 where it was not read.
type reading struct{ value, u float64 }

func (s sighting) reads() bool { return s.salinity.u > 0 || s.volume.u > 0 }

// Kind is what a log shows to have happened, though nobody reported it.
type Kind string

// What can be found.
const (
	Slip            Kind = "slip"             // the valve lets in more than before
	Clog            Kind = "clog"             // or less
	Leak            Kind = "leak"             // the container loses water
	PouredOff       Kind = "poured_off"       // water was poured off that nobody logged
	FilledUp        Kind = "filled_up"        // water was filled up that nobody logged
	WrongInstrument Kind = "wrong_instrument" // the instrument shows too much or too little since
	WrongTime       Kind = "wrong_time"       // what was read fits another time
	WrongSalinity   Kind = "wrong_salinity"   // a number that fits nothing
	WrongVolume     Kind = "wrong_volume"
	WrongDrops      Kind = "wrong_drops"

	jumped Kind = "jumped" // a slip or a clog, as the flow turns out to be
)

// found is a change that a hypothesis supposes.
type found struct {
	kind   Kind
	place  int     // among the sightings that read something
	since  float64 // h, of the sighting before
	until  float64 // h, of the sighting that shows it
	before float64 // kg/h for each drop/s that the keeper was told, of a valve that jumped
	after  float64 // as a share of that, at the next sighting
	set    int     // settings of the valve until then
}

// hypothesis is one way in which all that was read could have come about.
type hypothesis struct {
	gauss
	cursor
	weight float64 // logarithm
	trace  *record
	found  []found // never changed in place: hypotheses share it
	device string
}

// cursor is how far the keeper has got in what was told.
type cursor struct {
	at        float64 // h, up to which all is followed
	leg, step int
	open      bool
	opens     float64 // h, when a wait ends
	ends      float64 // h, when a step that runs over ends
	settings  int     // of the valve so far
	drawn     float64 // kg from the source so far
	fills     int     // of the leg, begun so far; a fill goes from one pour-off to the next
	filled    float64 // kg in the latest of them
}

// record is what a hypothesis made of one sighting.
type record struct {
	before  *record
	hours   float64
	entry   int
	numbers []judgement
	salt    float64 // g/kg, after it
	uSalt   float64
}

// judgement is a number that was read, and what the hypothesis expected.
type judgement struct {
	what          string
	read          reading
	expected, off float64
	aside         bool
}

// most is how many hypotheses are kept, and worth how far below the best one they may be.
const (
	most  = 12
	worth = 9.0 // logarithm
)

// bank is all hypotheses that are kept, the best first.
type bank struct {
	vesselModel
	legs []Leg
	kept []hypothesis
	read int // sightings that read something so far

	latest hypothesis   // the best one at the latest sighting, before what was done then
	before []hypothesis // all of them then
}

// follow takes one sighting into account.
func (b *bank) follow(s sighting) {
	var next []hypothesis
	if s.reads() {
		b.read++
	}
	for _, h := range b.kept {
		next = append(next, b.branches(h, s)...)
	}
	slices.SortStableFunc(next, func(x, y hypothesis) int {
		switch {
		case x.weight > y.weight:
			return -1
		case x.weight < y.weight:
			return 1
		}
		return 0
	})
	best := next[0].weight
	end := 0
	for end < len(next) && end < most && next[end].weight > best-worth {
		next[end].weight -= best
		end++
	}
	b.kept = slices.Clone(next[:end])
	for i := range b.kept {
		b.compare(&b.kept[i])
	}
	b.latest, b.before = b.kept[0], slices.Clone(b.kept)
	for i := range b.kept {
		b.kept[i].happen(b, s)
	}
}

// happen lets happen what was reported with a sighting, and what the keeper was told to
// do when it was logged.
func (h *hypothesis) happen(b *bank, s sighting) {
	q := max(h.x[inflow], 0.1*b.perDrop)
	if s.touched {
		h.widen(vector{inflow: q})
	}
	if s.refilled {
		h.widen(b.filling(h.x))
		h.widen(vector{inflow: 0.3 * q})
	}
	if s.closes {
		h.step, h.open, h.opens = len(b.legs[h.leg].Steps), false, math.Inf(1)
	}
	if n := h.leg + 1; n < len(b.legs) && b.legs[n].closes() <= s.hours+soon {
		return // another plan is in force from then
	}
	if s.reads() && h.open && b.toMark(h) < nearPour {
		b.begin(h, h.step+1)
	}
}

// filling is the direction in which new water that is filled up moves a state.
func (m *vesselModel) filling(x vector) vector {
	const share = 0.35
	return vector{mass: share * x[mass], salt: share * (m.in - x[salt])}
}

// How likely it is, as logarithms, that at one reading something has happened or is
// wrong, and how widely a number that is wrong may lie.
var (
	chanceOfJump = math.Log(1. / 60)
	chanceOfRest = math.Log(1. / 150)
	chanceOfSlip = math.Log(1. / 80) // of pen or eye
	spreadOfSalt = -math.Log(45.)    // g/kg
	spreadOfFill = -math.Log(25.)    // L
	spreadOfDrip = -math.Log(20.)    // drops/s
)

// surprise is from how many standard deviations on, squared and summed, other
// explanations than none are tried.
const surprise = 3.0

// branches returns what one hypothesis may become with a sighting.
func (b *bank) branches(from hypothesis, s sighting) []hypothesis {
	if len(b.legs) == 0 || !s.reads() && s.drops.u == 0 {
		h := from
		b.advance(&h, s.hours, true)
		return []hypothesis{h}
	}
	var all []hypothesis
	least := math.Inf(1)
	for _, h := range b.arrivals(from, s) {
		calm := h
		squares := b.take(&calm, s, "")
		least = min(least, squares)
		all = append(all, calm)
		if squares < surprise {
			continue
		}
		for _, kind := range []Kind{PouredOff, FilledUp, WrongInstrument, WrongTime, WrongSalinity, WrongVolume, WrongDrops} {
			if other := h; b.suppose(&other, s, kind, from) {
				all = append(all, other)
			}
		}
	}
	if least < surprise {
		return all
	}
	for _, kind := range []Kind{jumped, Leak} {
		all = append(all, b.changed(from, s, kind)...)
	}
	return all
}

// changed returns what a hypothesis may become if since the sighting before the valve
// jumped or the container leaks.
func (b *bank) changed(from hypothesis, s sighting, kind Kind) []hypothesis {
	q := max(from.x[inflow], 0.05*b.perDrop)
	since := b.foundOf(kind, from, s)
	along, chance := vector{inflow: 1.2 * q}, chanceOfJump
	if kind == Leak {
		along, chance = vector{leak: 0.8 * q}, chanceOfRest
	}
	from.widen(along)
	all := b.arrivals(from, s)
	for i := range all {
		h := &all[i]
		b.take(h, s, "")
		h.weight += chance
		if kind == jumped {
			h.widen(vector{inflow: 0.4 * h.x[inflow]}) // at an unknown time between the two sightings
		}
		h.note(since)
	}
	return all
}

// foundOf is a change that comes between a hypothesis and a sighting.
func (b *bank) foundOf(kind Kind, from hypothesis, s sighting) found {
	x := found{kind: kind, place: b.read, since: from.at, until: s.hours, set: from.settings}
	if told := b.toldDrip(&from); told > 0 {
		x.before = from.x[inflow] / told
	}
	return x
}

// toldDrip is the setting that runs; 0 where none does.
func (b *bank) toldDrip(h *hypothesis) float64 {
	if steps := b.legs[h.leg].Steps; h.open && h.step < len(steps) {
		return steps[h.step].Drip
	}
	return 0
}

// compare notes how a valve that jumped ran since, at this sighting and, unless it was
// set in between, at the next.
func (b *bank) compare(h *hypothesis) {
	told := b.toldDrip(h)
	for i, x := range h.found {
		if x.kind == jumped && told > 0 && x.before > 0 && (x.place == b.read || x.place == b.read-1 && x.set == h.settings) {
			h.found = slices.Clone(h.found)
			h.found[i].after = max(1e-3, h.x[inflow]/told/x.before)
		}
	}
}

// note adds what a hypothesis supposes.
func (h *hypothesis) note(f found) { h.found = append(slices.Clip(h.found), f) }

// suppose takes a sighting as one that something else explains; false where that
// could not.
func (b *bank) suppose(h *hypothesis, s sighting, kind Kind, from hypothesis) bool {
	chance, drawn, filled := chanceOfRest, h.drawn, h.filled
	switch kind {
	case PouredOff:
		h.widen(vector{mass: 0.35 * h.x[mass]})
		before := h.x[mass]
		if b.take(h, s, ""); h.x[mass] > before {
			return false
		}
	case FilledUp:
		h.widen(b.filling(h.x))
		before := h.x[mass]
		if b.take(h, s, ""); h.x[mass] < before {
			return false
		}
	case WrongInstrument:
		if s.salinity.u == 0 {
			return false
		}
		h.widen(vector{bias: 4})
		b.take(h, s, "")
	case WrongTime:
		if s.salinity.u == 0 || s.volume.u == 0 {
			return false
		}
		kept := h.gauss
		x := b.after(h.x, 1)
		h.widen(vector{mass: 2 * (x[mass] - h.x[mass]), salt: 2 * (x[salt] - h.x[salt])})
		b.take(h, s, "")
		h.gauss = kept
	case WrongSalinity:
		if chance = chanceOfSlip; s.salinity.u == 0 {
			return false
		}
		b.take(h, s, kind)
		h.weight += spreadOfSalt
	case WrongVolume:
		if chance = chanceOfSlip; s.volume.u == 0 {
			return false
		}
		b.take(h, s, kind)
		h.weight += spreadOfFill
	case WrongDrops:
		if chance = chanceOfSlip; s.drops.u == 0 {
			return false
		}
		b.take(h, s, kind)
		h.weight += spreadOfDrip
	}
	if kind == PouredOff || kind == WrongTime {
		h.drawn, h.filled = drawn, filled
	}
	h.weight += chance
	h.note(b.foundOf(kind, from, s))
	return true
}
