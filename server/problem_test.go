package server_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"
)

// problem is what a program reads of a problem document.
type problem struct {
	Type   string
	Status int
	Errors []struct{ Where, Reason, Rule string }
}

func (a answered) problem(t *testing.T) problem {
	t.Helper()
	var p problem
	if got := a.header.Get("Content-Type"); got != "application/problem+json" {
		t.Errorf("media type %q, want application/problem+json", got)
	}
	if err := json.Unmarshal([]byte(a.body), &p); err != nil {
		t.Fatalf("no problem: %v\n%s", err, a.body)
	}
	return p
}

func TestProblems(t *testing.T) {
	s := newService(t)
	const salt, conversion = "/v1/mixes/salt?target=35%20ppt&volume=100L", "/v1/conversions?temperature=25C&reading="
	for _, c := range []struct {
		name, target string
		status       int
		kind         string
		where        []string // every fault, sorted
		says         string   // in one of the reasons
	}{
		{"missing", "/v1/mixes/salt?volume=100L", 400, "invalid-request", []string{"target"}, "missing"},
		{"empty", "/v1/mixes/salt?target=&volume=100L", 400, "invalid-request", []string{"target"}, ""},
		{"repeated", salt + "&volume=2L", 400, "invalid-request", []string{"volume"}, "once"},
		{"wrong unit", "/v1/mixes/salt?target=35%20ppt&volume=100%20galons", 400, "invalid-request", []string{"volume"}, "gal"},
		{"wrong dimension", "/v1/mixes/salt?target=35%20ppt&volume=25C", 400, "invalid-request", []string{"volume"}, "temperature"},
		{"bare number", conversion + "1.010", 400, "invalid-request", []string{"reading"}, "1.010 SG"},
		{"NaN", conversion + "NaN%20ppt", 400, "invalid-request", []string{"reading"}, ""},
		{"infinite", conversion + "1e999%20ppt", 400, "invalid-request", []string{"reading"}, "large"},
		{"hexadecimal", conversion + "0x1p4%20ppt", 400, "invalid-request", []string{"reading"}, ""},
		{"comma", conversion + "13,3%20ppt", 400, "invalid-request", []string{"reading"}, "decimal=comma"},
		{"point with decimal=comma", conversion + "13.3%20ppt&decimal=comma", 400, "invalid-request", []string{"reading"}, "comma"},
		{"negative volume", "/v1/mixes/salt?target=35%20ppt&volume=-100L", 422, "out-of-range", []string{"volume"}, "allowed"},
		{"hot water", "/v1/conversions?reading=20%20mS/cm&temperature=60C", 422, "out-of-range", []string{"temperature"}, "40"},
		{"a decimal point lost", "/v1/conversions?reading=35%20ppt&temperature=250C", 422, "out-of-range", []string{"temperature"}, "decimal point"},
		{"ppm of a pen", "/v1/transfers/plan?from_salinity=500ppm&from_temperature=25C&to_salinity=2ppt&to_temperature=25C", 400, "invalid-request", []string{"from_salinity"}, "dissolved solids"},
		{"hot mix", "/v1/mixes/salt?target=35%20ppt&volume=100L&temperature=60C", 422, "out-of-range", []string{"temperature"}, "40"},
		{"brine", conversion + "500%20ppt", 422, "out-of-range", []string{"reading"}, ""},
		{"temperature needed", "/v1/conversions?reading=1.010%20SG", 400, "invalid-request", []string{"temperature"}, "SG"},
		{"unknown parameter", salt + "&temprature=25C", 400, "invalid-request", []string{"temprature"}, "temperature"},
		{"unknown enum", salt + "&salt_kind=sea-salt", 400, "invalid-request", []string{"salt_kind"}, "sea_salt"},
		{"unknown format", salt + "&format=xml", 400, "invalid-request", []string{"format"}, "csv"},
		{"torn query", conversion + "35%", 400, "invalid-request", []string{"query"}, "%25"},
		{"table salt", salt + "&salt_kind=nacl", 400, "invalid-request", []string{"salt_kind"}, ""},
		{"above the salt water", "/v1/mixes/water-change?volume=100L&salinity=10ppt&target=36ppt&new_water=35ppt", 422, "unreachable", []string{"target"}, "reached"},
		{"below the source", "/v1/mixes/salt?target=5ppt&volume=100L&source=10ppt", 422, "unreachable", []string{"target"}, "reached"},
		{"unknown species", "/v1/species/scatophagus-argos", 404, "not-found", []string{"species"}, "Scatophagus argus"},
		{"unknown member", "/v1/species/compatibility?species=scatophagus-argos", 404, "not-found", []string{"species"}, "Scatophagus argus"},
		{"unknown life stage", "/v1/species/compatibility?species=scatophagus-argus:elder", 400, "invalid-request", []string{"species"}, "juvenile"},
		{"two life stages and a count of none", "/v1/species/compatibility?species=scatophagus-argus:juvenile:99999999999999999999:adult", 400, "invalid-request", []string{"species", "species"}, "two life stages"},
		{"two counts", "/v1/species/compatibility?species=scatophagus-argus:2:3", 400, "invalid-request", []string{"species"}, "two counts"},
		{"no stage of any animal", "/v1/species/compatibility?species=carassius-auratus:elder&species=scatophagus-argos", 400, "invalid-request", []string{"species", "species"}, "larva, juvenile, adult, all"},
		{"company at a stage", "/v1/species?keeps_with=amphiprion-ocellaris:larva", 400, "invalid-request", []string{"keeps_with"}, "known: "},
		{"growth from a stage", "/v1/species/amphiprion-ocellaris/growth?stage=larva", 400, "invalid-request", []string{"stage"}, "known: "},
		{"conversion for a stage", "/v1/conversions?reading=35ppt&species=amphiprion-ocellaris&stage=larva", 400, "invalid-request", []string{"stage"}, "known: "},
		{"plan for a stage", "/v1/transfers/plan?species=amphiprion-ocellaris&stage=larva&from_salinity=33ppt&from_temperature=25C&to_salinity=35ppt&to_temperature=25C", 400, "invalid-request", []string{"stage"}, "known: "},
		{"growth to a water that nobody prefers", "/v1/species/carassius-auratus/growth?target=9ppt", 422, "no-plan", []string{"target"}, "adult of carassius auratus prefers 0 to 3 ppt"},
		{"a number of another notation", "/v1/species?limit=0x1.8p4", 400, "invalid-request", []string{"limit"}, "whole number"},
		{"no water", "/v1/species?lives_at=-1ppt", 422, "out-of-range", []string{"lives_at"}, "allowed"},
		{"brine to live in", "/v1/species?lives_at=400%20g/kg", 422, "out-of-range", []string{"lives_at"}, "allowed"},
		{"all at once", "/v1/mixes/salt?volume=25C&temperature=100L&saltkind=x", 400, "invalid-request", []string{"saltkind", "target", "temperature", "volume"}, ""},
		{"no air stone", "/v1/transfers/plan?from_salinity=2ppt&from_temperature=25C&to_salinity=10ppt&to_temperature=25C&container_capacity=20L&container_aerated=false&sensitivity=hardy", 422, "no-plan", []string{"container_aerated"}, "air stone"},
		{"target outside the species' band", "/v1/transfers/plan?species=carassius-auratus&from_salinity=0.2ppt&from_temperature=20C&to_salinity=12ppt&to_temperature=20C&container_capacity=20L&container_aerated=true&limits_per_24_hours=20g/kg", 422, "no-plan", []string{"to_salinity"}, "is kept at 3 ppt or less"},
		{"plan for a species of several", "/v1/transfers/plan?species=scat&from_salinity=2ppt&from_temperature=20C&to_salinity=4ppt&to_temperature=20C", 404, "which-species", []string{"species"}, "Scatophagus argus"},
		{"plan with a count that is none", "/v1/transfers/plan?from_salinity=2ppt&from_temperature=25C&to_salinity=10ppt&to_temperature=25C&count=", 400, "invalid-request", []string{"count"}, `for example "4"`},
		{"a year past calendars", "/v1/transfers/plan?from_salinity=2ppt&from_temperature=25C&to_salinity=10ppt&to_temperature=25C&start=9999-12-31T23:59:59Z", 400, "invalid-request", []string{"start"}, `"9999-12-31T23:59:59Z" cannot be read: not between the years 1970 and 2199`},
		{"plan with a bad quantity", "/v1/transfers/plan?from_salinity=2&from_temperature=25C&to_salinity=10ppt&to_temperature=25L", 400, "invalid-request", []string{"from_salinity", "to_temperature"}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := s.get(t, c.target)
			p := a.problem(t)
			if a.status != c.status || p.Status != c.status || p.Type != "/problems/"+c.kind {
				t.Errorf("GET %s: %d %s, want %d %s\n%s", c.target, a.status, p.Type, c.status, c.kind, a.body)
			}
			var where []string
			said := false
			for _, e := range p.Errors {
				where = append(where, e.Where)
				said = said || strings.Contains(e.Reason, c.says)
			}
			slices.Sort(where)
			if !slices.Equal(where, c.where) {
				t.Errorf("GET %s faults %v, want %v\n%s", c.target, where, c.where, a.body)
			}
			if !said {
				t.Errorf("GET %s: no reason speaks of %q\n%s", c.target, c.says, a.body)
			}
			if page := s.get(t, p.Type); page.status != http.StatusOK || !strings.Contains(page.body, "What to do") {
				t.Errorf("GET %s: %d, want a page", p.Type, page.status)
			}
		})
	}
}

