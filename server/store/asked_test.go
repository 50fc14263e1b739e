package store

import (
	"slices"
	"testing"
)

// What keepers typed into a running service: names in two words, names in questions, parts of
// names. Which animal each means is common practice, no source.
func TestNamesAsTyped(t *testing.T) {
	x := newIndex(embedded(t))
	for _, c := range []struct {
		text    string
		outcome Outcome
		first   string // of those offered; empty: nobody
		also    string
	}{
		{"neon goby", Several, "elacatinus-oceanops", "stiphodon-atropurpureus"},
		{"Neongrundel", Several, "elacatinus-oceanops", "stiphodon-atropurpureus"},
		{"mono fish", Several, "monodactylus-argenteus", "monodactylus-sebae"},
		{"lion fish", Several, "pterois-volitans", "neovespicula-depressifrons"},
		{"discus fish", Exact, "symphysodon-aequifasciatus", ""},
		{"turtle", Several, "malaclemys-terrapin", ""},
		{"salvini", NotThere, "", ""},
		{"spaghetti", NotThere, "", ""},
		{"porcelain crab", NotThere, "", ""},
		{"snowflake eel", Several, "echidna-nebulosa", "gymnothorax-tile"},
		{"datnoid", Several, "datnioides-campbelli", "datnioides-polota"},
		{"archer fish", Several, "toxotes-blythii", "toxotes-jaculatrix"},
		{"puffer fish", Several, "", "dichotomyctere-ocellatus"},
		{"angel fish", Several, "", "pterophyllum-scalare"},
		{"sea horse", Several, "", "hippocampus-kuda"},
		{"mud skipper", Several, "", "periophthalmus-barbarus"},
		{"moray eel", Several, "", "gymnothorax-tile"},
		{"gouramis", Several, "", "trichogaster-lalius"},
		{"Can I keep a figure 8 puffer in freshwater?", Exact, "dichotomyctere-ocellatus", ""},
		{"sailfin molly freshwater or brackish?", Several, "poecilia-latipinna", "poecilia-velifera"},
		{"spotted scat freshwater or brackish?", Exact, "scatophagus-argus", ""},
		{"is a black molly a brackish fish", Several, "poecilia-sphenops", ""},
		{"Wieviel Salz braucht der Grüne Kugelfisch", Several, "dichotomyctere-fluviatilis", "dichotomyctere-nigroviridis"},
		{"Darf ein Argusfisch ins Süßwasser?", Several, "scatophagus-argus", "selenotoca-multifasciata"},
		{"what salinity for a freshwater moray", Several, "gymnothorax-polyuranodon", ""},
		{"can I keep a marine betta", NotThere, "", ""},
		{"guppy", Exact, "poecilia-reticulata", ""},
		{"guppies", Exact, "poecilia-reticulata", ""},
		{"molly", Several, "poecilia-sphenops", "poecilia-latipinna"},
		{"koi", Several, "cyprinus-carpio", "anabas-testudineus"},
		{"rainbow fish", Several, "melanotaenia-boesemani", "poecilia-reticulata"},
		{"Indian glassy perch", Exact, "parambassis-ranga", ""},
		{"rock shrimp", Several, "atyopsis-moluccensis", ""},
		{"peacock goby", Exact, "tateurndina-ocellicauda", ""},
		{"moon jelly", Exact, "aurelia-aurita", ""},
		{"Texas cichlid", Exact, "herichthys-cyanoguttatus", ""},
		{"sturgeon", Several, "acipenser-baerii", "acipenser-ruthenus"},
		{"halloween crab", Exact, "gecarcinus-quadratus", ""},
		{"tire track eel", Several, "", "mastacembelus-armatus"},
		{"tire track eel", Several, "", "mastacembelus-favus"},
		{"Nemo", Several, "amphiprion-ocellaris", "amphiprion-percula"},
	} {
		m := x.match(c.text)
		ids := m.offered(x)
		switch {
		case m.Outcome != c.outcome, c.first != "" && (len(ids) == 0 || ids[0] != c.first), c.also != "" && !slices.Contains(ids, c.also),
			c.outcome == NotThere && len(m.near) > 3:
			t.Errorf("%q as %q: %s %v, near %d; want %s, first %s, with %s", c.text, m.Asked, m.Outcome, ids, len(m.near), c.outcome, c.first, c.also)
		}
	}
	// A blank or the word fish decides nothing.
	for _, same := range [][]string{{"mono", "mono fish"}, {"lionfish", "lion fish"}, {"bumblebee goby", "bumble bee goby"}, {"archerfish", "archer fish"},
		{"guppy", "guppy fish"}, {"mudskipper", "mud skipper"}, {"seahorse", "sea horse"}} {
		want, got := x.match(same[0]), x.match(same[1])
		if want.Outcome != got.Outcome || !slices.Equal(want.offered(x), got.offered(x)) {
			t.Errorf("%q: %s %v, but %q: %s %v", same[0], want.Outcome, want.offered(x), same[1], got.Outcome, got.offered(x))
		}
	}
	if m := x.match("what salinity for Kaudern's cardinals, please"); m.Asked != "Kaudern's cardinals" || m.Outcome != Exact {
		t.Errorf("understood as %q: %s", m.Asked, m.Outcome)
	}
}
