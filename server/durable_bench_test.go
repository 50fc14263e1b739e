package server_test

import (
	"bytes"
	"database/sql"
	"fmt"
	"net/http"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"saltlock/server"
	"saltlock/server/store/postgrestest"
)

// onCourse is a reading that shows a newly begun drip running as planned.
const onCourse = `{"salinity": "2.0(2) ppt", "instrument": {"kind": "none"}, "temperature": "26 C", "volume": "6.0(1) L", "behaviour": "ok", "note": "%d"}`

// BenchmarkDurableReadings measures acknowledged readings through the whole service next to a bare
// loop of durable inserts, with as many bytes, by one connection, on the same disk and in the same
// run. Only the ratio means something. The answers are checked against the contract beforehand,
// since checking would double the time measured.
func BenchmarkDurableReadings(b *testing.B) {
	for _, engine := range []struct {
		name, driver string
		address      func() (service, bare string)
	}{
		{"SQLite", "sqlite3", func() (string, string) {
			dir := b.TempDir()
			return filepath.Join(dir, "test.db"), "file:" + filepath.Join(dir, "bare.db") + "?_journal_mode=WAL&_synchronous=FULL"
		}},
		{"PostgreSQL", "pgx", func() (string, string) { return postgrestest.Database(b), postgrestest.Database(b) }},
	} {
		b.Run(engine.name, func(b *testing.B) {
			address, other := engine.address()
			s := serviceOn(b, address, server.Options{})
			bare, err := sql.Open(engine.driver, other)
			if err != nil {
				b.Fatal(err)
			}
			defer bare.Close()
			bare.SetMaxOpenConns(1)
			if _, err := bare.Exec("CREATE TABLE rows (value BYTEA)"); err != nil {
				b.Fatal(err)
			}
			const writers, inserts = 8, 200
			content := bytes.Repeat([]byte("x"), 20<<10) // about what a transfer takes
			start := time.Now()
			for range inserts {
				if _, err := bare.Exec("INSERT INTO rows (value) VALUES ($1)", content); err != nil {
					b.Fatal(err)
				}
			}
			anchor := inserts / time.Since(start).Seconds()
			var paths, keys []string
			for range writers {
				a := s.call(b, http.MethodPost, "/v1/transfers", savedBody)
				paths, keys = append(paths, a.header.Get("Location")), append(keys, a.field(b, "key").(string))
			}
			for w := range writers {
				s.call(b, http.MethodPost, paths[w]+"/readings", fmt.Sprintf(onCourse, -1), "Authorization", "Bearer "+keys[w])
			}
			b.ResetTimer()
			start = time.Now()
			var wg sync.WaitGroup
			for w := range writers {
				wg.Go(func() {
					for i := w; i < b.N; i += writers {
						_, a := s.sends(b, http.MethodPost, paths[w]+"/readings", fmt.Sprintf(onCourse, i), "Authorization", "Bearer "+keys[w])
						if a.status != http.StatusCreated || !strings.Contains(a.body, `"verdict":"on_course"`) {
							b.Errorf("%d\n%s", a.status, a.body)
						}
					}
				})
			}
			wg.Wait()
			rate := float64(b.N) / time.Since(start).Seconds()
			b.ReportMetric(rate, "readings/s")
			b.ReportMetric(anchor, "inserts/s")
			b.ReportMetric(rate/anchor, "ratio")
		})
	}
}
