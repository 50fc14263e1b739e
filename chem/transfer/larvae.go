package transfer

import (
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// Larvae of amphidromous animals hatch in fresh or nearly fresh water and need salt within days.
// They go over directly, to the lower half of what larvae live in; a ramp of weeks, or the limits
// for adults, would starve them. The ranges and their sources are columns of the species table.
// All else here is common practice.

// larvaDeadline is the day by which they must be in salt water if no source gives one. Proposed
// here: Macrobrachium lar dies in fresh water by day 4.
const larvaDeadline = 3

// larval reports whether all animals are larvae of such a life cycle, going up into salt.
func (t *task) larval() bool {
	for _, a := range t.request.Animals {
		if a.Known == nil || a.Known.Of == nil || a.Stage == nil || *a.Stage != tolerance.Larva || !amphidromous(a.Known.Of) {
			return false
		}
		if t.goesOn(a) {
			return false
		}
	}
	return t.up
}

// goesOn reports whether a larva leaves water that larvae live in for the upper half of that: it
// goes up with its stage, as carefully as a delicate animal.
func (t *task) goesOn(a Animal) bool {
	larva := a.Known.Of.LifeCycle.Larva
	if a.Known.Stage.Stage != tolerance.Larva || larva == nil || larva.Min == nil || larva.Max == nil {
		return false
	}
	low, high := float64(larva.Min.Value)*quantity.GramsPerPractical, float64(larva.Max.Value)*quantity.GramsPerPractical
	return t.from.sa >= low-preferredSlack && t.to.sa > (low+high)/2+preferredSlack
}

func amphidromous(t *tolerance.Taxon) bool {
	return t.LifeCycle != nil && t.LifeCycle.Kind == "amphidromous"
}

// checkLarvae refuses what is above the lower half of their range, or not known.
func (t *task) checkLarvae() {
	for i, a := range t.request.Animals {
		if a.Known == nil || a.Known.Of == nil || a.Stage == nil || a.Known.Of.LifeCycle == nil {
			continue
		}
		name, larva := a.Known.Of.Name(), a.Known.Of.LifeCycle.Larva
		switch {
		case a.Known.Of.LifeCycle.Kind == "anadromous" && *a.Stage == tolerance.Juvenile && t.up:
			t.refuseStage(i, noteOf("parr_not_to_sea", name))
		case !amphidromous(a.Known.Of):
		case *a.Stage != tolerance.Larva && t.up && a.Known.Stage.Past(quantity.AbsoluteSalinity(t.to.sa)) > 0:
			t.refuseStage(i, noteOf("grown_stay_fresh", name))
		case *a.Stage != tolerance.Larva || !t.up:
		case larva == nil || larva.Min == nil || larva.Max == nil:
			t.refuseStage(i, noteOf("larvae_not_known", name))
		case t.goesOn(a): // its bounds are those of the row of larvae
		default:
			low, high := float64(larva.Min.Value)*quantity.GramsPerPractical, float64(larva.Max.Value)*quantity.GramsPerPractical
			middle := (low + high) / 2
			if t.to.sa > middle+preferredSlack || t.to.sa < low-preferredSlack {
				t.refuse("to.salinity", noteOf("larvae_go_lower", name, practical(low), practical(middle), practical(high)), targetTo((low+middle)/2))
			}
		}
	}
}

// nursery is the salinity that larvae or smolts go to directly, whatever harms them where they are,
// g/kg: that of the new water or, for larvae, what is nearest to it in the lower half of what they
// live in. It is not ok for others, nor where nobody knows what they live in.
func (t *task) nursery() (sa float64, ok bool) {
	if t.smolting() {
		return t.to.sa, true
	}
	if !t.larval() {
		return 0, false
	}
	sa = t.to.sa
	for _, a := range t.request.Animals {
		larva := a.Known.Of.LifeCycle.Larva
		if larva == nil || larva.Min == nil || larva.Max == nil {
			return 0, false
		}
		low, high := float64(larva.Min.Value)*quantity.GramsPerPractical, float64(larva.Max.Value)*quantity.GramsPerPractical
		sa = min(max(sa, low), (low+high)/2)
	}
	return sa, true
}

// moveLarvae is the direct route of larvae.
func (t *task) moveLarvae() (Plan, error) {
	t.warn(noteOf("larvae_by_day", larvaDeadline))
	return t.freely(noteOf("move_larvae", practical(t.to.sa), celsius(t.from.t)))
}

// freely is the direct route of animals that no limit on a step binds.
func (t *task) freely(instruction quantity.Note) (Plan, error) {
	t.rules.atOnce, t.rules.perDay, t.rules.hold = t.gap, t.gap, 0
	p, err := t.direct()
	if err != nil {
		return p, err
	}
	p.Limits = []Limit{}
	p.Phases[0].Instruction = instruction
	p.Release.Rest = hours(0)
	return p, nil
}

// smolting reports whether all animals are smolts on the way up: they are ready for the sea and go
// there directly, as they do at a river's mouth. Price2003 saw 95 to 100 % of unstressed smolts
// survive salt water. Parr die of it, which is why the plan asks first.
func (t *task) smolting() bool {
	for _, a := range t.request.Animals {
		if a.Known == nil || a.Known.Of == nil || a.Stage == nil || *a.Stage != tolerance.Smolt || !a.Known.Of.Smolts() {
			return false
		}
	}
	return t.up
}

// moveSmolts is the direct route of smolts.
func (t *task) moveSmolts() (Plan, error) {
	t.warn(noteOf("are_they_smolts"))
	return t.freely(noteOf("move_smolts", practical(t.to.sa), celsius(t.from.t)))
}

// youngGoDown relaxes the limits for the young of such animals on the way to fresh water: steps of
// up to a third, over hours to two days. Common practice, no source.
func (t *task) youngGoDown() {
	if !t.youngDown() {
		return
	}
	third, rate := t.from.sa/3, t.from.sa/downHours
	t.rules.atOnce, t.rules.perDay, t.rules.hold = max(t.rules.atOnce, third), max(t.rules.perDay, t.from.sa), 0
	t.rules.perHour, t.rules.bends, t.rules.slopes = func(float64) float64 { return rate }, nil, nil
	t.assume(noteOf("young_go_down", salinity(third), hours(downHours)))
}

// youngDown reports whether all animals are such young on that way.
func (t *task) youngDown() bool {
	for _, a := range t.request.Animals {
		if a.Known == nil || a.Known.Of == nil || a.Stage == nil || *a.Stage != tolerance.Juvenile || !amphidromous(a.Known.Of) {
			return false
		}
	}
	return !t.up
}

// downHours is the least time for that way, h.
const downHours = 12
