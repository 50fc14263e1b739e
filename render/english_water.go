package render

// waterSentences speak of readings and of making water.
var waterSentences = map[string]string{
	"measure_unresolved":          "{0} cannot be found for this water.",
	"measure_out_of_range":        "{0} is left out: its formula holds for a {1} of {3} to {4}, and here it is {2}.",
	"measure_past_source":         "{0} is used past its source, which covers {1}; take it with more doubt.",
	"sea_salt_equivalent":         "Below {0} the ions of tap water may decide the conductivity; read the result as the sea salt that conducts as much.",
	"temperature_assumed":         "No temperature was given; {0} is taken.",
	"convention_assumed":          "Specific gravity is taken at {0}, as no other pair of temperatures was named.",
	"half_division_assumed":       "The reading is taken as good to half a division, {0}.",
	"hydrometer_temperature":      "Read at {0} on a hydrometer for {2}, the temperature is corrected; without that the salinity would be off by {1}.",
	"hydrometer_temperature_only": "Read at {0} on a hydrometer for {1}; only the correction for temperature makes it a salinity.",

	"product_taken_dry":         "The water content of the product is not known: {0} is for a dry product, the least it can take; a fully hydrated mix takes {1}.",
	"salt_dissolve":             "Dissolve {0} in {1} of source water, in a clean container without animals.",
	"salt_wait":                 "Stir with a pump or air stone until it is clear and at its temperature, some hours at best over night.",
	"salt_measure":              "Measure; it should read {0}.",
	"salt_complete":             "If it reads low, add salt little by little up to {0} in all, and measure each time.",
	"dissolve_without_animals":  "Never dissolve salt where animals are.",
	"water_is_heavy":            "{0} of water weighs {1}: split the load or pump it, keep mains plugs and sockets out of reach of salt water, and ask whether the floor bears it.",
	"ph_does_not_mix":           "Alkalinity mixes by amount; the pH of a blend is no average of the two, so measure it.",
	"water_temperature_assumed": "Water {0} came without a temperature; {1} is taken.",
	"limits_of_animals_decide":  "How much the salinity may change in a step is decided by the animals and the filter, not by this sum.",
	"no_animals_near_the_salt":  "Make the new water apart, at the temperature of the tank, and pour it in slowly.",
	"never_siphon_by_mouth":     "Never start a siphon by mouth.",
	"top_off_with_fresh":        "Evaporation leaves the salt behind: top off with fresh water, and correct the salinity apart from that.",
	"sizes_are_inner":           "Without a thickness of glass the sizes are taken as inner ones.",
	"sand_porosity_used":        "{0} of the sand bed is taken as water.",
	"rock_density_used":         "Rock is taken at {0}.",
}
