package server_test

import (
	"net/http"
	"net/netip"
	"regexp"
	"strconv"
	"testing"

	"saltlock/server"
)

// A client has its burst and is then told to wait; cheap requests are not counted, and other
// clients are not affected.
func TestRates(t *testing.T) {
	s := newServiceWith(t, server.Options{Rates: server.Rates{Plans: server.Rate{PerMinute: 6, Burst: 3}, Writes: server.Rate{PerMinute: 60, Burst: 2}},
		TrustedProxies: []netip.Prefix{netip.MustParsePrefix("127.0.0.1/32")}})
	plan := func(client string) answered {
		return s.call(t, http.MethodPost, "/v1/transfers/plan", planBody, "X-Forwarded-For", client)
	}
	for left := range 3 {
		a := plan("192.0.2.1")
		if a.status != http.StatusOK || a.header.Get("RateLimit-Policy") != `"plans";q=3;w=30` {
			t.Errorf("%d, policy %q", a.status, a.header.Get("RateLimit-Policy"))
		}
		if m := regexp.MustCompile(`^"plans";r=(\d);t=(\d+)$`).FindStringSubmatch(a.header.Get("RateLimit")); m == nil || m[1] != strconv.Itoa(2-left) {
			t.Errorf("RateLimit %q, want %d left", a.header.Get("RateLimit"), 2-left)
		}
	}
	a := plan("192.0.2.1")
	if again, _ := strconv.Atoi(a.header.Get("Retry-After")); a.status != http.StatusTooManyRequests || a.problem(t).Type != "/problems/too-many-requests" || again < 1 || again > 10 {
		t.Errorf("%d, Retry-After %q\n%s", a.status, a.header.Get("Retry-After"), a.body)
	}
	if a := plan("192.0.2.2"); a.status != http.StatusOK {
		t.Errorf("another client: %d", a.status)
	}
	if a := s.get(t, "/v1/conversions?reading=35%20ppt", "X-Forwarded-For", "192.0.2.1"); a.status != http.StatusOK || a.header.Get("RateLimit") != "" {
		t.Errorf("a conversion: %d, RateLimit %q", a.status, a.header.Get("RateLimit"))
	}
	if a := s.call(t, http.MethodPost, "/v1/transfers", savedBody, "X-Forwarded-For", "192.0.2.1"); a.status != http.StatusCreated || a.header.Get("RateLimit-Policy") != `"writes";q=2;w=2` {
		t.Errorf("saved: %d, policy %q", a.status, a.header.Get("RateLimit-Policy"))
	}
	// The households of an IPv6 network are one client each, whatever address they take.
	for range 3 {
		plan("2001:db8:1:2::1")
	}
	if a := plan("2001:db8:1:2:ffff::9"); a.status != http.StatusTooManyRequests {
		t.Errorf("another address of the household: %d", a.status)
	}
	if a := plan("2001:db8:1:3::1"); a.status != http.StatusOK {
		t.Errorf("another household: %d", a.status)
	}
}

// A helper at the keeper's own address cannot use up what the keeper needs to revoke the helper's key.
func TestRevokedWhateverWasWritten(t *testing.T) {
	s := newServiceWith(t, server.Options{Rates: server.Rates{Writes: server.Rate{PerMinute: 1, Burst: 2}}})
	a := s.call(t, http.MethodPost, "/v1/transfers", savedBody)
	path, key := "/v1/transfers/"+a.field(t, "id").(string), "Bearer "+a.field(t, "key").(string)
	s.call(t, http.MethodPost, path+"/helper-key", "", "Authorization", key)
	if a := s.call(t, http.MethodPost, path+"/helper-key", "", "Authorization", key); a.status != http.StatusTooManyRequests {
		t.Fatalf("a third write: %d, want 429", a.status)
	}
	if a := s.call(t, http.MethodDelete, path+"/helper-key", "", "Authorization", key); a.status != http.StatusNoContent {
		t.Errorf("revoked: %d\n%s", a.status, a.body)
	}
}

// A client that is not a trusted proxy cannot pretend to be another.
func TestForwardedForIsNotBelieved(t *testing.T) {
	for name, proxies := range map[string][]netip.Prefix{"none trusted": nil, "another trusted": {netip.MustParsePrefix("10.0.0.0/8")}} {
		s := newServiceWith(t, server.Options{Rates: server.Rates{Plans: server.Rate{PerMinute: 1, Burst: 2}}, TrustedProxies: proxies})
		last := 0
		for i := range 3 {
			last = s.call(t, http.MethodPost, "/v1/transfers/plan", planBody, "X-Forwarded-For", "192.0.2."+strconv.Itoa(i), "X-Real-IP", "198.51.100."+strconv.Itoa(i)).status
		}
		if last != http.StatusTooManyRequests {
			t.Errorf("%s: the third is answered %d, want 429", name, last)
		}
	}
}
