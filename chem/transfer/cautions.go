package transfer

import (
	"slices"

	"saltlock/chem/tolerance"
)

// tooHeavy is the weight of a container from which lifting it off the floor needs a caution, kg:
// OSHAlift, NIOSH give 23 kg for an ideal lift, and a half to a quarter of it for others.
const tooHeavy = 10

// addCautions adds what can hurt a person or an animal in what a plan does; full is what the
// container holds, in L and so nearly in kg. It is long because it is a list: what calls for a
// caution, and the caution.
func (t *task) addCautions(p Plan, full float64) {
	if p.Has(Fill) || p.Has(RunOver) {
		t.caution(noteOf("never_siphon_by_mouth"))
		if p.streams() {
			t.caution(noteOf("stream_by_cup"))
		} else {
			t.caution(noteOf("drip_never_a_stream"))
		}
		if p.Has(RunOver) {
			t.caution(noteOf("screen_the_overflow"))
			t.caution(noteOf("failed_valve_runs_over"))
		} else if p.Draw != nil && p.Draw.Feed == FromJug {
			t.caution(noteOf("drip_from_one_charge"))
		} else {
			t.caution(noteOf("failed_valve"))
		}
		if p.Draw != nil && p.Draw.Feed == FromTank {
			t.caution(noteOf("source_pumps_and_top_off"))
		}
		switch {
		case t.plants():
		case p.LifeSupport == nil && t.fedSoon():
			t.caution(noteOf("life_support_not_planned_fed"))
		case p.LifeSupport == nil:
			t.caution(noteOf("life_support_not_planned"))
		}
		if t.unheld() {
			t.caution(noteOf("room_warms_or_cools", celsius(float64(t.request.RoomTemperature.Value))))
		} else {
			t.assume(noteOf("no_heat_to_the_room"))
		}
	}
	if p.Has(Cups) && p.LifeSupport == nil && !t.plants() {
		t.caution(noteOf("life_support_not_planned"))
	}
	if p.Has(WaterChange) {
		t.caution(noteOf("never_siphon_by_mouth"))
	}
	if p.Has(WaterChange) || len(p.Stages) > 1 {
		t.caution(noteOf("no_animals_near_the_salt"))
	}
	t.caution(noteOf("dechlorinate_first"))
	if p.Has(WaterChange) && t.up {
		t.caution(noteOf("seed_the_filter"))
	}
	t.handle(!p.inOwnTank() || p.Has(Move))
	if full >= tooHeavy {
		t.caution(noteOf("lift_with_care", litres(full), kilograms(full)))
	}
	t.caution(noteOf("mains_near_salt_water"))
	if t.request.From.HoursInBag != nil {
		t.caution(noteOf("bag_water_stays_out"))
	} else if !t.harmfulBehind() && !p.inOwnTank() { // a tank on a ramp is its own way back
		if aside := p.SetAside; aside != nil {
			t.caution(noteOf("keep_litres_as_way_back", aside.Volume))
		} else {
			t.caution(noteOf("keep_a_way_back"))
		}
	}
	gap := t.gap
	if t.last > 0 {
		gap = t.last
	}
	if hold := t.rules.hold * gap / t.rules.perDay; hold > 0 && !(t.harmfulBehind() && t.returning == rescued) && !t.underMedicine() { // shorter after less than a day's change
		if p.inOwnTank() {
			t.caution(noteOf("hold_after_ramp", hours(hold)))
		} else {
			t.caution(noteOf("hold_before_more", hours(hold)))
		}
	}
	t.sayWhenToStop()
	t.caution(noteOf("never_release_to_nature"))
	t.caution(noteOf("salt_water_to_the_sewer"))
}

// sayWhenToStop says which signs show distress, and what to do then.
func (t *task) sayWhenToStop() {
	signs := t.signs()
	switch {
	case t.plants():
		t.caution(noteOf("stop_on_wilting"))
		return
	case t.harmfulBehind() && signs != "":
		t.caution(noteOf("no_way_back_at_signs", signs))
	case t.harmfulBehind():
		t.caution(noteOf("no_way_back"))
	case signs != "":
		t.caution(noteOf("stop_at_signs", signs))
	default:
		t.caution(noteOf("stop_on_distress"))
	}
	t.caution(noteOf("vet_for_the_sick"))
}

// signs names the signs of animals that neither gasp nor roll, if all that are moved are of one
// such kind; otherwise it is empty.
func (t *task) signs() string {
	if !t.is(func(x *tolerance.Taxon) bool { return !x.Bivalve() }) {
		return "signs_of_clams"
	}
	if !t.is(func(x *tolerance.Taxon) bool { return !medusa(x) }) {
		return "signs_of_jellyfish"
	}
	for name, of := range signsOf {
		if !t.is(func(x *tolerance.Taxon) bool { return x.Group != of }) {
			return name
		}
	}
	return ""
}

// signsOf are the groups that show distress differently from fish. Common practice, no source;
// that snails close is from Avens1965.
var signsOf = map[string]tolerance.Group{"signs_of_cnidarians": tolerance.GroupCnidarian, "signs_of_molluscs": tolerance.GroupMollusc,
	"signs_of_crustaceans": tolerance.GroupCrustacean, "signs_of_reptiles": tolerance.GroupReptile,
	"signs_of_chelicerates": tolerance.GroupChelicerate, "signs_of_amphibians": tolerance.GroupAmphibian}

// Has reports whether a phase of this kind is in a plan.
func (p Plan) Has(kind PhaseKind) bool {
	return slices.ContainsFunc(p.Phases, func(x Phase) bool { return x.Kind == kind })
}

// inOwnTank reports whether the animals end in a tank whose water is changed around them.
func (p Plan) inOwnTank() bool { return p.Has(WaterChange) && !p.Has(Free) }

// streams reports whether a plan runs the line faster than drops can be counted.
func (p Plan) streams() bool {
	return slices.ContainsFunc(p.Phases, func(x Phase) bool { return x.Drip != nil && x.Drip.Value > usualMostDrip*(1+inside) })
}