func TestBodyProblems(t *testing.T) {
	s := newService(t)
	const good = `{"from":{"salinity":"2 ppt","temperature":"25 C"},"to":{"salinity":"10 ppt","temperature":"25 C"}}`
	for _, c := range []struct {
		name, body string
		header     []string
		status     int
		where      []string
	}{
		{"no JSON", `{"from":`, nil, 400, []string{"/"}},
		{"something after it", good + " {}", nil, 400, []string{"/"}},
		{"other media type", good, []string{"Content-Type", "text/plain"}, 415, nil},
		{"too large", `{"from":"` + strings.Repeat("x", 10<<20) + `"}`, nil, 413, nil},
		{"missing and unknown", `{"form":{"salinity":"2 ppt"},"to":{"salinity":"10 ppt","temperature":"25 C"}}`, nil, 400, []string{"/form", "/from"}},
		{"quantities", `{"from":{"salinity":"2 L","temperature":"25 C"},"to":{"salinity":"10 ppt","temperature":25}}`, nil, 400, []string{"/from/salinity", "/to/temperature"}},
		{"names and stages of animals", `{"animals":[{"species":"amphiprion-ocellaris","stage":"larva"},{"species":"scatophagus-argos"}],"home_mates":[{"species":"amphiprion-ocellaris","stage":"larva"}],` + good[1:], nil, 400, []string{"/animals/0/stage", "/animals/1/species", "/home_mates/0/stage"}},
		{"number out of range", strings.Replace(good, "{", `{"line":{"settings":0},`, 1), nil, 422, []string{"/line/settings"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := s.call(t, http.MethodPost, "/v1/transfers/plan", c.body, c.header...)
			p := a.problem(t)
			var where []string
			for _, e := range p.Errors {
				where = append(where, e.Where)
			}
			slices.Sort(where)
			if a.status != c.status || !slices.Equal(where, c.where) {
				t.Errorf("%d %v, want %d %v\n%.2000s", a.status, where, c.status, c.where, a.body)
			}
		})
	}
}

