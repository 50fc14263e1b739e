package transfer

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// soft is a ramp out of soft acid water, where a little new water moves the pH far.
func soft(t testing.TB, class tolerance.Class) Request {
	t.Helper()
	r := rampRequest(t, "0.5 ppt", "12 ppt", "0.1 ppt", class)
	r.From.PH, r.From.Alkalinity = read[quantity.PH](t, "6.0"), read[quantity.Alkalinity](t, "0.1 meq/L")
	r.To.PH, r.To.Alkalinity = read[quantity.PH](t, "8.2"), read[quantity.Alkalinity](t, "3 meq/L")
	return r
}

// The limits of pH in 24 hours, 0.5, 0.3 and 0.2 by class, bind a ramp if pH and alkalinity are
// known; if they are not, the plan says so.
func TestRampKeepsPH(t *testing.T) {
	for class, most := range map[tolerance.Class]float64{tolerance.Hardy: 0.5, tolerance.Moderate: 0.3, tolerance.Delicate: 0.2} {
		r := soft(t, class)
		p := plan(t, r)
		carryOut(t, r, p)
		l := limitOf(t, p, "ph_per_24_hours")
		if l.Limit.Value != most || l.Extreme.Value > most+1e-9 || !l.Binding {
			t.Errorf("%s: limit %g, extreme %g, binding %t; want %g and bound by it", class, l.Limit.Value, l.Extreme.Value, l.Binding, most)
		}
		if says(p.Cautions, "ph_of_ramp_not_known") {
			t.Errorf("%s: a pH that is known is said not to be", class)
		}
		r.To.Alkalinity = nil
		q := plan(t, r)
		if !says(q.Cautions, "ph_of_ramp_not_known") {
			t.Errorf("%s: cautions %v", class, q.Cautions)
		}
		if first, free := p.Phases[0], q.Phases[0]; math.Abs(float64(first.ToSalinity.Value-first.FromSalinity.Value)) >= math.Abs(float64(free.ToSalinity.Value-free.FromSalinity.Value)) {
			t.Errorf("%s: the first change is no smaller for the pH", class)
		}
	}
}
