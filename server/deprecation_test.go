package server

import (
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"

	"saltlock/api"
	"saltlock/server/contract"
	"saltlock/server/store"
)

// ending is the contract with one operation that will go away.
func ending(t *testing.T, lines string) []byte {
	t.Helper()
	const operation = "      operationId: getVesselVolume\n"
	spec := strings.Replace(string(api.Spec), operation, operation+lines, 1)
	if spec == string(api.Spec) {
		t.Fatal("the contract has no getVesselVolume to deprecate")
	}
	return []byte(spec)
}

// An operation that the contract deprecates says so in the headers of RFC 9745 and RFC 8594, in
// successful answers and in problems; other operations do not.
func TestDeprecationHeaders(t *testing.T) {
	db, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "test.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	c, err := readContract(ending(t, "      deprecated: true\n      x-deprecated-since: '2026-11-25'\n      x-sunset: '2027-11-25'\n"), "")
	if err != nil {
		t.Fatal(err)
	}
	h, err := New(Options{Store: db, Contract: c})
	if err != nil {
		t.Fatal(err)
	}
	const box = "/v1/vessels/volume?shape=box&length=100cm&width=40cm&height=50cm"
	for target, status := range map[string]int{box: 200, "/v1/vessels/volume?shape=pyramid": 400} {
		answer := httptest.NewRecorder()
		h.ServeHTTP(answer, httptest.NewRequest(http.MethodGet, target, nil))
		got := answer.Header()
		if answer.Code != status {
			t.Errorf("GET %s: %d, want %d", target, answer.Code, status)
		}
		if got.Get("Deprecation") != "@1795564800" { // date -u -d 2026-11-25 +%s
			t.Errorf("GET %s: Deprecation %q, want @1795564800", target, got.Get("Deprecation"))
		}
		if got.Get("Sunset") != "Thu, 25 Nov 2027 00:00:00 GMT" { // date -u -d 2027-11-25
			t.Errorf("GET %s: Sunset %q", target, got.Get("Sunset"))
		}
		links := strings.Join(got.Values("Link"), ", ")
		for _, want := range []string{`</docs#getVesselVolume>; rel="deprecation"`, `</docs/changelog>; rel="sunset"`, `rel="service-desc"`} {
			if !strings.Contains(links, want) {
				t.Errorf("GET %s: no %s in Link: %s", target, want, links)
			}
		}
	}
	answer := httptest.NewRecorder()
	h.ServeHTTP(answer, httptest.NewRequest(http.MethodGet, "/v1/methods", nil))
	if got := answer.Header(); answer.Code != http.StatusOK || got.Get("Deprecation") != "" || got.Get("Sunset") != "" {
		t.Errorf("an operation that stays: %d, %v", answer.Code, got)
	}
	answer = httptest.NewRecorder()
	h.ServeHTTP(answer, httptest.NewRequest(http.MethodGet, "/docs", nil))
	if !strings.Contains(answer.Body.String(), "until 2027-11-25") {
		t.Error("the reference does not say when the operation ends")
	}
}

func TestDeprecationNeedsItsDays(t *testing.T) {
	for lines, want := range map[string]string{
		"      deprecated: true\n": "needs x-",
		"      deprecated: true\n      x-deprecated-since: '2026-11-25'\n":                               "needs x-sunset",
		"      deprecated: true\n      x-deprecated-since: '2026-11-25'\n      x-sunset: next year\n":    "needs x-sunset",
		"      deprecated: true\n      x-deprecated-since: '2026-11-25'\n      x-sunset: '2026-11-24'\n": "before it is deprecated",
	} {
		if _, err := contract.Load(ending(t, lines)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: error %v, want %q", lines, err, want)
		}
	}
}
