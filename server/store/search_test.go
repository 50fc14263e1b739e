package store

import (
	"path/filepath"
	"slices"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// What people type, and what must come of it: first the best, then what must
// be among the rest. Which species a name means is the table's own word.
func TestSearch(t *testing.T) {
	x := indexed(t, embedded(t))
	for _, c := range []struct {
		text  string
		first string   // empty: any order
		also  []string // must be found
		most  int      // results, lest noise creep in
	}{
		{"scat", "scatophagus-argus", []string{"selenotoca-multifasciata", "scatophagus-tetracanthus"}, 3},
		{"Scats", "scatophagus-argus", []string{"selenotoca-multifasciata"}, 3},
		{"spoted scat", "scatophagus-argus", nil, 2},
		{"silver scat", "selenotoca-multifasciata", nil, 2},
		{"Scatophagus argus", "scatophagus-argus", nil, 1},
		{"scatofagus argus", "scatophagus-argus", nil, 2},
		{"Scatophagidae", "", []string{"scatophagus-argus", "selenotoca-multifasciata"}, 3},
		{"Tetraodon nigroviridis", "dichotomyctere-nigroviridis", nil, 1}, // an old name
		{"green spotted puffer", "dichotomyctere-nigroviridis", nil, 2},
		{"spotted green puffer fish", "dichotomyctere-nigroviridis", nil, 3},
		{"GSP", "dichotomyctere-nigroviridis", nil, 2},
		{"figure 8 puffer", "dichotomyctere-ocellatus", nil, 2},
		{"figure-eight puffers", "dichotomyctere-ocellatus", nil, 2},
		{"pufferfish", "", []string{"dichotomyctere-fluviatilis", "tetraodon-mbu", "takifugu-rubripes"}, 20},
		{"mono", "", []string{"monodactylus-argenteus", "monodactylus-sebae"}, 3},
		{"bumble bee goby", "", []string{"brachygobius-doriae", "brachygobius-xanthozonus"}, 3},
		{"bumblebee gobies", "", []string{"brachygobius-doriae", "brachygobius-xanthozonus"}, 3},
		{"mollies", "poecilia-sphenops", []string{"poecilia-latipinna", "poecilia-velifera"}, 5},
		{"sailfin moly", "poecilia-latipinna", nil, 2},
		{"guppys", "poecilia-reticulata", nil, 1},
		{"archer fish", "", []string{"toxotes-jaculatrix", "toxotes-chatareus"}, 4},
		{"mudskipers", "", []string{"periophthalmus-barbarus", "periophthalmodon-schlosseri"}, 9},
		{"columbian shark", "ariopsis-seemanni", nil, 2},
		{"clown fish", "amphiprion-ocellaris", []string{"amphiprion-percula"}, 3},
		{"neon", "", []string{"paracheirodon-innesi"}, 2},
		{"goldfish", "carassius-auratus", nil, 1},
		{"betta", "betta-splendens", nil, 1},
		{"java fern", "leptochilus-pteropus", nil, 1},
		{"amano shrimps", "caridina-multidentata", nil, 1},
		{"stickelback", "", []string{"gasterosteus-aculeatus", "pungitius-pungitius"}, 2},
		{"scatophagus-argus", "scatophagus-argus", nil, 1}, // an id
		{"what salinity for a figure 8 puffer?", "dichotomyctere-ocellatus", nil, 2},
		{"how much salt do bumblebee gobies need", "", []string{"brachygobius-doriae", "brachygobius-xanthozonus"}, 4},
		{"SG for my mono", "", []string{"monodactylus-argenteus", "monodactylus-sebae"}, 3},
		{"water lettuce", "pistia-stratiotes", nil, 2},
		{"xqzwvk", "", nil, 0},
		{"!?", "", nil, 0},
	} {
		var ids []string
		for _, f := range x.find(c.text) {
			ids = append(ids, f.ID)
		}
		if c.first != "" && (len(ids) == 0 || ids[0] != c.first) {
			t.Errorf("%q: found %q, want %s first", c.text, ids, c.first)
		}
		for _, id := range c.also {
			if !slices.Contains(ids, id) {
				t.Errorf("%q: found %q, without %s", c.text, ids, id)
			}
		}
		if len(ids) > c.most {
			t.Errorf("%q: found %d %q, want at most %d", c.text, len(ids), ids, c.most)
		}
	}
}

// Every name of every taxon finds it, and with one letter dropped too.
func TestSearchFindsEveryName(t *testing.T) {
	taxa := embedded(t)
	x := indexed(t, taxa)
	for _, want := range taxa {
		names := slices.Concat([]string{want.ScientificName}, want.CommonNames, want.Synonyms)
		for _, n := range names {
			slip := n[:len(n)/2] + n[len(n)/2+1:]
			for _, text := range []string{n, slip} {
				has := func(f tolerance.Taxon) bool { return f.ID == want.ID }
				if len(n) > 5 && !slices.ContainsFunc(x.find(text), has) {
					t.Errorf("%q does not find %s", text, want.ID)
				}
			}
		}
	}
}

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		most int
		want int
	}{
		{"scat", "scat", 2, 0},
		{"scat", "scatt", 2, 1},
		{"scat", "sat", 2, 1},
		{"scat", "spat", 2, 1},
		{"scat", "sact", 2, 1}, // swapped letters are one slip
		{"kitten", "sitting", 3, 3},
		{"kitten", "sitting", 2, -1},
		{"", "abc", 2, -1},
		{"", "", 0, 0},
	} {
		if got := distance(c.a, c.b, c.most); got != c.want {
			t.Errorf("distance(%q, %q, %d) = %d, want %d", c.a, c.b, c.most, got, c.want)
		}
		if got := distance(c.b, c.a, c.most); got != c.want {
			t.Errorf("distance(%q, %q, %d) = %d, want %d", c.b, c.a, c.most, got, c.want)
		}
	}
}

