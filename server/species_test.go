package server_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"
)

// found lists the ids of a search.
func found(t *testing.T, a answered) []string {
	t.Helper()
	var page struct{ Species []struct{ ID string } }
	if err := json.Unmarshal([]byte(a.body), &page); err != nil || a.status != http.StatusOK {
		t.Fatalf("%d %v\n%s", a.status, err, a.body)
	}
	ids := make([]string, len(page.Species))
	for i, s := range page.Species {
		ids[i] = s.ID
	}
	return ids
}

// all lists the ids of a search, page by page.
func all(t *testing.T, s *service, query string) []string {
	t.Helper()
	var ids []string
	for {
		page := found(t, s.get(t, fmt.Sprintf("/v1/species?limit=200&offset=%d&%s", len(ids), query)))
		ids = append(ids, page...)
		if len(page) < 200 {
			return ids
		}
	}
}

// Pages put together are the whole list, in the order asked for, and the facets on every page
// count the whole.
func TestSpeciesPages(t *testing.T) {
	s := newService(t)
	whole := all(t, s, "group=fish&sort=family")
	var pages []string
	for offset := 0; offset < len(whole); offset += 60 {
		a := s.get(t, fmt.Sprintf("/v1/species?group=fish&sort=family&limit=60&offset=%d", offset))
		pages = append(pages, found(t, a)...)
		if total := a.number(t, "total"); int(total) != len(whole) {
			t.Errorf("total %g on the page from %d, want %d", total, offset, len(whole))
		}
		var page struct {
			Facets struct{ Family []struct{ Count int } }
		}
		if err := json.Unmarshal([]byte(a.body), &page); err != nil {
			t.Fatal(err)
		}
		sum := 0
		for _, f := range page.Facets.Family {
			sum += f.Count
		}
		if sum != len(whole) {
			t.Errorf("families count %d of %d", sum, len(whole))
		}
	}
	if !slices.Equal(pages, whole) {
		t.Errorf("pages %v, whole %v", pages, whole)
	}
}

// Every value that an answer shows about a species has its mark, and what was recalled is never
// called published.
func TestSpeciesAnswersAreMarked(t *testing.T) {
	t.Parallel()
	s := newService(t)
	for _, id := range all(t, s, "") {
		a := s.get(t, "/v1/species/"+id)
		var v any
		if err := json.Unmarshal([]byte(a.body), &v); err != nil {
			t.Fatal(err)
		}
		unmarked(t, id, v)
	}
}

// unmarked walks an answer and reports a source that was not read under the mark published, and
// bounds without a mark.
func unmarked(t *testing.T, at string, v any) {
	t.Helper()
	switch v := v.(type) {
	case map[string]any:
		_, min := v["min"]
		_, max := v["max"]
		if (min || max) && v["mark"] == nil {
			t.Errorf("%s: bounds without a mark", at)
		}
		if source, ok := v["source"].(map[string]any); ok && v["mark"] == "published" && source["seen"] == nil {
			t.Errorf("%s: published from %v, which nobody read", at, source["key"])
		}
		for k, inner := range v {
			unmarked(t, at+"."+k, inner)
		}
	case []any:
		for _, inner := range v {
			unmarked(t, at, inner)
		}
	}
}

