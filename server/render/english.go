package render

import "maps"

// english is the complete catalogue, from which the others translate.
var english = join(answerSentences, waterSentences, transferSentences, speciesSentences, savedSentences)

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
	"conversion_salinity":     "{0} practical salinity, {1} absolute: {2, name} water.",
	"conversion_density":      "{0} of sea salt at {1}; specific gravity {2} at 25C/25C.",
	"conversion_conductivity": "Conductivity {0} there, {1} at 25 °C.",
	"calibration":             "It should have shown {0}; send correction={1, name} along with its readings.",
	"calibration_error":       "Uncorrected, it is off by {0}.",
	"conversions_counted":     "{0, number} readings converted, {1, number} with errors.",
	"salt_mix":                "Dissolve {0} of salt in {1} of source water for {2} at {3}.",
	"salt_mix_hydrated":       "That is for a dry product, the least it can take; a fully hydrated mix needs {0}.",
	"blend":                   "Together {0} at {1} and {2}.",
	"blend_solved":            "Water {0, number} of the blend: pour in {1}.",
	"blend_ph":                "About {0}, and {1} once it has stood in air.",
	"blend_alkalinity":        "Alkalinity of the blend: {0}.",
	"water_change":            "Take out {0}, put in {1} at {2}: the tank then stands at {3}.",
	"water_change_salt":       "The new water takes {0} of salt in {1} of source water.",
	"water_change_steps":      "Do it in {0, number} steps; the steps are in the table of the answer.",
	"top_off":                 "Add {0} of fresh water.",
	"top_off_now":             "The tank reads {0} now.",
	"top_off_after":           "Topped off with the water given it stands at {0}.",
	"top_off_drift":           "Over the period the salinity drifts by {0}.",
	"vessel":                  "It holds {0} of water; empty and to the rim {1}.",
	"vessel_level":            "One unit of level is {0}.",
	"species_found":           "{0, number} species found.",
}
