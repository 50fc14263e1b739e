package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"saltlock/chem/tolerance"
	"saltlock/server/store/postgrestest"
)

func TestMain(m *testing.M) { os.Exit(postgrestest.Main(m)) }

// eachEngine runs a test on both engines, each with the address of a database that does not exist
// yet or is empty.
func eachEngine(t *testing.T, test func(t *testing.T, address string)) {
	t.Run("SQLite", func(t *testing.T) { test(t, filepath.Join(t.TempDir(), "x.db")) })
	t.Run("PostgreSQL", func(t *testing.T) { test(t, postgrestest.Database(t)) })
}

// openAt opens a database that is closed when the test ends.
func openAt(t testing.TB, path string) *DB {
	t.Helper()
	db, err := Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
	return db
}

func TestOpenSeeds(t *testing.T) {
	// A path with characters that mean something in a URI.
	db := openAt(t, filepath.Join(t.TempDir(), "a b?c%20#d.db"))
	if err := db.Ping(t.Context()); err != nil {
		t.Error(err)
	}
	p, err := db.Species(t.Context(), Query{})
	if want := len(embedded(t)); err != nil || p.Total != want || len(p.Species) != want {
		t.Errorf("%d species on a page of %d, %v, want %d", len(p.Species), p.Total, err, want)
	}
}

// stored reads a species of a database.
func stored(t testing.TB, db *DB, id string) (x tolerance.Taxon) {
	t.Helper()
	var value []byte
	err := db.read.QueryRowContext(t.Context(), "SELECT value FROM taxa WHERE id = $1", id).Scan(&value)
	if err == nil {
		err = json.Unmarshal(value, &x)
	}
	if err != nil {
		t.Fatalf("%s as stored: %v", id, err)
	}
	return x
}

// What is stored, and what is found by its id, is what was read.
func TestTaxonIsAsInTheTable(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		db := openAt(t, path)
		for _, want := range embedded(t) {
			got, err := db.Taxon(t.Context(), want.ID)
			if kept := stored(t, db, want.ID); err != nil || !reflect.DeepEqual(got, want) || !reflect.DeepEqual(kept, want) {
				t.Fatalf("%s: got %+v, %v, stored %+v, want %+v", want.ID, got, err, kept, want)
			}
		}
	})
}

// The digest in the program is that of the table in it.
func TestTableDigest(t *testing.T) {
	values, err := edition{index: &index{taxa: embedded(t)}}.values()
	if got := digestOf(values); err != nil || got != tableDigest {
		t.Errorf("the table, or how it is written, has changed, %v: set tableDigest to %q", err, got)
	}
}

// A value changed by hand stays as long as the edition does, and goes with it, so a test can see
// whether a seed ran.
func TestReseedsOnAnotherVersion(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		db := openAt(t, path)
		family := func(db *DB) string { return stored(t, db, "scatophagus-argus").Family }
		mark := func() {
			if _, err := db.write.Exec("UPDATE taxa SET value = replace(value, 'Scatophagidae', 'Marked')"); err != nil {
				t.Fatal(err)
			}
		}
		mark()
		if got := family(openAt(t, path)); got != "Marked" {
			t.Errorf("opened again: family %q, so the same edition was loaded again", got)
		}
		for column, value := range map[string]string{"version": "2000.01-000000", "digest": "of another shape"} {
			mark()
			if _, err := db.write.Exec("UPDATE seeds SET "+column+" = $1", value); err != nil {
				t.Fatal(err)
			}
			if got := family(openAt(t, path)); got != "Scatophagidae" {
				t.Errorf("another %s: family %q, so the table was not loaded anew", column, got)
			}
		}
		var version string
		if err := db.read.QueryRow("SELECT version FROM seeds").Scan(&version); err != nil || version != DataVersion() {
			t.Errorf("stored version %q, %v, want %q", version, err, DataVersion())
		}
	})
}

// A seed that fails half way leaves the previous edition.
func TestSeedIsAllOrNothing(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		db := openAt(t, path)
		twice := append(embedded(t), embedded(t)[0])
		if err := db.seed(t.Context(), edition{version: "2999.01-000000", index: &index{taxa: twice}}); err == nil {
			t.Fatal("a table with an id twice was stored")
		}
		var left int
		if err := db.read.QueryRow("SELECT COUNT(*) FROM taxa").Scan(&left); err != nil || left != len(embedded(t)) {
			t.Errorf("%d taxa are left, %v", left, err)
		}
	})
}

