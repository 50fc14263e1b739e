package site

import (
	"maps"
	"slices"
	"strings"

	"saltlock/server/contract"
)

// planField is one question of the planner: a query name of GET /v1/transfers/plan and what a
// person is asked. The contract says what it takes and which choices it has.
type planField struct{ name, label, hint string }

// planFold is a group of questions; groups that few people need are folded.
type planFold struct {
	title  string
	folded bool
	fields []planField
}

// planPage is what is asked together on a phone.
type planPage struct {
	name, title string
	folds       []planFold
}

// planPages are the questions in the order they are asked. A test holds them to the contract: each
// of its query names is asked for.
var planPages = []planPage{
	{"animals", "Which animals are you moving?", []planFold{
		{"", false, []planField{
			{"species", "Species", ""},
			{"stage", "How old are they?", ""},
			{"count", "How many of them?", ""},
			{"length", "How long is one?", "From the mouth to the end of the tail. With number and size the plan watches oxygen and ammonia."},
			{"condition", "How are they?", ""},
			{"origin", "Where do they come from?", ""},
		}},
		{"Weight, or a species that is not in the table", true, []planField{
			{"mass", "Weight of one, instead of its length", ""},
			{"sensitivity", "How carefully they must be moved", "Only if you know better than the table. A species that is not named is moved as a delicate one."},
		}},
	}},
	{"waters", "The two waters", []planFold{
		{"The water they are in", false, []planField{
			{"from_salinity", "Its salinity", ""},
			{"from_temperature", "Its temperature", ""},
		}},
		{"The water they go to", false, []planField{
			{"to_salinity", "Salinity of the new water", ""},
			{"to_temperature", "Temperature of the new water", "Leave it empty if it is the same."},
			{"to_conditioned", "Chlorine and chloramine are out of it", ""},
			{"stay", "How long do they stay there?", "Leave it empty if it is for good. Give days if they only pass through."},
		}},
		{"They came in a bag, or the water has ammonia", true, []planField{
			{"from_hours_in_bag", "Hours in the bag", ""},
			{"from_tan", "Ammonia test of their water", ""},
			{"from_nitrite", "Nitrite test of their water", ""},
			{"from_ph", "pH of their water", ""},
			{"from_alkalinity", "Carbonate hardness of their water", ""},
			{"to_tan", "Ammonia test of the new water", ""},
			{"to_nitrite", "Nitrite test of the new water", ""},
			{"to_ph", "pH of the new water", ""},
			{"to_alkalinity", "Carbonate hardness of the new water", ""},
		}},
		{"The instrument you will check with", true, []planField{
			{"instrument_kind", "Instrument", "The plan then says what it should read."},
			{"instrument_calibration", "Marked for (hydrometers)", "The two temperatures printed on it, for example 60F/60F."},
			{"instrument_scale", "Marks of the refractometer", ""},
			{"instrument_temperature_compensated", "Refractometer corrects for temperature", ""},
			{"instrument_zero_temperature", "It was set to zero at", ""},
			{"instrument_compensation", "What the meter does about temperature", ""},
			{"instrument_tds_factor", "Factor of a meter for dissolved solids", ""},
			{"instrument_correction", "Correction you found for it", ""},
		}},
		{"The day before, and the room", true, []planField{
			{"recent_change", "Change of salinity in the last 24 hours", ""},
			{"room_temperature", "Temperature of the room", ""},
		}},
	}},
	{"container", "The container they wait in", []planFold{
		{"", false, []planField{
			{"container_capacity", "How much does it hold, to the rim?", ""},
			{"container_aerated", "Does an air stone run in it?", "A drip needs one: without it salt water sinks to the animals undiluted."},
		}},
		{"Water in it, and its shape", true, []planField{
			{"container_start_volume", "Water in it at the start", ""},
			{"container_least_volume", "Least water they may stand in", ""},
			{"container_freeboard", "Room to leave under the rim", ""},
			{"container_shape", "Shape, for level marks in centimetres", ""},
			{"container_length", "Inner length", ""},
			{"container_width", "Inner width", ""},
			{"container_middle_width", "Inner width in the middle (bow front)", ""},
			{"container_height", "Inner height", ""},
			{"container_diameter", "Inner diameter (cylinder)", ""},
			{"container_top_diameter", "Inner diameter at the rim (bucket)", ""},
			{"container_bottom_diameter", "Inner diameter at the bottom (bucket)", ""},
			{"container_heated", "A heater holds its temperature", ""},
			{"container_in_bath", "It stands in a water bath", ""},
			{"container_overflow", "An overflow keeps its level", ""},
			{"container_waste_capacity", "Bucket under the overflow holds", ""},
		}},
		{"The hose and its drops", true, []planField{
			{"feed", "What does the drip run from?", "A jug is safer: it cannot hold more than the plan pours into it."},
			{"line_drop_volume", "Size of one drop", "Count the drops that fill 10 mL; 10 mL divided by that number."},
			{"line_least_drip", "Slowest drip the valve holds", ""},
			{"line_greatest_drip", "Fastest drip that is still drops", ""},
			{"line_settings", "Times you will set the valve at most", ""},
			{"line_tip_diameter", "Outer width of the end that drips", ""},
			{"line_bore", "Inner width of the hose", ""},
			{"line_length", "Length of the hose", ""},
			{"line_head", "Height of the tank's surface above the hose end", ""},
			{"line_outlet_submerged", "The hose end is under water", ""},
			{"line_intake_depth", "Depth of the upper end under the tank's surface", ""},
			{"source_tank_volume", "The new water comes from a tank of", ""},
			{"source_tank_surface", "Surface of that tank", ""},
		}},
		{"A long way: their own tank, or holding tanks", true, []planField{
			{"home_tank_volume", "Water in the tank they are in", "To change it around them, a little each day."},
			{"home_tank_source", "Salinity of the water that new water is made from", ""},
			{"home_tank_greatest_share", "Most of the tank in one change", ""},
			{"home_tank_evaporation_per_day", "Evaporates in a day", ""},
			{"home_tank_filter", "A filter must come along", ""},
			{"holding_tanks_volume", "Water in one holding tank", ""},
			{"holding_tanks_count", "Number of holding tanks", ""},
			{"holding_tanks_source", "Salinity of the water that theirs is made from", ""},
		}},
		{"When it starts, and when someone can come", true, []planField{
			{"start", "Start", "Times of the plan and its calendar count from here."},
			{"time_zone", "Time zone", "For example Europe/Berlin. UTC if you leave it empty."},
			{"visits_every", "Someone comes at most every", ""},
			{"visits_first", "First visit at the earliest after", ""},
			{"visits_quiet_from", "Nobody comes from", "For example 23:00."},
			{"visits_quiet_until", "until", "For example 07:00."},
		}},
		{"How to move, and limits of your own", true, []planField{
			{"route", "Way of moving", ""},
			{"prefer", "What it should take least of", ""},
			{"tolerance", "Difference that may remain at the release", ""},
			{"limits_at_once", "Most the salinity may change in one step", "Limits of your own take the place of those of the animals."},
			{"limits_per_hour", "Most in an hour", ""},
			{"limits_per_24_hours", "Most in 24 hours", ""},
			{"limits_temperature_per_hour", "Most the temperature may change in an hour", ""},
			{"limits_nh3", "Most un-ionized ammonia", ""},
			{"limits_oxygen", "Least oxygen", ""},
		}},
	}},
}

