package render

import "maps"

// english is the complete catalogue, from which the others translate.
var english = join(answerSentences, waterSentences, transferSentences, rampSentences, refusalSentences, requestSentences, cautionSentences, careSentences, jellyfishSentences, speciesSentences, savedSentences, pictureSentences, pageSentences)

// join makes one catalogue of several; no code stands in two.
func join(catalogues ...sentences) sentences {
	all := sentences{}
	for _, c := range catalogues {
		maps.Copy(all, c)
	}
	return all
}

// answerSentences are the short text of the answers.
var answerSentences = sentences{
	"conversion_salinity":      "The salinity is {0}, or {1} by mass: {2, name}.",
	"conversion_density":       "By volume it is {0} of sea salt at {1}. By specific gravity it is {2} at 25C/25C.",
	"conversion_conductivity":  "The conductivity is {0} there, {1} at 25 °C.",
	"calibration_factor":       "The instrument should have shown {0}. Multiply every reading by {1, name}.",
	"calibration_more":         "If you can adjust the instrument, set it to {0} in this solution. Otherwise add {1, name} to every reading.",
	"calibration_less":         "If you can adjust the instrument, set it to {0} in this solution. Otherwise subtract {1, name} from every reading.",
	"calibration_error":        "Without that, its readings are off by {0}.",
	"conversions_counted":      "{0, plural, one {# reading} other {# readings}} converted, {1, number} with errors.",
	"salt_mix":                 "Start with {0} of salt in {1} of source water. Together they make {2} at {3}.",
	"salt_mix_hydrated":        "Dry salt needs no more. Moist salt needs up to {0}. Measure before you add the rest.",
	"blend":                    "Together they make {0} at {1} and {2}.",
	"blend_solved":             "Pour in {1} of water {0, number}.",
	"blend_ph":                 "The blend has about {0}, and {1} after some time in air.",
	"blend_alkalinity":         "Its alkalinity is {0}.",
	"water_change":             "Your tank holds {4} at {5}. Take out {0} and put in {1} at {2}. The tank should then read {3}.",
	"water_change_salt":        "The new water takes {0} of salt in {1} of source water.",
	"water_change_repeated":    "Your tank holds {0} at {1}. Change water {2, plural, =1 {once} =2 {twice} other {# times}}. With animals, leave at least a day between. Each time take out {3} and put in {4} at {5}. The tank should read {6} after the first change and {7} after the last.",
	"water_change_unlike":      "Your tank holds {0} at {1}. Change water {2, plural, =1 {once} =2 {twice} other {# times}}, each time with new water of its own. With animals, leave at least a day between.",
	"water_change_step":        "{0, number}. Take out {1} and put in {2} at {3}. The tank should then read {4}.",
	"water_change_salt_in_all": "In all, the new water takes {0} of salt in {1} of source water.",
	"top_off":                  "Add {0} of fresh water.",
	"top_off_now":              "The tank reads {0} now.",
	"top_off_after":            "Topped off with your water, it will read {0}.",
	"top_off_drift":            "Over the period the salinity changes by {0}.",
	"vessel":                   "There is room for {0} of water; empty inside and filled to the rim, for {1}.",
	"vessel_to_the_rim":        "Filled to the rim it holds {0}.",
	"vessel_level":             "Volume by level: {0}.",
	"bucket_level":             "Volume by level: {0} at the surface, less further down. Mark levels by filling it by the jug.",
	"species_found":            "{0, plural, one {# species} other {# species}} found.",

	"range": "{0, name} to {1, name}",
}
