package server_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"math/rand"
	"net/http"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
)

// savedBody is planBody with a scat less: at seven tenths of the drip the ammonia
// of four would pass its limit, and no plan would lead on.
var savedBody = strings.Replace(planBody, `"count": 4`, `"count": 3`, 1)

// Nine o'clock on the day that they move.
var nine = time.Date(2026, 12, 1, 9, 0, 0, 0, time.UTC)

// savedPlan is a transfer that was saved, and what opens it.
type savedPlan struct {
	*service
	path, id, key string
	now           *time.Time
}

// savePlan saves the scats' transfer at nine, on a clock of its own.
func savePlan(t testing.TB) savedPlan {
	t.Helper()
	s := savedPlan{service: newService(t), now: new(nine)}
	s.db.Now = func() time.Time { return *s.now }
	a := s.call(t, http.MethodPost, "/v1/transfers", savedBody)
	if a.status != http.StatusCreated {
		t.Fatalf("%d\n%.900s", a.status, a.body)
	}
	var told struct{ ID, Key string }
	if err := json.Unmarshal([]byte(a.body), &told); err != nil {
		t.Fatal(err)
	}
	s.id, s.key, s.path = told.ID, told.Key, "/v1/transfers/"+told.ID
	if a.header.Get("Location") != s.path || a.header.Get("Cache-Control") != "no-store" {
		t.Errorf("headers %v", a.header)
	}
	return s
}

// at sets the clock and logs a reading.
func (s savedPlan) logs(t testing.TB, hours float64, body, query string, header ...string) answered {
	t.Helper()
	*s.now = nine.Add(time.Duration(hours * float64(time.Hour)))
	return s.call(t, http.MethodPost, s.path+"/readings"+query, body, append(header, "Authorization", "Bearer "+s.key)...)
}

// random is what nobody can guess: ids and keys, and the names of visits, which follow
// from an id.
var random = regexp.MustCompile(`\b([0-9a-f]{64}|[a-z2-7]{26}|[a-z2-7]{52}|[0-9a-f]{16}@saltlock)\b`)

// masked hides what is random.
func (s savedPlan) masked(text string) string {
	return random.ReplaceAllString(strings.NewReplacer(s.id, "ID", s.key, "KEY").Replace(text), "RANDOM")
}

// savedQuestions ask the operations of one saved transfer.
var savedQuestions = map[string]func(t *testing.T, s savedPlan, header ...string) answered{
	"saveTransfer": func(t *testing.T, s savedPlan, header ...string) answered {
		return s.call(t, http.MethodPost, "/v1/transfers", savedBody, header...)
	},
	"getTransfer": func(t *testing.T, s savedPlan, header ...string) answered { return s.get(t, s.path, header...) },
	"changeTransfer": func(t *testing.T, s savedPlan, header ...string) answered {
		return s.call(t, http.MethodPatch, s.path, `{"note": "blue valve", "start": "2026-12-01T09:05:00Z"}`, header...)
	},
	"logReading": func(t *testing.T, s savedPlan, header ...string) answered {
		return s.logs(t, 4, readingBody, "", header...)
	},
	"logEvent": func(t *testing.T, s savedPlan, header ...string) answered {
		return s.event(t, 2, `{"event": "power_off"}`, "", header...)
	},
	"restartTransfer": func(t *testing.T, s savedPlan, header ...string) answered {
		s.event(t, 2, `{"event": "stop"}`, "")
		*s.now = nine.Add(3 * time.Hour)
		return s.call(t, http.MethodPost, s.path+"/restart", `{"salinity": "3.5(1) ppt", "instrument": {"kind": "none"}, "temperature": "26 C", "volume": "7.4(1) L"}`, header...)
	},
	"createHelperKey": func(t *testing.T, s savedPlan, header ...string) answered {
		return s.call(t, http.MethodPost, s.path+"/helper-key", "", header...)
	},
	"exportTransfer": func(t *testing.T, s savedPlan, header ...string) answered {
		s.logs(t, 4, readingBody, "")
		return s.get(t, s.path+"/export", header...)
	},
	"getTransferNow": func(t *testing.T, s savedPlan, header ...string) answered {
		return s.get(t, s.path+"/now", header...)
	},
	"getTransferChart": func(t *testing.T, s savedPlan, header ...string) answered {
		return s.get(t, s.path+"/chart", header...)
	},
	"getTransferCalendar": func(t *testing.T, s savedPlan, header ...string) answered {
		return s.get(t, s.path+"/calendar", header...)
	},
}

