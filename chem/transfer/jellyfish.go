package transfer

import (
	"slices"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// Air bubbles catch under the bell of a jellyfish, lift it and tear it. So nothing that is said to
// its keeper lets air bubble where it is: its water is aerated beforehand or behind a screen, and
// turns gently, which also mixes what comes in. Common practice, no source.

// jellyfish are the families whose grown animals are medusae.
var jellyfish = []string{"Ulmaridae", "Cassiopeidae", "Cyaneidae", "Pelagiidae", "Rhizostomatidae", "Mastigiidae", "Catostylidae", "Cepheidae", "Lychnorhizidae", "Stomolophidae", "Olindiidae"}

// medusa reports whether it is a jellyfish.
func medusa(t *tolerance.Taxon) bool {
	return t.Group == tolerance.GroupCnidarian && slices.Contains(jellyfish, t.Family)
}

// withoutBubbles are the notes that speak of air, each with the one that says the same for
// jellyfish and speaks of the same things.
var withoutBubbles = map[quantity.Code]quantity.Code{
	"bag_overheated":               "bag_overheated_bell",
	"bag_rest":                     "bag_rest_bell",
	"bag_rest_fed":                 "bag_rest_fed_bell",
	"bag_rest_fed_there":           "bag_rest_fed_there_bell",
	"bag_rest_there":               "bag_rest_there_bell",
	"bag_rest_unfed":               "bag_rest_unfed_bell",
	"bag_tank_fresher":             "bag_tank_fresher_bell",
	"bag_tank_saltier":             "bag_tank_saltier_bell",
	"clean_water_cooler":           "clean_water_cooler_bell",
	"container_not_named":          "container_not_named_bell",
	"cool_them_first":              "cool_them_first_bell",
	"if_power_fails":               "if_power_fails_bell",
	"leave_before_ph_rises":        "leave_before_ph_rises_bell",
	"leave_nitrite_first":          "leave_nitrite_first_bell",
	"leave_own_water_first":        "leave_own_water_first_bell",
	"life_support_not_planned":     "life_support_not_planned_bell",
	"life_support_not_planned_fed": "life_support_not_planned_bell",
	"no_air_stone":                 "no_air_stone_bell",
	"over_24_hours_from_bag":       "over_24_hours_from_bag_bell",
	"ready_air":                    "ready_air_bell",
	"ready_container":              "ready_container_bell",
	"rest_half_way":                "rest_half_way_bell",
	"rest_in_tub":                  "rest_in_tub_bell",
	"runs_through_night":           "runs_through_night_bell",
	"target_rather_warm":           "target_rather_warm_bell",
	"too_warm_now":                 "too_warm_now_bell",
	"warm_them_first":              "warm_them_first_bell",
	"water_brings_ammonia":         "water_brings_ammonia_bell",
	"without_air":                  "without_air_bell",
	// of a plan under way
	"act_clean_water": "act_clean_water_bell",
	"now_no_way_on":   "now_no_way_on_bell",
	"now_read_again":  "now_read_again_bell",
	"power_air":       "power_air_bell",
	"step_back_all":   "step_back_all_bell",
	"step_back_mix":   "step_back_mix_bell",
	"triage_air":      "triage_air_bell",
}

// SpareBells puts notes about air into words that harm no jellyfish. It reports whether there is
// one among the animals of a request or those that they live with; otherwise it changes nothing.
//
// Source: common practice, no source.
func SpareBells(r Request, notes []*quantity.Note) bool {
	if !slices.ContainsFunc(slices.Concat(r.Animals, r.HomeMates), func(a Animal) bool { return a.Known != nil && a.Known.Of != nil && medusa(a.Known.Of) }) {
		return false
	}
	for _, n := range notes {
		if spared, ok := withoutBubbles[n.Code]; ok {
			n.Code = spared
		}
	}
	return true
}
