package published

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestParse(t *testing.T) {
	source, rows, err := parse(strings.NewReader("# source: a book\n# units: none\nname,x\n\"a, b\",1.50\nc,-2\n"))
	if err != nil || source != "source: a book" || len(rows) != 2 {
		t.Fatalf("parse = %q, %d rows, %v", source, len(rows), err)
	}
	r := rows[0]
	r.t = t
	if got := r.String("name"); got != "a, b" {
		t.Errorf("String(name) = %q, want %q", got, "a, b")
	}
	if got := r.Float("x"); got != 1.5 {
		t.Errorf("Float(x) = %g, want 1.5", got)
	}
	if got := r.HalfDigit("x"); got != 0.005 {
		t.Errorf("HalfDigit(x) = %g, want 0.005", got)
	}
}

func TestParseRefuses(t *testing.T) {
	for text, want := range map[string]error{
		"name,x\na,1\n":                errNoHeader,
		"":                             errNoHeader,
		"# a table\nx\n1\n":            errNoHeader,
		"# source: a book\nname,x\n":   nil,
		"# source: a book\nx,y\n1\n":   nil,
		"# source: a book\nx\n\"1\n":   nil,
		"#no blank after it\nx,y\n1,2": errNoHeader,
	} {
		_, rows, err := parse(strings.NewReader(text))
		if err == nil || (want != nil && !errors.Is(err, want)) {
			t.Errorf("parse(%q) = %d rows, %v, want an error like %v", text, len(rows), err, want)
		}
	}
}

func TestWorst(t *testing.T) {
	_, rows, err := parse(strings.NewReader("# source: a book\nx\n1\n-3\n2\n"))
	if err != nil {
		t.Fatal(err)
	}
	for i := range rows {
		rows[i].t = t
	}
	x := func(r Row) float64 { return r.Float("x") }
	if points, worst := (Check{Deviation: x}).worst(rows); points != 3 || worst != 3 {
		t.Errorf("worst = %d points, %g, want 3, 3", points, worst)
	}
	positive := func(r Row) bool { return x(r) > 0 }
	if points, worst := (Check{Where: positive, Deviation: x}).worst(rows); points != 2 || worst != 2 {
		t.Errorf("worst of the positive = %d points, %g, want 2, 2", points, worst)
	}
	root := func(r Row) float64 { return math.Sqrt(x(r)) }
	if _, worst := (Check{Deviation: root}).worst(rows); !math.IsNaN(worst) {
		t.Errorf("worst with a NaN = %g, want NaN", worst)
	}
}
