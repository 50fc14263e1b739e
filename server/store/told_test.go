package store

import (
	"database/sql"
	"errors"
	"path/filepath"
	"testing"
)

// A file in which release 0.2.0 left transfers under way is refused, and left as
// it was; once they have expired it opens.
func TestUntoldTransfersAreRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "first.db")
	db := openAt(t, path)
	saved, _ := save(t, db, "", "")
	change := func(statement string) {
		t.Helper()
		if _, err := db.write.ExecContext(t.Context(), statement); err != nil {
			t.Fatal(err)
		}
	}
	change("UPDATE transfers SET told = NULL")
	if other, err := Open(t.Context(), path); !errors.Is(err, ErrUntold) {
		t.Fatalf("opened: %v, %v", other, err)
	}
	var told sql.NullString
	if err := db.read.QueryRowContext(t.Context(), "SELECT told FROM transfers WHERE id = $1", saved.ID).Scan(&told); err != nil || told.Valid {
		t.Errorf("the row has %v, %v", told, err)
	}
	change("UPDATE transfers SET expires_at = 1")
	openAt(t, path)
}