// unitsOf are the units offered for a format of the contract, the usual one first.
var unitsOf = map[string][]string{
	"reading": {"ppt", "SG", "g/kg", "mS/cm"}, "temperature": {"C", "F"}, "volume": {"L", "mL", "gal"}, "mass": {"g", "kg", "oz", "lb"},
	"length": {"cm", "mm", "m", "in", "ft"}, "area": {"cm2", "m2"}, "time-span": {"h", "min", "days"}, "drip-rate": {"drops/s", "drops/min"},
	"fraction": {"%"}, "salinity-difference": {"g/kg", "ppt"}, "salinity-rate": {"g/kg/h"}, "temperature-rate": {"K/h"},
	"alkalinity": {"dKH", "meq/L", "mg/L CaCO3"}, "ammonia": {"mg/L N", "mg/L NH3", "mg/L NH4"}, "dissolved-oxygen": {"mg/L"}, "nitrite": {"mg/L NO2", "mg/L N"},
}

// usualUnit names another usual unit where the first is not.
var usualUnit = map[string]string{"line_drop_volume": "mL", "line_bore": "mm", "line_tip_diameter": "mm"}

// unitNames are units as people write them.
var unitNames = map[string]string{"C": "°C", "F": "°F", "gal": "US gal", "cm2": "cm²", "m2": "m²", "K/h": "°C/h", "drops/s": "drops a second", "drops/min": "drops a minute"}

