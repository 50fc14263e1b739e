package server_test

import (
	"strings"
	"testing"
)

// Where their own water is first cooled and left alone for 12 h, nothing is poured in before that:
// the clock of a saved plan begins after it, and until then every view says to cool.
func TestNoWaterBeforeTheTemperature(t *testing.T) {
	t.Parallel()
	const body = `{"animals": [{"species": "palaemon-varians", "origin": "captive"}], "container": {"aerated": true, "heated": true, "capacity": "30 L", "start_volume": "8 L", "least_volume": "8 L"},
		"line": {"drop_volume": "0.05 mL", "settings": 3}, "route": "cups", "from": {"salinity": "10 ppt", "temperature": "26 C"}, "to": {"salinity": "7.5 ppt", "temperature": "26 C"}`
	for name, start := range map[string]string{"now": "", "in an hour": `, "start": "2026-12-01T10:00:00Z"`, "in two days": `, "start": "2026-12-03T09:00:00Z"`} {
		s := savePlanOf(t, body+start+"}")
		text, now := s.get(t, s.path+"?format=text").body, s.get(t, s.path+"/now?format=text").body
		first := map[string]string{"now": "1 December 2026, 22:00 UTC", "in an hour": "1 December 2026, 22:00 UTC"}[name]
		if !strings.HasPrefix(now, "Start now: cool their own water") || !strings.HasPrefix(text, "Start now: cool their own water") {
			t.Errorf("%s: it says\n%.300s\nnow says\n%s", name, text, now)
		}
		if first != "" && (!strings.Contains(text, "The first water comes at "+first) || strings.Contains(text, "The first drop falls now")) || first == "" && strings.Contains(text, "The first water comes at") {
			t.Errorf("%s: it says\n%s", name, text)
		}
	}
}
