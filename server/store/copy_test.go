package store

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"saltlock/server/store/postgrestest"
)

// A backup made during writes is complete and holds at least what was acknowledged before.
func TestBackupUnderWrites(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "x.db")
	db := openAt(t, path)
	first, key := save(t, db, "", "")
	ctx, stop := context.WithCancel(t.Context())
	wrote := make(chan error)
	go func() {
		var err error
		for mine := first; err == nil && ctx.Err() == nil; {
			mine.Note += "."
			mine, err = db.ChangeTransfer(context.Background(), mine)
		}
		wrote <- err
	}()
	for range 5 {
		to := filepath.Join(dir, "copy.db")
		before, err := db.Transfer(t.Context(), first.ID)
		if err != nil {
			t.Fatal(err)
		}
		if err := Backup(t.Context(), path, to); err != nil {
			t.Fatal(err)
		}
		if err := Backup(t.Context(), path, to); err == nil {
			t.Error("a backup was written over")
		}
		if info, err := os.Stat(to); err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("the backup is %v, %v", info.Mode(), err)
		}
		copied, err := Open(t.Context(), to)
		if err != nil {
			t.Fatal(err)
		}
		var sound string
		if err := copied.read.QueryRow("PRAGMA integrity_check").Scan(&sound); err != nil || sound != "ok" {
			t.Errorf("the backup is %s, %v", sound, err)
		}
		if got, err := copied.Transfer(t.Context(), first.ID); err != nil || got.Version < before.Version || !got.Opens(key) {
			t.Errorf("version %d, %v; %d was acknowledged before", got.Version, err, before.Version)
		}
		if err := copied.Close(); err != nil {
			t.Error(err)
		}
		for _, end := range []string{"", "-wal", "-shm"} {
			os.Remove(to + end)
		}
	}
	stop()
	if err := <-wrote; err != nil {
		t.Error(err)
	}
	left, err := filepath.Glob(filepath.Join(dir, ".saltlock*"))
	if err != nil || len(left) > 0 {
		t.Errorf("left over: %v, %v", left, err)
	}
}

func TestBackupOfNothing(t *testing.T) {
	dir := t.TempDir()
	if err := Backup(t.Context(), filepath.Join(dir, "none.db"), filepath.Join(dir, "copy.db")); err == nil {
		t.Error("a database that is not there was backed up")
	}
	if err := Backup(t.Context(), "postgres://localhost/none", filepath.Join(dir, "copy.db")); err == nil || !strings.Contains(err.Error(), "pg_dump") {
		t.Errorf("%v names no pg_dump", err)
	}
}

// An export of either engine, imported into either, gives the same export again; existing
// transfers stay, and a partial export adds nothing.
func TestExportComesBack(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		db := openAt(t, path)
		saved, key := save(t, db, "0190b6f2-7c1a-7d3e-9c55-3f1f6f1f7a01", "body")
		save(t, db, "", "")
		var text bytes.Buffer
		if n, err := db.Export(t.Context(), &text); err != nil || n != 2 {
			t.Fatalf("%d exported, %v", n, err)
		}
		if strings.Contains(text.String(), key) {
			t.Error("the export holds the key")
		}
		for _, to := range []string{filepath.Join(t.TempDir(), "to.db"), postgrestest.Database(t)} {
			other := openAt(t, to)
			lines := strings.SplitAfter(text.String(), "\n")
			for _, part := range []string{lines[0], lines[0] + lines[2], lines[0] + `{"id": "x"}` + "\n" + lines[2], text.String()[:text.Len()/2], ""} {
				if added, _, err := other.Import(t.Context(), strings.NewReader(part)); err == nil || added != 0 {
					t.Errorf("a part of an export added %d", added)
				}
			}
			for _, want := range [][2]int{{2, 0}, {0, 2}} {
				if added, there, err := other.Import(t.Context(), bytes.NewReader(text.Bytes())); err != nil || [2]int{added, there} != want {
					t.Errorf("%d added, %d there, %v; want %v", added, there, err, want)
				}
			}
			var again bytes.Buffer
			if _, err := other.Export(t.Context(), &again); err != nil || again.String() != text.String() {
				t.Errorf("exported again: %v\n%s\nwant\n%s", err, &again, &text)
			}
			if got, err := other.Transfer(t.Context(), saved.ID); err != nil || !got.Opens(key) {
				t.Errorf("its key does not open it: %v", err)
			}
		}
	})
}

// What could not be read once it is in is refused, and a file that is cut off is not the database's
// fault.
func TestImportRefuses(t *testing.T) {
	t.Parallel()
	db := openAt(t, filepath.Join(t.TempDir(), "x.db"))
	saved, _ := save(t, db, "", "")
	var text bytes.Buffer
	if _, err := db.Export(t.Context(), &text); err != nil {
		t.Fatal(err)
	}
	other := openAt(t, filepath.Join(t.TempDir(), "to.db"))
	for name, x := range map[string][3]string{
		"an impossible time": {`"created_at":`, `"created_at":4611686018427387904, "was":`, "impossible time"},
		"an id of two lines": {saved.ID, saved.ID[:24] + `\r\n`, "names no transfer"},
		"another's plans":    {`"told":`, `"plans":"\n\n\n\n", "told":`, "legs"},
		"no answer":          {`"told":`, `"told":{}, "was":`, "says nothing"},
	} {
		wrong := strings.Replace(text.String(), x[0], x[1], 1)
		if added, _, err := other.Import(t.Context(), strings.NewReader(wrong)); wrong == text.String() || added != 0 || err == nil || !strings.Contains(err.Error(), x[2]) {
			t.Errorf("%s: %d added, %v", name, added, err)
		}
	}
	if _, _, err := other.Import(t.Context(), strings.NewReader(text.String()[:text.Len()-30])); err == nil || errors.Is(err, ErrGone) || !strings.Contains(err.Error(), "cut off") {
		t.Errorf("a file that is cut off: %v", err)
	}
}

// A damaged row is named, and the others are exported.
func TestExportOfDamagedRow(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.db")
	db := openAt(t, path)
	saved, _ := save(t, db, "", "")
	save(t, db, "", "")
	if _, err := db.write.Exec("UPDATE transfers SET value = '{' WHERE id = $1", saved.ID); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "export.jsonl")
	if n, err := ExportFile(t.Context(), path, to); n != 1 || err == nil || !strings.Contains(err.Error(), saved.ID) {
		t.Errorf("%d exported, %v", n, err)
	}
	if text, err := os.ReadFile(to); err != nil || strings.Count(string(text), "\n") != 2 || strings.Contains(string(text), saved.ID) {
		t.Errorf("the export is %v\n%s", err, text)
	}
}

// Every column is in an export.
func TestExportHasAllColumns(t *testing.T) {
	db := openAt(t, filepath.Join(t.TempDir(), "x.db"))
	rows, err := db.read.Query("SELECT * FROM transfers")
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	have, err := rows.Columns()
	if want := strings.Split(rowColumns, ", "); err != nil || !slices.Equal(have, want) {
		t.Errorf("the table has %v, an export %v; add the new ones to storedRow, rowColumns, eachRow and insertRow", have, want)
	}
}
