package transfer

import (
	"math"
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// Below 2 ppt is the critical stretch on the way into fresh water: all but fish that come from
// fresh water rest a day before it. Proposed here; RedDrumStock shows that the size of a step
// there matters more than its rate.
const (
	criticalBelow = 2.0 * quantity.GramsPerPractical // g/kg
	freshBelow    = 1.0 * quantity.GramsPerPractical // g/kg, where that stretch ends
	restNearFresh = 1.5 * quantity.GramsPerPractical // g/kg, of the water they rest in
	restingDay    = 24.0                             // h
	renewedInTub  = 0.3                              // of the tub, after 12 h
	// mostIntoCritical is the last step into water of that stretch, g/kg: a drip covers the rest.
	mostIntoCritical = 1.0
	fromFresh        = 0.5 * quantity.GramsPerPractical // g/kg, the most that animals from fresh water prefer at least
)

// restsBeforeFresh reports whether some animal rests a day before it comes into fresh water.
func (t *task) restsBeforeFresh() bool {
	return t.to.sa < freshBelow && t.crossesCritical()
}

// crossesCritical reports whether the way leads down from the critical stretch's upper end, or from above, into it, with
// an animal that does not come from fresh water. A rescue, and the young of life cycles that lead
// into fresh water, have their own rules.
func (t *task) crossesCritical() bool {
	if t.up || t.from.sa < criticalBelow*(1-inside) || t.to.sa >= criticalBelow*(1-inside) || t.request.Underway || t.returning != notReturning || t.youngDown() {
		return false
	}
	return slices.ContainsFunc(t.request.Animals, func(a Animal) bool {
		class, _ := a.class()
		switch {
		case class == tolerance.Plant || class == tolerance.StenohalineFresh:
			return false
		case a.Known == nil || a.Known.Of != nil && a.Known.Of.Group != tolerance.GroupFish:
			return true
		}
		low, _ := preferredEnds(a.Known.Stage)
		return low > fromFresh || math.IsInf(low, -1)
	})
}

// stageEnds are where the stages of a long move end, in parts of the gap: equal stages of at most
// a day's limit each, the last of them from the water near fresh if animals rest there.
func (t *task) stageEnds() []float64 {
	upper := 1.0
	if t.restsBeforeFresh() {
		upper = (t.from.sa - restNearFresh) / t.gap
	}
	n := max(1, int(math.Ceil(t.gap*upper/t.rules.perDay*(1-inside))))
	var ends []float64
	for k := 1; k <= n; k++ {
		ends = append(ends, upper*float64(k)/float64(n))
	}
	if upper < 1 {
		ends = append(ends, 1)
	}
	return ends
}

// restsInTub reports whether the only stop is a day's rest before fresh water, for which a tub
// will do.
func (t *task) restsInTub() bool { return t.restsBeforeFresh() && t.withinDay() }

// tub is the water in the tub they rest in: as much as a holding tank in the request holds,
// otherwise as the container. Not ok if nobody says how much that is.
func (t *task) tub() (litre float64, ok bool) {
	if h := t.holding(); h.Volume != nil {
		return h.volume(), true
	}
	brim, err := capacity(t.request.Container)
	return brim, err == nil && brim > 0
}

// stopVolume is the water they live in between two stages, as far as anyone says.
func (t *task) stopVolume() float64 {
	if litre, ok := t.tub(); ok && t.restsInTub() {
		return litre
	}
	return t.holding().volume()
}
