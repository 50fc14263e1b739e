package render

// refusalSentences say why there is no plan, and what would make one.
var refusalSentences = sentences{
	// What a refusal begins with.
	"refused_unwise": "Do not make this move.",
	"refused_way":    "No plan keeps the animals safe this way.",
	"refused_more":   "Ask for the full answer: it has {0, plural, one {# more obstacle} other {# more obstacles}}.",

	// A value of the request.
	"out_of_range":          "{0, name} is given; {1, name} to {2, name} is allowed",
	"beyond_preference":     "{0, name} is given; life stage {3, name} of {4, name} prefers {1, name} to {2, name}. Choose a target within that.",
	"out_of_range_hot":      "{0, name} is given; {1, name} to {2, name} is allowed. Check the decimal point and the unit",
	"time_in_future":        "The time lies in the future. Check the date.",
	"time_too_late":         "The time is more than {0} ahead. Check the date.",
	"time_too_early":        "The time is more than {0} ago. Check the date.",
	"salinity_out_of_reach": "{0} cannot be reached; {1..2} can. {3, name}",

	// The move itself is unwise.
	"no_step_while_sick":      "Do not move a sick animal to another salinity. Treat it first, with a vet, and plan again when it is well.",
	"no_step_while_medicated": "Leave the salinity alone while a medicine is in the water. Finish the treatment, change the water, then plan again.",
	"no_step_just_shipped":    "Let animals that were just shipped rest for a day, in clean water at the salinity and temperature they came in.",
	"no_step_while_moulting":  "Leave a moulting animal where it is until its shell is hard, which takes some days.",
	"nitrite_in_new_water":    "The new water has {0} of nitrite; more than {1} harms. Wait until its filter brings ammonia and nitrite to that on two days.",
	"target_below_band":       "{0, name} cannot live at {1}; it needs {2} at least.",
	"target_below_kept":       "{0, name} is kept at {2} or more and should not go to {1}.",
	"target_below_as_dip":     "{0, name} is kept at {2} or more and should not go to {1}. A dip or a spell in such water is a treatment with risks. A vet or another fish health professional directs it; nothing is planned here.",
	"target_above_band":       "{0, name} cannot live at {1}; it bears {2} at most.",
	"target_above_kept":       "{0, name} is kept at {2} or less and should not go to {1}.",
	"target_above_as_dip":     "{0, name} is kept at {2} or less and should not go to {1}. A dip or bath in such water is a treatment with risks. A vet or another fish health professional directs it; nothing is planned here.",
	"no_air_stone":            "Put an air stone into the container. Without one, salt water sinks and animals at the bottom meet it undiluted.",

	// Too much for one day or one step.
	"over_24_hours":                  "The difference is {0}; the limit for one day is {1}. One bucket cannot do that.",
	"day_used_up":                    "{0} of today's {1} are used up, and this move needs {2}. Wait until tomorrow.",
	"gap_over_at_once":               "The difference is {0}; one step may be at most {1}. Use a drip, or bring the waters closer first.",
	"temperature_over_24_hours":      "The waters differ by {0} in temperature; the limit for one day is {1}. Bring the new water to {2-} or nearer first.",
	"temperature_over_24_hours_down": "The waters differ by {0} in temperature; the limit for one day is {1}. Bring the new water to {2+} or nearer first.",
	"a_day_would_do":                 "A drip will do once the earlier change is a day old.",
	"tolerance_over_at_once":         "You allow {0} for the last step; one step may be at most {1-}.",
	"tolerance_of_zero":              "A drip never quite reaches the new water. With this container and line, allow {0} for the last step.",
	"search_ended_without_cups":      "No plan with cups was found among the many that were tried. Use a drip, or start with more water.",
	"search_ended_without_a_plan":    "No plan was found among the many that were tried. Allow fewer settings of the valve, a larger last step or more visits.",
	"tolerance_out_of_reach":         "Even after {1, number} pour-offs, this container and line leave {0+}. Allow that much for the last step.",
	"overflow_never_ends":            "A drip with an overflow never quite reaches the new water. Allow some difference for the last step, such as {0}.",

	// Other ways to go.
	"holding_tanks_would_do": "Go through holding tanks with mature filters: {0, plural, one {# part} other {# parts}} of {1}, with {2} in each tank. Give the volume of a holding tank to plan it.",
	"combined_would_do":      "Another way: change their own tank to {0} first, then drip the rest. The planner can do both in one plan.",
	"ramp_would_do":          "Another way: change the water of their own tank, a little each day. Give its volume to plan it.",
	"ramp_not_needed":        "The difference of {0} is within the limit for one day, {1}. Use a drip, if need be a day after the last change.",
	"bag_is_no_home_tank":    "Animals in a bag have no tank to change. Let them rest for a day in clean water that matches the bag, and plan from there.",
	"stages_not_needed":      "The difference of {0} is within the limit for one day, {1}. Use a drip, or leave the choice to the planner.",
	"too_many_stages":        "The way would take {0, number} parts; more than {1, number} are not worth planning. Change their own tank first.",

	// Tanks.
	"ramp_without_end":         "Changes of at most {0} of the tank never get there. Allow a larger share.",
	"ramp_below_the_tap":       "You want {0}, but the water for the changes has {1}. Use fresher water.",
	"nothing_to_ramp":          "Both waters have the same salinity. There is nothing to change.",
	"needs_more_holding_tanks": "{0, number} parts need {1, plural, one {# holding tank} other {# holding tanks}}, each with a mature filter. You have {2, number}.",
	"stage_below_the_source":   "The water for the holding tanks has {0}; one of them needs {1}. Use fresher water.",

	// Life in the container.
	"too_many_charges":               "You would have to fill a jug more than {0, number} times. Drip from the tank.",
	"too_much_ammonia":               "At worst, un-ionized ammonia would come to {0}; {1} is the limit. {2, plural, =0 {One animal is already too many} =1 {There is room for one of them} other {There is room for # of them}}.",
	"too_much_ammonia_of_all":        "At worst, un-ionized ammonia would come to {0}; {1} is the limit. Move fewer animals at a time.",
	"too_little_oxygen":              "At worst, oxygen would fall to {0}; {1} is the limit. {2, plural, =0 {One animal is already too many} =1 {There is room for one of them} other {There is room for # of them}}.",
	"too_little_oxygen_for_all":      "At worst, oxygen would fall to {0}; {1} is the limit. Move fewer animals at a time.",
	"too_much_ammonia_in_drops":      "At {0} the drip takes too long. At worst, un-ionized ammonia would come to {1}; {2} is the limit.",
	"too_little_oxygen_in_drops":     "At {0} the drip takes too long. At worst, oxygen would fall to {1}; {2} is the limit.",
	"stream_would_do":                "Let the line run as a stream of up to {1}, {0} in all. Set it by what a measuring cup catches in one minute. Allow {2} to plan it.",
	"cups_would_do":                  "Pour the new water in by hand: {0, plural, one {# measured cup} other {# measured cups}} over {1}.",
	"needs_room_for_animals":         "Use a container of about {0}, with more water to start with and a faster drip.",
	"water_holds_too_little_oxygen":  "Even without animals and with an air stone, this water holds {0} of oxygen; {1} is the limit. Use cooler water.",
	"water_brings_ammonia":           "Even without animals, un-ionized ammonia comes to {0}; {1} is the limit. Use cleaner water.",
	"acidity_would_help":             "The water was judged at {0}, because its alkalinity is not known. Measure pH and alkalinity of both waters; a lower pH may allow more animals.",
	"too_long_without_food_in_drops": "At {0} they would be held for {1}. Animals without food are held for {2} at most.",
	"too_long_without_food":          "The animals would be held for {0} in a container without filter and food; {1} is the most. Let the drip run faster.",

	// Container and line.
	"freeboard_takes_all":       "The space you leave under the rim takes all of the {0}. Leave less.",
	"start_leaves_no_room":      "Starting with {0} leaves no room to drip into; the container may hold {1}. Start with less, or use a larger container.",
	"start_below_least":         "You start with {0}, but the animals need {1}. Start with more.",
	"overflow_above_the_rim":    "The overflow would sit at {0}, above the {1} that the container may hold. Set it lower, or use a larger container.",
	"waste_bucket_too_small":    "{0} run into the bucket under the overflow, which would have to be emptied more than {2, number} times. Use one of {1} or more.",
	"least_drip_above_greatest": "Your slowest drip, {0}, is faster than your fastest, {1}.",
	"needs_slower_drip":         "Even the slowest drip is too fast. You need a valve that holds {0-}.",
	"needs_smaller_drop":        "Or make smaller drops, of {0-} or less.",
	"needs_more_water_for_cups": "Even a cup of {0} changes the water too fast. Start with {1+} or more.",
	"container_not_measured":    "Give the volume of water that they start in. To find it, pour water into the container by the jug, up to the level they start at, and count.",
	"overflow_needs_volume":     "With an overflow no mark shows how far you are. Give the volume up to the overflow. To find it, pour water in by the jug and count.",
	"marks_out_of_reach":        "Even after {1, number} pour-offs {0+} remain. Allow that much for the last step.",
	"needs_more_water":          "Start with more water: {0+} or more.",
	"needs_larger_container":    "A larger container will do: {0+} or more.",
	"source_runs_dry":           "The tank holds {0} and the drip takes {1}. Take less, or refill it as it falls.",
	"head_runs_out":             "With the tank {0} above the hose end, the drip stops before it is done. Raise the tank or lower the hose end to {1+} or more.",
	"line_passes_too_little":    "The plan drips {0}, but the open hose passes only {1}. Use a wider or shorter hose, or raise the tank.",
	"needs_wider_bore":          "A hose {0+} wide inside, or wider, passes it.",
	"intake_uncovered":          "At {0} the hose end would come out of the water before the drip is done. Hang it {1..2} under the surface of the tank.",
	"intake_below_bottom":       "The tank is only {1} deep, and the hose end would hang at {0}. Hang it {2..3} under the surface.",
	"intake_above_water":        "At {0} the hose end is not under water. Hang it under the surface; with the tank's surface area the plan says how deep.",

	// Visits.
	"visits_do_not_suffice":   "Nobody could tend a drip at these visits. Between two of them the container would run over, or the drip would have to be slower than the valve holds.",
	"start_later_would_do":    "Start {0} later.",
	"come_more_often":         "Visits every {0} will do.",
	"quiet_hours_never_end":   "Quiet hours from {0, name} to {0, name} never end. Say when they end.",
	"start_in_quiet_hours":    "Someone must be there at the start, and your quiet hours run from {0, name} to {1, name}. Start {2} later.",
	"no_cups_with_overflow":   "Cups would run out at the overflow. Use a container without one, or a drip.",
	"no_visits_with_overflow": "A drip with an overflow cannot be planned around visits. Leave them out, or drip without the overflow.",

	// Under way.
	"room_changes_too_fast": "Nothing holds the container's temperature. In a room at {2} it changes by {0}; {1} is the limit. Heat it, or stand it in a bath.",
	"room_changes_too_much": "Nothing holds the container's temperature. In a room at {2} it changes by {0}; the limit for one day is {1}. Heat it, or stand it in a bath.",

	"problem_no_plan":       "No plan keeps the animals within their limits",
	"problem_which_species": "Which one?",
	"problem_not_found":     "There is no such thing",
	"detail_more":           "{0, name} (and more: see errors)",
	"detail_and_more":       "{0, name} (and {1, number} more, of which errors lists {2, number})",
}