// Which salinity an animal needs, in a few lines with the mark; how the name was understood comes
// last.
func TestThreeLines(t *testing.T) {
	s := newService(t)
	for _, c := range []struct{ q, says string }{
		{"what+salinity+for+a+figure+8+puffer", "common practice, no source"},
		{"pea+puffer", "listed as of fresh or sea water by FishBase, 2018"},
		{"mummichog", "published, Griffith, 1974"},
		{"amano+shrimp", "from memory"},
	} {
		a := s.get(t, "/v1/species?format=text&q="+c.q)
		if n := strings.Count(a.body, "\n"); n < 3 || n > 5 || !strings.Contains(a.body, c.says) || !strings.Contains(a.body, " ppt (") {
			t.Errorf("%s: %d lines\n%s\nwant three to five with %q", c.q, n, a.body, c.says)
		}
	}
	// If a name belongs to several species, is misspelled or belongs to none, no species is put
	// forward.
	for q, says := range map[string]string{"nite+gobi": "“nite gobi” is not in the table.", "archer": "may mean 7 species. Ask again", "scat": "may mean 3 species",
		"spoted+scat": "Did you mean spotted scat (Scatophagus argus)?", "congo+tetra": "“congo tetra” is not in the table", "xqzwvk": "“xqzwvk” is not in the table."} {
		if a := s.get(t, "/v1/species?format=text&q="+q); !strings.Contains(strings.SplitN(a.body, "\n", 2)[0], says) {
			t.Errorf("%s: %s, want %q", q, a.body, says)
		}
	}
}

// The water of a reading, for a species: right, tolerated, and wrong with the nearest that is
// right.
func TestConversionForSpecies(t *testing.T) {
	s := newService(t)
	for _, c := range []struct {
		reading, species, verdict string
		nearest                   any
	}{
		{"10%20ppt", "scatophagus-argus&stage=adult", "preferred", nil},
		{"2%20ppt", "scatophagus-argus&stage=adult", "tolerated", nil},
		{"5%20ppt", "carassius-auratus", "outside", 3.0},
	} {
		a := s.get(t, "/v1/conversions?reading="+c.reading+"&species="+c.species)
		if got := a.field(t, "suits.verdict"); got != c.verdict {
			t.Errorf("%s for %s: %v, want %s", c.reading, c.species, got, c.verdict)
		}
		if c.nearest != nil && a.field(t, "suits.nearest.value") != c.nearest {
			t.Errorf("%s for %s: nearest %v, want %v", c.reading, c.species, a.field(t, "suits.nearest.value"), c.nearest)
		}
		if !strings.HasPrefix(c.species, a.field(t, "inputs.species").(string)) {
			t.Errorf("the inputs do not echo the species: %s", a.body)
		}
	}
	for target, status := range map[string]int{
		"/v1/conversions?reading=5%20ppt&species=nobody-knows":                          http.StatusNotFound,
		"/v1/conversions?reading=5%20ppt&stage=adult":                                   http.StatusBadRequest,
		"/v1/conversions?reading=5%20ppt&species=carassius-auratus&stage=larva":         http.StatusBadRequest,
		"/v1/species/scatophagus-argus/growth?target=50%20ppt":                          http.StatusUnprocessableEntity,
		"/v1/species/pistia-stratiotes/growth":                                          http.StatusUnprocessableEntity,
		"/v1/species/compatibility?species=scatophagus-argus:0":                         http.StatusUnprocessableEntity,
		"/v1/species/compatibility?species=scatophagus-argus:teenager":                  http.StatusBadRequest,
		"/v1/species/compatibility?species=nobody-one&species=nobody-two&salinity=1ppt": http.StatusNotFound,
	} {
		if a := s.get(t, target); a.status != status {
			t.Errorf("%s: %d, want %d\n%s", target, a.status, status, a.body)
		}
	}
}

