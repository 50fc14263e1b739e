package transfer

import (
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// What can hurt someone or an animal is said with every plan that it belongs
// to. Reasons: mouth siphons, puffers in air and a way back are common practice, no
// source; wounds and siphons also Haenen et al. 2013; weights HSE, from memory;
// release to nature Sea Grant Pennsylvania 2014.
func TestCautions(t *testing.T) {
	always := []string{"mains_near_salt_water", "stop_on_distress", "vet_for_the_sick", "never_release_to_nature", "salt_water_to_the_sewer"}
	bucket := func(from, to string) Request {
		return Request{From: water(t, from, "25 C"), To: water(t, to, "25 C"), Animals: []Animal{animal(tolerance.Hardy)},
			Container: Container{Capacity: read[quantity.Volume](t, "20 L"), Aerated: new(true)}}
	}
	venomous := bucket("2 ppt", "4 ppt")
	venomous.Animals[0].Known = &Known{Name: "spotted scat", Stage: tolerance.Stage{SensitivityClass: tolerance.Hardy}, Hazards: []quantity.Note{noteOf("hazard_venomous", "spotted scat", "published")}}
	if p := plan(t, venomous); !says(p.Cautions, "hazard_venomous") {
		t.Errorf("a venomous fish is moved with the cautions %v", p.Cautions)
	}
	for route, c := range map[Route]struct {
		request Request
		codes   []string
	}{
		Drip:   {bucket("2 ppt", "10 ppt"), []string{"never_siphon_by_mouth", "drip_never_a_stream", "drip_from_one_charge", "stuck_valve_empties_jug", "keep_litres_as_way_back", "lift_with_care", "move_under_water", "life_support_not_planned"}},
		Direct: {bucket("2 ppt", "4 ppt"), []string{"keep_litres_as_way_back", "lift_with_care", "move_under_water"}},
		Ramped: {rampRequest(t, "12 ppt", "2 ppt", "0.2 ppt", tolerance.Moderate), []string{"never_siphon_by_mouth", "no_animals_near_the_salt"}},
	} {
		p := plan(t, c.request)
		if p.Route != route {
			t.Errorf("route %s, want %s", p.Route, route)
		}
		for _, code := range append(c.codes, always...) {
			if !says(p.Cautions, code) {
				t.Errorf("%s is planned without the caution %s", route, code)
			}
		}
	}
}
