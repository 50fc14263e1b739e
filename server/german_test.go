package server_test

import (
	"net/http"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

const bagQuery = "/v1/transfers/plan?species=scatophagus-argus&stage=juvenile&condition=just_shipped&from_salinity=5ppt&from_temperature=22C&to_salinity=5ppt&to_temperature=26C&from_hours_in_bag=20h"

// inGerman are requests whose text in German is kept as a golden, as a keeper reads it.
var inGerman = []question{
	{"getTransferPlan.de", "GET", planQuery, ""},
	{"getTransferPlan.cups.de", "GET", planQuery + "&route=cups", ""},
	{"getTransferPlan.ramp.de", "GET", "/v1/transfers/plan?sensitivity=moderate&from_salinity=5%20ppt&from_temperature=25C&to_salinity=15%20ppt&to_temperature=25C&home_tank_volume=450L&home_tank_source=0.2%20ppt&instrument_kind=hydrometer", ""},
	{"getTransferPlan.marks.de", "GET", "/v1/transfers/plan?sensitivity=hardy&from_salinity=2%20ppt&from_temperature=26C&to_salinity=10%20ppt&to_temperature=26C&route=by_marks&container_aerated=true", ""},
	{"getTransferPlan.bag.de", "GET", bagQuery, ""},
	{"getTransferPlan.rescue.de", "GET", "/v1/transfers/plan?species=carassius-auratus&from_salinity=12ppt&from_temperature=20C&to_salinity=1ppt&to_temperature=20C&home_tank_volume=100L&home_tank_source=0ppt&container_capacity=20L&container_aerated=true", ""},
	{"getTransferPlan.sick.de", "GET", planQuery + "&condition=sick", ""},
	{"getTransferPlan.goldfish.de", "GET", "/v1/transfers/plan?species=carassius-auratus&from_salinity=0ppt&from_temperature=20C&to_salinity=35ppt&to_temperature=20C&container_capacity=20L&container_aerated=true", ""},
	{"getTransferPlan.too-many.de", "GET", "/v1/transfers/plan?sensitivity=hardy&count=60&mass=20g&from_salinity=2ppt&from_temperature=26C&to_salinity=10ppt&to_temperature=26C&container_capacity=10L&container_aerated=true", ""},
	{"getTransferPlan.wrong.de", "GET", "/v1/transfers/plan?sensitivity=hardy&from_salinity=2&from_temperature=26C&to_salinity=10ppt&container_capacity=20%20galons", ""},
	{"getTransferPlan.hot.de", "GET", "/v1/transfers/plan?sensitivity=hardy&from_salinity=2ppt&from_temperature=60C&to_salinity=10ppt&to_temperature=26C", ""},
	{"getConversion.missing.de", "GET", "/v1/conversions?reading=1.02%20SG", ""},
	{"getSpecies.de", "GET", "/v1/species/scatophagus-argus", ""},
	{"listSpecies.de", "GET", "/v1/species?q=argusfisch", ""},
	{"getSpecies.unknown.de", "GET", "/v1/species/einhorn", ""},
	{"getCompatibility.de", "GET", "/v1/species/compatibility?species=scatophagus-argus:juvenile&species=monodactylus-argenteus&salinity=10%20ppt&temperature=26C", ""},
	{"getCompatibility.three.de", "GET", "/v1/species/compatibility?species=scatophagus-argus:juvenile:4&species=monodactylus-argenteus&species=carassius-auratus:2", ""},
	{"getSpeciesGrowth.de", "GET", "/v1/species/scatophagus-argus/growth?stage=juvenile&salinity=6%20ppt&target=15%20ppt&grown_in=200d", ""},
	{"getConversion.de", "GET", "/v1/conversions?reading=1.0055%20SG&instrument=hydrometer&calibration=60F/60F&temperature=26C", ""},
	{"getConversion.species.de", "GET", "/v1/conversions?reading=2%20ppt&temperature=26C&species=scatophagus-argus&stage=adult", ""},
	{"getSaltMix.de", "GET", "/v1/mixes/salt?target=10%20ppt&volume=450L&temperature=26C&source=0.2%20ppt", ""},
}

// German is complete: the answer says that it is German, and its text is as reviewed.
func TestGermanGoldens(t *testing.T) {
	s := newService(t)
	for _, q := range inGerman {
		joint := "?"
		if strings.Contains(q.target, "?") {
			joint = "&"
		}
		a := s.call(t, q.method, q.target+joint+"lang=de&format=text", q.body)
		if a.header.Get("Content-Language") != "de" {
			t.Errorf("%s: %d, in %q\n%s", q.name, a.status, a.header.Get("Content-Language"), a.body)
		}
		germanOnly(t, q.name, a.body)
		compare(t, filepath.Join("../testdata/golden", q.name+".txt"), a.body)
		data := s.call(t, q.method, q.target+joint+"lang=de", q.body)
		if data.header.Get("Content-Language") != "de" {
			t.Errorf("%s as JSON: in %q", q.name, data.header.Get("Content-Language"))
		}
		plain := s.call(t, q.method, q.target, q.body)
		if tag := data.header.Get("ETag"); data.status == http.StatusOK && (tag == "" || tag == plain.header.Get("ETag")) {
			t.Errorf("%s: one ETag, %s, for two languages", q.name, tag)
		}
		if plain.header.Get("Content-Language") != "en" {
			t.Errorf("%s without a language: in %q", q.name, plain.header.Get("Content-Language"))
		}
	}
}

// english matches words that no German sentence contains.
var english = regexp.MustCompile(`\b(?:the|and|with|of|is|are|it|water|tank|drip|salinity|hour|adult|juvenile|common practice|others)\b|[0-9]\.[0-9]`)

func germanOnly(t testing.TB, name, text string) {
	t.Helper()
	if left := english.FindStringIndex(text); left != nil {
		t.Errorf("%s: %q in …%s…", name, text[left[0]:left[1]], text[max(0, left[0]-80):min(len(text), left[1]+80)])
	}
}

// A transfer under way is in German if asked for: every event, what to do now, the chart and the
// calendar.
func TestGermanUnderWay(t *testing.T) {
	var text strings.Builder
	add := func(name string, a answered) {
		t.Helper()
		if a.status >= 300 || a.header.Get("Content-Language") != "de" {
			t.Errorf("%s: %d, in %q\n%s", name, a.status, a.header.Get("Content-Language"), a.body)
		}
		germanOnly(t, name, a.body)
		text.WriteString("== " + name + "\n" + a.body)
	}
	const asText, reading = "?lang=de&format=text", `{"volume": "%s L", "salinity": "%s ppt", "instrument": {"kind": "none"}, "temperature": "26 C"}`
	s := savePlan(t)
	add("now, before", s.get(t, s.path+"/now"+asText))
	said := func(litres, ppt string) string {
		return strings.Replace(strings.Replace(reading, "%s", litres, 1), "%s", ppt, 1)
	}
	add("on course", s.logs(t, 1, said("6.72", "2.86"), asText))
	add("now, on course", s.get(t, s.path+"/now"+asText))
	add("too fast", s.logs(t, 1.5, said("9.5", "4.95"), asText))
	add("now, too fast", s.get(t, s.path+"/now"+asText))
	for _, e := range []string{
		`{"event": "late"}`, `{"event": "clamp_touched"}`, `{"event": "refilled"}`, `{"event": "power_off"}`, `{"event": "power_back"}`,
		`{"event": "animals_look_wrong", "behaviour": "gasping"}`, `{"event": "stop"}`,
	} {
		s := savePlan(t)
		add(e, s.event(t, 2, e, asText))
		add("now", s.get(t, s.path+"/now"+asText))
	}
	compare(t, "../testdata/golden/underWay.de.lines", s.masked(text.String()))
	for _, at := range []string{"/calendar.ics", "/chart.svg"} {
		if a := s.get(t, s.path+at+"?lang=de"); a.status != http.StatusOK || a.header.Get("Content-Language") != "de" || !strings.Contains(a.body, "Tiere") {
			t.Errorf("%s: %d in %q\n%.600s", at, a.status, a.header.Get("Content-Language"), a.body)
		}
	}
}

// What cannot be said in German is said in English, all of it, and the answer says so.
func TestOneLanguageAtATime(t *testing.T) {
	s := newService(t)
	for _, c := range []struct{ method, target, body string }{
		{"GET", "/v1/methods?lang=de&format=text", ""}, {"POST", "/v1/transfers/plan?lang=de", `{"from":`}, {"POST", "/v1/transfers/plan?lang=de&colour=blue", `{"from":`},
	} {
		if a := s.call(t, c.method, c.target, c.body); a.header.Get("Content-Language") != "en" || strings.Contains(a.body, "ä") || strings.Contains(a.body, "kennt") {
			t.Errorf("%s: in %q\n%.300s", c.target, a.header.Get("Content-Language"), a.body)
		}
	}
	if a := s.get(t, planQuery+"&lang=de&only=duration"); a.status == http.StatusOK && a.header.Get("Content-Language") != "" {
		t.Errorf("a bare number is in %q", a.header.Get("Content-Language"))
	}
	// A table is for machines: its numbers have the decimal mark asked for.
	if a := s.get(t, "/v1/mixes/salt?target=10%20ppt&volume=45L&temperature=26C&lang=de&format=csv"); !strings.Contains(a.body, "0.454057") {
		t.Errorf("a table with decimal commas\n%s", a.body)
	}
}

var (
	// elsewhere are the parts of a page in another language, and what nobody reads.
	elsewhere = regexp.MustCompile(`(?s)<(\w+)[^>]* lang="(?:en|la)"[^>]*>.*?</(?:ul|a|i|p)>|<svg.*?</svg>|<script.*?</script>|<(?:textarea|option)[^>]*>|(?:href|value|src|name|id|for|class)="[^"]*"`)
	tags      = regexp.MustCompile(`<[^>]*>|\s+|Saltlock [0-9.]+, Artentabelle [0-9a-f.-]+`)
)

// Pages asked for in German are in German, and link to German ones.
func TestGermanPages(t *testing.T) {
	s := savePlan(t)
	s.event(t, 2, `{"event": "late"}`, "")
	plan := "/plan?" + strings.TrimPrefix(planQuery, "/v1/transfers/plan?")
	for _, at := range []string{
		"/plan?lang=de", "/plan?step=animals&species=argusfisch&lang=de", "/plan?step=animals&species=scatophagus-argus&lang=de", "/plan?step=waters&lang=de&species=scatophagus-argus",
		"/plan?step=container&lang=de&from_salinity=2%20ppt&to_salinity=10%20ppt", "/plan?step=all&lang=de&from_salinity=2%20ppt", plan + "&lang=de", plan + "&condition=sick&lang=de", plan + "&start=2026-12-01T09:00:00Z&lang=de",
		strings.Replace(plan, "/plan", "/card", 1) + "&lang=de", "/t/" + s.id + "?lang=de", "/t/" + s.id + "/card?lang=de", "/species?q=scat&lang=de", "/species/scatophagus-argus?lang=de",
	} {
		a := s.get(t, at)
		if a.status != http.StatusOK || a.header.Get("Content-Language") != "de" || !strings.Contains(a.body, `<html lang="de">`) || !strings.Contains(a.body, `hreflang="en"`) {
			t.Errorf("%s: %d, in %q", at, a.status, a.header.Get("Content-Language"))
		}
		germanOnly(t, at, tags.ReplaceAllString(elsewhere.ReplaceAllString(a.body, ""), " "))
		for _, m := range regexp.MustCompile(`(?:href|action|src)="(/(?:plan|card|t/|species|v1/transfers)[^"]*)"`).FindAllStringSubmatch(a.body, -1) {
			english := strings.Contains(a.body, `href="`+m[1]+`" hreflang="en"`)
			if form := strings.Contains(a.body, `action="`+m[1]+`"`); !form && !english && !strings.Contains(m[1], "lang=de") && !strings.Contains(m[1], "/manifest") {
				t.Errorf("%s leads to %s", at, m[1])
			}
		}
	}
	if a := s.get(t, "/plan"); a.header.Get("Content-Language") != "en" || !strings.Contains(a.body, `hreflang="de"`) || !strings.Contains(a.body, "Deutsch") {
		t.Errorf("without a language: in %q", a.header.Get("Content-Language"))
	}
}