// A salinity that is only survived is not one to keep it in: the same on the page of the species,
// for a reading and in company, and the nearest salinity is one to keep it at.
func TestSurvivedIsNotKept(t *testing.T) {
	s := newService(t)
	for _, c := range []struct {
		reading, species, says, nearest string
	}{
		{"6ppt", "pterois-volitans", "Red lionfish is known to survive this water, which is outside what it is kept in. Do not keep it there.", "34 ppt"},
		{"5ppt", "plotosus-lineatus", "is known to survive this water, which is outside what it is kept in. Do not keep it there.", "30 ppt"},
		{"0ppt", "monodactylus-argenteus&stage=adult", "is known to survive this water, which is outside what it is kept in. Do not keep it there.", "15 ppt"},
		{"0ppt", "scatophagus-argus&stage=adult", "is known to survive this water, which is outside what it is kept in. Do not keep it there.", "10 ppt"},
		{"0ppt", "dichotomyctere-nigroviridis&stage=adult", "is known to survive this water, which is outside what it is kept in. Do not keep it there.", "10 ppt"},
		{"34ppt", "xiphophorus-maculatus", "Not right for platy", "3 ppt"},
		{"0ppt", "minuca-rapax", "Not right for mudflat fiddler crab", "10 ppt"},
		{"1ppt", "anableps-anableps", "The least it survives is 0 ppt; how much more, no record says.", "5 ppt"},
		{"37ppt", "amphiprion-ocellaris", "Ordinary sea water will do for common clownfish", ""},
		{"5ppt", "neogobius-melanostomus&stage=adult", "is known to survive this water. No record says which it does best in.", ""},
	} {
		text := s.get(t, "/v1/conversions?format=text&reading="+c.reading+"&species="+c.species).body
		if !strings.Contains(text, c.says) || strings.Contains(text, "does best in another") {
			t.Errorf("%s for %s:\n%s\nwant %q", c.reading, c.species, text, c.says)
		}
		if at := strings.Contains(text, "may be kept at is"); at != (c.nearest != "") || at && !strings.Contains(text, "may be kept at is "+c.nearest) {
			t.Errorf("%s for %s:\n%s\nwant the nearest %q", c.reading, c.species, text, c.nearest)
		}
	}
	company := s.get(t, "/v1/species/compatibility?format=text&salinity=6ppt&species=pterois-volitans&species=plotosus-lineatus").body
	if !strings.Contains(company, "survived only for a while by red lionfish, striped eel catfish. Do not keep them there.") {
		t.Errorf("in company:\n%s", company)
	}
	for id, says := range map[string]string{
		"pterois-volitans":       "On record it survives 5 to 37 ppt",
		"coenobita-compressus":   "Offer it a dish of fresh water and a dish of sea water",
		"neogobius-melanostomus": "no record says which salinity it does best in",
		"axolotl":                "animals that need fresh water",
	} {
		text := s.get(t, "/v1/species/"+id+"?format=text").body
		if !strings.Contains(text, says) || strings.Contains(text, "for a while. Do not keep it there") {
			t.Errorf("%s:\n%s\nwant %q", id, text, says)
		}
	}
	if list := s.get(t, "/v1/species?format=text&q=land+hermit+crab").body; strings.Contains(list, "no record says where") || !strings.Contains(list, "a dish of sea water") {
		t.Errorf("land hermit crabs in a list:\n%s", list)
	}
}

// The planner accepts the curve along which a species grows as it is.
func TestGrowthFeedsTheRamp(t *testing.T) {
	s := newService(t)
	g := s.get(t, "/v1/species/scatophagus-argus/growth?stage=juvenile&salinity=6%20ppt&target=15%20ppt&grown_in=200d")
	curve, err := json.Marshal(g.field(t, "target_curve"))
	if err != nil {
		t.Fatal(err)
	}
	plan := func(curve string) answered {
		return s.call(t, http.MethodPost, "/v1/transfers/plan", `{"animals": [{"species": "scatophagus-argus", "stage": "juvenile"}],
			"from": {"salinity": "6 ppt", "temperature": "26 C"}, "to": {"salinity": "15 ppt", "temperature": "26 C"}, "route": "ramp",
			"home_tank": {"volume": "450 L"`+curve+`}}`)
	}
	slow, fast := plan(`, "target_curve": `+string(curve)), plan("")
	if slow.status != http.StatusOK || fast.status != http.StatusOK {
		t.Fatalf("%d %s\n%d %s", slow.status, slow.body, fast.status, fast.body)
	}
	if days := slow.number(t, "duration.value") / 24; days < 190 || days > 210 {
		t.Errorf("along the curve the ramp takes %g days, want about 200", days)
	}
	if days := fast.number(t, "duration.value") / 24; days > 60 {
		t.Errorf("without a curve the ramp takes %g days", days)
	}
}

