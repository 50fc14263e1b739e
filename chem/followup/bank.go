package followup

import (
	"cmp"
	"math"
	"slices"
)

// sighting is what was read or happened at one time, in plain numbers.
type sighting struct {
	entry    int
	hours    float64
	salinity reading // g/kg
	volume   reading // L
	drops    reading // drops/s
	bias     float64 // standard deviation of the instrument's error, which its readings share
	device   string  // the instrument; each has a bias of its own
	closes   bool    // the clamp, until the next leg
	touched  bool    // the clamp
	refilled bool    // jug or container
	renewed  bool    // the water, by clean water of the same salinity
	reset    bool    // the drip, which was counted since
	restarts bool    // starts again from what is read
}

// reading is one number with its standard uncertainty, which is 0 if it was not read.
type reading struct{ value, u float64 }

func (s sighting) reads() bool { return s.salinity.u > 0 || s.volume.u > 0 }

// Kind is what the log shows to have happened although nobody reported it.
type Kind string

// What can be found.
const (
	Slip            Kind = "slip"             // the valve lets in more than before
	Clog            Kind = "clog"             // or less
	Leak            Kind = "leak"             // the container loses water
	PouredOff       Kind = "poured_off"       // water was poured off that nobody logged
	FilledUp        Kind = "filled_up"        // water was filled up that nobody logged
	WrongInstrument Kind = "wrong_instrument" // the instrument has shown too much or too little since
	WrongTime       Kind = "wrong_time"       // the readings fit another time
	WrongSalinity   Kind = "wrong_salinity"   // the number fits nothing
	WrongVolume     Kind = "wrong_volume"
	WrongDrops      Kind = "wrong_drops"

	jumped    Kind = "jumped"    // a slip or a clog, which the flow will show
	freshened Kind = "freshened" // filled up, with fresh water
)

// found is a change that a hypothesis supposes.
type found struct {
	kind   Kind
	place  int     // among the sightings that read something
	since  float64 // h, of the sighting before
	until  float64 // h, of the sighting that shows it
	before float64 // kg/h for each planned drop/s, of a valve that jumped
	after  float64 // as a share of that, at the next sighting; or L of water that was moved
	held   float64 // kg that would be in the container otherwise
	set    int     // settings of the valve until then
}

// hypothesis is one explanation of everything that was read.
type hypothesis struct {
	gauss
	cursor
	weight float64 // logarithm
	trace  *record
	found  []found // never changed in place: hypotheses share it
	device string
	born   int // how many sightings had read something when it split off from another
}

// cursor is how far the keeper has got in the plan.
type cursor struct {
	at        float64 // h, up to which everything is followed
	leg, step int
	open      bool
	opens     float64 // h, when a wait ends
	ends      float64 // h, when a step that overflows ends
	settings  int     // of the valve so far
	drawn     float64 // kg from the source so far
	fills     int     // of the leg, started so far; a fill goes from one pour-off to the next
	filled    float64 // kg in the latest of them
	came      float64 // kg from the source since the step began
	ran       float64 // drops/s, the setting of the valve that ran last
	shut      bool    // the clamp, until another leg begins
	dry       bool    // the jug, so that nothing drips until somebody fills it
}

// record is how a hypothesis explains one sighting.
type record struct {
	before  *record
	hours   float64
	entry   int
	numbers []judgement
	bias    float64 // of the instrument, as a standard deviation
	dry     bool    // the jug was empty by then
	unread  bool    // so much was filled up that the salinity is not known
	added   float64 // L, of that
	renewed bool    // the keeper was told to change the water then
	salt    float64 // g/kg, after it
	uSalt   float64

	salinityTwice, volumeTwice bool // read again, and so believed
	behind                     bool // what was believed is further from the new water than it should be
}

// judgement is a number that was read, with what the hypothesis expected.
type judgement struct {
	what          string
	read          reading
	expected, off float64
	aside         bool
}

// most is how many hypotheses are kept, and worth how far below the best one they may be. Once
// a hypothesis has had as many readings as settled, it may only be as far below as faint.
const (
	most         = 12
	settled      = 3
	worth, faint = 9.0, 5.0 // logarithms
)

// bank is the hypotheses that are kept, the best first.
type bank struct {
	vesselModel
	legs  []Leg
	least float64 // L, of the first plan
	kept  []hypothesis
	read  int     // sightings that read something so far
	at    float64 // h, of the latest

	filled bool // jug or container, and nothing was read since

	next  []hypothesis // those of one sighting; scratch, as are ranks and ways
	ranks []int        // their order
	ways  []hypothesis // in which one may have come there

	latest  hypothesis   // the best at the latest sighting, before what was done then
	before  []hypothesis // all of them at that time
	closing *closing     // the container when the clamp was closed; nil if it is open
	fast    bool         // the drip at the latest, as somebody set it

	doubtedSalinity, doubtedVolume doubt // what was last asked to be read again
}

