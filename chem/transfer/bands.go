package transfer

import (
	"strconv"

	"saltlock/chem/quantity"
)

// takes reports whether an animal may be planned into a water, as far as is known.
func (a Animal) takes(salinity float64) bool {
	if a.Known == nil {
		return true
	}
	return a.Known.Stage.Past(quantity.AbsoluteSalinity(salinity)) == 0
}

// What looks like a treatment, g/kg: a sea fish in fresh water for minutes, a display lowered to
// 10 to 15 ppt for weeks, a freshwater fish in salt. Common practice, no source.
const (
	dipBelow, dipMarine = 16, 25
	dipAbove, dipFresh  = 10, 12
)

// spellIsDip is how long, in h, a stay in another water still counts as a dip. Proposed here:
// baths of fish take minutes to an hour or so.
const spellIsDip = 2.0

// checkDip refuses a stay of minutes in a water more than a step away, tolerated or not: that is a
// treatment.
func (t *task) checkDip() {
	if stay := t.request.Stay; stay != nil && float64(stay.Value) <= spellIsDip && t.gap > t.rules.atOnce*(1+inside) {
		t.refuse("stay", noteOf("short_spell_is_a_dip", *stay, practical(t.to.sa)))
	}
}

// checkBands refuses a target outside the water that a species may be planned for: what it is
// known to survive or, if that is unknown, what it prefers, since a blank bound is no freedom. The
// plan says so if nothing stands in for a bound.
func (t *task) checkBands(where string, animals []Animal) {
	to := quantity.AbsoluteSalinity(t.to.sa)
	for i, a := range animals {
		if a.Known == nil {
			continue
		}
		at := where + "." + strconv.Itoa(i) + ".species"
		if where == "animals" {
			at = "to.salinity" // the keeper can change the target
		}
		band := a.Known.Stage.Usable()
		switch past := a.Known.Stage.Past(to); {
		case past < 0:
			code := quantity.Code("target_below_kept")
			if a.Known.Stage.PastSurvived(to) < 0 {
				code = "target_below_band"
			}
			if t.to.sa <= dipBelow && a.takes(t.from.sa) && float64(band.Min.Value) >= dipMarine {
				code = "target_below_as_dip"
			}
			t.refuse(at, noteOf(code, a.Known.Name, practical(t.to.sa), practical(float64(band.Min.Value))))
		case past > 0:
			code := quantity.Code("target_above_kept")
			if a.Known.Stage.PastSurvived(to) > 0 {
				code = "target_above_band"
			}
			if t.to.sa >= dipAbove && a.takes(t.from.sa) && float64(band.Max.Value) <= dipFresh {
				code = "target_above_as_dip"
			}
			t.refuse(at, noteOf(code, a.Known.Name, practical(t.to.sa), practical(float64(band.Max.Value))))
		case a.Known.Stage.Lean(to):
			t.warn(noteOf("target_lean", a.Known.Name, practical(t.to.sa), practical(float64(band.Min.Value))))
		case band.Min == nil || band.Max == nil:
			t.warn(noteOf("band_not_known", a.Known.Name))
		}
	}
}
