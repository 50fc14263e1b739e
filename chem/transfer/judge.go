package transfer

import (
	"math"
	"strconv"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// The water the animals are in, and the water they go to, are judged before any route.

// returning says how animals come back from a water that is not for them. Proposed here, in place
// of the limits of the class: each day there does harm of its own.
type returning int

const (
	notReturning returning = iota
	comesUp                // from outside what they are kept in: a day's change without the class's rest between
	rescued                // put there within the last 24 hours: straight back
)

// comingHome is how much one day may bring animals back towards their own water, g/kg: 2 ppt.
const comingHome = 2 * quantity.GramsPerPractical * (1 + inside)

// Shops and quarantine keep sea animals from 25 ppt up; the sea has up to 37. Common practice, no
// source.
const leastShop, mostSea = 25 * quantity.GramsPerPractical, 37 * quantity.GramsPerPractical * (1 + inside)

// judgeStart says what the water the animals are in means for them. It is long because it judges
// everything for each animal.
func (t *task) judgeStart() {
	if t.larval() || t.youngDown() {
		return // their life cycle takes them out of a water they do not stay in
	}
	for _, a := range t.request.Animals {
		if a.Known == nil {
			continue
		}
		now, then := quantity.AbsoluteSalinity(t.from.sa), quantity.AbsoluteSalinity(t.to.sa)
		stage := a.Known.Stage
		outside, lean, homeward := stage.Past(now), stage.Lean(now), stage.Past(then) == 0 && t.nearer(stage)
		low, high := preferredEnds(stage)
		apart := beside(float64(now), low, high)
		if stage.Ordinary(now) {
			apart = 0
		}
		intoSea := t.up && t.from.sa >= leastShop*(1-inside) && t.to.sa <= mostSea && !(apart == 0 && a.Known.Of != nil && medusa(a.Known.Of)) // which one batch keeps low for life
		recent := float64(t.request.RecentChange.Value)
		justPut := recent > 0 && recent >= t.gap*(1-recentSlack)
		if intoSea && outside < 0 && !justPut {
			outside = 0
		}
		beyond := max(low-t.from.sa, t.from.sa-high)
		if stage.Unrecorded(now) && beyond <= t.rules.perDay { // unknown is not outside
			outside = 0
			t.warn(noteOf("start_unrecorded", a.Known.Name, practical(t.from.sa)))
		}
		t.outside = t.outside || outside != 0
		switch {
		case outside != 0:
			t.warn(noteOf("start_outside_band", a.Known.Name, practical(t.from.sa)))
		case apart < 0:
			t.warn(noteOf("start_below_preferred", a.Known.Name, practical(t.from.sa), practical(low)))
		case apart > 0:
			t.warn(noteOf("start_above_preferred", a.Known.Name, practical(t.from.sa), practical(high)))
		}
		if homeward && (outside != 0 || lean || intoSea || apart != 0 && stage.SensitivityClass == tolerance.StenohalineMarine) {
			t.returning = max(t.returning, comesUp)
		}
		if homeward && outside != 0 && justPut {
			t.returning = rescued
		}
	}
	t.judgeRescue()
	if t.returning == comesUp {
		t.rules.perDay = max(t.rules.perDay, comingHome)
		t.rules.hold = 0
		t.assume(noteOf("comes_home", salinity(t.rules.perDay)))
	}
}

// recentSlack is how much the change before may fall short of the way back, since two readings
// differ.
const recentSlack = 0.1

// preferredEnds are the bounds of what a stage prefers, g/kg; infinite where unknown.
func preferredEnds(s tolerance.Stage) (low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	if s.Preferred == nil {
		return low, high
	}
	if m := s.Preferred.Min; m != nil {
		low = float64(m.Value) * quantity.GramsPerPractical
	}
	if m := s.Preferred.Max; m != nil {
		high = float64(m.Value) * quantity.GramsPerPractical
	}
	return low, high
}

// preferredSlack is the rounding of a bound that is printed as a whole number, g/kg.
const preferredSlack = 0.5

// beside says on which side of two bounds a salinity is.
func beside(sa, low, high float64) int {
	switch {
	case sa < low-preferredSlack:
		return -1
	case sa > high+preferredSlack:
		return 1
	}
	return 0
}

// nearer reports whether the new water is nearer to what a stage prefers, or within it.
func (t *task) nearer(s tolerance.Stage) bool {
	low, high := preferredEnds(s)
	away := func(sa float64) float64 { return max(low-sa, sa-high, 0) }
	return away(t.to.sa) < away(t.from.sa) || away(t.from.sa) == 0
}

// judgeTarget warns of a water that they survive but should not stay in, unless the keeper says
// how long they stay.
func (t *task) judgeTarget() {
	if t.larval() {
		return
	}
	for _, a := range t.request.Animals {
		if a.Known == nil || a.Known.Stage.Past(quantity.AbsoluteSalinity(t.to.sa)) != 0 {
			continue
		}
		low, high := preferredEnds(a.Known.Stage)
		side := beside(t.to.sa, low, high)
		if side == 0 || a.Known.Stage.Ordinary(quantity.AbsoluteSalinity(t.to.sa)) {
			continue
		}
		if stay := t.request.Stay; stay != nil {
			t.warn(noteOf("passage_not_home", a.Known.Name, *stay))
			continue
		}
		n := noteOf("should_not_stay_above", a.Known.Name, practical(t.to.sa), practical(high))
		if side < 0 {
			n = noteOf("should_not_stay_below", a.Known.Name, practical(t.to.sa), practical(low))
		}
		t.stay = append(t.stay, n)
		t.warn(n)
	}
}

// rescue is the plan for animals that were put into a water that is not for them within the last
// 24 hours: back in one move.
func (t *task) rescue() (Plan, error) {
	p, err := t.direct()
	if err != nil {
		return p, err
	}
	code := quantity.Code("move_back")
	if t.is(invertebrate) {
		code = "move_back_by_time"
	}
	p.Phases[0].Instruction = noteOf(code, practical(t.to.sa), celsius(t.from.t))
	return p, nil
}

// refuseStage is a refusal that depends on the life stage, when what the table says about it rules
// out every route.
func (t *task) refuseStage(i int, n quantity.Note) {
	t.refuse("animals."+strconv.Itoa(i)+".stage", n)
}

// checkLand refuses what is no use to animals that need land: a container in which the water
// doubles around them. Land crabs are not dripped at all.
func (t *task) checkLand() {
	filling := !t.runsOver() && (t.request.Container != Container{} || t.request.HomeTank == nil)
	switch {
	case t.plants() || t.basks():
	case t.surely(ofFamily(landCrabs)):
		t.refuse("route", noteOf("land_hermit_two_dishes"))
	case t.surely(needsLand) && t.gap > t.rules.atOnce*(1+inside) && *t.request.Route != Ramped && filling:
		changes := []Change{overflowing(true)}
		if *t.request.Route == ByCups { // cups fill up a container as a drip does
			changes = append(changes, routeTo(Drip))
		}
		if t.request.From.HoursInBag != nil { // where they spend tonight comes before how they go on
			t.refuse("from.hours_in_bag", noteOf("land_out_of_bag", practical(t.from.sa), celsius(t.from.t), salinity(t.rules.perDay)))
		}
		t.refuse("container.overflow", noteOf("land_no_filling"), changes...)
		t.sayCupsInTheBox()
	}
}

// halfHour is the interval of the cups that are told in words.
const halfHour = 0.5

// sayCupsInTheBox says how cups change the water in a box at one level: a cup out, a cup in. Each
// brings the waters nearer by the part of the water that it replaces, so the first is the largest step.
func (t *task) sayCupsInTheBox() {
	start := t.request.Container.StartVolume
	if start == nil || !t.withinDay() {
		return
	}
	step := min(t.rules.atOnce, halfHour*min(t.rules.perHour(t.from.sa), t.rules.perHour(t.to.sa)))
	cup := math.Floor(float64(start.Value)*step/t.gap/usualMark) * usualMark
	part := cup / float64(start.Value)
	if cup < usualMark || part >= 1 {
		return
	}
	cups := math.Ceil(math.Log(t.tolerance/t.gap) / math.Log1p(-part))
	t.offer("container.start_volume", noteOf("land_cups_by_hand", litres(cup), hours(halfHour), int(cups), practical(t.to.sa)))
}
