package followup

import (
	"slices"

	"saltlock/chem/quantity"
)

// byUrgency are the acts that something wrong asks for, the most urgent first. What runs or leaks
// changes the water by the minute, air that is missing kills within the hour, and foul water within
// hours. All other acts follow. Common practice, no source.
var byUrgency = [...][]quantity.Code{
	runsOn:     {"act_not_closed", "act_pinch_hose"},
	soundWater: {"act_pour_old_water", "act_tank_low", "act_look_under", "now_stop_leak", "then_top_up", "bag_open"},
	stillWater: {"act_close_clamp", "act_unplug_and_close", "act_close_and_read", "act_close_and_new_water", "act_close_read_salinity", "act_change_nothing",
		"act_warm_first", "act_only_warm", "now_read_volume", "now_read_tank", "now_read_salinity_again", "now_read_once_more", "now_close_and_hold"},
	belowTheRim:  {"act_take_out_water"},
	withoutPower: {"power_air"},
	beforeAir:    {"act_change_some", "act_change_much", "move_half_way"},
	airStone:     {"triage_air", "then_not_over"},
	underIt:      {"then_look_under", "then_count_none"},
	cleanWater:   {intoClean, intoCleanSting, intoCleanWet, "then_test_clean"},
	rightWarmth:  {"act_unplug_heater", "then_warm_to", "then_warm_to_edge", "then_cool_to", "then_cool_to_edge"},
	leftAlone:    {"act_leave_closed", "act_read_the_rest", "act_keep_salinity", "act_read_temperature", "act_only_read_temperature", "now_hold", "now_leave_until"},
	wrapped:      {"power_wrap", "power_wrap_bottles", "power_no_wrap", "power_heaters"},
	allOther:     {},
}

// The places in that list.
const (
	runsOn     = iota // new water
	soundWater        // a container that holds it
	stillWater        // no other water comes in
	belowTheRim
	withoutPower
	beforeAir // what comes before a look at the air stone
	airStone
	underIt
	cleanWater
	rightWarmth
	leftAlone // acts that only leave the water as it is
	wrapped
	allOther
)

// urgency is the place of an act in that list. To leave the water as it is leads the search for
// what harms animals in distress, but comes after what was found wrong. The heater of water that is
// too warm is unplugged before what takes longer. Where hardly any water is left and none was set aside,
// clean water is what they need first.
func (c *Course) urgency(act quantity.Code) int {
	place := slices.IndexFunc(byUrgency[:], func(acts []quantity.Code) bool { return slices.Contains(acts, act) })
	dark := c.Tells("why_power_off", "why_only_power_off")
	switch clean := act == intoClean || act == intoCleanSting || act == intoCleanWet; {
	case place < 0:
		return allOther
	case clean && c.Tells("why_level_falls"): // instead of another container
		return stillWater
	case clean && c.Tells("why_little_water") && !tells(append(c.Then, c.Now), "act_pour_old_water"):
		return soundWater
	case act == "act_unplug_heater" && !c.InDistress() && !c.Tells("why_ammonia_toxic", "why_nitrite_toxic"):
		return beforeAir
	case place == leftAlone && act != "act_keep_salinity" && (!c.Alarmed() || c.InDistress() && !dark && !c.Tells("why_ammonia_toxic", "why_nitrite_toxic")):
		return stillWater
	case act == "act_change_nothing" && dark: // no clamp lets water run meanwhile
		return leftAlone
	}
	return place
}

// includes are the acts that one act includes, which are not said again.
var includes = map[quantity.Code][]quantity.Code{
	"act_pinch_hose":       {"act_close_clamp", "act_leave_closed", "act_close_and_read", "act_close_read_salinity"},
	"act_not_closed":       {"act_pinch_hose", "act_close_clamp", "act_leave_closed"},
	"act_close_and_read":   {"act_close_clamp", "act_leave_closed", "then_read_all"},
	"act_read_the_rest":    {"then_read_all"},
	"act_warm_first":       {"power_warm_first"},
	"act_only_warm":        {"power_warm_first"},
	"act_look_under":       {"act_close_clamp", "act_leave_closed", "then_look_under"},
	"act_unplug_and_close": {"act_close_clamp", "act_unplug_heater", "power_heaters", "power_heaters_on"},
	"act_unplug_heater":    {"power_heaters", "power_heaters_on"},
	"act_close_clamp":      {"act_leave_closed"},

	intoClean:         {"act_look_under", "then_top_up"},
	intoCleanSting:    {"act_look_under", "then_top_up"},
	intoCleanWet:      {"act_look_under", "then_top_up"},
	"act_change_some": {intoClean, intoCleanSting, intoCleanWet},
	"act_change_much": {intoClean, intoCleanSting, intoCleanWet},

	"then_salt_after_warmth": {"act_keep_salinity", "power_warm_first", "then_salt_later"},
}

// ranked puts the acts of an answer in the order of their urgency, each once.
func (c *Course) ranked() {
	acts := append([]quantity.Note{c.Now}, c.Then...)
	slices.SortStableFunc(acts, func(a, b quantity.Note) int { return c.urgency(a.Code) - c.urgency(b.Code) })
	included := map[quantity.Code]bool{}
	for _, n := range acts {
		for _, code := range includes[n.Code] {
			included[code] = true
		}
	}
	said := map[quantity.Code]bool{}
	for _, n := range acts {
		for _, code := range includes[n.Code] {
			said[code] = said[code] || !included[n.Code]
		}
	}
	acts = slices.DeleteFunc(acts, func(n quantity.Note) bool {
		again := said[n.Code]
		said[n.Code] = true
		return again
	})
	if acts[0].Code == "act_close_clamp" && tells(acts, "act_unplug_heater") { // both are done in a moment
		acts[0] = noteOf("act_unplug_and_close")
		acts = slices.DeleteFunc(acts, func(n quantity.Note) bool { return n.Code == "act_unplug_heater" })
	}
	if tells(acts, "act_pinch_hose") || tells(acts, "act_not_closed") { // which close it
		for i := range acts {
			if acts[i].Code == "act_unplug_and_close" {
				acts[i] = noteOf("act_unplug_heater")
			}
		}
	}
	c.Now, c.Then = acts[0], acts[1:]
}
