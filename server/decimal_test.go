package server_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
)

// A number with a decimal comma is read the same way wherever a reading can be: in a query, a list
// and a table. A point could be meant in two ways, so it is refused in each.
func TestDecimalCommaEverywhere(t *testing.T) {
	s := newService(t)
	for _, c := range []struct{ given, reads, refused string }{
		{"1,5 ppt", "1.5", ""},
		{"1.234 ppt", "", "neither a decimal point nor a separator"},
		{"1.234,5 ppt", "", "neither a decimal point nor a separator"},
		{"12.345 mg/L", "", "neither a decimal point nor a separator"},
	} {
		query := s.get(t, "/v1/conversions?temperature=25,0%20C&decimal=comma&reading="+url.QueryEscape(c.given))
		list := s.call(t, http.MethodPost, "/v1/conversions?decimal=comma", `[{"reading":"`+c.given+`","temperature":"25,0 C"}]`)
		table := s.call(t, http.MethodPost, "/v1/conversions?decimal=comma", "reading;temperature\n"+c.given+";25,0 C\n", "Content-Type", "text/csv")
		if c.refused == "" {
			for name, a := range map[string]answered{"query": query, "list": list} {
				if !strings.Contains(a.body, `"practical_salinity":{"value":`+c.reads+`,`) {
					t.Errorf("%s of %s: %d %s", name, c.given, a.status, a.body)
				}
			}
			if !strings.Contains(table.body, "\n"+c.given+";25,0 C;"+strings.Replace(c.reads, ".", ",", 1)+";") {
				t.Errorf("table of %s: %d %s", c.given, table.status, table.body)
			}
			continue
		}
		if query.status != http.StatusBadRequest || list.number(t, "bad") != 1 {
			t.Errorf("%s: %d in a query, in a list %s", c.given, query.status, list.body)
		}
		for name, a := range map[string]answered{"query": query, "list": list, "table": table} {
			if strings.Count(a.body, "decimal=comma") < 1 || !strings.Contains(a.body, c.refused) || strings.Contains(a.body, "write a point") {
				t.Errorf("%s of %s: %d %s", name, c.given, a.status, a.body)
			}
		}
	}
}

// Text that is not a quantity keeps its commas, and a time its point.
func TestDecimalCommaLeavesText(t *testing.T) {
	s := savePlan(t)
	note := `buckets 1,2 and 3,4`
	a := s.call(t, http.MethodPatch, s.path+"?decimal=comma", `{"note":"`+note+`","start":"2026-12-01T10:00:00.5Z"}`, "Authorization", "Bearer "+s.key)
	if a.status != http.StatusOK || a.field(t, "note") != note {
		t.Errorf("%d\n%.300s", a.status, a.body)
	}
	blend := s.get(t, "/v1/mixes/blend?decimal=comma&water=10,5%20L,%2035%20ppt,%2025%20C&water=10,5%20L,5%20ppt,%2025%20C&only=volume&format=text")
	if !strings.HasPrefix(blend.body, "20,9") && !strings.HasPrefix(blend.body, "21,0") && !strings.HasPrefix(blend.body, "21\n") {
		t.Errorf("waters with decimal commas: %d %s", blend.status, blend.body)
	}
}

// Each fault of a query and of a body is reported once, always in the same order.
func TestDecimalCommaFaults(t *testing.T) {
	s := newService(t)
	const body = `{"note":1,"from":{"salinity":"2.5 ppt","temperature":"25,5 C"},"to":{"salinity":"1.234,5 ppt","temperature":"25.5 L"}}`
	want := []string{"/from/salinity", "/to/salinity", "/to/temperature", "/note"}
	var first string
	for range 10 {
		a := s.call(t, http.MethodPost, "/v1/transfers/plan?decimal=comma", body)
		var where []string
		for _, e := range a.problem(t).Errors {
			where = append(where, e.Where)
		}
		if !slices.Equal(where, want) {
			t.Fatalf("faults %v, want %v\n%s", where, want, a.body)
		}
	}
	for range 10 {
		a := s.get(t, "/v1/mixes/salt?target=1.2,3%20ppt&volume=1.2%20L&temperature=2.5,1%20C&decimal=comma")
		of := strings.Split(a.body, "request_id")[0]
		errs := a.problem(t).Errors
		if len(errs) != 3 || errs[0].Where != "target" || errs[1].Where != "temperature" || errs[2].Where != "volume" || first != "" && of != first {
			t.Fatalf("%s\nafter %s", a.body, first)
		}
		first = of
	}
}

// A body that cannot be read does not hide faults of the query.
func TestFaultsBesideABody(t *testing.T) {
	s := newService(t)
	a := s.call(t, http.MethodPost, "/v1/transfers/plan?unit=us&format=xml", `{"from":`)
	var where []string
	for _, e := range a.problem(t).Errors {
		where = append(where, e.Where)
	}
	if slices.Sort(where); !slices.Equal(where, []string{"/", "format", "unit"}) {
		t.Errorf("%d %v\n%s", a.status, where, a.body)
	}
}
