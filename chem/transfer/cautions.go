package transfer

import "saltlock/chem/quantity"

// allCautions are what can hurt someone or an animal on a route.
func (t *task) allCautions(route Route) []quantity.Note {
	notes := []quantity.Note{}
	if len(t.rules.given) > 0 {
		notes = append(notes, noteOf("limits_are_your_own"))
	}
	if route == Drip {
		notes = append(notes, noteOf("never_siphon_by_mouth"), noteOf("drip_never_a_stream"), noteOf("failed_valve"), noteOf("source_pumps_and_top_off"))
		if brim, err := capacity(t.request.Container); err == nil && brim > 0 {
			notes = append(notes, noteOf("lift_with_care", litres(brim), quantity.Exactly(quantity.Mass(brim))))
		}
	}
	return append(notes, noteOf("mains_near_salt_water"), noteOf("keep_a_way_back"), noteOf("stop_on_distress"),
		noteOf("vet_for_the_sick"), noteOf("never_release_to_nature"), noteOf("salt_water_to_the_sewer"))
}
