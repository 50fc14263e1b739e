package followup

import (
	"context"
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/chem/transfer"
)

// nextDay is how far apart two tests must be to count as on two days, h.
const nextDay = 20.

// gate is what the tests of a filter say about the next change of a ramp. The change waits
// while ammonia or nitrite is too high, and then until both were low on two days.
type gate struct {
	since float64 // h, of the test that first closed it; -1 if none did
	shut  bool
	low   float64 // h, of the first low test since; -1 if there is none
	high  []quantity.Note
}

// filterGate goes through the tests since the present leg started.
func (f *following) filterGate() gate {
	g, limit, leg := gate{since: -1, low: -1}, tolerance.DefaultGate(), f.leg()
	if !hasFilter(leg) {
		return g
	}
	var tan, nitrite []quantity.Note // what was too high, and has not been low since
	for _, e := range f.log {
		at := e.hours(f.base.Request)
		if at <= leg.At && leg.At > 0 || e.TAN == nil && e.Nitrite == nil {
			continue
		}
		switch {
		case e.TAN != nil && e.TAN.Value > limit.TAN:
			tan = []quantity.Note{noteOf("why_ammonia_high", *e.TAN, f.clock(at), quantity.Exactly(limit.TAN))}
		case e.TAN != nil:
			tan = nil
		}
		switch {
		case e.Nitrite != nil && e.Nitrite.Value > limit.Nitrite:
			nitrite = []quantity.Note{noteOf("why_nitrite_high", *e.Nitrite, f.clock(at), quantity.Exactly(limit.Nitrite))}
		case e.Nitrite != nil:
			nitrite = nil
		}
		g.high = slices.Concat(tan, nitrite)
		switch {
		case len(g.high) > 0:
			if g.since < 0 {
				g.since = at
			}
			g.shut, g.low = true, -1
		case g.shut && g.low < 0:
			g.low = at
		case g.shut && at-g.low >= nextDay:
			g.shut = false
		}
	}
	return g
}

// until is the hour up to which the plan was carried out by a given time: no water is changed
// while the gate is shut.
func (g gate) until(hours float64) float64 {
	if g.since >= 0 {
		return min(hours, g.since)
	}
	return hours
}

// hasFilter reports whether a leg changes the water of a tank with a filter.
func hasFilter(leg Leg) bool {
	home := leg.Request.HomeTank
	if home == nil || leg.Plan == nil || home.Filter != nil && !*home.Filter {
		return false
	}
	for _, phase := range leg.Plan.Phases {
		if phase.Kind == transfer.WaterChange {
			return true
		}
	}
	return false
}

// byGate answers if the filter decides: the next change waits, or after the wait the rest is
// planned again from where the tank is.
func (f *following) byGate(ctx context.Context, g gate, sa quantity.Estimate[quantity.AbsoluteSalinity]) (done bool, err error) {
	c := f.course
	switch {
	case g.since < 0 || f.overChanges(g):
		return false, nil
	case !g.shut:
		if err := f.fromReading(ctx, sa); err != nil || c.Verdict != Corrected {
			return true, err
		}
		c.Why = []quantity.Note{noteOf("why_filter_ready")}
		return true, nil
	}
	c.pause(noteOf("now_wait_for_filter"))
	c.Why = append(c.Why, g.high...)
	if g.low >= 0 {
		c.Now = noteOf("now_test_again")
		c.Why = []quantity.Note{noteOf("why_low_once", f.clock(g.low))}
	}
	c.Then = append(c.Then, filterLow())
	return true, nil
}

// filterLow says when the ramp goes on.
func filterLow() quantity.Note {
	limit := tolerance.DefaultGate()
	return noteOf("then_filter_low", quantity.Exactly(limit.TAN), quantity.Exactly(limit.Nitrite))
}

// overChanges reports whether no water change was left when the gate was shut.
func (f *following) overChanges(g gate) bool {
	leg := f.leg()
	for _, phase := range leg.Plan.Phases {
		if phase.Kind == transfer.WaterChange && float64(phase.Start.Value) > g.since-leg.At {
			return false
		}
	}
	return true
}
