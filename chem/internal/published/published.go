// Package published reads the tables under testdata with which the formulas of
// chem are checked: published/ as printed in the literature, oracle/ as computed
// with reference libraries. For tests only.
package published

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Row is one line of a table.
type Row struct {
	t     testing.TB
	where string // file and row, for messages
	cells map[string]string
}

// Read returns the rows of a file under testdata, such as
// "oracle/gsw_density.csv". A file that does not name its source or oracle in a
// first line after "#" fails the test.
func Read(t testing.TB, name string) []Row {
	t.Helper()
	_, rows := read(t, name)
	return rows
}

// String returns the text of a cell.
func (r Row) String(column string) string {
	r.t.Helper()
	cell, ok := r.cells[column]
	if !ok {
		r.t.Fatalf("%s: no column %q", r.where, column)
	}
	return cell
}

// Float returns the number in a cell.
func (r Row) Float(column string) float64 {
	r.t.Helper()
	x, err := strconv.ParseFloat(r.String(column), 64)
	if err != nil {
		r.t.Fatalf("%s: column %q: %v", r.where, column, err)
	}
	return x
}

// HalfDigit returns half a unit of the last digit printed in a cell: how far a
// right answer may lie from it.
func (r Row) HalfDigit(column string) float64 {
	r.t.Helper()
	_, decimals, _ := strings.Cut(r.String(column), ".")
	half, err := strconv.ParseFloat("5e"+strconv.Itoa(-len(decimals)-1), 64)
	if err != nil {
		r.t.Fatalf("%s: column %q: %v", r.where, column, err)
	}
	return half
}

func read(t testing.TB, name string) (source string, rows []Row) {
	t.Helper()
	f, err := os.Open(filepath.Join(root(t), "testdata", filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	source, rows, err = parse(f)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	for i := range rows {
		rows[i].t, rows[i].where = t, name+" row "+strconv.Itoa(i+1)
	}
	return source, rows
}

var errNoHeader = errors.New(`does not begin with a "#" line that names its source or oracle`)

// parse splits a file into the first line of its header and its rows.
func parse(r io.Reader) (source string, rows []Row, err error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return "", nil, err
	}
	first, _, _ := strings.Cut(string(text), "\n")
	source, ok := strings.CutPrefix(first, "# ")
	if !ok || !strings.Contains(source, "source") && !strings.Contains(source, "oracle") {
		return "", nil, errNoHeader
	}
	table := csv.NewReader(bytes.NewReader(text))
	table.Comment = '#'
	lines, err := table.ReadAll()
	if err != nil {
		return "", nil, err
	}
	if len(lines) < 2 {
		return "", nil, errors.New("holds no rows")
	}
	for _, line := range lines[1:] {
		row := Row{cells: map[string]string{}}
		for i, column := range lines[0] {
			row.cells[column] = line[i]
		}
		rows = append(rows, row)
	}
	return source, rows, nil
}

// root returns the folder of go.mod, above the package under test.
func root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			t.Fatal("no go.mod above the package")
		}
		dir = parent
	}
}