func TestMethodAndAccept(t *testing.T) {
	s := newService(t)
	if a := s.call(t, http.MethodDelete, "/v1/mixes/salt", ""); a.status != 405 || !strings.Contains(a.header.Get("Allow"), "GET") {
		t.Errorf("DELETE: %d, Allow %q; want 405 with GET", a.status, a.header.Get("Allow"))
	}
	if a := s.get(t, "/v1/nothing"); a.status != 404 {
		t.Errorf("GET /v1/nothing: %d, want 404", a.status)
	}
	const target = "/v1/mixes/salt?target=35%20ppt&volume=100L"
	if a := s.get(t, target, "Accept", "application/pdf"); a.status != 406 {
		t.Errorf("Accept application/pdf: %d, want 406", a.status)
	}
	for accept, want := range map[string]string{
		"":                                  "application/json",
		"*/*":                               "application/json",
		"text/csv":                          "text/csv; charset=utf-8",
		"text/plain;q=0.9, text/csv;q=0.5":  "text/plain; charset=utf-8",
		"text/html, application/json;q=0.9": "application/json",
		"application/pdf, */*;q=0.1":        "application/json",
	} {
		if a := s.get(t, target, "Accept", accept); a.header.Get("Content-Type") != want {
			t.Errorf("Accept %q gives %q, want %q", accept, a.header.Get("Content-Type"), want)
		}
	}
}

// Faults of a list have pointers into its items, those of a table the names of its columns.
func TestPlacesInListsAndTables(t *testing.T) {
	s := newService(t)
	list := s.call(t, http.MethodPost, "/v1/conversions", `[{"reading":"7 furlongs"},{"reading":"1.010 SG"}]`)
	for i, want := range []string{"/reading", "/temperature"} {
		if got := list.field(t, fmt.Sprintf("items.%d.errors.0.where", i)); got != want {
			t.Errorf("item %d is wrong at %v, want %s", i, got, want)
		}
	}
	table := s.call(t, http.MethodPost, "/v1/conversions?format=json", "reading\n7 furlongs\n1.010 SG\n", "Content-Type", "text/csv")
	for i, want := range []string{"reading", "temperature"} {
		if got := table.field(t, fmt.Sprintf("items.%d.errors.0.where", i)); got != want {
			t.Errorf("row %d is wrong at %v, want %s", i, got, want)
		}
	}
}
