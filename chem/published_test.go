package chem_test

import (
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"text/tabwriter"
)

// row is a line of the tables that the packages print of their own checks.
var row = regexp.MustCompile(`^\s+((?:oracle|published)/\S+\.csv)  +(.*)$`)

// elsewhere are files that are compared, but not row by row.
var elsewhere = map[string]string{
	"oracle/gnu_units.csv":      "unit by unit in chem/quantity",
	"published/kester_1967.csv": "its sum of 41.31 g in chem/mixing",
}

// Every file of the world's numbers is compared with, and all comparisons
// stand in one table: file, what was compared, points, worst deviation,
// tolerance, source.
func TestEveryFileIsCompared(t *testing.T) {
	out, err := exec.CommandContext(t.Context(), "go", "test", "-v", "-run", "Published|AcidityOfBlend", "./...").CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var table strings.Builder
	w := tabwriter.NewWriter(&table, 0, 0, 2, ' ', 0)
	compared := map[string]bool{}
	for line := range strings.Lines(string(out)) {
		if m := row.FindStringSubmatch(strings.TrimRight(line, "\n")); m != nil {
			compared[m[1]] = true
			cells := regexp.MustCompile(`\s{2,}`).Split(m[2], -1)
			w.Write([]byte(m[1] + "\t" + strings.Join(cells, "\t") + "\n"))
		}
	}
	w.Flush()
	t.Log("\n" + table.String())
	for _, pattern := range []string{"published", "oracle"} {
		files, err := filepath.Glob("../testdata/" + pattern + "/*.csv")
		if err != nil || len(files) == 0 {
			t.Fatalf("no files in testdata/%s: %v", pattern, err)
		}
		slices.Sort(files)
		for _, f := range files {
			name := pattern + "/" + filepath.Base(f)
			if !compared[name] && elsewhere[name] == "" {
				t.Errorf("%s is compared with nothing", name)
			}
		}
	}
}
