package server_test

import (
	"bytes"
	"context"
	"database/sql"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"saltlock/server"
	"saltlock/server/store"
)

// faulty is a service whose database another process can interfere with.
type faulty struct {
	*httptest.Server
	db  *store.DB
	sql *sql.DB // that of the other process
	at  string  // the file
	log *bytes.Buffer
}

func newFaulty(t *testing.T) faulty {
	t.Helper()
	path := filepath.Join(t.TempDir(), "test.db")
	db, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	f := faulty{db: db, at: path, log: &bytes.Buffer{}}
	c, err := contractRead()
	if err != nil {
		t.Fatal(err)
	}
	h, err := server.New(server.Options{Store: db, Contract: c, PlanTime: planTime, Log: slog.New(slog.NewTextHandler(f.log, nil))})
	if err != nil {
		t.Fatal(err)
	}
	f.Server = httptest.NewServer(h)
	if f.sql, err = sql.Open("sqlite3", "file:"+path+"?_txlock=immediate"); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		f.Close()
		if err := f.sql.Close(); err != nil {
			t.Error(err)
		}
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
	return f
}

func (f faulty) ask(t *testing.T, method, path, body string, header ...string) answered {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, f.URL+path, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	a, err := f.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	var read bytes.Buffer
	if _, err := read.ReadFrom(a.Body); err != nil {
		t.Fatal(err)
	}
	return answered{a.StatusCode, a.Header, read.String()}
}

// report logs something in a transfer that was just saved.
func (f faulty) report(t *testing.T, saved answered, path, body string) answered {
	t.Helper()
	return f.ask(t, http.MethodPost, saved.header.Get("Location")+path, body, "Authorization", "Bearer "+saved.field(t, "key").(string))
}

// hindered checks that an answer says what is the matter and when to come again.
func hindered(t *testing.T, a answered, status int, kind string) {
	t.Helper()
	p := a.problem(t)
	if a.status != status || p.Type != "/problems/"+kind || len(p.Errors) != 1 || len(p.Errors[0].Reason) < 40 {
		t.Errorf("%d\n%s", a.status, a.body)
	}
	if wait, err := strconv.Atoi(a.header.Get("Retry-After")); err != nil || wait < 1 {
		t.Errorf("Retry-After %q", a.header.Get("Retry-After"))
	}
}

func (f faulty) ready(t *testing.T, says string) {
	t.Helper()
	a := f.ask(t, http.MethodGet, "/readyz", "")
	if want := map[bool]int{true: http.StatusOK, false: http.StatusServiceUnavailable}[says == "ready"]; a.status != want || !strings.Contains(a.body, says) {
		t.Errorf("/readyz: %d %s, want %d, %q", a.status, a.body, want, says)
	}
}

// On a full disk the service refuses what is to be saved and says so; everything else goes on, and
// what was saved can be read. Room on the disk heals it.
func TestFullDatabase(t *testing.T) {
	f := newFaulty(t)
	first := f.ask(t, http.MethodPost, "/v1/transfers", savedBody)
	if err := f.db.Limit(t.Context(), 1); err != nil { // no more than it holds already
		t.Fatal(err)
	}
	var full answered
	for range 20 { // the pages it has left are filled first
		if full = f.ask(t, http.MethodPost, "/v1/transfers", savedBody); full.status != http.StatusCreated {
			break
		}
	}
	hindered(t, full, http.StatusInsufficientStorage, "storage-full")
	f.ready(t, "disk of the service is full")
	if a := f.ask(t, http.MethodGet, first.header.Get("Location"), ""); a.status != http.StatusOK {
		t.Errorf("what was saved: %d", a.status)
	}
	if a := f.ask(t, http.MethodPost, "/v1/transfers/plan", savedBody); a.status != http.StatusOK {
		t.Errorf("a plan: %d", a.status)
	}
	if err := f.db.Limit(t.Context(), 1<<30); err != nil {
		t.Fatal(err)
	}
	f.ready(t, "ready")
	if a := f.ask(t, http.MethodPost, "/v1/transfers", savedBody); a.status != http.StatusCreated {
		t.Errorf("with room again: %d\n%s", a.status, a.body)
	}
}

