package transfer

import (
	"math"

	"saltlock/chem/quantity"
)

// Feed is what feeds a drip.
type Feed string

// The feeds.
const (
	FromJug  Feed = "jug"  // filled with one charge at a time, so that a stuck valve can do little harm
	FromTank Feed = "tank" // by a hose that hangs in it
)

// Charge is one filling of the jug that feeds a drip, so small that all of it at once changes the
// salinity by no more than one step may.
type Charge struct {
	Time   quantity.Estimate[quantity.Duration]         `json:"time"` // when to fill the jug, which is empty by then
	Volume quantity.Estimate[quantity.Volume]           `json:"volume"`
	Change quantity.Estimate[quantity.AbsoluteSalinity] `json:"change"` // if all of it runs in at once
}

// mostCharge is the most to lift at once, L, and mostCharges how often a jug is filled in one drip
// at most. Proposed here.
const (
	mostCharge  = 10
	mostCharges = 50
)

// fromTank reports whether the request describes a hose that hangs in the tank.
func (r Request) fromTank() bool {
	if r.Feed != nil {
		return *r.Feed == FromTank
	}
	return r.SourceTank != nil && r.SourceTank.Surface != nil || r.Line != nil && (r.Line.Head != nil || r.Line.IntakeDepth != nil)
}

// feed says what feeds the drip, and with which charges.
func (t *task) feed(d *Draw, s *solved, v vat) {
	d.Feed = FromTank
	if t.request.fromTank() {
		return
	}
	var charges []Charge
	for _, r := range s.runs() {
		charges = append(charges, r.charges(v)...)
	}
	if len(charges) <= mostCharges {
		d.Feed, d.Charges = FromJug, charges
	} else if t.request.Feed != nil {
		t.refuse("feed", noteOf("too_many_charges", mostCharges), feedTo(FromTank))
	}
}

// filling is the least gap to which one filling of the jug can bring a gap: so much new water that
// all of it at once is no more than one step, and no more than a person lifts. It is nil if a tank
// feeds the drip.
func (t *task) filling(v vat, h *held) func(gap, mass float64) float64 {
	if t.request.fromTank() {
		return nil
	}
	lift := mostCharge / v.drop * v.dropMass
	if bucket := t.request.Container.WasteCapacity; t.runsOver() && bucket != nil {
		lift = min(lift, float64(bucket.Value)*(1-usualFreeboard)/v.drop*v.dropMass) // emptied at each refill, it holds all that a stuck valve lets out
	}
	step := t.rules.atOnce
	return func(gap, mass float64) float64 {
		if h != nil {
			return max(gap-step, h.after(gap, lift), 0)
		}
		return max(gap-step, gap*mass/(mass+lift), 0)
	}
}

// refills is how often someone comes between the acts of a drip: to refill the jug, or to empty
// the bucket under an overflow that a tank feeds.
func (t *task) refills(s *solved) int {
	if t.request.fromTank() {
		return t.emptyings(s)
	}
	runs := s.runs()
	n := 0
	for _, r := range runs {
		n += r.fillings
	}
	if n > mostCharges && t.request.Feed == nil {
		return t.emptyings(s) // a tank feeds it
	}
	return n - len(runs)
}

// run is a stretch of drip between two pour-offs, or between two refills of the jug that coincide
// with a setting of the valve.
type run struct {
	legs     []leg
	start    float64 // h
	filling  func(gap, mass float64) float64
	fillings int
}

// runs are the stretches of a drip. A leg joins the one before if that saves a filling.
func (s *solved) runs() []run {
	var runs []run
	at := 0.0
	for i, l := range s.legs {
		alone := run{legs: s.legs[i : i+1], start: at, filling: s.problem.filling}
		alone.fillings = alone.count()
		if n := len(runs) - 1; n >= 0 && !l.pour {
			joined := runs[n]
			joined.legs = s.legs[i-len(joined.legs) : i+1]
			if joined.fillings == joined.count() {
				runs[n] = joined
				at += l.whole()
				continue
			}
		}
		runs = append(runs, alone)
		at += l.whole()
	}
	return runs
}

// count is how often the jug is filled for a run.
func (r run) count() int {
	n := 1
	if r.filling == nil {
		return n
	}
	first, end := r.legs[0], r.legs[len(r.legs)-1].to
	for gap := r.filling(first.from, first.start()); gap > end*(1+inside) && n <= mostCharges; n++ {
		gap = r.filling(gap, first.mass(gap))
	}
	return n
}

// drawn is the mass of new water that the run takes.
func (r run) drawn() float64 {
	sum := 0.0
	for _, l := range r.legs {
		sum += l.flow * l.hours()
	}
	return sum
}

// at is the time, the gap and the leg when so much new water has come in.
func (r run) at(mass float64) (hours, gap float64, now leg) {
	hours = r.start
	for i, l := range r.legs {
		hours += l.wait
		takes := l.flow * l.hours()
		if mass < takes*(1-inside) || i == len(r.legs)-1 {
			h := math.Min(mass/l.flow, l.hours())
			return hours + h, l.gapAfter(h), l
		}
		mass -= takes
		hours += l.hours()
	}
	return hours, 0, leg{}
}

// charges divides what a run takes into as few charges as possible, each of which changes the
// salinity by the same share of the most that it could.
func (r run) charges(v vat) []Charge {
	first, end := r.legs[0], r.legs[len(r.legs)-1].to
	next := func(gap, part float64) float64 { return gap - part*(gap-r.filling(gap, first.mass(gap))) }
	lo, hi := 0.0, 1.0
	for range 50 {
		part, gap := (lo+hi)/2, first.from
		for range r.fillings {
			gap = next(gap, part)
		}
		if gap > end {
			lo = part
		} else {
			hi = part
		}
	}
	var list []Charge
	drawn, gap := 0.0, first.from
	for i := range r.fillings {
		to := next(gap, hi)
		if i == r.fillings-1 {
			to = end
		}
		mass := first.inflow(gap, to)
		at, _, _ := r.at(drawn)
		list = append(list, Charge{Time: hours(at), Volume: litres(v.volume(mass)), Change: salinity(gap - to)})
		drawn, gap = drawn+mass, to
	}
	return list
}

// lookAtJug adds a look at each refill or, if the keeper comes at times of their own, warns of it.
func (t *task) lookAtJug(p *Plan, s *solved, v vat) error {
	if p.Draw.Feed != FromJug {
		return nil
	}
	code := quantity.Code("look_at_refill")
	if t.runsOver() && t.request.Container.WasteCapacity != nil {
		code = "look_at_refill_and_waste"
	}
	for n, r := range s.runs() {
		drawn := 0.0
		for i, c := range r.charges(v) {
			at, gap, l := r.at(drawn)
			drawn += float64(c.Volume.Value) / v.drop * v.dropMass
			if i == 0 && (n == 0 || code == "look_at_refill") { // someone is there for an act
				continue
			}
			if t.visits != nil {
				t.warn(noteOf("refill_between_visits"))
				return nil
			}
			if err := t.inContainer(&p.Checkpoints, at, code, l, gap); err != nil {
				return err
			}
		}
	}
	p.inOrder()
	return nil
}
