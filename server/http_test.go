package server_test

import (
	"html"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"testing"
)

const saltURL = "/v1/mixes/salt?target=35%20ppt&volume=100L&temperature=25C"

func TestCaching(t *testing.T) {
	s := newService(t)
	first := s.get(t, saltURL)
	tag := first.header.Get("ETag")
	if tag == "" || !strings.Contains(first.header.Get("Cache-Control"), "public") || !strings.Contains(first.header.Get("Vary"), "Accept") {
		t.Fatalf("ETag %q, Cache-Control %q, Vary %q", tag, first.header.Get("Cache-Control"), first.header.Get("Vary"))
	}
	if again := s.get(t, "/v1/mixes/salt?temperature=25C&volume=100L&target=35%20ppt&_=7"); again.header.Get("ETag") != tag || again.body != first.body {
		t.Error("the same question in another order has another answer or tag")
	}
	if held := s.get(t, saltURL, "If-None-Match", `"other", `+tag); held.status != http.StatusNotModified || held.body != "" {
		t.Errorf("If-None-Match: %d, want 304", held.status)
	}
	for _, other := range []string{saltURL + "&format=csv", saltURL + "&units=us", strings.Replace(saltURL, "35", "34", 1)} {
		if s.get(t, other).header.Get("ETag") == tag {
			t.Errorf("GET %s has the tag of another answer", other)
		}
	}
	if bad := s.get(t, saltURL+"&volume=x", "If-None-Match", "*"); bad.status != 400 {
		t.Errorf("an invalid request is answered %d by If-None-Match, want 400", bad.status)
	}
}

func TestHead(t *testing.T) {
	s := newService(t)
	got, head := s.get(t, saltURL), s.call(t, http.MethodHead, saltURL, "")
	if head.status != 200 || head.body != "" || head.header.Get("ETag") != got.header.Get("ETag") {
		t.Errorf("HEAD: %d, body %q, ETag %q; want 200, none, %q", head.status, head.body, head.header.Get("ETag"), got.header.Get("ETag"))
	}
}

func TestCORS(t *testing.T) {
	s := newService(t)
	shared := s.get(t, saltURL, "Origin", "https://club.example").header
	if shared.Get("Access-Control-Allow-Origin") != "*" {
		t.Errorf("headers %v", shared)
	}
	exposed := strings.Split(shared.Get("Access-Control-Expose-Headers"), ",")
	for _, name := range []string{"ETag", "Link", "Location", "Retry-After", "RateLimit", "RateLimit-Policy", "X-Request-Id", "Deprecation", "Sunset"} {
		if !slices.ContainsFunc(exposed, func(one string) bool { return strings.EqualFold(strings.TrimSpace(one), name) }) {
			t.Errorf("%s is not shown to scripts of other sites: %v", name, exposed)
		}
	}
	a := s.call(t, http.MethodOptions, "/v1/transfers/plan", "", "Origin", "https://club.example",
		"Access-Control-Request-Method", "POST", "Access-Control-Request-Headers", "content-type")
	if a.status != http.StatusNoContent || !strings.Contains(a.header.Get("Access-Control-Allow-Methods"), "POST") ||
		!strings.Contains(strings.ToLower(a.header.Get("Access-Control-Allow-Headers")), "content-type") {
		t.Errorf("preflight: %d %v", a.status, a.header)
	}
}

func TestServicePages(t *testing.T) {
	s := newService(t)
	for path, want := range map[string]string{
		"/openapi.yaml": "openapi: 3.0.3", "/openapi.json": `"openapi":"3.0.3"`, "/docs": "Parameter", "/docs/pitfalls": "-2.56 g/kg",
		"/healthz": "ok", "/readyz": "ready",
	} {
		if a := s.get(t, path); a.status != 200 || !strings.Contains(a.body, want) {
			t.Errorf("GET %s: %d without %q\n%.200s", path, a.status, want, a.body)
		}
	}
	s.get(t, saltURL)
	metrics := s.get(t, "/metrics")
	if !strings.Contains(metrics.body, `saltlock_http_request_duration_seconds_count{code="200",operation="getSaltMix"} 1`) {
		t.Error("no request of getSaltMix is counted")
	}
	if strings.Contains(s.get(t, "/openapi.yaml").body, "x-go-type") {
		t.Error("the public contract holds hints for the generator")
	}
}

// Every link to try on the documentation page answers.
func TestTryLinks(t *testing.T) {
	s := newService(t)
	page := s.get(t, "/docs").body
	links := regexp.MustCompile(`Try it: <a href="([^"]+)"`).FindAllStringSubmatch(page, -1)
	if len(links) < 15 {
		t.Errorf("only %d links to try", len(links))
	}
	for _, l := range links {
		if a := s.get(t, html.UnescapeString(l[1])); a.status != http.StatusOK {
			t.Errorf("GET %s: %d\n%.300s", l[1], a.status, a.body)
		}
	}
}
