package followup

import (
	"math"

	"saltlock/chem/transfer"
)

// clamped reports whether there is a clamp that may be open: that of a drip, also of one by marks or
// on the way between holding tanks, but not while the animals live in a tank.
func (f *following) clamped() bool {
	leg := f.leg()
	return leg.Steps != nil || leg.drips() && !f.livesInTank()
}

// drips reports whether a leg has a drip.
func (l Leg) drips() bool {
	if l.Plan != nil {
		for _, p := range l.Plan.Phases {
			if p.Kind == transfer.Fill || p.Kind == transfer.RunOver {
				return true
			}
		}
	}
	return false
}

// inTank reports whether the animals are in a tank whose water is changed around them, and from
// which nobody catches them for it: their own, or a holding tank.
func (f *following) inTank() bool {
	leg := f.leg()
	return leg.ofTank() && !leg.drips() || leg.drips() && leg.Steps == nil && f.livesInTank()
}

// lateRelease is how long after the planned time a release into a holding tank is taken as done
// although nobody read it, h: a drip may run late. Proposed here.
const lateRelease = 3.

// livesInTank reports whether, in a leg with a drip, the animals are in a tank at the moment: before
// the drip, or after the release into the next holding tank. Somebody read its salinity then, or
// the release is long overdue.
func (f *following) livesInTank() bool {
	leg := f.leg()
	if leg.Plan == nil || leg.Steps != nil {
		return false
	}
	at, tank, released, into := f.last-leg.At, leg.Request.HomeTank != nil, math.Inf(-1), 0.
	for _, p := range leg.Plan.Phases {
		start := float64(p.Start.Value)
		if start > at+soon {
			break
		}
		switch p.Kind {
		case transfer.Fill, transfer.RunOver:
			tank = false
		case transfer.Free:
			tank, released, into = true, start, float64(p.ToSalinity.Value)
		}
	}
	return tank && (at >= released+lateRelease || f.readSince(leg.At+released, into))
}

// readSince reports whether a practical salinity was read at an hour or later.
func (f *following) readSince(hours, ppt float64) bool {
	for _, e := range f.log {
		if e.Salinity == nil || e.hours(f.base.Request) < hours-soon {
			continue
		}
		if sa, err := e.salinity(f.base.Request); err == nil && math.Abs(float64(practical(float64(sa.Value)).Value)-ppt) < unlikely*float64(sa.U) {
			return true
		}
	}
	return false
}
