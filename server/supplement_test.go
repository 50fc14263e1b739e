package server_test

import (
	"encoding/csv"
	"html"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"saltlock/server"
	"saltlock/server/store"
)

// A service with its own species has its own data version: in its answers and ETags, in what a
// keeper is told, and on its pages.
func TestDataVersionTellsOfASupplement(t *testing.T) {
	db, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "own.db"), clubTable(t))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	want := store.DataVersion() + "+local-"
	with, without := serviceFrom(t, db, server.Options{}), newService(t)
	for _, target := range []string{saltURL, "/v1/species/localus-clubensis", "/v1/methods"} {
		a := with.get(t, target)
		if v, _ := a.field(t, "model.data_version").(string); a.status != http.StatusOK || !strings.HasPrefix(v, want) {
			t.Errorf("%s: %d, data version %q, want %s…", target, a.status, v, want)
		}
	}
	if a, b := with.get(t, saltURL), without.get(t, saltURL); a.header.Get("ETag") == b.header.Get("ETag") {
		t.Error("one tag for the answers of two tables")
	}
	saved := with.call(t, http.MethodPost, "/v1/transfers", savedBody)
	if v, _ := saved.field(t, "plan.model.data_version").(string); !strings.HasPrefix(v, want) {
		t.Errorf("a saved plan was told by data version %q, want %s…", v, want)
	}
	if page := html.UnescapeString(with.get(t, "/docs").body); !strings.Contains(page, want) {
		t.Errorf("the page names no data version %s…", want)
	}
}

// clubTable is a table of one own species, made of the first that is built in.
func clubTable(t *testing.T) string {
	t.Helper()
	built, err := os.Open("store/species/species.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer built.Close()
	rows := csv.NewReader(built)
	rows.Comment, rows.FieldsPerRecord = '#', -1
	head, err := rows.Read()
	if err != nil {
		t.Fatal(err)
	}
	row, err := rows.Read()
	if err != nil {
		t.Fatal(err)
	}
	for name, cell := range map[string]string{"scientific_name": "Localus clubensis", "common_names": "club puffer", "synonyms": ""} {
		row[slices.Index(head, name)] = cell
	}
	var table strings.Builder
	w := csv.NewWriter(&table)
	if err := w.WriteAll([][]string{head, row}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "club.csv")
	if err := os.WriteFile(path, []byte(table.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}
