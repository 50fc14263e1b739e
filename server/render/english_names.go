package render

// englishNames are the names of the contract that are not words. All others are said as they are
// written, with blanks for their underscores and hyphens.
var englishNames = map[string]string{
	// Instruments and what they are marked for.
	"pointer_hydrometer": "plastic hydrometer", "conductivity_meter": "conductivity meter", "tds": "TDS pen",
	"seawater": "sea water", "nacl": "sodium chloride", "brix": "sugar (Brix)",
	// Waters, in the order of the Venice system.
	"limnetic": "fresh water", "oligohaline_beta": "slightly brackish water", "oligohaline_alpha": "slightly brackish water",
	"mesohaline_beta": "brackish water", "mesohaline_alpha": "brackish water", "polyhaline": "strongly brackish water",
	"euhaline": "sea water", "hyperhaline": "water saltier than the sea",
	// Animals.
	"stenohaline-fresh": "strictly freshwater", "stenohaline-marine": "strictly marine",
	"TL": "total length", "SL": "standard length", "OT": "another length", "NG": "length not specified",
	"ok": "calm", "not_feeding": "not eating", "heavy_mucus": "heavy slime",
	// Signs of distress.
	"signs_of_jellyfish":    "stop pulsing, shrink or turn their bell inside out",
	"signs_of_cnidarians":   "stay shut, gape, slough or hang off",
	"signs_of_clams":        "stay shut, gape or draw their mantle in",
	"signs_of_molluscs":     "close and stay closed, or lie on their backs",
	"signs_of_crustaceans":  "lie on their sides, roll, or hardly move",
	"signs_of_chelicerates": "lie on their backs, or hardly move",
	"signs_of_amphibians":   "float lopsided, hang limp or slough their skin",
	"signs_of_reptiles":     "float lopsided, gasp, or hang limp",
	// Limits.
	"at_once": "limit for one step", "per_hour": "hourly limit", "per_24_hours": "daily limit", "temperature_per_hour": "hourly limit for temperature",
	"nh3": "limit for un-ionized ammonia", "oxygen": "limit for oxygen",
	// Measures.
	"conductivity_25": "conductivity at 25 °C",
	// Acts of a plan.
	"fill": "drip", "run_over": "drip", "cups": "pour in cups", "release": "move over", "move": "move over", "hold": "wait",
}
