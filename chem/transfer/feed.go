package transfer

import (
	"math"

	"saltlock/chem/quantity"
)

// Feed is what a drip runs from.
type Feed string

// The feeds.
const (
	FromJug  Feed = "jug"  // filled with one charge at a time, so that a stuck valve can do little
	FromTank Feed = "tank" // by a hose that hangs in it
)

// Charge is one filling of the jug that a drip runs from: so little that all of it at
// once changes the salinity by no more than one step may.
type Charge struct {
	Time   quantity.Estimate[quantity.Duration]         `json:"time"` // when it is filled; then it is empty
	Volume quantity.Estimate[quantity.Volume]           `json:"volume"`
	Change quantity.Estimate[quantity.AbsoluteSalinity] `json:"change"` // if all of it runs in at once
}

// mostCharge is the most to lift at once, L, and mostCharges how often at the most a
// jug is filled in one drip. Proposed here.
const (
	mostCharge  = 10
	mostCharges = 50
)

// fromTank tells whether the request speaks of a hose that hangs in the tank.
func (r Request) fromTank() bool {
	if r.Feed != nil {
		return *r.Feed == FromTank
	}
	return r.SourceTank != nil && r.SourceTank.Surface != nil || r.Line != nil && (r.Line.Head != nil || r.Line.IntakeDepth != nil)
}

// feed says what the drip runs from, and with which charges.
func (t *task) feed(d *Draw, s *solved, v vat) {
	d.Feed = FromTank
	if t.request.fromTank() {
		return
	}
	var charges []Charge
	for _, r := range runsOf(s.legs) {
		charges = append(charges, t.charges(r, v)...)
		if len(charges) <= mostCharges {
			continue
		}
		if t.request.Feed != nil {
			t.refuse("feed", noteOf("too_many_charges", mostCharges), feedTo(FromTank))
		}
		return
	}
	d.Feed, d.Charges = FromJug, charges
}

// run is a stretch of drip between two pour-offs.
type run struct {
	legs  []leg
	start float64 // h
}

func runsOf(legs []leg) []run {
	var runs []run
	at := 0.0
	for i, l := range legs {
		if i == 0 || l.pour {
			runs = append(runs, run{start: at})
		}
		r := &runs[len(runs)-1]
		r.legs = append(r.legs, l)
		at += l.whole()
	}
	return runs
}

// drawn is the mass of new water that the run takes.
func (r run) drawn() float64 {
	sum := 0.0
	for _, l := range r.legs {
		sum += l.flow * l.hours()
	}
	return sum
}

// at is the time, the gap and the leg once so much new water has come in.
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

// charges divides what a run takes: into as few charges as the limit at once and what
// a person lifts allow, each the same part of the most that it could be.
func (t *task) charges(r run, v vat) []Charge {
	all, lift := r.drawn(), mostCharge/v.drop*v.dropMass
	if bucket := t.request.Container.WasteCapacity; t.runsOver() && bucket != nil {
		lift = min(lift, float64(bucket.Value)*(1-usualFreeboard)/v.drop*v.dropMass) // emptied at each refill, it takes all that a stuck valve lets out
	}
	most := func(drawn float64) float64 {
		_, gap, l := r.at(drawn)
		return min(lift, l.step(gap, t.rules.atOnce))
	}
	n := 0
	for drawn := 0.0; drawn < all*(1-inside) && n <= mostCharges; n++ {
		drawn += most(drawn)
	}
	lo, hi := 0.0, 1.0
	for range 50 {
		part, drawn := (lo+hi)/2, 0.0
		for range n {
			drawn += part * most(min(drawn, all))
		}
		if drawn < all {
			lo = part
		} else {
			hi = part
		}
	}
	var list []Charge
	drawn := 0.0
	for i := range n {
		mass := min(hi*most(drawn), all-drawn)
		if i == n-1 {
			mass = all - drawn
		}
		at, gap, l := r.at(drawn)
		list = append(list, Charge{Time: hours(at), Volume: litres(v.volume(mass)), Change: salinity(gap - l.left(gap, mass))})
		drawn += mass
	}
	return list
}

// step is the mass of new water that closes the gap by a step; without end where the
// gap is no more than that.
func (s leg) step(gap, step float64) float64 {
	switch {
	case gap <= step:
		return math.Inf(1)
	case s.held != nil:
		return s.held.inflow(gap, gap-step)
	}
	return s.mass(gap) * step / (gap - step)
}

// left is the gap that a mass of new water leaves of one within the leg.
func (s leg) left(gap, mass float64) float64 {
	if s.held != nil {
		return s.held.after(gap, mass)
	}
	return s.deficit / (s.mass(gap) + mass)
}

// lookAtJug adds a look at each refill, or where the keeper comes at times of their own
// warns of it.
func (t *task) lookAtJug(p *Plan, s *solved, v vat) error {
	if p.Draw.Feed != FromJug {
		return nil
	}
	code := quantity.Code("look_at_refill")
	if t.runsOver() && t.request.Container.WasteCapacity != nil {
		code = "look_at_refill_and_waste"
	}
	for _, r := range runsOf(s.legs) {
		drawn := 0.0
		for i, c := range t.charges(r, v) {
			at, gap, l := r.at(drawn)
			drawn += float64(c.Volume.Value) / v.drop * v.dropMass
			if i == 0 {
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
