package transfer

// addCautions adds what can hurt someone or an animal on a route; full is what
// the container holds, in L and so in kg near enough.
func (t *task) addCautions(route Route, full float64) {
	if route == Drip {
		t.caution(noteOf("never_siphon_by_mouth"))
		t.caution(noteOf("drip_never_a_stream"))
		t.caution(noteOf("failed_valve"))
		t.caution(noteOf("source_pumps_and_top_off"))
		if t.keep == nil {
			t.caution(noteOf("life_support_not_planned"))
		}
		if t.unheld() {
			t.caution(noteOf("room_warms_or_cools", celsius(float64(t.request.RoomTemperature.Value))))
		} else {
			t.assume(noteOf("no_heat_to_the_room"))
		}
	}
	if route == Ramped {
		t.caution(noteOf("never_siphon_by_mouth"))
		t.caution(noteOf("no_animals_near_the_salt"))
	}
	if route != Ramped {
		t.caution(noteOf("move_under_water"))
	}
	if full > 0 {
		t.caution(noteOf("lift_with_care", litres(full), kilograms(full)))
	}
	t.caution(noteOf("mains_near_salt_water"))
	t.caution(noteOf("keep_a_way_back"))
	if hold := t.rules.hold * t.gap / t.rules.perDay; hold > 0 { // shorter after less than a day's change
		t.caution(noteOf("hold_before_more", hours(hold)))
	}
	t.caution(noteOf("stop_on_distress"))
	t.caution(noteOf("vet_for_the_sick"))
	t.caution(noteOf("never_release_to_nature"))
	t.caution(noteOf("salt_water_to_the_sewer"))
}
