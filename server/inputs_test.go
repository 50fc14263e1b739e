package server_test

import (
	"encoding/json"
	"net/http"
	"reflect"
	"testing"
)

// What an answer says it was computed from can be posted as it stands, and
// gives the same answer.
func TestInputsCanBeSentAgain(t *testing.T) {
	s := newService(t)
	first := s.call(t, http.MethodPost, "/v1/transfers/plan", `{"from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "10 ppt", "temperature": "79 F"},
		"animals": [{"species": "scatophagus-argus", "count": 2, "mass": "1 g"}],
		"container": {"capacity": "18 L", "start_volume": "6 L", "aerated": true}, "line": {"drop_volume": "0.05 mL"},
		"start": "2026-12-01T19:00:00+01:00", "time_zone": "Europe/Berlin",
		"visits": {"every": "1 h", "quiet_from": "22:30", "quiet_until": "07:00"}}`)
	if first.status != 200 {
		t.Fatal(first.body)
	}
	var answer struct{ Inputs json.RawMessage }
	if err := json.Unmarshal([]byte(first.body), &answer); err != nil {
		t.Fatal(err)
	}
	again := s.call(t, http.MethodPost, "/v1/transfers/plan", string(answer.Inputs))
	var a, b any
	if json.Unmarshal([]byte(first.body), &a) != nil || json.Unmarshal([]byte(again.body), &b) != nil || !reflect.DeepEqual(a, b) {
		t.Errorf("sent again, %s answers\n%s\nfirst it was\n%s", answer.Inputs, again.body, first.body)
	}
}
