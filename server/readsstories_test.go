package server_test

import (
	"strings"
	"testing"
)

// handBody is a drip from 3 to 12 ppt, read with the keeper's own instrument.
const handBody = `{"animals": [{"species": "scatophagus-argus", "origin": "captive"}], "container": {"aerated": true, "heated": true, "capacity": "30 L", "start_volume": "8 L", "least_volume": "8 L"},
	"line": {"drop_volume": "0.05 mL", "settings": 3}, "from": {"salinity": "3 ppt", "temperature": "26 C"}, "to": {"salinity": "12 ppt", "temperature": "26 C"}, "instrument": {"kind": "refractometer", "temperature_compensated": true}}`

// enters logs a reading or an event.
func (s savedPlan) enters(t *testing.T, hours float64, body string) told {
	t.Helper()
	if strings.Contains(body, `"event"`) {
		return s.event(t, hours, body, "").told(t)
	}
	return s.logs(t, hours, body, "").told(t)
}

// Numbers that contradict each other close the clamp at once, also at the first line of the page.
func TestNumbersThatContradictCloseTheClamp(t *testing.T) {
	t.Parallel()
	s := savePlanOf(t, strings.Replace(handBody, `{"kind": "refractometer", "temperature_compensated": true}`, `{"kind": "conductivity"}`, 1))
	s.enters(t, 1, `{"behaviour": "ok", "salinity": "3700 uS/cm", "temperature": "26 C", "volume": "8.7 L"}`)
	is := s.enters(t, 4./3, `{"behaviour": "ok", "salinity": "3.7 mS/cm", "temperature": "26 C", "volume": "9 L"}`)
	now := s.get(t, s.path+"/now?format=text").body
	if is.verdict != "paused" || !strings.HasPrefix(is.now, "Close the clamp.") || !strings.HasPrefix(now, "Close the clamp.") || !strings.HasPrefix(is.then, "Read the salinity once more, with a rinsed instrument, and then that of the new water.") || strings.Contains(now, "Pour off") || !strings.Contains(now, "and then that of the new water") {
		t.Errorf("%+v\n%s", is, now)
	}
}