// readingBody is what the keeper reads at one o'clock.
const readingBody = `{"salinity": "1.0010(1) SG", "temperature": "26 C", "volume": "8.0(1) L", "behaviour": "ok"}`

// What a keeper sees of a drip that ran at seven tenths, from saving it to deleting it.
func TestGoldenSaved(t *testing.T) {
	s := savePlan(t)
	golden := func(name string, a answered) {
		t.Helper()
		if a.status >= 300 {
			t.Errorf("%s: %d\n%s", name, a.status, a.body)
			return
		}
		compare(t, filepath.Join("../testdata/golden", name), s.masked(a.body))
	}
	bearer := "Bearer " + s.key
	golden("getTransfer.txt", s.get(t, s.path+"?format=text"))
	golden("changeTransfer.txt", s.call(t, http.MethodPatch, s.path+"?format=text", `{"note": "blue valve", "start": "2026-12-01T09:05:00Z"}`, "Authorization", bearer))
	golden("getTransfer.txt", s.call(t, http.MethodPatch, s.path+"?format=text", `{"start": "2026-12-01T09:00:00Z"}`, "Authorization", bearer))
	golden("logReading.txt", s.logs(t, 4, readingBody, "?format=text"))
	golden("logReading.outlier.us.txt", s.logs(t, 4.5, `{"salinity": "1.0070(2) SG", "temperature": "26 C", "behaviour": "ok"}`, "?format=text&units=us"))
	golden("getTransferChart.outlier.svg", s.get(t, s.path+"/chart"))
	golden("getTransferCalendar.outlier.ics", s.get(t, s.path+"/calendar.ics"))
	golden("logReading.distress.txt", s.logs(t, 5, `{"behaviour": "gasping"}`, "?format=text"))
	golden("getTransfer.stopped.csv", s.get(t, s.path+"?format=csv"))
	if a := s.call(t, http.MethodDelete, s.path, "", "Authorization", bearer); a.status != http.StatusNoContent || a.body != "" {
		t.Errorf("deleted: %d\n%.900s", a.status, a.body)
	}
	if a := s.get(t, s.path); a.status != http.StatusNotFound {
		t.Errorf("deleted, it is answered %d", a.status)
	}
}

// The first save tells id and key; text and table are covered here, being random.
func TestSaveTransfer(t *testing.T) {
	s := savePlan(t)
	a := s.call(t, http.MethodPost, "/v1/transfers?format=text", savedBody)
	if a.status != http.StatusCreated || !strings.HasPrefix(a.body, "Saved as ") || !strings.Contains(a.body, "shown only once") || !strings.Contains(a.body, "falls now, 1 December 2026, 09:00 UTC") {
		t.Errorf("%d\n%.900s", a.status, a.body)
	}
	if a := s.call(t, http.MethodPost, "/v1/transfers?format=csv", savedBody); a.status != http.StatusCreated || !strings.HasPrefix(a.body, "kind,") {
		t.Errorf("%d\n%.900s", a.status, a.body)
	}
	read := s.get(t, s.path)
	if strings.Contains(read.body, s.key) || strings.Contains(read.body, `"key"`) {
		t.Error("reading tells the key")
	}
	// The plan is that of the operation which stores nothing.
	posted := s.call(t, http.MethodPost, "/v1/transfers/plan", strings.Replace(savedBody, "{", `{"start": "2026-12-01T09:00:00Z",`, 1))
	kept, err := json.Marshal(read.field(t, "plan"))
	if err != nil {
		t.Fatal(err)
	}
	var want any
	if err := json.Unmarshal([]byte(posted.body), &want); err != nil {
		t.Fatal(err)
	}
	if plain, _ := json.Marshal(want); string(kept) != string(plain) {
		t.Errorf("kept\n%s\nposted\n%s", kept, plain)
	}
	if got := read.field(t, "course.verdict"); got != "not_begun" {
		t.Errorf("verdict %v", got)
	}
}

