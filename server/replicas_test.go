package server_test

import (
	"context"
	"flag"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"saltlock/server"
	"saltlock/server/store"
	"saltlock/server/store/postgrestest"
)

func TestMain(m *testing.M) {
	flag.Parse()
	if at := flag.Lookup("test.parallel"); at.Value.String() == at.DefValue { // some parallel tests only wait
		if err := at.Value.Set(strconv.Itoa(2 * runtime.GOMAXPROCS(0))); err != nil {
			panic(err)
		}
	}
	os.Exit(postgrestest.Main(m))
}

// replicas are two services on one database.
func replicas(t *testing.T, address string) [2]*service {
	return [2]*service{serviceOn(t, address, server.Options{}), serviceOn(t, address, server.Options{})}
}

// readings sends readings to a transfer through both replicas at once, each twice, and returns the
// ids of those acknowledged.
func readings(t *testing.T, both [2]*service, path, key string, writers, each int) map[string]bool {
	acknowledged, mu, wg := map[string]bool{}, sync.Mutex{}, sync.WaitGroup{}
	for w := range writers {
		wg.Go(func() {
			for i := range each {
				note := fmt.Sprintf("%d.%d", w, i)
				for _, s := range []*service{both[w%2], both[(w+1)%2]} { // the second is a retry by the other replica
					for {
						a := s.call(t, http.MethodPost, path+"/readings", `{"behaviour": "ok", "note": "`+note+`"}`, "Authorization", "Bearer "+key, "Idempotency-Key", "reading-of-a-replica-"+note)
						if a.status == http.StatusConflict { // it met five others
							continue
						}
						if a.status != http.StatusCreated {
							t.Errorf("%d\n%s", a.status, a.body)
						}
						break
					}
				}
				mu.Lock()
				acknowledged[note] = true
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	return acknowledged
}

// Two replicas on one database, and two processes on one file, keep the same transfers: no reading
// is lost or doubled, and If-Match holds across them.
func TestReplicas(t *testing.T) {
	t.Parallel()
	for _, engine := range []struct {
		name    string
		address func() string
	}{
		{"SQLite", func() string { return filepath.Join(t.TempDir(), "test.db") }},
		{"PostgreSQL", func() string { return postgrestest.Database(t) }},
	} {
		t.Run(engine.name, func(t *testing.T) {
			both := replicas(t, engine.address())
			saved := both[0].call(t, http.MethodPost, "/v1/transfers", savedBody)
			path, key := saved.header.Get("Location"), saved.field(t, "key").(string)
			first := both[1].get(t, path)
			if first.status != http.StatusOK || first.field(t, "id") != saved.field(t, "id") {
				t.Fatalf("the other replica reads %d\n%s", first.status, first.body)
			}
			want := readings(t, both, path, key, 4, 5)
			for _, s := range both {
				log := s.get(t, path).field(t, "log").([]any)
				for _, entry := range log {
					delete(want, entry.(map[string]any)["note"].(string))
				}
				if len(log) != 20 {
					t.Errorf("the log has %d readings, want 20", len(log))
				}
			}
			if len(want) > 0 {
				t.Errorf("acknowledged and lost: %v", want)
			}
			auth := []string{"Authorization", "Bearer " + key, "If-Match"}
			if a := both[1].call(t, http.MethodPatch, path, `{"note": "by an old tag"}`, append(auth, first.header.Get("ETag"))...); a.status != http.StatusPreconditionFailed {
				t.Errorf("If-Match of before the readings: %d", a.status)
			}
			tag := both[0].get(t, path).header.Get("ETag")
			codes := make([]int, 2)
			var wg sync.WaitGroup
			for i, s := range both { // one of two that hold the same tag
				wg.Go(func() {
					codes[i] = s.call(t, http.MethodPatch, path, `{"note": "by `+strconv.Itoa(i)+`"}`, append(auth, tag)...).status
				})
			}
			wg.Wait()
			if won := codes[0] == http.StatusOK; won == (codes[1] == http.StatusOK) {
				t.Errorf("two changes by one tag: %v", codes)
			}
		})
	}
}

// The same request with the same idempotency key, sent to both replicas at once, saves one
// transfer.
func TestReplicasSaveOnce(t *testing.T) {
	t.Parallel()
	both := replicas(t, postgrestest.Database(t))
	for i := range 4 {
		retry := fmt.Sprintf("0190b6f2-7c1a-7d3e-9c55-3f1f6f1f%04d", i)
		answers := make([]answered, 4)
		var wg sync.WaitGroup
		for j := range answers {
			wg.Go(func() {
				answers[j] = both[j%2].call(t, http.MethodPost, "/v1/transfers", savedBody, "Idempotency-Key", retry)
			})
		}
		wg.Wait()
		for _, a := range answers {
			if a.status != http.StatusCreated || a.field(t, "key") != answers[0].field(t, "key") || a.field(t, "id") != answers[0].field(t, "id") {
				t.Errorf("%d, %v; want %v", a.status, a.field(t, "id"), answers[0].field(t, "id"))
			}
		}
	}
}

// kills is how often a database is killed under writes; .ci/run and the soak do it more often.
func kills(t *testing.T) int {
	n, err := strconv.Atoi(os.Getenv("SALTLOCK_KILLS"))
	if os.Getenv("SALTLOCK_KILLS") == "" {
		return 2
	}
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// PostgreSQL's server is killed during writes, again and again: the service says that it cannot
// reach its database, recovers by itself, and loses nothing acknowledged.
func TestPostgresKilled(t *testing.T) {
	t.Parallel()
	cluster, err := postgrestest.New()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := cluster.Remove(); err != nil {
			t.Error(err)
		}
	})
	address, err := cluster.Make()
	if err != nil {
		t.Fatal(err)
	}
	db, err := store.Open(t.Context(), address)
	if err != nil {
		t.Fatal(err)
	}
	s := serviceFrom(t, db, server.Options{})
	f := faulty{Server: s.Server, db: db}
	saved := f.ask(t, http.MethodPost, "/v1/transfers", savedBody)
	path := saved.header.Get("Location")

	ctx, stop := context.WithCancel(t.Context())
	acknowledged := make(chan []string, 2)
	for range 2 {
		go func() {
			var paths []string
			for ctx.Err() == nil {
				if a := f.ask(t, http.MethodPost, "/v1/transfers", savedBody); a.status == http.StatusCreated {
					paths = append(paths, a.header.Get("Location"))
				} else if a.status != http.StatusServiceUnavailable {
					t.Errorf("while the database is gone: %d\n%s", a.status, a.body)
				}
			}
			acknowledged <- paths
		}()
	}
	for range kills(t) {
		time.Sleep(150 * time.Millisecond)
		if err := cluster.Kill(); err != nil {
			t.Fatal(err)
		}
		hindered(t, f.ask(t, http.MethodGet, path, ""), http.StatusServiceUnavailable, "storage-busy")
		start := time.Now()
		f.ready(t, "does not reach its database")
		if took := time.Since(start); took > slower*time.Second {
			t.Errorf("/readyz took %v", took)
		}
		if err := cluster.Start(); err != nil {
			t.Fatal(err)
		}
		for start = time.Now(); f.ask(t, http.MethodGet, "/readyz", "").status != http.StatusOK; time.Sleep(20 * time.Millisecond) {
			if time.Since(start) > 10*time.Second {
				t.Fatal("the service does not come back")
			}
		}
	}
	stop()
	paths := append(append([]string{path}, <-acknowledged...), <-acknowledged...)
	for _, path := range paths {
		if a := f.ask(t, http.MethodGet, path, ""); a.status != http.StatusOK || !strings.Contains(a.body, `"log"`) {
			t.Errorf("acknowledged and lost: %s, %d", path, a.status)
		}
	}
	t.Logf("%d transfers were acknowledged around %d kills", len(paths), kills(t))
}
