package drip

import "math"

// Schedule is what a keeper does, and what the drip does between.
type Schedule struct {
	Legs []Leg // in order of time, without a gap
	// Acts has one act before each leg, the start of the drip being the first, and
	// one at the end of the last.
	Acts []Act

	Hours     float64 // until the drip ends
	Water     float64 // new water, kg
	Visits    int     // acts, the start and the end included, and refills of the jug between them
	Settings  int     // of the valve, the first included
	PourOffs  int
	Objective float64 // as the problem asks for it

	// Ideal is the schedule without regard to which flows can be counted.
	// It is nil where every flow can be set.
	Ideal *Schedule

	Evaluations int // schedules tried
	// Complete is false where the budget ended the search, or there were too many orders
	// to look at all of them.
	Complete bool
}

// schedule is what a node stands for, without acts that change nothing.
func (s *search) schedule(n *node) Schedule {
	legs := s.legs(n)
	out := Schedule{}
	for i, l := range legs {
		a := s.actBefore(legs, i)
		if last := len(out.Legs) - 1; last >= 0 {
			before := &out.Legs[last]
			a.Pour = a.ToMass < a.FromMass*(1-slight)
			a.Set = l.Flow > 0 && math.Abs(before.Flow/l.Flow-1) > slight
			if !a.Pour && !a.Set && !a.Close {
				before.Hours, before.ToGap, before.ToMass = before.Hours+l.Hours, l.ToGap, l.ToMass
				continue
			}
		}
		out.Legs, out.Acts = append(out.Legs, l), append(out.Acts, a)
		if a.Set {
			out.Settings++
		}
		if a.Pour {
			out.PourOffs++
		}
	}
	out.Acts = append(out.Acts, s.actBefore(legs, len(legs)))
	out.Hours, out.Water = legs[len(legs)-1].End(), s.water(legs)
	out.Visits, out.Objective = len(out.Acts)+s.refillsOf(out.Legs), s.trueValue(out.Legs)
	return out
}

// slight is what a pour-off or a setting must change at least, as a part, to be one.
const slight = 1e-5
