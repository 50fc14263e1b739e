package published

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"text/tabwriter"
)

// Check compares one formula with one file.
type Check struct {
	File      string            // under testdata
	What      string            // the quantity compared, and how: its unit, or "relative"
	Tolerance float64           // on Deviation
	Where     func(Row) bool    // which rows; nil means all
	Deviation func(Row) float64 // of our answer from the row's
}

// Verify makes every check and logs one table of them all: file, what was compared,
// points, worst deviation, tolerance, source. A check fails above its tolerance,
// on NaN, and when no row was compared.
func Verify(t *testing.T, checks []Check) {
	t.Helper()
	var text strings.Builder
	table := tabwriter.NewWriter(&text, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "\nfile\tcompared\tpoints\tworst\ttolerance\tsource")
	for _, c := range checks {
		source, rows := read(t, c.File)
		points, worst := c.worst(rows)
		fmt.Fprintf(table, "%s\t%s\t%d\t%.2g\t%g\t%.60s\n", c.File, c.What, points, worst, c.Tolerance, source)
		if points == 0 || !(worst <= c.Tolerance) {
			t.Errorf("%s, %s: worst deviation of %d points is %g, tolerance %g", c.File, c.What, points, worst, c.Tolerance)
		}
	}
	table.Flush()
	t.Log(text.String())
}

func (c Check) worst(rows []Row) (points int, worst float64) {
	for _, r := range rows {
		if c.Where != nil && !c.Where(r) {
			continue
		}
		points++
		worst = math.Max(worst, math.Abs(c.Deviation(r))) // keeps a NaN
	}
	return points, worst
}

// Relative returns the deviation of got from want as a part of want; where want
// is 0 as it is.
func Relative(got, want float64) float64 {
	if want == 0 {
		return got
	}
	return got/want - 1
}
