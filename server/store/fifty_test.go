package store

import (
	"slices"
	"strings"
	"testing"
)

// mostAsked are fifty animals and plants that keepers of brackish water ask
// for most (common practice, no source), each by a scientific name, present or
// old, by a common name, and misspelled. Which species a name means is the
// species table's own word; where the trade mixes several under one name, any
// of them is right.
var mostAsked = []struct{ ids, scientific, common, misspelled string }{
	{"dichotomyctere-nigroviridis", "Tetraodon nigroviridis", "green spotted puffer", "green spoted pufer"},
	{"dichotomyctere-ocellatus", "Tetraodon biocellatus", "figure 8 puffer", "figur eight puffer"},
	{"carinotetraodon-travancoricus", "Carinotetraodon travancoricus", "pea puffer", "pee puffer"},
	{"tetraodon-mbu", "Tetraodon mbu", "mbu puffer", "mbu pufer"},
	{"tetraodon-lineatus", "Tetraodon fahaka", "fahaka puffer", "fahakka puffer"},
	{"colomesus-asellus", "Colomesus asellus", "amazon puffer", "amazone puffer"},
	{"scatophagus-argus", "Scatophagus argus", "spotted scat", "spoted scatt"},
	{"scatophagus-argus", "scatophagus argus", "green scat", "gren scat"},
	{"selenotoca-multifasciata", "Selenotoca multifasciata", "silver scat", "sliver scat"},
	{"monodactylus-argenteus", "Monodactylus argenteus", "mono argentus", "monodactylus argentius"},
	{"monodactylus-sebae", "Monodactylus sebae", "sebae mono", "seba mono"},
	{"toxotes-jaculatrix", "Toxotes jaculatrix", "banded archerfish", "banded archer fihs"},
	{"toxotes-microlepis", "Toxotes microlepis", "smallscale archerfish", "smalscale archerfish"},
	{"toxotes-blythii", "Toxotes blythii", "clouded archerfish", "clouded archrfish"},
	{"periophthalmus-barbarus", "Periophthalmus barbarus", "atlantic mudskipper", "atlantic mudskiper"},
	{"periophthalmus-novemradiatus", "Periophthalmus novemradiatus", "indian dwarf mudskipper", "indian dwarf mud skipper"},
	{"brachygobius-doriae brachygobius-xanthozonus", "Brachygobius doriae", "bumblebee goby", "bumble bee gobie"},
	{"stigmatogobius-sadanundio", "Stigmatogobius sadanundio", "knight goby", "nite goby"},
	{"gobioides-broussonnetii", "Gobioides broussonnetii", "dragon goby", "dragin goby"},
	{"gobioides-broussonnetii", "Gobioides broussonnetti", "violet goby", "violett goby"},
	{"poecilia-latipinna", "Poecilia latipinna", "sailfin molly", "sail fin mollie"},
	{"poecilia-sphenops", "Poecilia sphenops", "molly", "moly"},
	{"poecilia-velifera", "Poecilia velifera", "yucatan molly", "yukatan molly"},
	{"poecilia-reticulata", "Poecilia reticulata", "guppy", "gupy"},
	{"xiphophorus-maculatus", "Xiphophorus maculatus", "platy", "plaaty"},
	{"anableps-anableps", "Anableps anableps", "four-eyed fish", "four eye fish"},
	{"pseudetroplus-maculatus", "Etroplus maculatus", "orange chromide", "orange cromide"},
	{"etroplus-suratensis", "Etroplus suratensis", "green chromide", "green chromid"},
	{"ariopsis-seemanni", "Ariopsis seemanni", "colombian shark", "columbian shark catfish"},
	{"parambassis-ranga", "Chanda ranga", "glassfish", "glasfish"},
	{"dermogenys-pusilla", "Dermogenys pusilla", "wrestling halfbeak", "wresting half beak"},
	{"datnioides-polota", "Datnioides polota", "silver tigerfish", "siver tiger fish"},
	{"datnioides-microlepis", "Datnioides microlepis", "siamese tigerfish", "siamise tigerfish"},
	{"gymnothorax-tile gymnothorax-polyuranodon", "Gymnothorax tile", "freshwater moray", "fresh water moray eel"},
	{"gymnothorax-polyuranodon", "Gymnothorax polyuranodon", "spotted freshwater moray", "spoted freshwater morey"},
	{"fundulus-heteroclitus", "Fundulus heteroclitus", "mummichog", "mumichog"},
	{"cyprinodon-variegatus", "Cyprinodon variegatus", "sheepshead minnow", "sheapshead minow"},
	{"jordanella-floridae", "Jordanella floridae", "flagfish", "flag fish"},
	{"gasterosteus-aculeatus", "Gasterosteus aculeatus", "three-spined stickleback", "three spine stickelback"},
	{"lates-calcarifer", "Lates calcarifer", "barramundi", "baramundi"},
	{"terapon-jarbua", "Terapon jarbua", "target fish", "crecent perch"},
	{"oreochromis-mossambicus", "Oreochromis mossambicus", "mozambique tilapia", "mozambik tilapia"},
	{"caridina-multidentata", "Caridina japonica", "amano shrimp", "ammano shrimp"},
	{"macrobrachium-rosenbergii", "Macrobrachium rosenbergii", "giant river prawn", "giant river prwan"},
	{"vittina-turrita vittina-natalensis", "Vittina turrita", "zebra nerite", "zebra neritte snail"},
	{"melanoides-tuberculata", "Melanoides tuberculata", "malaysian trumpet snail", "malasian trumpet snail"},
	{"leptochilus-pteropus", "Microsorum pteropus", "java fern", "jave fern"},
	{"anubias-barteri", "Anubias barteri", "anubias", "anubius"},
	{"rhizophora-mangle", "Rhizophora mangle", "red mangrove", "red mangrov"},
	{"amphiprion-ocellaris", "Amphiprion ocellaris", "common clownfish", "comon clown fish"},
}

// At least 95 in a hundred of these searches put a right answer first.
func TestMostAskedFifty(t *testing.T) {
	x := indexed(t, embedded(t))
	right, asked := 0, 0
	for _, m := range mostAsked {
		ids := strings.Fields(m.ids)
		for _, text := range []string{m.scientific, m.common, m.misspelled} {
			found, near, _ := x.search(text)
			var got []string
			for _, f := range found {
				got = append(got, f.ID)
			}
			asked++
			mark := "wrong"
			if len(got) > 0 && slices.Contains(ids, got[0]) {
				right, mark = right+1, "right"
			}
			t.Logf("%-5s %-32q %v, near misses %d", mark, text, got[:min(3, len(got))], len(near))
		}
	}
	if len(mostAsked) != 50 {
		t.Errorf("%d names, not fifty", len(mostAsked))
	}
	t.Logf("right: %d of %d", right, asked)
	if 100*right < 95*asked {
		t.Errorf("right: %d of %d, less than 95 in a hundred", right, asked)
	}
}
