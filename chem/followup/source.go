package followup

import (
	"errors"

	"saltlock/chem/hydraulics"
	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// drawFrom reduces the source of a request to what the drip has left: less water, and the
// hose end nearer to its surface.
func (f *following) drawFrom(r *transfer.Request) {
	hung := r.Line.IntakeDepth
	r.Line.IntakeDepth = nil
	if r.SourceTank == nil {
		return
	}
	source := *r.SourceTank
	drawn := quantity.Volume(f.moment.drawn / f.tub.Density(0))
	if drawn >= source.Volume.Value { // it was refilled, to an unknown level
		return
	}
	source.Volume.Value -= drawn
	r.SourceTank = &source
	if hung == nil || source.Surface == nil {
		return
	}
	if draw := f.leg().Plan.Draw; draw != nil && f.moment.fills > 0 && f.moment.fills <= len(draw.Intakes) {
		fall := hydraulics.FallOf(quantity.Volume(f.moment.filled/f.tub.Density(0)), source.Surface.Value)
		if left := draw.Intakes[f.moment.fills-1].Depth.Value - fall; left > 0 {
			r.Line.IntakeDepth = new(quantity.Exactly(left))
		}
	}
}

// refusesHose reports whether a plan fails because of the depth of the hose.
func refusesHose(err error) bool {
	refused, ok := errors.AsType[*transfer.InfeasibleError](err)
	if !ok {
		return false
	}
	for _, fault := range refused.Faults {
		if fault.Where == "line.intake_depth" {
			return true
		}
	}
	return false
}
