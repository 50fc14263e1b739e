package site

import (
	"net/url"
	"slices"
	"strings"
	"testing"

	"saltlock/api"
	"saltlock/server/contract"
)

func loaded(t *testing.T) *contract.Contract {
	t.Helper()
	c, err := contract.Load(api.Spec)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Each query name of the contract is asked for once; each choice has a name.
func TestPlanAsksForAllOfTheContract(t *testing.T) {
	c := loaded(t)
	asked := map[string]int{}
	for _, page := range planForm(c) {
		for _, fold := range page.folds {
			for _, f := range fold.fields {
				asked[f.name]++
			}
		}
	}
	for name, param := range c.Operations["GET /v1/transfers/plan"].Query {
		if c.Plan.Has(name) && asked[name] != 1 {
			t.Errorf("%s is asked for %d times", name, asked[name])
		}
		for _, v := range param.Schema.Value.Enum {
			if text, ok := v.(string); ok && c.Plan.Has(name) && choiceNames[text] == "" {
				t.Errorf("the choice %s of %s has no name", text, name)
			}
		}
	}
}

// What a form sends becomes the query that the contract takes.
func TestPlanOf(t *testing.T) {
	c := loaded(t)
	for sent, want := range map[string]string{
		"from_salinity=2&from_salinity_unit=ppt":                                            "from_salinity=2 ppt",
		"from_salinity=1,010&from_salinity_unit=SG":                                         "from_salinity=1,010 SG",    // may be a thousand: the contract asks
		"container_capacity=1,250 L&lang=de":                                                "container_capacity=1.25 L", // who writes German means decimals
		"container_capacity=1,125 L&lang=de":                                                "container_capacity=1.1250 L",
		"from_salinity=1,025 SG&lang=de":                                                    "from_salinity=1.025 SG",
		"container_capacity=20,000 L&lang=de":                                               "container_capacity=20 L",
		"container_capacity=1.000 L&lang=de":                                                "container_capacity=1.000 L", // may be a thousand: the contract asks
		"from_temperature=26,5&from_temperature_unit=C":                                     "from_temperature=26.5 C",
		"from_temperature= 78 F &from_temperature_unit=C":                                   "from_temperature=78 F",
		"species=Scatophagus argus&stage=":                                                  "species=Scatophagus argus",
		"container_capacity=20 L&container_capacity_own=&container_capacity_own_unit=L":     "container_capacity=20 L",
		"container_capacity=20 L&container_capacity_own=35&container_capacity_own_unit=gal": "container_capacity=35 gal",
		"container_capacity_own=35&container_capacity_own_unit=L":                           "container_capacity=35 L",
		"step=waters&after=animals&kind=1&evil=1&format=csv":                                "",
		"animals_1_species=nerite&animals_1_count=3&animals_99_count=3":                     "animals_1_count=3&animals_1_species=nerite",
		"start=2026-12-01T09:00&time_zone=Europe/Berlin":                                    "start=2026-12-01T09:00:00+01:00&time_zone=Europe/Berlin",
		"start=2026-12-01T09:00":                                                            "start=2026-12-01T09:00:00Z",
	} {
		q, err := url.ParseQuery(strings.ReplaceAll(sent, "+", "%2B"))
		if err != nil {
			t.Fatal(err)
		}
		if got, err := url.QueryUnescape(planOf(c, q).Encode()); err != nil || got != want {
			t.Errorf("%s becomes %s, want %s", sent, got, want)
		}
	}
}

// Several kinds of animals go into one body, each with what was said of it.
func TestSeveralKinds(t *testing.T) {
	q := planOf(loaded(t), url.Values{"from_salinity": {"2 ppt"}, "species": {"scatophagus-argus"}, "count": {"4"}, "animals_1_species": {"nerite"}, "animals_1_count": {"3"}})
	body, err := q.body()
	want := `{"animals":[{"count":4,"species":"scatophagus-argus"},{"count":3,"species":"nerite"}],"from":{"salinity":"2 ppt"}}`
	if err != nil || string(body) != want {
		t.Errorf("%v\n%s, want\n%s", err, body, want)
	}
	for where, want := range map[string]string{"/animals/1/count": "animals_1_count", "/animals/0/count": "count", "/from/salinity": "from_salinity", "species": "species", "/container/start_volume": "container_start_volume"} {
		if got := q.nameAt(where); got != want {
			t.Errorf("%s is asked for as %s, want %s", where, got, want)
		}
	}
	var names []string
	for _, l := range q.hidden(map[string]bool{"count": true}) {
		names = append(names, l.Path)
	}
	if want := []string{"animals_1_count", "animals_1_species", "from_salinity", "species"}; !slices.Equal(names, want) {
		t.Errorf("carried along: %v, want %v", names, want)
	}
}
