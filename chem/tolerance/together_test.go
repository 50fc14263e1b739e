package tolerance

import (
	"testing"

	"saltlock/chem/quantity"
)

// tempered makes a taxon of a group, a greatest length in cm (0 is unknown), the
// smallest number to keep (0 is unknown) and a temper.
func tempered(id string, g Group, length float64, least int, temper ...string) Taxon {
	s := stage(Hardy, 0, 35, 5, 20)
	if length > 0 {
		s.MaxLength = &Length{Length: quantity.Of[quantity.Length](length, 0), Type: "TL", Mark: Published}
	}
	x := Taxon{ID: id, CommonNames: []string{id}, Group: g, Stages: []Stage{s}}
	for _, t := range temper {
		x.Behaviour.Temper = append(x.Behaviour.Temper, Trait{Kind: t, Mark: CommonPractice})
	}
	if least > 0 {
		x.Behaviour.SmallestGroup = &GroupOfOwn{Count: least, Mark: CommonPractice}
	}
	return x
}

// Temper and size decide on company before the water does. The rules are common practice, no
// source, and the ratio of sizes is proposed here. It is long because it is a table.
func TestTogether(t *testing.T) {
	puffer := tempered("puffer", GroupFish, 17, 1, "aggressive", "fin-nipper", "predator-of-shrimp-and-snails")
	archer := tempered("archer", GroupFish, 30, 5, "semi-aggressive", "predator-of-fish")
	scat := tempered("scat", GroupFish, 38, 4, "peaceful")
	goby := tempered("goby", GroupFish, 4, 6, "semi-aggressive")
	stranger := tempered("stranger", GroupFish, 0, 0)
	nipper := tempered("nipper", GroupFish, 8, 5, "semi-aggressive", "fin-nipper")
	bully := tempered("bully", GroupFish, 20, 1, "aggressive")
	seahorse := tempered("seahorse", GroupFish, 15, 2, "peaceful", "species-only")
	shrimp := tempered("shrimp", GroupCrustacean, 5, 6, "peaceful")
	crayfish := tempered("crayfish", GroupCrustacean, 20, 1, "aggressive", "predator-of-shrimp-and-snails")
	for _, c := range []struct {
		name    string
		members []Member
		apart   bool
		code    quantity.Code // the first; empty: none
	}{
		{"a puffer and a scat", []Member{{Taxon: scat}, {Taxon: puffer}}, true, "company_bites"},
		{"a puffer and shrimps", []Member{{Taxon: puffer}, {Taxon: shrimp}}, true, "company_eats_small"},
		{"archers and gobies", []Member{{Taxon: goby}, {Taxon: archer}}, true, "company_eats_fish"},
		{"archers and scats of their size", []Member{{Taxon: scat, Count: 4}, {Taxon: archer, Count: 5}}, false, ""},
		{"archers and a fish of unknown size", []Member{{Taxon: archer}, {Taxon: stranger}}, false, "company_may_eat"},
		{"archers and shrimps, which they were not said to eat", []Member{{Taxon: archer, Count: 5}, {Taxon: shrimp, Count: 6}}, false, ""},
		{"nippers and scats", []Member{{Taxon: nipper}, {Taxon: scat}}, false, "company_nips"},
		{"a bully and scats", []Member{{Taxon: bully}, {Taxon: scat}}, false, "company_aggressive"},
		{"a bully and gobies that are no easy prey", []Member{{Taxon: bully}, {Taxon: goby, Count: 6}}, false, ""},
		{"seahorses and gobies", []Member{{Taxon: goby}, {Taxon: seahorse}}, true, "company_species_only"},
		{"seahorses alone", []Member{{Taxon: seahorse, Count: 2}}, false, ""},
		{"a crayfish and shrimps", []Member{{Taxon: crayfish}, {Taxon: shrimp}}, false, "company_picks_at"},
		{"a puffer and a crayfish that it does not eat", []Member{{Taxon: puffer}, {Taxon: crayfish}}, false, ""},
		{"too few of a shoal", []Member{{Taxon: goby, Count: 2}}, false, "company_group"},
		{"too few in two stages", []Member{{Taxon: scat, Count: 1}, {Taxon: scat, Stage: AllStages, Count: 2}}, false, "company_group"},
		{"enough in two stages", []Member{{Taxon: scat, Count: 2}, {Taxon: scat, Count: 2}}, false, ""},
		{"a number that was not said", []Member{{Taxon: scat}, {Taxon: scat, Count: 1}}, false, "company_group_unsaid"},
		{"a number that was not said, and two at least", []Member{{Taxon: bully}, {Taxon: bully}}, false, "company_own_kind"},
		{"two of those that fight", []Member{{Taxon: bully, Count: 2}}, false, "company_own_kind"},
		{"what forbids comes first", []Member{{Taxon: nipper, Count: 1}, {Taxon: scat}, {Taxon: seahorse}}, true, "company_species_only"},
	} {
		got := together(c.members)
		first := quantity.Code("")
		if len(got.Reasons) > 0 {
			first = got.Reasons[0].Code
		}
		if got.Apart != c.apart || first != c.code {
			t.Errorf("%s: apart %t, %v; want %t, first %q", c.name, got.Apart, got.Reasons, c.apart, c.code)
		}
	}
}

// What must live apart is not offered as company, though the water suits it.
func TestCompanyMindsTemper(t *testing.T) {
	scat := tempered("scat", GroupFish, 38, 4, "peaceful")
	c, err := NewCompany([]Member{{Taxon: scat}})
	if err != nil {
		t.Fatal(err)
	}
	if c.Takes(tempered("puffer", GroupFish, 17, 1, "aggressive", "fin-nipper")) || !c.Takes(tempered("mono", GroupFish, 27, 5, "semi-aggressive", "predator-of-fish")) {
		t.Error("the company of scats takes a biter, or no mono")
	}
}