func TestSpeciesFilters(t *testing.T) {
	db := openAt(t, filepath.Join(t.TempDir(), "x.db"))
	at := func(s float64) *quantity.Estimate[quantity.AbsoluteSalinity] {
		e := quantity.Of[quantity.AbsoluteSalinity](s, 0)
		return &e
	}
	find := func(q Query) []string {
		p, err := db.Species(t.Context(), q)
		if err != nil {
			t.Fatal(err)
		}
		var ids []string
		for _, s := range p.Species {
			ids = append(ids, s.ID)
		}
		return ids
	}
	all := find(Query{})
	if !slices.IsSorted(all) {
		t.Error("without a text the species are not in the order of their ids")
	}
	groups := 0
	for _, g := range tolerance.Groups() {
		groups += len(find(Query{Group: g}))
	}
	if groups != len(all) {
		t.Errorf("the groups hold %d species together, want %d", groups, len(all))
	}
	if got := find(Query{Family: "scatophagidae"}); len(got) != 3 {
		t.Errorf("family scatophagidae: %q", got)
	}
	if got := find(Query{Text: "scat", LivesAt: at(0)}); !slices.Contains(got, "scatophagus-argus") {
		t.Errorf("scats at 0 g/kg: %q", got)
	}
	salty := find(Query{LivesAt: at(34)})
	if slices.Contains(salty, "paracheirodon-innesi") || !slices.Contains(salty, "amphiprion-ocellaris") {
		t.Errorf("at 34 g/kg: %q", salty)
	}
	if _, err := db.Species(t.Context(), Query{LivesAt: at(-1)}); err == nil {
		t.Error("a salinity below zero was searched for")
	}
}

func TestSpeciesPages(t *testing.T) {
	db := openAt(t, filepath.Join(t.TempDir(), "x.db"))
	whole, err := db.Species(t.Context(), Query{Text: "goby"})
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for offset := 0; offset < whole.Total+3; offset += 3 {
		p, err := db.Species(t.Context(), Query{Text: "goby", Limit: 3, Offset: offset})
		if err != nil || p.Total != whole.Total || p.Offset != offset || len(p.Species) > 3 {
			t.Fatalf("page at %d: %d of %d, %v", offset, len(p.Species), p.Total, err)
		}
		for _, s := range p.Species {
			ids = append(ids, s.ID)
		}
	}
	for i, s := range whole.Species {
		if ids[i] != s.ID || len(ids) != whole.Total {
			t.Fatalf("the pages give %q, want %d as in one", ids, whole.Total)
		}
	}
}

func BenchmarkSearch(b *testing.B) {
	db := openAt(b, filepath.Join(b.TempDir(), "x.db"))
	for _, text := range []string{"scat", "spoted scat", "green spotted puffer fish", "bumble bee goby", "xqzwvk jkl mnop"} {
		b.Run(text, func(b *testing.B) {
			for b.Loop() {
				if _, err := db.Species(b.Context(), Query{Text: text, Limit: 50}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// indexed makes an index of taxa.
func indexed(t testing.TB, taxa []tolerance.Taxon) *index {
	t.Helper()
	x, err := newIndex(taxa)
	if err != nil {
		t.Fatal(err)
	}
	return x
}