// choiceNames are the choices of the contract as people say them.
var choiceNames = map[string]string{
	"larva": "Larvae", "fry": "Fry", "smolt": "Smolts", "juvenile": "Young", "adult": "Adult", "all": "Any age",
	"well": "Well", "thin": "Thin", "sick": "Sick", "medicated": "Under a medicine", "just_shipped": "Just arrived from shipping", "moulting": "Moulting",
	"captive": "Bred", "wild": "Caught wild", "unknown": "Not known",
	"hardy": "Hardy", "moderate": "Moderate", "delicate": "Delicate", "invertebrate": "As an invertebrate", "stenohaline-fresh": "Fresh water only", "stenohaline-marine": "Sea water only", "plant": "As a plant",
	"auto": "Let the planner choose", "out_of_bag": "Out of the bag first", "direct": "In one step", "drip": "By a drip", "ramp": "Change their tank around them", "combined": "Change their tank, then drip", "staged": "In parts, through holding tanks", "by_marks": "By marks on the wall", "cups": "By cups, poured in by hand",
	"time": "Time", "visits": "Visits", "water": "New water", "true": "Yes", "false": "No",
	"none": "None: take numbers as true", "hydrometer": "Glass hydrometer", "pointer_hydrometer": "Plastic box with a swinging pointer", "refractometer": "Refractometer", "conductivity": "Conductivity meter", "tds": "Meter for dissolved solids",
	"seawater": "Sea water", "nacl": "Table salt (NaCl)", "brix": "Sugar (Brix)", "box": "Box", "cylinder": "Cylinder", "bucket": "Bucket", "bow_front": "Bow front",
	"jug": "A jug or bucket", "tank": "The tank itself",
}

// choiceName is how people say a choice; a new choice has its own name.
func choiceName(value string) string {
	if name, ok := choiceNames[value]; ok {
		return name
	}
	return strings.ReplaceAll(value, "_", " ")
}

// presets are containers that people have.
var presets = []struct{ value, name string }{
	{"10 L", "10 L bucket"}, {"20 L", "20 L bucket"}, {"5 gal", "5 US gal bucket"}, {"60 L", "60 L box or tub"},
}

// planForm is the planner's questions as the contract of this server has them.
func planForm(c *contract.Contract) []planPage {
	op := c.Operations["GET /v1/transfers/plan"]
	rest := maps.Clone(op.Query)
	var pages []planPage
	for _, p := range planPages {
		page := planPage{name: p.name, title: p.title}
		for _, f := range p.folds {
			f.fields = slices.DeleteFunc(slices.Clone(f.fields), func(x planField) bool { return op.Query[x.name] == nil })
			for _, x := range f.fields {
				delete(rest, x.name)
			}
			page.folds = append(page.folds, f)
		}
		pages = append(pages, page)
	}
	last := &pages[len(pages)-1]
	var more []planField
	for _, name := range slices.Sorted(maps.Keys(rest)) { // names of the contract that this table lacks, asked for in the contract's words
		if c.Plan.Has(name) {
			more = append(more, planField{name, rest[name].Description, ""})
		}
	}
	if len(more) > 0 {
		last.folds = append(last.folds, planFold{"More", true, more})
	}
	return pages
}
