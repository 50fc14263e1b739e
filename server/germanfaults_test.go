package server_test

import (
	"net/url"
	"regexp"
	"strings"
	"testing"
)

// wrongOnThePage are ways to fill in the planner wrongly: what is changed in a plan that is right.
var wrongOnThePage = []url.Values{
	{"from_salinity": {"2"}}, {"from_salinity": {"2 pt"}}, {"from_salinity": {"zwei ppt"}}, {"from_salinity": {"2 L"}}, {"from_salinity": {"-3 ppt"}},
	{"from_salinity": {"2 ppt 3"}}, {"from_salinity": {"2(x) ppt"}}, {"from_salinity": {"2 ± -1 ppt"}}, {"from_salinity": {"1.2,3 ppt"}},
	{"to_salinity": {"300 ppt"}}, {"to_salinity": {"35 nD"}}, {"to_temperature": {"60 C"}}, {"from_temperature": {"heiß"}},
	{"container_capacity": {"1.000 L"}}, {"container_capacity": {"20 galons"}}, {"container_capacity": {"0.001 L"}}, {"container_aerated": {"vielleicht"}},
	{"count": {"drei"}}, {"count": {"0"}}, {"count": {"2.5"}}, {"count": {"99999999"}}, {"mass": {"5 cm"}}, {"condition": {"gesund"}}, {"stage": {"adlt"}}, {"sensitivity": {"zäh"}},
	{"species": {"einhorn"}, "stage": {"adult"}}, {"visits_quiet_from": {"25:00"}}, {"visits_quiet_from": {"22:00"}}, {"time_zone": {"Europa/Berlin"}}, {"start": {"morgen"}},
	{"length": {"5 cm"}, "mass": {"2 g"}}, {"length": {"5 cm"}}, {"line_bore": {"4 mm"}}, {"from_tan": {"1 mg/L"}}, {"from_alkalinity": {"8"}},
	{"route": {"fliegen"}}, {"prefer": {"tempo"}}, {"tolerance": {"0 g/kg"}}, {"instrument_kind": {"brix"}}, {"instrument_tds_factor": {"0.5"}, "instrument_kind": {"hydrometer"}},
	{"animals_1_species": {"scatophagus-argus"}, "animals_1_count": {"x"}}, {"container_shape": {"box"}, "container_length": {"30 cm"}}, {"line_settings": {"0"}}, {"room_temperature": {"99 C"}}, {"limits_at_once": {"5"}}, {"species": {"scat"}},
}

// marked are the parts of a page that say to be in English.
var marked = regexp.MustCompile(`(?s)<(li|p)\b[^>]* lang="en"[^>]*>.*?</(?:li|p)>`)

var (
	quoted        = regexp.MustCompile(`&#34;.*?&#34;`)         // what was entered
	choicesToSend = regexp.MustCompile(`Möglich: [a-z_, 0-9]+`) // as a URL writes them
	notation      = regexp.MustCompile(`1\.010\(1\)|1\.5 L`)
)

// A German page that refuses what was entered says so in German, or marks as English all that the
// service says of it; no sentence mixes the two.
func TestGermanPageOfFaults(t *testing.T) {
	s := newService(t)
	inEnglish := 0
	for _, wrong := range wrongOnThePage {
		q := url.Values{"lang": {"de"}, "sensitivity": {"hardy"}, "from_salinity": {"2 ppt"}, "from_temperature": {"25 C"}, "to_salinity": {"8 ppt"}, "to_temperature": {"25 C"},
			"container_capacity": {"20 L"}, "container_aerated": {"true"}}
		for name, values := range wrong {
			q[name] = values
		}
		a := s.get(t, "/plan?"+q.Encode())
		if !strings.Contains(a.body, `<html lang="de">`) || !strings.Contains(a.body, `class="errors"`) && !strings.Contains(a.body, "Welche") {
			t.Errorf("%v: %d, no fault on the page", wrong, a.status)
			continue
		}
		if left := marked.FindString(a.body); left != "" {
			inEnglish++
			t.Logf("%v is told in English: %s", wrong, tags.ReplaceAllString(left, " "))
			for _, part := range marked.FindAllString(a.body, -1) {
				if found := regexp.MustCompile(`[äöüß]|\b(?:der|die|das|und|nicht|ist)\b`).FindString(tags.ReplaceAllString(part, " ")); found != "" {
					t.Errorf("%v: %q in English: %s", wrong, found, part)
				}
			}
		}
		said := choicesToSend.ReplaceAllString(quoted.ReplaceAllString(marked.ReplaceAllString(a.body, ""), ""), "")
		germanOnly(t, wrong.Encode(), notation.ReplaceAllString(tags.ReplaceAllString(elsewhere.ReplaceAllString(said, ""), " "), ""))
	}
	if inEnglish > 0 {
		t.Errorf("%d of %d are told in English, though all have sentences in German", inEnglish, len(wrongOnThePage))
	}
	if len(wrongOnThePage) < 30 {
		t.Error("fewer than 30 ways to be wrong")
	}
}
