package site

import (
	"slices"

	"saltlock/server/contract"
)

// wording is a word that people use and search for, with the exact term and, if the contract has
// one, the name on the wire.
type wording struct{ Said, Term, Name, Meaning string }

// spoken is the list, in the order in which the job needs them.
var spoken = []wording{
	{"how much marine salt", "salt to add", "target", "the mass of dry or hydrated sea salt that brings a volume of water to a salinity"},
	{"SG to ppt, ppt to SG, specific gravity", "specific gravity, practical salinity", "reading", "one water on two scales; the pair of temperatures that an SG is for shifts it by up to 0.6 ppt"},
	{"acclimatise, acclimate, drip", "drip acclimation", "route", "letting the salinity around the animals follow slowly, with drops from the new water"},
	{"hose inner diameter, tube bore", "bore", "line_bore", "the width of the water's way through the air line; it decides how fast a failed valve floods"},
	{"height difference, how high the bucket stands", "head", "line_head", "from the water's surface in the tank down to the end of the hose"},
	{"room below the rim, headspace", "freeboard", "container_freeboard", "what stays empty in the container so that it does not overflow"},
	{"total ammonia, the ammonia test", "total ammonia nitrogen (TAN)", "from_tan", "ammonia and ammonium together; the share that poisons depends on pH, temperature and salinity"},
	{"free ammonia, toxic ammonia", "un-ionized ammonia (NH3)", "limits_nh3", "that share"},
	{"carbonate hardness, KH", "alkalinity", "from_alkalinity", "what holds the pH; it mixes in proportion, pH does not"},
	{"real litres, what is in it", "net volume", "volume", "what is left after glass, sand and rock"},
	{"top up", "top-off", "missing", "replacing what evaporated, with fresh water, since the salt stayed"},
}

// wordings is the list, without names that this contract does not have.
func wordings(c *contract.Contract) []wording {
	known := map[string]bool{}
	for _, op := range c.Operations {
		for name := range op.Query {
			known[name] = true
		}
	}
	list := slices.Clone(spoken)
	for i := range list {
		if !known[list[i].Name] {
			list[i].Name = ""
		}
	}
	return list
}

// facts are what guides say only where it is true.
type facts struct {
	Words  []wording
	Saves  bool // transfers can be stored
	Siphon bool // plans know the hose
}

func guideFacts(c *contract.Contract) facts {
	_, saves := c.Operations["POST /v1/transfers"]
	plan := c.Operations["GET /v1/transfers/plan"]
	return facts{Words: wordings(c), Saves: saves, Siphon: plan.Query["line_bore"] != nil}
}
