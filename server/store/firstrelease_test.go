package store

import (
	"compress/gzip"
	"database/sql"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// A database of the first release, once its transfers are frozen, is seeded again, and only once; what was saved
// in it stays.
func TestReseedsTheFirstRelease(t *testing.T) {
	path := filepath.Join(t.TempDir(), "first.db")
	packed, err := os.Open("../../testdata/first/frozen.db.gz")
	if err != nil {
		t.Fatal(err)
	}
	defer packed.Close()
	r, err := gzip.NewReader(packed)
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	count := func(query string) (n int) {
		db, err := sql.Open("sqlite3", path)
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		if err := db.QueryRow(query).Scan(&n); err != nil {
			t.Fatal(err)
		}
		return n
	}
	const transfers = "SELECT COUNT(*) FROM transfers"
	taxa, kept := count("SELECT COUNT(*) FROM taxa"), count(transfers)
	if taxa == len(embedded(t)) || kept == 0 {
		t.Fatalf("the fixture holds %d taxa and %d transfers", taxa, kept)
	}
	db := openAt(t, path)
	if x, err := db.Taxon(t.Context(), "GSP"); err != nil || x.Stages[0].Survived.Max.Value != 35 || len(x.Behaviour.Temper) == 0 {
		t.Errorf("after opening: %+v, %v", x, err)
	}
	if got := count("SELECT COUNT(*) FROM taxa"); got != len(embedded(t)) {
		t.Errorf("%d taxa, want %d", got, len(embedded(t)))
	}
	if got := count(transfers); got != kept {
		t.Errorf("%d transfers, want the %d that were there", got, kept)
	}
	if _, err := db.write.Exec("UPDATE taxa SET value = replace(value, 'Scatophagidae', 'Marked')"); err != nil {
		t.Fatal(err)
	}
	if x := stored(t, openAt(t, path), "scatophagus-argus"); x.Family != "Marked" {
		t.Errorf("opened again: family %q, so it was seeded once more", x.Family)
	}
}
