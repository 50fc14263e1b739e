package server_test

import (
	"net/http"
	"strings"
	"testing"
)

// Media types in Accept are case-insensitive, and one with a weight of 0 is not acceptable [RFC
// 9110].
func TestAccept(t *testing.T) {
	s := newService(t)
	for accept, want := range map[string]string{
		"APPLICATION/JSON": "application/json", "Text/Plain": "text/plain", "text/plain;q=0, */*": "application/json",
		"application/json; q=0.000, text/csv": "text/csv", "*/*;q=0": "", "text/plain;q=0": "",
	} {
		a := s.call(t, http.MethodGet, "/v1/mixes/salt?target=35%20ppt&volume=1%20L", "", "Accept", accept)
		if want == "" && a.status != http.StatusNotAcceptable || want != "" && (a.status != http.StatusOK || !strings.HasPrefix(a.header.Get("Content-Type"), want)) {
			t.Errorf("%s: %d %s, want %s", accept, a.status, a.header.Get("Content-Type"), want)
		}
	}
}
