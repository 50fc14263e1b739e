package server_test

import (
	"regexp"
	"strings"
	"testing"
)

// airAtTheBell are orders that put bubbles where the animals are.
var airAtTheBell = regexp.MustCompile(`(?i)air stone (is )?(running|runs|hard)|an air stone: |(add|run|put|with|under|keep) (an|the) air stone|battery air|from 20 cm|aerate well|a soft net`)

// Nothing said to the keeper of a jellyfish lets air bubble where it is, whatever goes wrong: no
// plan, no refusal, no alarm of a plan under way.
func TestNoBubblesAtAJellyfish(t *testing.T) {
	t.Parallel()
	s := newService(t)
	for _, species := range []string{"aurelia-aurita", "cassiopea-andromeda"} {
		for _, q := range []string{
			"from_salinity=30+ppt&from_temperature=20+C&from_hours_in_bag=20+h&to_salinity=33+ppt&to_temperature=22+C",
			"from_salinity=33+ppt&from_temperature=20+C&from_hours_in_bag=20+h&to_salinity=30+ppt&to_temperature=22+C",
			"from_salinity=33+ppt&from_temperature=31+C&from_hours_in_bag=20+h&to_salinity=33+ppt&to_temperature=22+C",
			"from_salinity=33+ppt&from_temperature=4+C&from_hours_in_bag=1+h&to_salinity=33+ppt&to_temperature=16+C",
			"from_salinity=30+ppt&from_temperature=20+C&to_salinity=34+ppt&to_temperature=20+C",
			"from_salinity=30+ppt&from_temperature=20+C&to_salinity=34+ppt&to_temperature=20+C&container_capacity=10+L",
			"from_salinity=30+ppt&from_temperature=20+C&to_salinity=33+ppt&to_temperature=22+C&container_capacity=10+L&container_aerated=true",
			"from_salinity=30+ppt&from_temperature=20+C&to_salinity=33+ppt&to_temperature=20+C&container_capacity=10+L&container_aerated=true&route=drip&start=2026-11-29T20:00:00Z&count=2&mass=60+g",
			"from_salinity=30+ppt&from_temperature=20+C&to_salinity=33+ppt&to_temperature=20+C&container_capacity=10+L&container_aerated=true&route=cups",
			"from_salinity=26+ppt&from_temperature=20+C&to_salinity=35+ppt&to_temperature=20+C&container_capacity=10+L&container_aerated=true&route=staged",
			"from_salinity=33+ppt&from_temperature=31+C&to_salinity=33+ppt&to_temperature=22+C",
			"from_salinity=33+ppt&from_temperature=20+C&from_tan=4+mg/L+N&from_ph=8.2&to_salinity=30+ppt&to_temperature=20+C",
			"from_salinity=33+ppt&from_temperature=20+C&from_tan=4+mg/L+N&from_ph=6.5&to_ph=8.2&to_salinity=30+ppt&to_temperature=20+C",
			"from_salinity=33+ppt&from_temperature=20+C&from_nitrite=9+mg/L+N&to_salinity=30+ppt&to_temperature=20+C",
			"from_salinity=3+ppt&from_temperature=20+C&to_salinity=30+ppt&to_temperature=20+C",
			"from_salinity=33+ppt&from_temperature=20+C&to_salinity=33+ppt&to_temperature=30+C",
		} {
			for _, format := range []string{"text", "json"} {
				_, body := s.plainly(t, "/v1/transfers/plan?species="+species+"&format="+format+"&"+q)
				if said := airAtTheBell.FindString(body); said != "" {
					t.Errorf("%s, %s: %q is said of %s:\n%s", species, format, said, q, body)
				}
				if strings.Contains(body, `"phases"`) && !strings.Contains(body, "no air bubble reach a jellyfish") {
					t.Errorf("%s: no word on bubbles, of %s", species, q)
				}
			}
		}
	}
}

// A plan under way neither: without power, in distress, with poison, with cold, late.
func TestNoBubblesUnderWay(t *testing.T) {
	t.Parallel()
	const of = `"animals": [{"species": "aurelia-aurita"}], "from": {"salinity": "30 ppt", "temperature": "20 C"}, "to": {"salinity": "33 ppt", "temperature": "20 C"},
		"container": {"capacity": "10 L", "start_volume": "3 L", "aerated": true}`
	for name, body := range map[string]string{
		"drip": `{"route": "drip", ` + of + `}`,
		"cups": `{"route": "cups", ` + of + `}`,
		"bag":  `{"animals": [{"species": "aurelia-aurita"}], "from": {"salinity": "30 ppt", "temperature": "20 C", "hours_in_bag": "20 h"}, "to": {"salinity": "33 ppt", "temperature": "20 C"}}`,
	} {
		for _, log := range []string{`{"event": "power_off"}`, `{"event": "power_back", "temperature": "15 C"}`, `{"event": "late"}`, `{"event": "stop"}`, `{"event": "animals_look_wrong"}`,
			`{"event": "animals_look_wrong", "behaviour": "gasping", "volume": "4 L", "salinity": "32 ppt"}`, `{"tan": "8 mg/L N", "temperature": "20 C"}`, `{"temperature": "30 C"}`, `{"salinity": "32.9 ppt", "volume": "9 L"}`} {
			s, a := savePlanOf(t, body), answered{}
			if strings.Contains(log, `"event"`) {
				a = s.event(t, 1, log, "")
			} else {
				a = s.logs(t, 1, log, "")
			}
			page := s.get(t, "/t/"+s.id, "Accept", "text/html").body
			if !strings.Contains(page, "data-bells") {
				t.Errorf("%s, %s: the page at the bucket does not know of the bell", name, log)
			}
			for where, said := range map[string]string{"answer": a.body, "now": s.get(t, s.path+"/now?format=text").body, "page": page} {
				if found := airAtTheBell.FindString(said); found != "" {
					t.Errorf("%s, %s, %s: %q\n%s", name, log, where, found, said)
				}
			}
		}
	}
}
