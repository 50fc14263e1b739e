package server_test

import (
	"net/http"
	"strings"
	"testing"
	"time"
)

func TestKeysOpen(t *testing.T) {
	s, other := savePlan(t), ""
	a := s.call(t, http.MethodPost, "/v1/transfers", savedBody)
	other = a.field(t, "key").(string)
	for _, c := range []struct{ method, path, body string }{
		{http.MethodPatch, s.path, `{"note": "x"}`}, {http.MethodDelete, s.path, ""}, {http.MethodPost, s.path + "/readings", `{"behaviour": "ok"}`},
	} {
		for _, k := range []struct {
			header []string
			status int
			kind   string
		}{
			{nil, 401, "key-missing"}, {[]string{"Authorization", "Basic " + s.key}, 401, "key-missing"}, {[]string{"Authorization", "Bearer "}, 401, "key-missing"},
			{[]string{"Authorization", "Bearer " + other}, 403, "key-wrong"}, {[]string{"Authorization", "Bearer " + s.key[1:]}, 403, "key-wrong"},
		} {
			a := s.call(t, c.method, c.path, c.body, k.header...)
			if p := a.problem(t); a.status != k.status || p.Type != "/problems/"+k.kind || (a.header.Get("WWW-Authenticate") == "") != (a.status == 403) {
				t.Errorf("%s with %v: %d %s, %v", c.method, k.header, a.status, p.Type, a.header)
			}
			if strings.Contains(a.body, s.key) {
				t.Error("a problem tells the key")
			}
		}
	}
	if a := s.get(t, s.path, "Authorization", "Bearer "+other); a.status != http.StatusOK {
		t.Errorf("reading needs no key, and gets %d", a.status)
	}
}

// A request sent again stores nothing twice and gets its key again; another body is refused.
func TestIdempotencyKeys(t *testing.T) {
	s := savePlan(t)
	retry := []string{"Idempotency-Key", "5f0c2c0e-4c1b-4a35-9d0a-6f1c2b7e4d90"}
	first, again := s.call(t, http.MethodPost, "/v1/transfers", savedBody, retry...), s.call(t, http.MethodPost, "/v1/transfers", savedBody, retry...)
	if first.status != 201 || again.status != 201 || first.body != again.body || first.field(t, "key") == nil {
		t.Errorf("first %d\n%.900s\nagain %d\n%.900s", first.status, first.body, again.status, again.body)
	}
	if a := s.call(t, http.MethodPost, "/v1/transfers", strings.Replace(savedBody, "2 ppt", "3 ppt", 1), retry...); a.status != 422 || a.problem(t).Type != "/problems/idempotency-key-reused" {
		t.Errorf("another body: %d\n%.900s", a.status, a.body)
	}
	for range 2 {
		if a := s.logs(t, 1, `{"behaviour": "ok"}`, "", retry...); a.status != 201 || len(a.field(t, "log").([]any)) != 1 {
			t.Errorf("%d\n%.900s", a.status, a.body)
		}
	}
	if a := s.logs(t, 1, `{"behaviour": "ok", "note": "x"}`, "", retry...); a.status != 422 {
		t.Errorf("another reading: %d", a.status)
	}
	if a := s.call(t, http.MethodPost, "/v1/transfers", savedBody, "Idempotency-Key", "short"); a.status != 400 {
		t.Errorf("a short idempotency key: %d", a.status)
	}
}

// Some clients quote the key, and some write its UUID in capitals.
func TestIdempotencyKeyWrittenOtherwise(t *testing.T) {
	s := savePlan(t)
	const key = "5f0c2c0e-4c1b-4a35-9d0a-6f1c2b7e4d90"
	first := s.call(t, http.MethodPost, "/v1/transfers", savedBody, "Idempotency-Key", key)
	for _, written := range []string{strings.ToUpper(key), `"` + key + `"`} {
		if a := s.call(t, http.MethodPost, "/v1/transfers", savedBody, "Idempotency-Key", written); a.status != http.StatusCreated || a.field(t, "id") != first.field(t, "id") {
			t.Errorf("%s: %d\n%.300s", written, a.status, a.body)
		}
	}
}

// An idempotency key that two clients may share, because it is not random or was copied, gives
// neither of them the key of the other's transfer.
func TestIdempotencyKeysChosenTwice(t *testing.T) {
	const random = "5f0c2c0e-4c1b-4a35-9d0a-6f1c2b7e4d90"
	for name, c := range map[string]struct {
		retry string
		then  func(savedPlan, answered)
	}{
		"a word":       {"my-first-transfer", nil},
		"of zeros":     {"00000000-0000-0000-0000-000000000000", nil},
		"of version 1": {"c232ab00-9414-11ec-b3c8-9f6bdeced846", nil},
		"after a day":  {random, func(s savedPlan, _ answered) { *s.now = nine.Add(25 * time.Hour) }},
		"after its first use": {random, func(s savedPlan, first answered) {
			if a := s.call(t, http.MethodPatch, first.header.Get("Location"), `{"note": "mine"}`, "Authorization", "Bearer "+first.field(t, "key").(string)); a.status != 200 {
				t.Errorf("%d\n%s", a.status, a.body)
			}
		}},
	} {
		s := savePlan(t)
		first := s.call(t, http.MethodPost, "/v1/transfers", savedBody, "Idempotency-Key", c.retry)
		if first.status != http.StatusCreated {
			t.Errorf("%s: %d\n%s", name, first.status, first.body)
			continue
		}
		if c.then != nil {
			c.then(s, first)
		}
		again := s.call(t, http.MethodPost, "/v1/transfers", savedBody, "Idempotency-Key", c.retry)
		if p := again.problem(t); again.status != http.StatusConflict || p.Type != "/problems/conflict" || strings.Contains(again.body, first.field(t, "key").(string)) || strings.Contains(again.body, first.field(t, "id").(string)) {
			t.Errorf("%s: %d\n%s", name, again.status, again.body)
		}
	}
}

