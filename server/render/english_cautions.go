package render

// cautionSentences warn, say what was assumed, and say what always holds.
var cautionSentences = sentences{
	// About the animals and their water.
	"band_not_known":                    "Records do not cover all the water {0, name} lives in. Watch it closely.",
	"stenohaline_stays_in_its_band":     "Never take fish that keep to fresh water above the salinity they prefer. Check the species before you start.",
	"gap_uncertain":                     "The difference of {0} is less certain than one step may be, {1}. Measure both waters again, with a finer instrument.",
	"instrument_off_scale":              "Your {0, name} cannot show some of these waters. Use another instrument where no reading is given.",
	"instrument_cannot_verify":          "Your instrument is good to {0}, and one step may be {1}. It cannot check this move; borrow a finer one.",
	"equalise_temperature_first":        "Float the animals in their own water until it is at {0}. The temperatures differ by {1}; at {2} that takes {3}. Two changes at once are harder than one.",
	"temperature_left_at_release":       "At the release the temperatures still differ by {0}. Float the animals in their container until the difference is under 1 °C.",
	"temperature_and_salinity_together": "Temperature and salinity change together; the temperatures differ by {0} at the start. So the plan keeps to half the usual limits. Better: bring the temperatures within 1 °C first.",
	"room_and_salinity_together":        "The room differs from the animals' water by {0}, and nothing holds the container's temperature. So the plan keeps to half the usual limits. Better: heat the container, or stand it in a bath.",
	"room_warms_or_cools":               "The container drifts towards the room at {0}. The estimate is good to a factor of two: check the temperature at every look.",

	// About the drip.
	"one_filling_leaves":              "One filling leaves {0} of the difference. Pour off {1, plural, =1 {once} =2 {twice} other {# times}} and fill again.",
	"drip_slows":                      "As the levels change, the drip slows to between {0} and {1} of its setting by {2}. Count the drops at every look and set them again.",
	"drip_quickens":                   "As the levels change, the drip may speed up to {0} of its setting after {1}, faster than the limits allow. Count the drops then and set them back.",
	"too_fast_to_count":               "Nobody can count {0}. Catch the flow in a measuring cup for one minute, or use a metering pump. Above {1} counting is guesswork.",
	"drop_volume_unlike_tip":          "You gave drops of {0}; such a tip makes about {1}. Count how many fill 10 mL.",
	"visits_take_longer":              "With these visits it takes {0}. With someone there at any time it would take {1}.",
	"hose_not_followed_with_overflow": "With an overflow the plan does not follow the levels at the hose. Count the drops at every look.",
	"source_level_falls":              "The drip takes {0} from the tank, {1} of it. Make the replacement water before you start.",
	"top_off_between":                 "Between changes, replace the {0} that evaporate each day with fresh water. Otherwise each day raises the salinity by {1}.",

	// About the overflow and a valve that fails.
	"waste_bucket_needed":        "{0} run out under the overflow. Put a bucket there that holds as much, or a hose to the drain, and room to spare for a stuck valve.",
	"waste_bucket_fills":         "{1} run into a bucket of {0}. Empty it {2, plural, =1 {once} =2 {twice} other {# times}}, when the plan says so.",
	"intake_hardly_by_hand":      "The hose end must hang within {0}, which is hard to do by hand. {1} too deep, and a stuck valve spills {2}. Stand the container in a tub that holds as much, or put the water for the drip into a jug.",
	"intake_too_deep":            "With the hose end {0} under the surface, a stuck valve spills {1}. Hang it at {2..3}.",
	"intake_not_checked":         "Nobody can say whether {0} is the right depth for the hose end without the tank's surface area. Give it to have the depth checked.",
	"open_line_evens_out":        "If the valve sticks open, {0} run in, and the flow stops before the container is full. The animals still meet the new water far too fast. Stay within reach.",
	"open_line_fills":            "If the valve sticks open, {0} run in. The container is full to the rim {1-} after the start, and after {2-} when it is fullest. Stay within reach, or hang the hose so that the siphon breaks first.",
	"failed_valve":               "A valve can stick open. Hang the hose end only so deep that the siphon breaks before the container overflows, and stand the container where water does no harm.",
	"failed_valve_runs_over":     "A valve can stick open. Then the tank runs through the container and over, down to the hose end. Hang it only so deep that the bucket under the overflow takes what comes, and stand both where water does no harm.",
	"submerged_outlet_runs_back": "A hose with both ends under water runs back when the tank is the lower one, and takes the animals' water with it. Lift the end out before you pour off, move anything or count drops.",
	"screen_the_overflow":        "Put a screen over the overflow that no animal slips through. Try it with the hose running before any animal is in.",

	// About tanks and filters.
	"filter_gate":          "Let the filter adapt. Before each further 2.7 g/kg, total ammonia must be at most {0} and nitrite at most {1} on two days in a row. Feed half for two days after each.",
	"mature_filters_first": "Each of the {0, number} holding tanks needs a filter that is mature at its own salinity. Run it there for weeks, fed with ammonia for these animals, until total ammonia stays at most {1} and nitrite at most {2} on two days.",
	"ph_of_ramp_not_known": "The change of pH could not be checked. Measure the pH before and after each change, and make smaller changes if it moves by more than {0} in a day.",

	// What was assumed.
	"share_assumed":                  "One water change takes at most {0} of the tank.",
	"filter_assumed":                 "The tank has a filter that must adapt.",
	"holding_volume_assumed":         "A holding tank holds {0}; the salt is for that.",
	"tolerance_assumed":              "The last step may be {0}.",
	"sensitivity_assumed":            "You did not say how sensitive the animals are. They are moved as {0, name} ones.",
	"thin_as_delicate":               "Thin animals are moved as delicate ones.",
	"read_on_own_instrument":         "{0} was read on your own instrument.",
	"life_support_assumed":           "The animals had no food for a day, use twice as much in the first {0}, and the air stone holds {1} of saturation.",
	"life_support_at_warmest":        "Oxygen and ammonia are judged at {0} and {1}, the warmest and most alkaline it may get.",
	"no_ammonia_assumed":             "Water whose ammonia you did not give has none.",
	"ph_in_air_assumed":              "Water of unknown alkalinity comes to {0} in air.",
	"no_heat_to_the_room":            "The container keeps its heat; only the drip warms or cools it.",
	"freeboard_assumed":              "{0} under the rim stay empty.",
	"start_volume_assumed":           "The container starts with {0}, about a third of what it may hold.",
	"least_volume_assumed":           "The animals keep at least {0}.",
	"drop_volume_assumed":            "The drops were guessed as large ones, {0} each, so that smaller ones are safe too. Count how many fill 10 mL and plan again.",
	"drop_volume_of_tip":             "A drop from the tip you described is {0}. Count how many fill 10 mL and plan again.",
	"source_level_taken_to_stand":    "The level of the tank stays where it is. With its surface area the plan says how the drip slows.",
	"container_level_taken_to_stand": "The level in the container stays where it is. With its shape and size the plan says how the drip slows.",
	"line_assumed":                   "The valve drips from {0} to {1} and is set at most {2, plural, =1 {once} =2 {twice} other {# times}}.",

	// What always holds.
	"limit_given":              "You set your own {0, name} of {1}, in place of the {2} proposed for these animals. It was not checked against them.",
	"drip_never_a_stream":      "Keep it a drip, never a stream, and count the drops at every look.",
	"source_pumps_and_top_off": "While the tank feeds the drip, switch off its automatic top-off, and any heater or pump that the falling level uncovers.",
	"lift_with_care":           "The full container of {0} weighs {1}. Do not carry it; pour off by cup or pump.",
	"move_under_water":         "Move them in a cup or box under water, not in a net. A puffer lifted into air may swallow it and not get rid of it. Spines of scats, catfish and toadfish catch in a net and wound.",
	"mains_near_salt_water":    "Salt water conducts. Use a residual-current device, drip loops and plugs above the water, and an electrician for the wiring.",
	"keep_a_way_back":          "Keep as much of their old water, aerated and covered, until a day after the release.",
	"hold_before_more":         "After the release leave the salinity alone for {0}.",
	"without_air":              "If air stone and drip both stop, oxygen may be low within {0-}. Have a second air pump that runs on batteries.",
	"life_support_not_planned": "Oxygen and ammonia were not checked: the number and mass of the animals are not given. Keep the air stone running, do not feed, crowd or cover them tight, and never drip into the water of a shipping bag.",
	"stop_on_distress":         "Stop if they gasp, roll, lose balance or make slime, and go half a step back.",
	"vet_for_the_sick":         "A change of salinity is no cure. A vet decides for sick animals.",
	"never_release_to_nature":  "Never release animals, plants or their water into nature.",
	"salt_water_to_the_sewer":  "Pour salt water down the sanitary drain where your utility allows it, never on soil, into a storm drain or a septic tank.",
}
