package drip

import "math"

// Schedule is what a keeper does, and how it drips in between.
type Schedule struct {
	Legs []Leg // in order of time, each from the end of the one before
	// Acts has one act before each leg, the first being the start of the drip, and one
	// at the end.
	Acts []Act

	Hours     float64 // until the drip ends
	Water     float64 // new water, kg
	Visits    int     // acts, including the start and the end, and refills of the jug between them
	Settings  int     // of the valve, including the first
	PourOffs  int
	Objective float64 // the problem's objective

	// Ideal is the best schedule if every flow could be counted. It is nil if the problem
	// allows every flow anyway.
	Ideal *Schedule

	Evaluations int // schedules tried
	// Complete is false if the budget ended the search, or if there were too many orders
	// to look at all of them.
	Complete bool
}

// schedule turns the solution of a node into a schedule, without acts that change nothing.
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

// slight is the least relative change that counts as a pour-off or a setting.
const slight = 1e-5
