package server_test

import (
	"strings"
	"testing"
)

// A tank that is ramped and whose water is poisoned gets clean water of the same salinity, whatever
// is reported next; only the salinity waits. At pH 8.4 and 26 °C about a fifth of 4 mg/L is toxic.
func TestPoisonInATankThatIsRamped(t *testing.T) {
	t.Parallel()
	const change = "Change half of the water for clean, dechlorinated water of the same salinity and temperature."
	foul := `{"behaviour": "ok", "tan": "4 mg/L N", "salinity": "5 ppt", "temperature": "26 C"}`
	nitrite := `{"behaviour": "ok", "tan": "0.1 mg/L N", "nitrite": "10 mg/L N", "salinity": "5 ppt", "temperature": "26 C"}`
	steep := strings.NewReplacer("7.8", "8.4", "8.2", "8.4").Replace(rampBody)
	for name, x := range map[string]struct {
		plan string
		log  []string
		now  string
		then string
	}{
		"found":               {steep, []string{foul}, change, "Test that water"},
		"and fine":            {steep, []string{foul, `{"behaviour": "ok", "salinity": "5 ppt", "temperature": "26 C"}`}, change, "With ammonia at most"},
		"nitrite":             {steep, []string{nitrite}, change, ""},
		"touched":             {steep, []string{nitrite, `{"event": "clamp_touched"}`, `{"event": "late"}`}, change, ""},
		"gasping":             {steep, []string{foul, `{"behaviour": "gasping"}`}, change, "See that the air stone runs"},
		"stopped":             {steep, []string{foul, `{"event": "stop"}`}, change, "Change the salinity no further."},
		"no power":            {steep, []string{foul, `{"event": "power_off"}`}, "Run a battery air pump", change},
		"gasping, no power":   {steep, []string{foul, `{"event": "power_off"}`, `{"behaviour": "gasping"}`}, "Run a battery air pump", change},
		"the power came back": {steep, []string{`{"event": "power_off"}`, `{"event": "power_back"}`, foul}, change, ""},
		"without a filter":    {strings.Replace(steep, `"volume": "200 L"`, `"volume": "200 L", "filter": false`, 1), []string{foul}, change, "Test that water"},
	} {
		s := savePlanOf(t, x.plan)
		var is told
		for i, body := range x.log {
			if at := 20 + float64(i); strings.Contains(body, `"event"`) {
				is = s.event(t, at, body, "").told(t)
			} else {
				is = s.logs(t, at, body, "").told(t)
			}
		}
		now := s.get(t, s.path+"/now?format=text").body
		if !strings.HasPrefix(is.now, x.now) || !strings.Contains(is.then, x.then) || !strings.HasPrefix(now, x.now) {
			t.Errorf("%s: %+v\n%s", name, is, now)
		}
		if all := is.now + is.then + now; strings.Contains(all, "Change no ") || strings.Contains(all, "feed half") {
			t.Errorf("%s: forbids the change: %+v", name, is)
		}
		if name == "found" {
			// What was too little to be toxic, and clean water, wait for the filter as before.
			if is = s.logs(t, 30, `{"tan": "0.2 mg/L N", "nitrite": "0.1 mg/L N", "temperature": "26 C"}`, "").told(t); !strings.HasPrefix(is.now, "Change no water yet, and test") {
				t.Errorf("clean again: %+v", is)
			}
		}
	}
}