// The tag changes with the transfer, not with the clock; If-Match guards a change.
func TestTagsOfSavedTransfers(t *testing.T) {
	s := savePlan(t)
	first := s.get(t, s.path)
	tag := first.header.Get("ETag")
	if held := s.get(t, s.path, "If-None-Match", tag); held.status != http.StatusNotModified {
		t.Errorf("If-None-Match: %d", held.status)
	}
	if cache := first.header.Get("Cache-Control"); strings.Contains(cache, "public") || !strings.Contains(cache, "no-cache") {
		t.Errorf("Cache-Control %q", cache)
	}
	if text := s.get(t, s.path+"?format=text").header.Get("ETag"); text == tag || text == "" {
		t.Errorf("text has the tag %s of JSON", text)
	}
	bearer := "Bearer " + s.key
	if a := s.call(t, http.MethodPatch, s.path, `{"note": "a"}`, "Authorization", bearer, "If-Match", tag); a.status != 200 || a.header.Get("ETag") == tag {
		t.Errorf("PATCH of what was read: %d, tag %s", a.status, a.header.Get("ETag"))
	}
	if a := s.call(t, http.MethodPatch, s.path, `{"note": "b"}`, "Authorization", bearer, "If-Match", tag); a.status != 412 || a.problem(t).Type != "/problems/changed-since" {
		t.Errorf("PATCH of what was changed since: %d\n%.900s", a.status, a.body)
	}
	now := s.get(t, s.path, "If-None-Match", tag)
	if now.status != 200 || now.field(t, "note") != "a" {
		t.Errorf("after a change: %d\n%.900s", now.status, now.body)
	}
	if a := s.get(t, s.path, "If-None-Match", "*"); a.status != http.StatusNotModified {
		t.Errorf("If-None-Match: * is answered with %d", a.status)
	}
	for match, status := range map[string]int{
		`"0-of-before", ` + now.header.Get("ETag"): 200, "*": 200,
		`W/"2-weak"`: 412, `"0-of-before"`: 412, strings.Trim(now.header.Get("ETag"), `"`): 400, "": 400,
		now.header.Get("ETag") + " junk": 400,
	} {
		s := savePlan(t)
		if strings.Contains(match, now.header.Get("ETag")) {
			match = strings.Replace(match, now.header.Get("ETag"), s.get(t, s.path).header.Get("ETag"), 1)
		}
		if a := s.call(t, http.MethodPatch, s.path, `{"note": "c"}`, "Authorization", "Bearer "+s.key, "If-Match", match); a.status != status {
			t.Errorf("If-Match: %s: %d, want %d\n%.300s", match, a.status, status, a.body)
		}
	}
}

// A page of another site may log readings.
func TestPreflightOfSavedTransfers(t *testing.T) {
	s := newService(t)
	a := s.call(t, http.MethodOptions, "/v1/transfers/x", "", "Origin", "https://club.example",
		"Access-Control-Request-Method", "PATCH", "Access-Control-Request-Headers", "authorization,if-match,idempotency-key")
	allowed := strings.ToLower(a.header.Get("Access-Control-Allow-Headers"))
	if a.status != http.StatusNoContent || !strings.Contains(a.header.Get("Access-Control-Allow-Methods"), "PATCH") ||
		!strings.Contains(allowed, "authorization") || !strings.Contains(allowed, "if-match") || !strings.Contains(allowed, "idempotency-key") {
		t.Errorf("%d %v", a.status, a.header)
	}
}

// A helper's key opens the log and nothing else, until it is revoked.
func TestHelperKey(t *testing.T) {
	s := savePlan(t)
	a := s.call(t, http.MethodPost, s.path+"/helper-key", "", "Authorization", "Bearer "+s.key)
	if a.status != http.StatusCreated {
		t.Fatalf("%d %s", a.status, a.body)
	}
	owner, helper := s.key, a.field(t, "key").(string)
	s.key = helper
	if a := s.logs(t, 1, `{"behaviour": "ok"}`, ""); a.status != http.StatusCreated {
		t.Errorf("a helper logs: %d", a.status)
	}
	if a := s.event(t, 1, `{"event": "late"}`, ""); a.status != http.StatusCreated {
		t.Errorf("a helper reports: %d", a.status)
	}
	for _, c := range [][3]string{{"PATCH", s.path, `{"note": "x"}`}, {"DELETE", s.path, ""}, {"POST", s.path + "/helper-key", ""}, {"POST", s.path + "/restart", `{"behaviour": "ok"}`}} {
		if a := s.call(t, c[0], c[1], c[2], "Authorization", "Bearer "+helper); a.status != http.StatusForbidden {
			t.Errorf("a helper: %s %s: %d", c[0], c[1], a.status)
		}
	}
	if strings.Contains(s.get(t, s.path).body, helper) || strings.Contains(s.get(t, s.path+"/export").body, helper) {
		t.Error("reading shows the helper's key")
	}
	if a := s.call(t, http.MethodDelete, s.path+"/helper-key", "", "Authorization", "Bearer "+owner); a.status != http.StatusNoContent {
		t.Errorf("revoked: %d", a.status)
	}
	if a := s.logs(t, 2, `{"behaviour": "ok"}`, ""); a.status != http.StatusForbidden {
		t.Errorf("after it was revoked: %d", a.status)
	}
}
