package transfer

import (
	"math"
	"slices"

	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
)

// The tank that waits for animals out of a foul bag is judged as for any other move. Its faults do
// not keep them in the bag: they go into clean water made without it.

// judgeTankOfBag warns of all that makes the new water unfit, and reports whether something does.
// They then stay at their own temperature, whatever that of the new water.
func (t *task) judgeTankOfBag() (unfit bool, err error) {
	faults, warnings := t.faults, t.warnings
	t.faults = nil
	if !t.larval() && !t.youngDown() {
		t.checkBands("animals", t.request.Animals)
	}
	t.onlyWhatKills()
	then, err := t.unionized(t.request.To, t.to)
	if most := lifesupport.HarmfulAmmonia; then > most {
		t.refuse("to.tan", noteOf("new_water_poisonous", quantity.Exactly(then), quantity.Exactly(most)))
	}
	if tooMuchNitrite(t.request.To) {
		t.refuse("to.nitrite", noteOf("nitrite_in_new_water", *t.request.To.Nitrite, quantity.Exactly(lifesupport.HarmlessNitrite)))
	}
	if c := t.request.To.Conditioned; c != nil && !*c {
		t.refuse("to.conditioned", noteOf("dechlorinate_before"))
	}
	t.checkPH()
	t.warnings = warnings
	t.judgeTankWarmth()
	for _, f := range t.faults {
		t.caution(f.Note)
	}
	unfit = len(t.faults) > 0
	t.faults = faults
	return unfit, err
}

// onlyWhatKills drops the faults of water that is none to stay in, yet kills nothing, and calls
// nothing a treatment, since nobody means one for animals out of a bag.
func (t *task) onlyWhatKills() {
	t.faults = slices.DeleteFunc(t.faults, func(f Fault) bool {
		return f.Note.Code == "target_below_kept" || f.Note.Code == "target_above_kept"
	})
	for i := range t.faults {
		switch n := &t.faults[i].Note; n.Code {
		case "target_below_as_dip":
			n.Code = "target_below_kept"
		case "target_above_as_dip":
			n.Code = "target_above_kept"
		}
	}
}

// judgeTankWarmth refuses a new water whose temperature kills, and warns of one that none of them
// should be kept at. Animals that are well at their own stay at that.
func (t *task) judgeTankWarmth() {
	now, then := celsius(t.from.t), celsius(t.warmth)
	stay := false
	for _, a := range t.request.Animals {
		w, known := a.warmth()
		if !known {
			continue
		}
		switch {
		case w.Harms(then.Value) < 0:
			t.refuse("to.temperature", noteOf("target_too_cold", a.Known.Name, then, quantity.Exactly(w.Least)))
		case w.Harms(then.Value) > 0:
			t.refuse("to.temperature", noteOf("target_too_warm", a.Known.Name, then, quantity.Exactly(w.Most)))
		case w.Strange(now.Value) != 0 || w.Winters(now.Value) || w.Winters(then.Value):
			continue
		case w.Strange(then.Value) < 0:
			t.warn(noteOf("target_cool", a.Known.Name, then, quantity.Exactly(w.Least)))
		case w.Strange(then.Value) > 0:
			t.warn(noteOf("target_warm", a.Known.Name, then, quantity.Exactly(w.Most)))
		default:
			continue
		}
		stay = true
	}
	if t.unknown() && t.from.t-t.warmth > farForStrangers*(1+inside) { // chilled ones of any kind are warmed
		t.refuse("animals.0.species", noteOf("species_decides_temperature", now, then))
		stay = true
	}
	if stay {
		t.warmth = t.from.t
	}
}

// sayTankOfBag says what to do where there is only a tank, or that its water is no use to them.
func (t *task) sayTankOfBag(unfit bool, in quantity.Estimate[quantity.Salinity]) {
	switch {
	case unfit:
		t.caution(noteOf("bag_tank_unfit", in))
	case !t.bagLeadsThere() && t.up:
		t.caution(noteOf("bag_tank_saltier", in))
	case !t.bagLeadsThere():
		t.caution(noteOf("bag_tank_fresher", in))
	case math.Abs(t.warmth-t.from.t) > mostFloated:
		t.caution(noteOf("bag_no_float", kelvins(mostFloated)))
	default:
		t.caution(noteOf("bag_float", kelvins(floatAbove)))
	}
}