// The drip ran at seven tenths: 6 L became 6 + 0.7·(what was told).
func TestReadingsCorrectThePlan(t *testing.T) {
	s := savePlan(t)
	flow := s.get(t, s.path).field(t, "plan.phases").([]any)[0].(map[string]any)["flow"].(map[string]any)["value"].(float64) * 60 / 1000
	body, err := json.Marshal(map[string]any{"volume": map[string]any{"value": 6}, "time": "2026-12-01T13:00:00Z"})
	if a := s.logs(t, 4, string(body), ""); err != nil || a.status != http.StatusBadRequest {
		t.Errorf("a volume that is no string: %d", a.status)
	}
	litres, _ := json.Marshal(6 + 0.7*4*flow)
	a := s.logs(t, 4, `{"volume": "`+string(litres)+` ± 0.02 L", "behaviour": "ok"}`, "")
	if a.status != http.StatusCreated || a.field(t, "course.verdict") != "corrected" || a.field(t, "plan_start") != "2026-12-01T13:00:00Z" {
		t.Fatalf("%d\n%.900s", a.status, a.body)
	}
	// The volume at the start is in doubt by 3 %, which is 0.18 L of the 2 that came, and
	// a drip that nobody looked at for four hours may have wandered.
	if ratio, u := a.number(t, "course.drip_ratio.value"), a.number(t, "course.drip_ratio.uncertainty"); ratio < 0.68 || ratio > 0.74 || u < 0.04 || u > 0.2 {
		t.Errorf("the drip ran at %.3f ± %.3f, want about 0.7", ratio, u)
	}
	if again := s.get(t, s.path); again.field(t, "course.verdict") != "corrected" || again.field(t, "summary") != a.field(t, "summary") {
		t.Errorf("read again it says\n%v\nlogged\n%v", again.field(t, "summary"), a.field(t, "summary"))
	}
	if log := a.field(t, "log").([]any); len(log) != 1 || log[0].(map[string]any)["time"] != "2026-12-01T13:00:00Z" || log[0].(map[string]any)["behaviour"] != "ok" {
		t.Errorf("log %v", log)
	}
}

// Two litres that were drawn bring the surface of 7500 cm² down by 0.27 cm, and the
// end of a hose that hung 1 cm deep to 0.73 cm.
func TestHoseOfACorrectedPlan(t *testing.T) {
	s := savePlan(t)
	a := s.call(t, http.MethodPost, "/v1/transfers", strings.Replace(savedBody, `"settings": 3`, `"settings": 3, "intake_depth": "1 cm"`, 1))
	s.id, s.key, s.path = a.field(t, "id").(string), a.field(t, "key").(string), a.header.Get("Location")
	a = s.logs(t, 4, `{"salinity": "1.0010(1) SG", "temperature": "26 C", "volume": "8.0(1) L", "behaviour": "ok"}`, "")
	if a.status != http.StatusCreated || a.field(t, "course.verdict") != "corrected" {
		t.Fatalf("%d\n%.900s", a.status, a.body)
	}
	hose := a.field(t, "plan.draw.intakes").([]any)[0].(map[string]any)["depth"].(map[string]any)["value"].(float64)
	if math.Abs(hose-0.73) > 0.02 {
		t.Errorf("the hose is said to hang %.3f cm deep, want 0.73", hose)
	}
}

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

