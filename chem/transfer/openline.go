package transfer

import (
	"errors"
	"math"

	"saltlock/chem/hydraulics"
	"saltlock/chem/quantity"
)

// OpenLine is what runs through the line if its valve fails or is left open.
type OpenLine struct {
	Flow   quantity.Estimate[quantity.Flow] `json:"flow"` // under the greatest head of the plan
	Regime hydraulics.Regime                `json:"regime"`
	// Both are nil if the source runs empty, or falls too low, before the container is full.
	TimeToRim      *quantity.Estimate[quantity.Duration] `json:"time_to_rim,omitempty"`       // from the start volume
	LeastTimeToRim *quantity.Estimate[quantity.Duration] `json:"least_time_to_rim,omitempty"` // from the greatest volume of the plan
}

// openLine returns what an open line does, and refuses a drip that it cannot pass.
func (t *task) openLine(legs []leg, heads []heads, v vat, draw Draw) (*OpenLine, error) {
	greatest, fullest := 0.0, 0.0
	for i, s := range legs {
		volume, _, err := t.volume(s, s.to)
		if err != nil {
			return nil, err
		}
		greatest, fullest = max(greatest, heads[i].start), max(fullest, volume)
	}
	flow, regime, err := t.openFlow(quantity.Of[quantity.Length](greatest, float64(t.request.Line.Head.U)))
	if err := errors.Join(err, t.checkPasses(legs, heads, v)); err != nil {
		return nil, err
	}
	open := &OpenLine{Flow: flow, Regime: regime}
	if draw.Feed == FromJug {
		return open, nil // a jug is empty before the container is full
	}
	if fills, err := t.fillsToRim(v); err != nil || !fills {
		t.warn(noteOf("open_line_evens_out", open.Flow))
		return open, err
	}
	after := func(volume float64) *quantity.Estimate[quantity.Duration] {
		h := (v.capacity - volume) * 1000 / float64(flow.Value) / 60
		return new(quantity.Of[quantity.Duration](h, h*float64(flow.U/flow.Value)))
	}
	open.TimeToRim, open.LeastTimeToRim = after(v.start), after(fullest)
	if len(draw.Intakes) > 0 { // at this depth the siphon breaks first
		t.warn(noteOf("open_line_stops_in_time", open.Flow, *open.TimeToRim, *open.LeastTimeToRim))
	} else {
		t.warn(noteOf("open_line_fills", open.Flow, *open.TimeToRim, *open.LeastTimeToRim))
	}
	return open, nil
}

// fillsToRim reports whether a valve that fails at the start can fill the container to the rim. If
// not, it never can: from then on water only leaves source and container, or moves from one to the
// other.
func (t *task) fillsToRim(v vat) (bool, error) {
	room, risen := v.capacity-v.start, 0.0
	if t.submerged() && t.shaped() {
		first, err := t.request.Container.level(v.start)
		if err != nil {
			return false, err
		}
		risen = float64(t.request.Container.Height.Value - first.Value)
	}
	source := t.request.SourceTank
	return t.headAfter(room, risen) > 0 && (source == nil || float64(source.Volume.Value) > room), nil
}

// run is what runs through a line of the request.
func (t *task) run(bore, length, head quantity.Length) (hydraulics.Stream, error) {
	return hydraulics.OpenFlow(hydraulics.Line{Bore: bore, Length: length, Head: head}, quantity.AbsoluteSalinity(t.to.sa), quantity.Celsius(t.to.t))
}

// openFlow is what runs under a head, with the uncertainty of line and formula.
func (t *task) openFlow(head quantity.Estimate[quantity.Length]) (quantity.Estimate[quantity.Flow], hydraulics.Regime, error) {
	l := t.request.Line
	likely, err := t.run(l.Bore.Value, l.Length.Value, head.Value)
	if err != nil {
		return quantity.Estimate[quantity.Flow]{}, "", err
	}
	flow, err := quantity.Propagate3(func(bore, length, head quantity.Length) (quantity.Flow, error) {
		s, err := t.run(bore, length, head)
		return s.Flow, err
	}, likely.Flow*quantity.Flow(hydraulics.OpenFlowFit), *l.Bore, *l.Length, head)
	return flow, likely.Regime, err
}

// caliper is how finely a bore can be measured, in parts of a cm; an offer is rounded up to it.
const caliper = 100

// checkPasses refuses a drip faster than the open line passes under the head left at the end of a
// leg.
func (t *task) checkPasses(legs []leg, heads []heads, v vat) error {
	l := t.request.Line
	short := 1.0 // least ratio of what runs to what is asked
	var asked, passed quantity.Flow
	var under quantity.Length
	for i, s := range legs {
		head := quantity.Length(heads[i].end)
		open, err := t.run(l.Bore.Value, l.Length.Value, head)
		if err != nil {
			return err
		}
		want := quantity.Flow(v.drip(s.flow) * 60 * v.drop * 1000)
		if share := float64(open.Flow / want); share < short {
			short, asked, passed, under = share, want, open.Flow, head
		}
	}
	if short >= 1 {
		return nil
	}
	t.refuse("line.bore", noteOf("line_passes_too_little", quantity.Exactly(asked), quantity.Exactly(passed)))
	bore, err := hydraulics.BoreFor(asked, l.Length.Value, under, quantity.AbsoluteSalinity(t.to.sa), quantity.Celsius(t.to.t))
	if _, none := errors.AsType[*quantity.RangeError](err); none {
		return nil // no hose of that length passes it
	}
	t.offer("line.bore", noteOf("needs_wider_bore", centimetres(math.Ceil(float64(bore)*caliper)/caliper)), boreTo(math.Ceil(float64(bore)*caliper)/caliper))
	return err
}
