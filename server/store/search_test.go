package store

import (
	"path/filepath"
	"slices"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

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
