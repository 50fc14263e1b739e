package store

import (
	"errors"
	"path/filepath"
	"testing"
)

// A file in which release 0.2.0 left transfers under way is refused and left alone; once they have
// expired it opens.
func TestUntoldTransfersAreRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "first.db")
	db := openAt(t, path)
	save(t, db, "", "")
	change := func(statement string) {
		t.Helper()
		if _, err := db.write.ExecContext(t.Context(), statement); err != nil {
			t.Fatal(err)
		}
	}
	for _, statement := range []string{"ALTER TABLE transfers DROP COLUMN told", "ALTER TABLE transfers DROP COLUMN plans", "DROP TABLE probes", "DELETE FROM schema_version WHERE version > 2"} {
		change(statement)
	}
	if other, err := Open(t.Context(), path); !errors.Is(err, ErrUntold) {
		t.Fatalf("opened: %v, %v", other, err)
	}
	var version, rows int
	if err := db.read.QueryRowContext(t.Context(), "SELECT MAX(version), (SELECT COUNT(*) FROM transfers) FROM schema_version").Scan(&version, &rows); err != nil || version != 2 || rows != 1 {
		t.Errorf("the file is left with schema %d and %d rows, %v", version, rows, err)
	}
	change("UPDATE transfers SET expires_at = 1")
	openAt(t, path)
}