// A database that another process holds is waited for, and then the request is refused.
func TestLockedDatabase(t *testing.T) {
	t.Parallel()
	f := newFaulty(t)
	held, err := f.sql.BeginTx(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	hindered(t, f.ask(t, http.MethodPost, "/v1/transfers", savedBody), http.StatusServiceUnavailable, "storage-busy")
	if took := time.Since(start); took > 10*time.Second {
		t.Errorf("it took %v to say so", took)
	}
	f.ready(t, "another process holds the database")
	if err := held.Rollback(); err != nil {
		t.Fatal(err)
	}
	f.ready(t, "ready")
}

// A report that cannot be saved is refused with what it asks for first, on a full disk and on one that
// another process holds. A reading without trouble goes by the plan.
func TestUnsavedReports(t *testing.T) {
	t.Parallel()
	for _, hindrance := range []string{"full", "held"} {
		f := newFaulty(t)
		saved := f.ask(t, http.MethodPost, "/v1/transfers", savedBody)
		post := func(path, body string) answered { return f.report(t, saved, path, body) }
		if hindrance == "full" {
			if err := f.db.Limit(t.Context(), 1); err != nil {
				t.Fatal(err)
			}
			for range 99 { // the pages it has left are filled first
				if a := post("/readings", `{"volume": "6 L", "note": "`+strings.Repeat("x", 900)+`"}`); a.status != http.StatusCreated {
					if !strings.Contains(a.body, "go by the plan that you have") {
						t.Errorf("a reading: %s", a.body)
					}
					break
				}
			}
		} else {
			held, err := f.sql.BeginTx(t.Context(), nil)
			if err != nil {
				t.Fatal(err)
			}
			defer held.Rollback()
		}
		for _, x := range [][3]string{
			{"/events", `{"event": "animals_look_wrong"}`, "/: Close the clamp. See that the air stone runs and the surface moves. "},
			{"/readings", `{"behaviour": "gasping"}`, "/: Close the clamp. See that the air stone runs and the surface moves. "},
			{"/restart", `{"behaviour": "gasping"}`, "/: Close the clamp. See that the air stone runs and the surface moves. "},
			{"/events", `{"event": "power_off"}`, "/: Close the clamp. Run a battery air pump"},
		} {
			if hindrance == "held" && x[0] != "/restart" { // each waits for seconds
				continue
			}
			a := post(x[0], x[1])
			if detail, _ := a.field(t, "detail").(string); a.status < 500 || !strings.HasPrefix(detail, x[2]) || strings.Contains(detail, "go by the plan") {
				t.Errorf("%s, %s %s: %d %s", hindrance, x[0], x[1], a.status, a.body)
			}
		}
	}
}

// A file that was removed or replaced under the service is noticed before anything is acknowledged
// that would be lost with it.
func TestReplacedFile(t *testing.T) {
	t.Parallel()
	f := newFaulty(t)
	path, first := f.at, f.ask(t, http.MethodPost, "/v1/transfers", savedBody)
	if err := store.Backup(t.Context(), path, path+".copy"); err != nil {
		t.Fatal(err)
	}
	for _, change := range []func() error{
		func() error { return os.Rename(path, path+".away") },
		func() error { return os.Rename(path+".copy", path) },
	} {
		if err := change(); err != nil {
			t.Fatal(err)
		}
		a := f.report(t, first, "/events", `{"event": "animals_look_wrong"}`)
		if a.status != http.StatusServiceUnavailable || !strings.Contains(a.body, "Close the clamp.") || !strings.Contains(a.body, "removed or replaced") {
			t.Errorf("%d %s", a.status, a.body)
		}
		f.ready(t, "removed or replaced")
	}
	if err := os.Rename(path+".away", path); err != nil {
		t.Fatal(err)
	}
	f.ready(t, "ready")
}

// A damaged row says so; other rows can be read, and the service starts with it.
func TestDamagedRow(t *testing.T) {
	f := newFaulty(t)
	good, bad, worse := f.ask(t, http.MethodPost, "/v1/transfers", savedBody), f.ask(t, http.MethodPost, "/v1/transfers", savedBody), f.ask(t, http.MethodPost, "/v1/transfers", savedBody)
	damage := func(a answered, column, with string) string {
		path := a.header.Get("Location")
		if _, err := f.sql.ExecContext(t.Context(), "UPDATE transfers SET "+column+" = ? WHERE id = ?", with, filepath.Base(path)); err != nil {
			t.Fatal(err)
		}
		return path
	}
	again := func() answered { return f.ask(t, http.MethodPost, "/v1/transfers", savedBody) }
	for _, path := range []string{damage(bad, "value", `{"request": `), damage(worse, "told", `{}`), damage(again(), "value", `{}`), damage(again(), "value", `[]`),
		damage(again(), "created_at", "yesterday"), damage(again(), "version", "two")} {
		for _, of := range []string{"", "/chart.svg", "/calendar.ics"} {
			if a := f.ask(t, http.MethodGet, path+of, ""); a.status != http.StatusInternalServerError || a.problem(t).Type != "/problems/damaged" {
				t.Errorf("a damaged row: %d\n%s", a.status, a.body)
			}
		}
	}
	if a := f.ask(t, http.MethodGet, good.header.Get("Location"), ""); a.status != http.StatusOK {
		t.Errorf("a good row beside it: %d", a.status)
	}
	if a := f.ask(t, http.MethodPost, "/v1/transfers", savedBody); a.status != http.StatusCreated {
		t.Errorf("saving beside it: %d", a.status)
	}
	f.ready(t, "ready")
}

// A client that leaves is not a fault of the service, and not an error in its log.
func TestClientThatLeavesIsNoError(t *testing.T) {
	f := newFaulty(t)
	saved := f.ask(t, http.MethodPost, "/v1/transfers", savedBody).header.Get("Location")
	for i := range 60 {
		ctx, cancel := context.WithTimeout(t.Context(), time.Duration(i)*200*time.Microsecond)
		for _, c := range []struct{ method, path, body string }{
			{http.MethodGet, saved, ""}, {http.MethodPost, "/v1/transfers", savedBody}, {http.MethodGet, "/v1/methods", ""},
		} {
			r, err := http.NewRequestWithContext(ctx, c.method, f.URL+c.path, strings.NewReader(c.body))
			if err != nil {
				t.Fatal(err)
			}
			r.Header.Set("Content-Type", "application/json")
			if a, err := f.Client().Do(r); err == nil {
				a.Body.Close()
			}
		}
		cancel()
	}
	f.Close() // waits for what is still being answered
	if strings.Contains(f.log.String(), "ERROR") || strings.Contains(f.log.String(), "WARN") {
		t.Errorf("the log says\n%s", f.log)
	}
}