func TestSavedProblems(t *testing.T) {
	s := savePlan(t)
	bearer := []string{"Authorization", "Bearer " + s.key}
	s.logs(t, 1, `{"behaviour": "ok"}`, "")
	for _, c := range []struct {
		name, method, path, body string
		status                   int
		kind, where, says        string
	}{
		{"unknown", "GET", "/v1/transfers/abcdefghijklmnopqrstuvwxyz", "", 404, "not-found", "transfer", ""},
		{"unknown chart", "GET", "/v1/transfers/abcdefghijklmnopqrstuvwxyz/chart.png", "", 404, "not-found", "transfer", ""},
		{"unknown log", "POST", "/v1/transfers/abc/readings", `{"behaviour": "ok"}`, 404, "not-found", "transfer", ""},
		{"moved start", "PATCH", s.path, `{"start": "2026-12-01T10:00:00Z"}`, 409, "conflict", "/start", "moved"},
		{"end before the start", "PATCH", s.path, `{"end": "2026-11-01T10:00:00Z"}`, 409, "conflict", "/end", "before"},
		{"end in fifty years", "PATCH", s.path, `{"end": "2076-12-01T10:00:00Z"}`, 422, "out-of-range", "/end", "more than 366 days ahead"},
		{"nothing to change", "PATCH", s.path, `{}`, 400, "invalid-request", "/", ""},
		{"unknown field", "PATCH", s.path, `{"nota": "x"}`, 400, "invalid-request", "/nota", "note"},
		{"from the future", "POST", s.path + "/readings", `{"time": "2026-12-01T12:00:00Z", "behaviour": "ok"}`, 422, "out-of-range", "/time", "in the future"},
		{"nothing read", "POST", s.path + "/readings", `{"note": "all quiet"}`, 400, "invalid-request", "/salinity", ""},
		{"drops in no time", "POST", s.path + "/readings", `{"drops": 12}`, 400, "invalid-request", "/drops_in", "10 s"},
		{"level and volume", "POST", s.path + "/readings", `{"level": "12 cm", "volume": "7 L"}`, 400, "invalid-request", "/level", "one"},
		{"wrong unit", "POST", s.path + "/readings", `{"volume": "7 C"}`, 400, "invalid-request", "/volume", ""},
		{"SG without temperature", "POST", s.path + "/readings", `{"salinity": "1.002 SG", "instrument": {"kind": "hydrometer"}}`, 400, "invalid-request", "/temperature", ""},
		{"brine", "POST", s.path + "/readings", `{"salinity": "60 g/kg", "instrument": {"kind": "none"}}`, 422, "out-of-range", "/salinity", "42"},
		{"unknown behaviour", "POST", s.path + "/readings", `{"behaviour": "fine"}`, 400, "invalid-request", "/behaviour", "gasping"},
		{"long note", "POST", s.path + "/readings", `{"behaviour": "ok", "note": "` + strings.Repeat("x", 1001) + `"}`, 400, "invalid-request", "/note", ""},
		{"starts in ten years", "POST", "/v1/transfers", strings.Replace(savedBody, "{", `{"start": "2036-12-01T09:00:00Z",`, 1), 422, "out-of-range", "/start", "more than 366 days ahead"},
		{"no plan", "POST", "/v1/transfers", strings.Replace(savedBody, `"aerated": true`, `"aerated": false`, 1), 422, "no-plan", "/container/aerated", "air stone"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := s.call(t, c.method, c.path, c.body, bearer...)
			p := a.problem(t)
			if a.status != c.status || p.Type != "/problems/"+c.kind || len(p.Errors) == 0 || p.Errors[0].Where != c.where || !strings.Contains(a.body, c.says) {
				t.Errorf("%d %s\n%.900s", a.status, p.Type, a.body)
			}
		})
	}
	s.logs(t, 2, `{"behaviour": "gasping"}`, "")
	if a := s.get(t, s.path+"/chart.svg"); a.status != http.StatusOK || !strings.Contains(a.body, "stopped") {
		t.Errorf("the chart of a transfer that was stopped: %d %.300s", a.status, a.body)
	}
	if a := s.get(t, s.path+"/calendar"); a.status != http.StatusOK || strings.Count(a.body, "STATUS:CANCELLED") < 2 || !strings.Contains(a.body, "REFRESH-INTERVAL;VALUE=DURATION:PT15M") {
		t.Errorf("the calendar of a transfer that was stopped: %d %.300s", a.status, a.body)
	}
	if a := s.call(t, http.MethodPost, "/v1/transfers", `{"from": {"salinity": "`+strings.Repeat(" ", 1<<16)+`"}}`); a.status != http.StatusRequestEntityTooLarge {
		t.Errorf("a body of more than 64 kB is answered %d", a.status)
	}
}

// Start and end are judged as a pair, whichever is moved, and a transfer is kept for 30
// days after its end.
func TestStartAndEndOfATransfer(t *testing.T) {
	s := savePlan(t)
	change := func(body string) answered {
		return s.call(t, http.MethodPatch, s.path, body, "Authorization", "Bearer "+s.key)
	}
	if a := change(`{"end": "2027-03-01T10:00:00Z"}`); a.status != http.StatusOK || a.field(t, "expires_at") != "2027-03-31T10:00:00Z" {
		t.Fatalf("%d\n%.300s", a.status, a.body)
	}
	for body, where := range map[string][]string{
		`{"start": "2027-03-02T10:00:00Z"}`:                                {"/start"},
		`{"start": "2027-03-02T10:00:00Z", "end": "2027-03-01T10:00:00Z"}`: {"/end"},
		`{"start": "2016-12-01T10:00:00Z", "end": "2076-12-01T10:00:00Z"}`: {"/start", "/end"},
	} {
		var got []string
		a := change(body)
		for _, e := range a.problem(t).Errors {
			got = append(got, e.Where)
		}
		if !slices.Equal(got, where) {
			t.Errorf("%s: %d %v, want %v\n%s", body, a.status, got, where, a.body)
		}
	}
	if a := change(`{"start": "2027-03-02T10:00:00Z", "end": "2027-03-04T10:00:00Z"}`); a.status != http.StatusOK || a.field(t, "start") != "2027-03-02T10:00:00Z" {
		t.Errorf("both moved: %d\n%.300s", a.status, a.body)
	}
}

