package transfer

import (
	"slices"

	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
)

// What rules out a move must not hide what the animals need meanwhile. Neither a fault of the new
// water nor sickness, a medicine or a moult makes them wait in a water that kills them.

// aids are the reasons that say how animals leave the water they are in, or how it is made
// bearable.
var aids = []quantity.Code{"leave_own_water_first", "leave_nitrite_first", "leave_before_ph_rises", "moults_in_ammonia", "moults_in_nitrite", "moults_before_ph_rises",
	"tank_above_gate", "leave_salinity_first", "moults_outside_band", "warm_them_first", "cool_them_first"}

// aided reports whether one of the faults says so.
func aided(faults []Fault) bool {
	return slices.ContainsFunc(faults, func(f Fault) bool { return slices.Contains(aids, f.Note.Code) })
}

// refusal is the error of a request that has no plan.
func (t *task) refusal() error {
	if err := t.firstAid(); err != nil {
		return err
	}
	return &InfeasibleError{Faults: t.faults}
}

// firstAid says before a refusal what the animals need where they are, unless the refusal says so.
func (t *task) firstAid() error {
	refused := t.faults
	if t.trying || t.request.Underway || aided(refused) {
		return nil
	}
	t.faults = nil
	if err := t.leavePoison(); err != nil {
		return err
	}
	if !aided(t.faults) && slices.ContainsFunc(refused, Fault.Unwise) {
		t.leaveSalinity()
	}
	if !aided(t.faults) {
		t.leaveWarmth()
	}
	if aided(t.faults) {
		refused = slices.DeleteFunc(refused, func(f Fault) bool {
			return f.Note.Code == "no_step_while_moulting" || f.Note.Code == "no_step_just_shipped"
		})
	}
	t.faults = append(t.faults, refused...)
	return nil
}

// leavePoison refuses to leave them in ammonia or nitrite that one step would have taken them out of.
func (t *task) leavePoison() error {
	if !t.poisonBehind {
		return nil
	}
	most := t.mostAmmonia()
	switch now, err := t.unionized(t.request.From, t.from); {
	case err != nil:
		return err
	case now > most:
		t.leaveAmmonia(now, most)
	case tooMuchNitrite(t.request.From):
		t.leaveNitrite(*t.request.From.Nitrite)
	}
	return nil
}

// mostAmmonia is the un-ionized ammonia of their own water from which they leave it. A looser
// limit of the keeper holds for the plan, and does not make that water bearable.
func (t *task) mostAmmonia() quantity.AmmoniaNitrogen {
	if given := t.request.Limits.NH3; given != nil {
		return min(given.Value, lifesupport.HarmfulAmmonia)
	}
	return lifesupport.HarmfulAmmonia
}

// leaveSalinity says how they leave water outside what they tolerate when the new water is not for
// them either.
func (t *task) leaveSalinity() {
	name, edge := t.bearable()
	if edge == t.from.sa {
		return
	}
	n := noteOf("leave_salinity_first", name, practical(t.from.sa), celsius(t.cleanWarmth()), practical(t.cleanSalinity()), hours(restHalfWay))
	if t.staysPut() {
		n = noteOf("moults_outside_band", name, practical(t.from.sa), celsius(t.cleanWarmth()), practical(edge), practical(comingHome))
	}
	t.refuse("from.salinity", n)
	t.warmthWaits()
}

// leaveWarmth says how their own water comes back to the temperatures in which they live.
func (t *task) leaveWarmth() {
	name, goal := t.liveable()
	switch at := celsius(t.from.t); {
	case goal > t.from.t:
		t.refuse("from.temperature", noteOf("warm_them_first", name, at, celsius(goal), kelvinsPerHour(RateToEdge)))
	case goal < t.from.t:
		t.refuse("from.temperature", noteOf("cool_them_first", name, at, celsius(goal), kelvinsPerHour(RateToEdge)))
	}
}

// bearable is where the water begins that the first of them tolerates which does not tolerate
// theirs, g/kg; that of theirs if all do. Unknown is not outside, nor is the water of a shop for
// animals of the sea, nor the water that larvae and young leave anyway.
func (t *task) bearable() (name string, edge float64) {
	if t.larval() || t.youngDown() {
		return "", t.from.sa
	}
	now := quantity.AbsoluteSalinity(t.from.sa)
	for _, a := range t.request.Animals {
		if a.Known == nil || a.Known.Stage.Unrecorded(now) {
			continue
		}
		band := a.Known.Stage.Usable()
		switch past := a.Known.Stage.Past(now); {
		case past < 0 && t.from.sa < leastShop*(1-inside):
			return a.Known.Name, float64(band.Min.Value)
		case past > 0:
			return a.Known.Name, float64(band.Max.Value)
		}
	}
	return "", t.from.sa
}

// cleanSalinity is the salinity of the clean water: theirs, or half way to what they tolerate,
// since a day more in water that kills them is no rest. Larvae and smolts that go into salt anyway
// go there.
func (t *task) cleanSalinity() float64 {
	if sa, ok := t.nursery(); ok {
		return sa
	}
	_, edge := t.bearable()
	return (t.from.sa + edge) / 2
}
