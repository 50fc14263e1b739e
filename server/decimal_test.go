package server_test

import (
	"net/http"
	"net/url"
	"regexp"
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
			if !decimalComma.MatchString(a.body) || !strings.Contains(a.body, c.refused) || strings.Contains(a.body, "write a point") {
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

var decimalComma = regexp.MustCompile(`with (?:decimal=|a decimal )comma`)

// To a reader of German 1.000 L may be a thousand litres. In a query, a body and a form such a
// number is refused, with both readings, unless the request says what a point means.
func TestThousandsInGerman(t *testing.T) {
	s := newService(t)
	mix := func(volume, more string) answered {
		return s.get(t, "/v1/mixes/salt?target=10%20ppt&temperature=25C&volume="+url.QueryEscape(volume)+more)
	}
	for given, want := range map[string]string{"1.000L": "1 L oder 1000 L", "1.500 L": "1.5 L oder 1500 L", "120.000 mL": "120 mL oder 120000 mL", "2.125 gal": "2.125 gal oder 2125 gal"} {
		a := mix(given, "&lang=de&format=text")
		if a.status != http.StatusBadRequest || a.header.Get("Content-Language") != "de" || !strings.Contains(a.body, want) {
			t.Errorf("%s: %d in %q\n%s", given, a.status, a.header.Get("Content-Language"), a.body)
		}
		for _, more := range []string{"", "&lang=en", "&lang=de&decimal=point"} {
			if a := mix(given, more); a.status != http.StatusOK {
				t.Errorf("%s with %s: %d\n%s", given, more, a.status, a.body)
			}
		}
	}
	for _, clear := range []string{"1.5 L", "1.00 L", "1.0000 L", "0.500 L", "1000 L"} {
		if a := mix(clear, "&lang=de"); a.status != http.StatusOK {
			t.Errorf("%s: %d\n%s", clear, a.status, a.body)
		}
	}
	if a := s.get(t, "/v1/conversions?reading=1.010%20SG&temperature=25C&lang=de"); a.status != http.StatusOK { // no water has a thousand of it
		t.Errorf("%d\n%s", a.status, a.body)
	}
	a := s.call(t, http.MethodPost, "/v1/transfers/plan?lang=de", `{"animals":[{"sensitivity":"hardy"}],"from":{"salinity":"2 ppt","temperature":"25 C"},"to":{"salinity":"10 ppt","temperature":"25 C"},"container":{"capacity":"1.000 L","aerated":true}}`)
	if told := a.problem(t).Errors; a.status != http.StatusBadRequest || len(told) != 1 || told[0].Where != "/container/capacity" || told[0].Rule != "quantity" {
		t.Errorf("%d\n%s", a.status, a.body)
	}
	form := s.get(t, "/plan?lang=de&sensitivity=hardy&from_salinity=2%20ppt&from_temperature=25C&to_salinity=10%20ppt&to_temperature=25C&container_aerated=true&container_capacity=1.000%20L")
	if !strings.Contains(form.body, "1 L oder 1000 L") {
		t.Errorf("%d\n%s", form.status, form.body)
	}
	// A sign of distress is heard, whatever else is unclear.
	saved := savePlan(t)
	if a := saved.event(t, 1, `{"event":"animals_look_wrong","behaviour":"gasping","volume":"7.000 L"}`, "?lang=de&format=text"); a.status >= 300 || !strings.Contains(a.body, "Klemme") {
		t.Errorf("%d\n%s", a.status, a.body)
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