func TestOpenRefusesNewerSchema(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		db := openAt(t, path)
		if _, err := db.write.Exec("INSERT INTO schema_version (version) VALUES (999)"); err != nil {
			t.Fatal(err)
		}
		if again, err := Open(t.Context(), path); err == nil {
			again.Close()
			t.Error("a database of a newer program was opened")
		}
	})
}

func TestOpenTellsWhere(t *testing.T) {
	path := filepath.Join(t.TempDir(), "no", "such", "folder", "x.db")
	if db, err := Open(t.Context(), path); err == nil || !strings.Contains(err.Error(), path) {
		if err == nil {
			db.Close()
		}
		t.Errorf("error %v does not name %s", err, path)
	}
}

// Several programs start at once on a file that does not exist yet.
func TestOpenAtOnce(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		errs := make([]error, 6)
		var wg sync.WaitGroup
		for i := range errs {
			wg.Go(func() {
				db, err := Open(t.Context(), path)
				if err == nil {
					err = db.Close()
				}
				errs[i] = err
			})
		}
		wg.Wait()
		if err := errors.Join(errs...); err != nil {
			t.Error(err)
		}
	})
}

// Readers go on while the writer holds its transaction open.
func TestReadersDoNotWait(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		db := openAt(t, path)
		err := db.tx(t.Context(), func(tx *sql.Tx) error {
			if _, err := tx.Exec("DELETE FROM taxa"); err != nil {
				return err
			}
			errs := make([]error, 8)
			var wg sync.WaitGroup
			for i := range errs {
				wg.Go(func() { _, errs[i] = db.Taxon(t.Context(), "scatophagus-argus") })
			}
			wg.Wait()
			return errors.Join(append(errs, errors.New("roll back"))...)
		})
		if err == nil || err.Error() != "roll back" {
			t.Error(err)
		}
	})
}

// The file and its log as they are when the process dies right after the commit: nothing is
// closed, nothing checkpointed.
func TestCommitSurvivesKill(t *testing.T) {
	dir := t.TempDir()
	db := openAt(t, filepath.Join(dir, "x.db"))
	if _, err := db.write.Exec("UPDATE taxa SET value = replace(value, 'Scatophagidae', 'Marked')"); err != nil {
		t.Fatal(err)
	}
	for _, end := range []string{"", "-wal"} {
		b, err := os.ReadFile(filepath.Join(dir, "x.db"+end))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "copy.db"+end), b, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if x := stored(t, openAt(t, filepath.Join(dir, "copy.db")), "scatophagus-argus"); x.Family != "Marked" {
		t.Errorf("family %q: the commit is lost", x.Family)
	}
}

// Every connection of both pools has the pragmas.
func TestPragmas(t *testing.T) {
	db := openAt(t, filepath.Join(t.TempDir(), "x.db"))
	ask := func(q *sql.Conn, pragma string) (s string) {
		if err := q.QueryRowContext(t.Context(), "PRAGMA "+pragma).Scan(&s); err != nil {
			t.Fatal(err)
		}
		return s
	}
	var conns []*sql.Conn
	for range 3 {
		c, err := db.read.Conn(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		conns = append(conns, c)
	}
	w, err := db.write.Conn(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range append(slices.Clone(conns), w) {
		// synchronous 2 is FULL.
		wait := strconv.FormatInt(answerWait.Milliseconds(), 10)
		if c == w {
			wait = strconv.FormatInt(busyWait.Milliseconds(), 10)
		}
		for pragma, want := range map[string]string{"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1", "busy_timeout": wait} {
			if got := ask(c, pragma); got != want {
				t.Errorf("%s is %s, want %s", pragma, got, want)
			}
		}
	}
	if _, err := conns[0].ExecContext(t.Context(), "DELETE FROM taxa"); err == nil {
		t.Error("a reader wrote")
	}
	for _, c := range append(conns, w) {
		if err := c.Close(); err != nil {
			t.Error(err)
		}
	}
}
