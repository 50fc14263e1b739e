package server_test

import (
	"context"
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"saltlock/server"
	"saltlock/server/store"
)

// savedBody is planBody with one scat fewer: at seven tenths of the drip, the ammonia of four
// would exceed its limit, and no plan would lead on.
var savedBody = strings.Replace(planBody, `"count": 4`, `"count": 3`, 1)

// Nine o'clock on the day of the move.
var nine = time.Date(2026, 12, 1, 9, 0, 0, 0, time.UTC)

// savedPlan is a saved transfer, and what opens it.
type savedPlan struct {
	*service
	path, id, key string
	now           *time.Time
}

// savePlan saves the scats' transfer at nine, on its own clock.
func savePlan(t testing.TB) savedPlan {
	t.Helper()
	return savePlanOf(t, savedBody)
}

// savePlanOf saves a transfer at nine, on its own clock. Each has a service and a file of its own;
// that with the transfer just saved is made once for each body.
func savePlanOf(t testing.TB, body string) savedPlan {
	t.Helper()
	any, _ := justSaved.LoadOrStore(body, &savedFile{})
	f := any.(*savedFile)
	f.make(t, body)
	s := savedPlan{service: serviceOnCopy(t, f.content, server.Options{}), now: new(nine), id: f.id, key: f.key, path: "/v1/transfers/" + f.id}
	s.db.Now = func() time.Time { return *s.now }
	return s
}

// justSaved are files by the body of their transfer.
var justSaved sync.Map

// savedFile is a database file in which one transfer was saved.
type savedFile struct {
	sync.Mutex
	content []byte
	id, key string
}

// make makes the file, unless it is made.
func (f *savedFile) make(t testing.TB, body string) {
	t.Helper()
	f.Lock()
	defer f.Unlock()
	if f.content != nil {
		return
	}
	content, err := newFile()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	path, copied := filepath.Join(dir, "test.db"), filepath.Join(dir, "copy.db")
	if err := os.WriteFile(path, content, 0o600); err != nil {
		t.Fatal(err)
	}
	s := serviceOn(t, path, server.Options{})
	s.db.Now = func() time.Time { return nine }
	a := s.call(t, http.MethodPost, "/v1/transfers", body)
	if a.status != http.StatusCreated {
		t.Fatalf("%d\n%.900s", a.status, a.body)
	}
	var told struct{ ID, Key string }
	if err := json.Unmarshal([]byte(a.body), &told); err != nil {
		t.Fatal(err)
	}
	if a.header.Get("Location") != "/v1/transfers/"+told.ID || a.header.Get("Cache-Control") != "no-store" {
		t.Errorf("headers %v", a.header)
	}
	if err := store.Backup(t.Context(), path, copied); err != nil {
		t.Fatal(err)
	}
	if f.content, err = os.ReadFile(copied); err != nil {
		t.Fatal(err)
	}
	f.id, f.key = told.ID, told.Key
}

// logs sets the clock and logs a reading.
func (s savedPlan) logs(t testing.TB, hours float64, body, query string, header ...string) answered {
	t.Helper()
	*s.now = nine.Add(time.Duration(hours * float64(time.Hour)))
	return s.call(t, http.MethodPost, s.path+"/readings"+query, body, append(header, "Authorization", "Bearer "+s.key)...)
}

// random matches what nobody can guess: ids and keys, and the names of visits, which follow from
// an id.
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

// The first save gives id and key; text and table are covered here, since they are random.
func TestSaveTransfer(t *testing.T) {
	s := savePlan(t)
	a := s.call(t, http.MethodPost, "/v1/transfers?format=text", savedBody)
	if a.status != http.StatusCreated || !strings.HasPrefix(a.body, "Saved until ") || !strings.Contains(a.body, "shown only once") || !strings.Contains(a.body, "falls now, 1 December 2026, 09:00 UTC") {
		t.Errorf("%d\n%.900s", a.status, a.body)
	}
	if a := s.call(t, http.MethodPost, "/v1/transfers?format=csv", savedBody); a.status != http.StatusCreated || !strings.HasPrefix(a.body, "kind,") {
		t.Errorf("%d\n%.900s", a.status, a.body)
	}
	read := s.get(t, s.path)
	if strings.Contains(read.body, s.key) || strings.Contains(read.body, `"key"`) {
		t.Error("reading tells the key")
	}
	// The plan is that of the operation that stores nothing.
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

// Neither ids nor keys are in the metrics.
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