// A length in a URL replaces the mass; a target outside the range is refused with the nearest that
// is allowed.
func TestPlanJoinsSpecies(t *testing.T) {
	s := newService(t)
	base := "/v1/transfers/plan?from_temperature=26C&to_temperature=26C&container_capacity=20L&container_start_volume=6L&container_aerated=true&line_drop_volume=0.05mL"
	a := s.get(t, base+"&from_salinity=2%20ppt&to_salinity=10%20ppt&species=scatophagus-argus&stage=juvenile&origin=captive&count=2&length=3cm")
	if a.status != http.StatusOK || !strings.Contains(a.body, "mass_from_length") || !strings.Contains(a.body, `"length-weight"`) {
		t.Errorf("%d %s", a.status, a.body)
	}
	refused := s.get(t, base+"&from_salinity=0.2%20ppt&to_salinity=5%20ppt&species=carassius-auratus")
	if refused.status != http.StatusUnprocessableEntity || !strings.Contains(refused.body, "target_above_kept") || !strings.Contains(refused.body, "is kept at ") {
		t.Errorf("%d %s", refused.status, refused.body)
	}
}

// A degree or two past the records gets a note; far past them is wrong. A record or a lethal limit
// is not a water to keep an animal in.
func TestTemperatureOfRecords(t *testing.T) {
	s := newService(t)
	for _, c := range []struct{ species, water, verdict, says string }{
		{"astronotus-ocellatus", "0.2ppt&temperature=26C", "preferred", ""},
		{"xiphophorus-maculatus", "0.2ppt&temperature=26C", "preferred", ""},
		{"pelvicachromis-pulcher", "0.2ppt&temperature=26C", "preferred", ""},
		{"danio-rerio", "0.2ppt&temperature=25C", "preferred", ""},
		{"dichotomyctere-ocellatus", "5ppt&temperature=27C", "preferred", ""},
		{"stigmatogobius-sadanundio", "5ppt&temperature=28C", "preferred", ""},
		{"carassius-auratus", "0.2ppt&temperature=26C", "preferred", "26 °C (79 °F) is a little warmer than the 25 °C (77 °F)"},
		{"carassius-auratus", "0.2ppt&temperature=40C", "outside", "Not right for goldfish"},
		{"cyprinodon-variegatus&stage=adult", "20ppt&temperature=40C", "outside", "Not right"},
		{"symphysodon-aequifasciatus", "0.2ppt&temperature=24C", "preferred", "a little cooler"},
		{"symphysodon-aequifasciatus", "0.2ppt&temperature=23C", "outside", "Not right"},
		{"poecilia-reticulata&stage=juvenile", "0ppt", "preferred", "Right for guppy"},
		{"betta-splendens&stage=larva", "0ppt", "preferred", "Right for"},
		{"salmo-salar&stage=adult", "35ppt", "preferred", "Right for"},
		{"anguilla-anguilla&stage=juvenile", "35ppt", "preferred", "Right for"},
		{"najas-indica", "0ppt", "preferred", "Right for guppy grass"},
		{"hippocampus-erectus", "28ppt", "preferred", "Right for"},
		{"elacatinus-oceanops", "33ppt", "preferred", "Right for"},
	} {
		path := "/v1/conversions?reading=" + c.water + "&species=" + c.species
		if got := s.get(t, path).field(t, "suits.verdict"); got != c.verdict {
			t.Errorf("%s: %v, want %s", path, got, c.verdict)
		}
		if text := s.get(t, path+"&format=text").body; !strings.Contains(text, c.says) {
			t.Errorf("%s:\n%s\nwant %q", path, text, c.says)
		}
	}
}
