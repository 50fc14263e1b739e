package server_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
)

// A club's list is one plain table, every value with its mark.
func TestClubList(t *testing.T) {
	s := newService(t)
	a := s.get(t, "/v1/species/compatibility.csv?species=scatophagus-argus:juvenile:4&species=monodactylus-argenteus&salinity=10%20ppt")
	rows := strings.Split(strings.TrimSpace(a.body), "\r\n")
	if len(rows) != 3 || !strings.Contains(rows[0], "preferred_salinity_mark") || !strings.Contains(rows[1], "juvenile,4,5,20,common-practice") || !strings.Contains(rows[2], "tolerated") {
		t.Errorf("%d rows\n%s", len(rows), a.body)
	}
}

// Temper comes before the water if it forbids the company; the rules are common practice, no
// source.
func TestCompanyBeforeWater(t *testing.T) {
	s := newService(t)
	for _, c := range []struct {
		species string
		apart   bool
		says    string
	}{
		{"species=figure+8+puffer&species=Amano+shrimp", true, "Do not keep them together, whatever the water.\nFigure-eight puffer eats Amano shrimp (common practice)."},
		{"species=GSP&species=spotted+scat", true, "Spotted green pufferfish bites spotted scat (common practice)."},
		{"species=banded+archerfish&species=brachygobius-doriae", true, "Banded archerfish eats bumblebee goby: they grow to "},
		{"species=lined+seahorse&species=yellow+tang", true, "Keep lined seahorse with their own kind only (common practice)."},
		{"species=spotted+scat:juvenile:4&species=mono+sebae:2", false, "Keep at least 5 of African moony: 2 are too few (common practice)."},
		{"species=spotted+scat&species=silver+scat", false, "All of them prefer water of"},
		{"species=goldfish&species=neon+tetra", true, "Goldfish eats neon tetra"},
		{"species=goldfish&species=discus", false, "No temperature suits both"},
		{"species=betta:2", true, "Keep one Siamese fighting fish alone"},
		{"species=betta&species=betta", true, "Keep one Siamese fighting fish alone"},
		{"species=amphiprion-ocellaris:4", false, "Keep one pair of common clownfish: more than two fight"},
		{"species=anableps-anableps:5&species=periophthalmus-barbarus:1", false, "it takes what is small enough"},
		{"species=spotted+scat:juvenile:4&species=brachygobius-doriae:adult:6&salinity=5ppt&temperature=26C", true, "Spotted scat eats bumblebee goby: they grow to "},
		{"species=spotted+scat:4&species=poecilia-sphenops:6", false, "it takes what is small enough"},
		{"species=zebrafish&species=bronze+cory", false, "All of them prefer water of"},
	} {
		a := s.get(t, "/v1/species/compatibility?format=text&"+c.species)
		if !strings.Contains(a.body, c.says) || strings.HasPrefix(a.body, "Do not keep them together") != c.apart {
			t.Errorf("%s: %s\nwant %q", c.species, a.body, c.says)
		}
		if got := s.get(t, "/v1/species/compatibility?"+c.species).field(t, "together.apart"); got != c.apart {
			t.Errorf("%s: apart %v, want %t", c.species, got, c.apart)
		}
	}
}

// A violet goby grows to half a metre and eats no fish.
func TestLargeAndHarmless(t *testing.T) {
	a := newService(t).get(t, "/v1/species/compatibility?species=gobioides-broussonnetii&species=poecilia-sphenops")
	if strings.Contains(a.body, "may_be_eaten") || strings.Contains(a.body, "company_") && a.field(t, "together.apart") != false {
		t.Errorf("a violet goby with mollies: %s", a.body)
	}
}

// What forbids company comes before the water that is shared.
func TestFightersBeforeWater(t *testing.T) {
	s := newService(t)
	for species, first := range map[string]string{"betta:2": "Do not keep them together, whatever the water.", "GSP:2": "Keep one spotted green pufferfish alone", "amphiprion-ocellaris:4": "Keep one pair of"} {
		if a := s.get(t, "/v1/species/compatibility?format=text&species="+species); !strings.HasPrefix(a.body, first) {
			t.Errorf("%s:\n%s\nwant first %q", species, a.body, first)
		}
	}
}

// Those that keep with a species share its preferred water by the comparison of
// the two, at some stage, and are not kept apart by temper.
func TestKeepsWith(t *testing.T) {
	s := newService(t)
	ids := all(t, s, "keeps_with=scatophagus-argus:juvenile")
	for _, c := range []struct {
		id   string
		want bool
	}{
		{"monodactylus-argenteus", true}, {"toxotes-jaculatrix", true}, {"dichotomyctere-nigroviridis", false}, {"brachygobius-doriae", false},
		{"carassius-auratus", false}, {"paracheirodon-innesi", false}, {"amphiprion-ocellaris", false}, {"salmo-salar", false},
	} {
		if got := slices.Contains(ids, c.id); got != c.want {
			t.Errorf("%s among those that keep with young scats: %t, want %t", c.id, got, c.want)
		}
	}
	for _, id := range ids {
		a := s.get(t, "/v1/species/"+id)
		shares := false
		var one struct{ Stages []struct{ Stage string } }
		if err := json.Unmarshal([]byte(a.body), &one); err != nil {
			t.Fatal(err)
		}
		for _, st := range one.Stages {
			c := s.get(t, "/v1/species/compatibility?species=scatophagus-argus:juvenile&species="+id+":"+st.Stage)
			if c.field(t, "together.apart") != false {
				t.Errorf("%s is said to keep with young scats, though temper keeps them apart", id)
			}
			shares = shares || c.field(t, "preferred_salinity.status") == "shared" &&
				c.field(t, "temperature.status") != "none" && c.field(t, "ph.status") != "none"
		}
		if !shares {
			t.Errorf("%s is said to keep with young scats, though the two share no preferred water", id)
		}
	}
}