func TestEndedTransferTakesNoReadings(t *testing.T) {
	s := savePlan(t)
	if a := s.call(t, http.MethodPatch, s.path, `{"end": "2026-12-01T10:00:00Z"}`, "Authorization", "Bearer "+s.key); a.status != 200 || a.field(t, "end") != "2026-12-01T10:00:00Z" {
		t.Fatalf("%d\n%.900s", a.status, a.body)
	}
	if a := s.logs(t, 2, `{"behaviour": "ok"}`, ""); a.status != http.StatusConflict {
		t.Errorf("a reading after the end: %d", a.status)
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

// An idempotency key that two clients may choose, since it is no random one or was
// copied, tells neither the key of the other's transfer.
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
	if a := s.get(t, s.path, "If-None-Match", tag); a.status != 200 || a.field(t, "note") != "a" {
		t.Errorf("after a change: %d\n%.900s", a.status, a.body)
	}
}

// Whatever is read is answered within the contract, and never with a 5xx.
func TestAnyReadingIsAnswered(t *testing.T) {
	rng := rand.New(rand.NewSource(11))
	for range 6 {
		s := savePlan(t)
		hours := 0.0
		for range 8 {
			hours += 6 * rng.Float64() * rng.Float64()
			fields := []string{`"behaviour": "ok"`}
			if rng.Intn(2) == 0 {
				fields = append(fields, fmt.Sprintf(`"salinity": "%.4f SG"`, 0.998+0.035*rng.Float64()))
			}
			if rng.Intn(3) > 0 {
				fields = append(fields, fmt.Sprintf(`"temperature": "%.1f C"`, 12+20*rng.Float64()))
			}
			switch rng.Intn(3) {
			case 0:
				fields = append(fields, fmt.Sprintf(`"volume": "%.2f L"`, 0.1+25*rng.Float64()))
			case 1:
				fields = append(fields, fmt.Sprintf(`"level": "%.1f cm"`, 0.2+60*rng.Float64()))
			}
			if rng.Intn(2) == 0 {
				fields = append(fields, fmt.Sprintf(`"drops": %d, "drops_in": "%d s"`, 1+rng.Intn(200), 1+rng.Intn(60)))
			}
			s.logs(t, hours, "{"+strings.Join(fields, ", ")+"}", []string{"", "?format=text", "?format=csv&units=us"}[rng.Intn(3)])
			s.get(t, s.path)
			s.get(t, s.path+"/chart.png")
			s.get(t, s.path+"/calendar")
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

// Neither ids nor keys stand in the metrics.
func TestMetricsTellNoIDs(t *testing.T) {
	s := savePlan(t)
	s.logs(t, 1, `{"behaviour": "ok"}`, "")
	metrics := s.get(t, "/metrics").body
	if !strings.Contains(metrics, `operation="logReading"`) || strings.Contains(metrics, s.id) || strings.Contains(metrics, s.key) {
		t.Error("the metrics miss the operation or tell id or key")
	}
}

func TestExpiredTransfersAreGone(t *testing.T) {
	s := savePlan(t)
	*s.now = nine.Add(31 * 24 * time.Hour)
	if a := s.get(t, s.path); a.status != http.StatusOK { // the plan and its last look take a day and more
		t.Errorf("after 31 days: %d", a.status)
	}
	*s.now = nine.Add(33 * 24 * time.Hour)
	if a := s.get(t, s.path); a.status != http.StatusNotFound {
		t.Errorf("after 33 days: %d", a.status)
	}
	if _, err := s.db.Transfer(context.Background(), s.id); err == nil {
		t.Error("the store has it still")
	}
}
