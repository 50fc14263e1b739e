package store

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"saltlock/chem/quantity"
)

// ownTable writes a table of own entries, made of the first row of the
// built-in one with some cells changed, and returns its path.
func ownTable(t *testing.T, cells map[string]string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "club.csv")
	if err := os.WriteFile(path, []byte(tableWith(t, 1, cells)), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// ownCells make the first row one of a species that is not built in.
var ownCells = map[string]string{"scientific_name": "Localus clubensis", "common_names": "club puffer", "synonyms": "", "preferred_max_ppt": "12"}

func TestSupplement(t *testing.T) {
	path := ownTable(t, ownCells)
	db, err := Open(t.Context(), filepath.Join(t.TempDir(), "x.db"), path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	x, err := db.Taxon(t.Context(), "localus-clubensis")
	if err != nil || !x.Local || x.Stages[0].Preferred.Max.Value != quantity.Salinity(12) {
		t.Errorf("own entry %+v, %v", x, err)
	}
	if page, err := db.Species(t.Context(), Query{Text: "Club Puffers"}); err != nil || page.Total != 1 || !page.Species[0].Local {
		t.Errorf("search for the own entry: %+v, %v", page, err)
	}
	if x, err := db.Taxon(t.Context(), "scatophagus-argus"); err != nil || x.Local {
		t.Errorf("a built-in species is marked as local: %v", err)
	}
	if v := db.DataVersion(); !strings.HasPrefix(v, DataVersion()+"+local-") {
		t.Errorf("data version %q does not tell of the own entries", v)
	}
}

// Opened again without the file, the own entries are gone.
func TestSupplementDoesNotLinger(t *testing.T) {
	file := filepath.Join(t.TempDir(), "x.db")
	db, err := Open(t.Context(), file, ownTable(t, ownCells))
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := openAt(t, file).Taxon(t.Context(), "localus-clubensis"); !errors.Is(err, ErrNotFound) {
		t.Errorf("without the file: %v", err)
	}
}

// A supplement names its source in a file beside the table.
func TestSupplementSources(t *testing.T) {
	cells := map[string]string{"source_salinity": "Club2026"}
	for k, v := range ownCells {
		cells[k] = v
	}
	path := ownTable(t, cells)
	if _, err := Open(t.Context(), filepath.Join(t.TempDir(), "x.db"), path); !errors.Is(err, ErrSupplement) || !strings.Contains(err.Error(), "source_salinity") {
		t.Errorf("a source that is nowhere: %v", err)
	}
	beside := strings.TrimSuffix(path, ".csv") + ".sources.csv"
	if err := os.WriteFile(beside, []byte(strings.Join(sourceColumns, ",")+"\nClub2026,our log,Our own log,2026,,yes,whole log\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	db, err := Open(t.Context(), filepath.Join(t.TempDir(), "x.db"), path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if x, err := db.Taxon(t.Context(), "localus-clubensis"); err != nil || x.Stages[0].Survived.Source.Citation != "Our own log" {
		t.Errorf("own source: %+v, %v", x, err)
	}
}

func TestSupplementRefused(t *testing.T) {
	for _, c := range []struct {
		name  string
		cells map[string]string
		says  string
	}{
		{"a species that is built in", nil, "is a name of"},
		{"an old name of a built-in species", map[string]string{"scientific_name": "Tetraodon nigroviridis", "synonyms": ""}, "is a name of"},
		{"a row that breaks a rule", map[string]string{"scientific_name": "Localus clubensis", "synonyms": "", "confidence": ""}, "confidence"},
	} {
		_, err := Open(t.Context(), filepath.Join(t.TempDir(), "x.db"), ownTable(t, c.cells))
		if !errors.Is(err, ErrSupplement) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	if _, err := Open(t.Context(), filepath.Join(t.TempDir(), "x.db"), "/no/such/file.csv"); !errors.Is(err, ErrSupplement) {
		t.Errorf("a file that is not there: %v", err)
	}
}
