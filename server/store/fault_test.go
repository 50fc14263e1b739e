package store

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A file that is not a database, or that is partly overwritten, is reported as broken and left
// alone.
func TestCorruptFile(t *testing.T) {
	dir := t.TempDir()
	sound := filepath.Join(dir, "x.db")
	db, err := Open(t.Context(), sound)
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil { // this moves all of its log into the file
		t.Fatal(err)
	}
	data, err := os.ReadFile(sound)
	if err != nil {
		t.Fatal(err)
	}
	garbled := append([]byte(nil), data...)
	for i := 4096; i < len(garbled); i++ {
		garbled[i] = 0xa5
	}
	for name, content := range map[string][]byte{"no database": []byte(strings.Repeat("species,salinity\n", 1000)), "all but its head overwritten": garbled} {
		path := filepath.Join(dir, strings.ReplaceAll(name, " ", "-")+".db")
		if err := os.WriteFile(path, content, 0o600); err != nil {
			t.Fatal(err)
		}
		if other, err := Open(t.Context(), path); !errors.Is(err, ErrBroken) || !strings.Contains(err.Error(), path) {
			t.Errorf("%s: opened %v, %v", name, other, err)
		}
		if after, err := os.ReadFile(path); err != nil || string(after) != string(content) {
			t.Errorf("%s: the file was changed, %v", name, err)
		}
	}
}

// A clock that goes back a year loses nothing and accepts changes; one that goes ahead hides what
// has expired by it, and deletes nothing that can be read once it is set right.
func TestClockJumps(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		db := openAt(t, path)
		now := time.Date(2026, 12, 1, 9, 0, 0, 0, time.UTC)
		db.Now = func() time.Time { return now }
		saved, key := save(t, db, "", "")
		now = now.AddDate(-1, 0, 0)
		saved, err := db.ChangeTransfer(t.Context(), saved)
		if err != nil || !saved.Opens(key) {
			t.Errorf("a year back: %v", err)
		}
		save(t, db, "", "")
		now = now.AddDate(2, 0, 0)
		if _, err := db.Transfer(t.Context(), saved.ID); !errors.Is(err, ErrNotFound) {
			t.Errorf("a year ahead: %v", err)
		}
		now = now.AddDate(-1, 0, 0)
		if got, err := db.Transfer(t.Context(), saved.ID); err != nil || got.Version != 2 {
			t.Errorf("set right again: version %d, %v", got.Version, err)
		}
	})
}

// A file that turns read-only under a running program, as on a failing disk: changes are refused
// with the reason, reading goes on, and all is well once it can be written.
func TestTurnedReadOnly(t *testing.T) {
	db := openAt(t, filepath.Join(t.TempDir(), "test.db"))
	saved, _ := save(t, db, "", "")
	if _, err := db.write.ExecContext(t.Context(), "PRAGMA query_only = ON"); err != nil {
		t.Fatal(err)
	}
	if _, err := db.ChangeTransfer(t.Context(), saved); !errors.Is(err, ErrBroken) {
		t.Errorf("a change: %v, want %v", err, ErrBroken)
	}
	if err := db.Ping(t.Context()); !errors.Is(err, ErrBroken) {
		t.Errorf("ping: %v, want %v", err, ErrBroken)
	}
	if _, err := db.Transfer(t.Context(), saved.ID); err != nil {
		t.Errorf("reading: %v", err)
	}
	if _, err := db.write.ExecContext(t.Context(), "PRAGMA query_only = OFF"); err != nil {
		t.Fatal(err)
	}
	if err := db.Ping(t.Context()); err != nil {
		t.Errorf("ping afterwards: %v", err)
	}
	if _, err := db.ChangeTransfer(t.Context(), saved); err != nil {
		t.Errorf("a change afterwards: %v", err)
	}
}
