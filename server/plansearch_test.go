package server_test

import (
	"net/http"
	"testing"
)

// If the search for a plan ends before it can say what would help, the request is still refused,
// and not answered with a 5xx.
func TestSpentSearchIsRefused(t *testing.T) {
	s := newService(t)
	a := s.call(t, http.MethodPost, "/v1/transfers/plan", `{"start": "2026-12-01T09:00:00Z", "time_zone": "Europe/Berlin", "animals": [{"species": "scatophagus-argus", "stage": "juvenile", "origin": "captive", "count": 5, "mass": "5 g"}], "container": {"shape": "bucket", "top_diameter": "30 cm", "bottom_diameter": "26 cm", "height": "32 cm", "start_volume": "6 L", "least_volume": "6 L", "aerated": true}, "from": {"salinity": "2 ppt", "temperature": "26 C"}, "home_tank": {"volume": "200 L", "source": "0.2 ppt"}, "instrument": {"kind": "refractometer"}, "line": {"drop_volume": "0.084 mL", "settings": 8, "greatest_drip": "20 drops/s"}, "prefer": "time", "to": {"salinity": "30 ppt", "temperature": "26 C"}}`)
	if a.status != http.StatusUnprocessableEntity && a.status != http.StatusOK {
		t.Errorf("%d: %s", a.status, a.body)
	}
}

// An overflow with quiet hours is refused in a move of several parts too, though its parts were
// not asked about visits themselves.
func TestOverflowInPartsIsRefused(t *testing.T) {
	s := newService(t)
	for name, more := range map[string]string{"staged": "", "combined": `"home_tank": {"volume": "60 L"}, "route": "combined", `} {
		a := s.call(t, http.MethodPost, "/v1/transfers/plan", `{`+more+`"container": {"overflow": true, "start_volume": "6 L"}, "from": {"salinity": "10 ppt", "temperature": "26 C"}, "start": "2026-12-01T09:00:00Z", "to": {"salinity": "20 ppt", "temperature": "26 C"}, "visits": {"quiet_from": "22:30", "quiet_until": "07:00"}}`)
		if a.status != http.StatusUnprocessableEntity && a.status != http.StatusBadRequest {
			t.Errorf("%s: %d: %s", name, a.status, a.body)
		}
	}
}
