package server_test

import (
	"encoding/json"
	"net/http"
	"reflect"
	"testing"
)

// Without its curve a plan is the same, alone or in a saved transfer, and much shorter.
func TestCurveLeftOut(t *testing.T) {
	s := newService(t)
	const body = `{"animals": [{"sensitivity": "hardy"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "10 ppt", "temperature": "26 C"}, "container": {"capacity": "20 L", "aerated": true}}`
	id, _ := s.call(t, http.MethodPost, "/v1/transfers", body).field(t, "id").(string)
	for _, one := range []struct {
		method, at, body string
		within           bool // another answer
	}{
		{http.MethodGet, "/v1/transfers/plan?" + scatsQuery, "", false},
		{http.MethodPost, "/v1/transfers/plan?units=metric", body, false},
		{http.MethodGet, "/v1/transfers/" + id + "?units=metric", "", true},
	} {
		whole, short := s.call(t, one.method, one.at+"&curve=full", one.body), s.call(t, one.method, one.at+"&curve=none", one.body)
		a, b := object(t, whole), object(t, short)
		if one.within {
			a, b = a["plan"].(map[string]any), b["plan"].(map[string]any)
		}
		if points, ok := a["curve"].([]any); !ok || len(points) < 10 {
			t.Errorf("%s: the curve is %v", one.at, a["curve"])
		}
		if points, ok := b["curve"].([]any); !ok || len(points) != 0 {
			t.Errorf("%s: without the curve it is %v", one.at, b["curve"])
		}
		delete(a, "curve")
		delete(b, "curve")
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%s: another plan without its curve", one.at)
		}
		t.Logf("%s: %d bytes, %d without the curve", one.at, len(whole.body), len(short.body))
	}
	picture := "/v1/transfers/plan?format=svg&" + scatsQuery
	if s.get(t, picture).body != s.get(t, picture+"&curve=none").body {
		t.Error("a picture without its curve is another")
	}
}

// object is a JSON answer.
func object(t *testing.T, a answered) (m map[string]any) {
	t.Helper()
	if err := json.Unmarshal([]byte(a.body), &m); err != nil {
		t.Fatalf("%v in %s", err, a.body)
	}
	return m
}
