package server_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
)

// For a name that several share, the answer asks which one; for a name nobody has, it says so.
func TestWhichOne(t *testing.T) {
	s := newService(t)
	for name, first := range map[string]string{"scat": "Which one?\n", "spoted+scat": "Which one?\n", "congo+tetra": "Nothing here has that name.\n"} {
		if a := s.get(t, "/v1/species/"+strings.ReplaceAll(name, "+", "%20")+"?format=text"); !strings.HasPrefix(a.body, first) {
			t.Errorf("%s: %s", name, a.body)
		}
	}
}

// A species can be named by any name of its own wherever one is asked for; the answer says how it
// was understood. A name that does not belong to one alone is refused in the same way everywhere,
// with what it may mean.
func TestNamesEverywhere(t *testing.T) {
	s := newService(t)
	plan := "&stage=juvenile&from_salinity=2ppt&from_temperature=26C&to_salinity=5ppt&to_temperature=26C&container_capacity=20L&container_start_volume=6L&container_aerated=true"
	places := map[string]string{
		"/v1/species/%s?":        "species",
		"/v1/species/%s/growth?": "species",
		"/v1/species/compatibility?species=monodactylus-argenteus&species=%s": "species",
		"/v1/species?keeps_with=%s":               "keeps_with",
		"/v1/conversions?reading=5ppt&species=%s": "species",
		"/v1/transfers/plan?species=%s" + plan:    "species",
	}
	for target, where := range places {
		a := s.get(t, fmt.Sprintf(target, "GSP"))
		if a.status != http.StatusOK {
			t.Errorf("%s: %d %s", target, a.status, a.body)
			continue
		}
		if a.field(t, "understood.0.id") != "dichotomyctere-nigroviridis" || a.field(t, "understood.0.asked") != "GSP" {
			t.Errorf("%s does not say what GSP was taken for: %.300s", target, a.body)
		}
		text := s.get(t, fmt.Sprintf(target, "GSP")+"&format=text")
		if !strings.Contains(text.body, "“GSP” was understood as spotted green pufferfish (Dichotomyctere nigroviridis).") {
			t.Errorf("%s as text does not say what GSP was taken for:\n%s", target, text.body)
		}
		for name, rule := range map[string]string{"scat": "ambiguous", "spoted%20scat": "spelling", "congo%20tetra": "not_found"} {
			r := s.get(t, fmt.Sprintf(target, name))
			if r.status != http.StatusNotFound || r.field(t, "errors.0.rule") != rule || r.field(t, "errors.0.where") != where {
				t.Errorf("%s by %s: %d %s, want rule %s at %s", target, name, r.status, r.body, rule, where)
			}
			if rule != "not_found" && r.field(t, "errors.0.candidates.0.id") != "scatophagus-argus" {
				t.Errorf("%s by %s does not name the spotted scat: %s", target, name, r.body)
			}
		}
	}
	posted := s.call(t, http.MethodPost, "/v1/transfers/plan", `{"animals": [{"species": "green spotted puffers", "stage": "juvenile"}, {"species": "scat"}, {"species": "congo tetra"}],
		"from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "5 ppt", "temperature": "26 C"}}`)
	if posted.status != http.StatusNotFound || posted.field(t, "errors.0.where") != "/animals/1/species" || posted.field(t, "errors.1.where") != "/animals/2/species" {
		t.Errorf("%d %s", posted.status, posted.body)
	}
	planned := s.get(t, "/v1/transfers/plan?species=green%20spotted%20puffers"+plan)
	if got := planned.field(t, "inputs.animals.0.species"); got != "dichotomyctere-nigroviridis" {
		t.Errorf("the plan says it was asked for %v", got)
	}
}
