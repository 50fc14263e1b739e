package embed

// Element is one custom element as its page describes it.
type Element struct {
	Name, Tag, Title, About string
	Height                  int    // pixels of its frame on a wide page; it scrolls if that is too little
	Answer                  string // a question by URL, for readers without scripts
	Attributes              []Attribute
}

// Attribute is one attribute of an element; Try is its value on the page.
type Attribute struct{ Name, Try, About string }

// Common are the attributes of every element.
var Common = []Attribute{
	{"lang", "", "en or de; else the language of the page around it."},
	{"units", "", "metric (if not given) or us: what the fields offer first and what answers are given in."},
	{"decimal", "", "point or comma: what is typed and shown; a comma where the language is German."},
	{"theme", "", "light or dark; else what the reader's system prefers."},
	{"api", "", "Where the service is; else where the script came from."},
}

// Elements are all elements, in the order of the index.
var Elements = []Element{
	{
		Name: "converter", Tag: "saltlock-converter", Title: "Salinity converter", Height: 640,
		About:  "What a reading of a hydrometer, refractometer or conductivity meter really says: SG to ppt, with the instrument and the temperature corrected and the uncertainty told.",
		Answer: "/v1/conversions?reading=1.010%20SG&temperature=25%20C&format=text",
		Attributes: []Attribute{
			{"reading", "1.010 SG", "A reading with its unit; with it the answer shows at once, without it nothing is asked before the reader does."},
			{"temperature", "", "Temperature of the water, as 25 °C or 77 °F."},
			{"instrument", "", "What is chosen at first: none, hydrometer 60F/60F, hydrometer 25C/25C, refractometer seawater, refractometer nacl, conductivity."},
		},
	},
	{
		Name: "salt", Tag: "saltlock-salt", Title: "How much salt?", Height: 900,
		About:  "How much marine salt makes this much water of this salinity, between a dry product and one that has drawn all the water it can, with the steps and the cautions.",
		Answer: "/v1/mixes/salt?target=1.010%20SG&volume=450%20L&format=text",
		Attributes: []Attribute{
			{"target", "1.010 SG", "Salinity wanted, with its unit; with it the answer shows at once."},
			{"volume", "450 L", "Finished water."},
			{"temperature", "", "Temperature of the water."},
			{"source", "", "Salinity of the water that the salt goes into."},
			{"product-water-content", "", "Water bound in the salt, as 15 %, if known."},
		},
	},
	{
		Name: "transfer", Tag: "saltlock-transfer", Title: "Transfer planner", Height: 3000,
		About:  "How animals cross from one water to another: at once, by drip acclimation or by water changes over weeks, with what to do when, the chart, what the instrument should read, and the cautions.",
		Answer: "/v1/transfers/plan?from_salinity=2%20ppt&from_temperature=26%20C&to_salinity=10%20ppt&to_temperature=26%20C&sensitivity=hardy&container_capacity=20%20L&container_aerated=true&format=text",
		Attributes: []Attribute{
			{"from-salinity", "2 ppt", "Salinity of the water the animals are in; with it the plan shows at once."},
			{"from-temperature", "26 °C", "Temperature of that water."},
			{"to-salinity", "10 ppt", "Salinity of the new water."},
			{"to-temperature", "26 °C", "Temperature of the new water."},
			{"species", "scatophagus-argus", "Species by id or name."},
			{"stage", "juvenile", "larva, juvenile or adult."},
			{"sensitivity", "", "hardy, moderate, delicate or invertebrate, where the species is not known."},
			{"origin", "captive", "captive, wild or unknown."},
			{"condition", "", "well, thin, sick, medicated, just_shipped or moulting."},
			{"count", "4", "How many animals."},
			{"mass", "1 g", "Mass of one."},
			{"container-capacity", "20 L", "What the container holds, to the rim."},
			{"container-start-volume", "6 L", "Water in it at the start."},
			{"container-aerated", "true", "true or false: whether an air stone stirs it."},
			{"line-drop-volume", "", "Volume of a drop, in mL: count how many fill 10 mL."},
			{"home-tank-volume", "", "What their tank holds, for a gap too wide for one day."},
			{"instrument", "", "The instrument that checks on the way, as in the converter."},
		},
	},
	{
		Name: "species", Tag: "saltlock-species", Title: "Species card", Height: 1800,
		About:  "Which salinity and temperature an animal lives in, by life stage, each value with its standing and its source.",
		Answer: "/v1/species/scatophagus-argus?format=text",
		Attributes: []Attribute{
			{"species", "scatophagus-argus", "Species by id or name; with it the card shows at once."},
			{"stage", "", "Show this life stage only: larva, juvenile or adult."},
		},
	},
}