// follow takes one sighting into account.
func (b *bank) follow(s sighting) {
	if s.reads() {
		b.read++
	}
	if s.refilled && s.reads() {
		b.refilled(s)
	}
	if s.reset {
		b.reset(s)
	}
	b.next = b.next[:0]
	for _, h := range b.kept {
		b.branches(h, s)
	}
	b.best()
	for i := range b.kept {
		b.compare(&b.kept[i])
	}
	if s.restarts {
		b.restart(s)
	} else {
		b.believe(s)
	}
	if b.filled = b.filled || s.refilled; b.filled && s.volume.u > 0 && s.salinity.u == 0 {
		for i := range b.kept {
			b.unread(&b.kept[i])
		}
	}
	b.filled = b.filled && !s.reads()
	b.latest, b.before = b.kept[0], append(b.before[:0], b.kept...)
	b.keepClosing(s)
	for i := range b.kept {
		b.kept[i].happen(b, s)
	}
	b.answered(s)
	if b.doubts(s) {
		b.closed(s)
	}
	b.at = s.hours
}

// refilled allows for water that was filled up before a sighting, which its reading includes. Where
// there is less than would have dripped in, it was the jug that was filled.
func (b *bank) refilled(s sighting) {
	for i := range b.kept {
		h := &b.kept[i]
		dripped := h.x[mass] + h.x[inflow]*(s.hours-h.at)
		if s.volume.u == 0 || (s.volume.value+unlikely*s.volume.u)*b.density(b.salt(h.x)) > dripped {
			h.widen(filling(h.x))
		}
	}
}

// best keeps the best hypotheses after a sighting, the best first. It sorts their indexes,
// because each hypothesis takes half a kilobyte.
func (b *bank) best() {
	b.ranks = b.ranks[:0]
	for i := range b.next {
		b.ranks = append(b.ranks, i)
	}
	slices.SortStableFunc(b.ranks, func(x, y int) int { return cmp.Compare(b.next[y].weight, b.next[x].weight) })
	top := b.next[b.ranks[0]].weight
	b.kept = b.kept[:0]
	for _, i := range b.ranks {
		h := &b.next[i]
		h.weight -= top
		if h.weight < -worth || len(b.kept) == most {
			break
		}
		if b.read-h.born < settled || h.weight > -faint {
			b.kept = append(b.kept, *h)
		}
	}
}

// closed allows for the keeper closing the clamp, as asked, or not: the sooner the next reading
// comes, by the time since the one before, the less was done between.
func (b *bank) closed(s sighting) {
	open := math.Pow(1-closedAtOnce, b.part(s.hours))
	for i := range b.kept {
		h := b.kept[i]
		if !h.open {
			continue
		}
		b.kept[i].weight += math.Log(open)
		h.weight += math.Log(1 - open)
		h.shutClamp(b)
		h.born = b.read
		b.kept = append(b.kept, h)
	}
}

// answered lets the keeper do what the answer to a reading asks for where a mark is near:
// at once, or only at the mark; the sooner the next reading comes, the less was done between.
// After the last mark there is nothing to do but wait.
func (b *bank) answered(s sighting) {
	for i := range b.kept {
		h := b.kept[i]
		if n := h.leg + 1; n < len(b.legs) && b.legs[n].closes() <= s.hours+soon {
			continue // another plan applies from then on
		}
		if !s.reads() || !h.open || h.step+1 >= len(b.legs[h.leg].Steps) || b.toMark(&h) >= nearPour {
			continue
		}
		waits := math.Pow(1-actedAtOnce, b.part(s.hours))
		b.kept[i].weight += math.Log(waits)
		h.weight += math.Log(1 - waits)
		b.begin(&h, h.step+1)
		h.born = b.read
		b.kept = append(b.kept, h)
	}
}

// part is how much of the time has passed since the latest sighting in which a thing may
// happen as likely as not.
func (b *bank) part(hours float64) float64 { return min(1, max(soon, hours-b.at)/seldom) }

// restart begins again with what is read, whatever was done to the water since the stop.
func (b *bank) restart(s sighting) {
	h := &b.kept[0]
	volume := reading{s.volume.value, max(s.volume.u, startDoubt*s.volume.value)}
	if s.volume.u == 0 {
		volume.value = h.x[mass] / b.density(s.salinity.value)
	}
	b.place(h, reading{s.salinity.value, math.Hypot(s.salinity.u, s.bias)}, volume)
	if h.trace != nil {
		h.trace.salt, h.trace.uSalt, h.trace.dry = s.salinity.value, s.salinity.u, false
	}
}

// place keeps one hypothesis only, with the container at a salinity and a volume.
func (b *bank) place(h *hypothesis, sa, volume reading) {
	rho := b.density(sa.value)
	h.weight, h.x[mass] = 0, volume.value*rho
	h.x[missing] = b.lacking(h.x[mass], sa.value)
	for i := range states {
		for _, j := range []int{mass, missing, bias, leak} {
			h.p[i][j], h.p[j][i] = 0, 0
		}
	}
	h.x[bias], h.x[leak] = 0, 0
	u := volume.u * rho
	h.widen(vector{mass: u, missing: b.lacking(u, sa.value)})
	h.widen(vector{missing: h.x[mass] * sa.u})
	b.kept = b.kept[:1]
}
