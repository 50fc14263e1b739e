package transfer

import (
	"errors"

	"saltlock/chem/hydraulics"
	"saltlock/chem/quantity"
)

// Drift is how a drip changes over a phase in which nobody touches the valve.
type Drift struct {
	Time      quantity.Estimate[quantity.Duration] `json:"time"` // of the phase's start
	Head      quantity.Estimate[quantity.Length]   `json:"head"` // at that time
	HeadAtEnd quantity.Estimate[quantity.Length]   `json:"head_at_end"`
	// Shares of the drip as the valve was last set.
	AtStart       quantity.Estimate[quantity.Fraction] `json:"at_start"` // the greatest possible
	LeastAtEnd    quantity.Estimate[quantity.Fraction] `json:"least_at_end"`
	GreatestAtEnd quantity.Estimate[quantity.Fraction] `json:"greatest_at_end"`
}

// How much a drip must change before a plan says so: one slower by no more is within what counting
// loses (countable); a faster one is not within the limits. Proposed here.
const (
	toldSlower = 0.05
	toldFaster = 0.01
)

// drifts returns how the drip changes over each leg; none if no level moves.
func (t *task) drifts(legs []leg, heads []heads) ([]Drift, error) {
	var list []Drift
	at, set, moves := 0.0, 0.0, false
	var slowest, fastest *Drift
	for i, s := range legs {
		h := heads[i]
		if s.set {
			set = h.start
		}
		start, noStart := hydraulics.Drift(quantity.Length(set), quantity.Length(h.start))
		end, noEnd := hydraulics.Drift(quantity.Length(set), quantity.Length(h.end))
		if err := errors.Join(noStart, noEnd); err != nil {
			return nil, err
		}
		list = append(list, Drift{Time: hours(at + s.wait), Head: centimetres(h.start), HeadAtEnd: centimetres(h.end),
			AtStart: quantity.Exactly(start.Hi), LeastAtEnd: quantity.Exactly(end.Lo), GreatestAtEnd: quantity.Exactly(end.Hi)})
		d := &list[i]
		if slowest == nil || d.LeastAtEnd.Value < slowest.LeastAtEnd.Value {
			slowest = new(*d)
			slowest.Time = hours(at + s.whole())
		}
		if fastest == nil || d.AtStart.Value > fastest.AtStart.Value {
			fastest = new(*d)
		}
		at += s.whole()
		moves = moves || h.start != h.end
	}
	if !moves {
		return nil, nil
	}
	if slowest.LeastAtEnd.Value < 1-toldSlower {
		t.warn(noteOf("drip_slows", slowest.LeastAtEnd, slowest.GreatestAtEnd, slowest.Time))
	}
	if fastest.AtStart.Value > 1+toldFaster {
		t.warn(noteOf("drip_quickens", fastest.AtStart, fastest.Time))
	}
	return list, nil
}
