package server_test

import (
	"compress/gzip"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"time"

	"saltlock/server"
)

// first is a service on a copy of a database that the first release wrote and the bridge program
// froze, a few minutes after its transfers start: later nobody would have looked for hours, and the
// answer would be to look first.
func first(t testing.TB) *service {
	t.Helper()
	path := filepath.Join(t.TempDir(), "first.db")
	unpack(t, "../testdata/first/frozen.db.gz", path)
	s := serviceOn(t, path, server.Options{})
	now := time.Date(2026, 11, 27, 9, 5, 0, 0, time.UTC)
	s.db.Now = func() time.Time { return now }
	return s
}

func unpack(t testing.TB, from, to string) {
	t.Helper()
	packed, err := os.Open(from)
	if err != nil {
		t.Fatal(err)
	}
	defer packed.Close()
	r, err := gzip.NewReader(packed)
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// stored is a transfer of the fixture.
type stored struct{ name, id, key string }

func firstTransfers(t testing.TB) []stored {
	t.Helper()
	file, err := os.Open("../testdata/first/transfers.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var list []stored
	for _, r := range rows[1:] {
		list = append(list, stored{r[0], r[1], r[2]})
	}
	return list
}

// Every transfer that the first release saved reads as it did then: its numbers and its acts,
// though not its words.
func TestFirstRelease(t *testing.T) {
	s := first(t)
	for _, x := range firstTransfers(t) {
		t.Run(x.name, func(t *testing.T) {
			text, err := os.ReadFile("../testdata/first/answers/" + x.name + ".json")
			if err != nil {
				t.Fatal(err)
			}
			var want map[string]any
			if err := json.Unmarshal(text, &want); err != nil {
				t.Fatal(err)
			}
			path := "/v1/transfers/" + x.id
			a := s.get(t, path)
			if a.status != http.StatusOK {
				t.Fatalf("%d\n%.900s", a.status, a.body)
			}
			var have any
			if err := json.Unmarshal([]byte(a.body), &have); err != nil {
				t.Fatal(err)
			}
			same(t, x.name, have, want["transfer"], 1e-8)
			view(t, s, path+"/chart?format=svg", want["chart"], svgLines, 2e-2) // points are rounded to a tenth, and beside the rim a curve may be seven of them high
			view(t, s, path+"/calendar", want["calendar"], visitTimes, 0)
		})
	}
}

// view compares a picture or a calendar. A stopped transfer has a calendar now, where the first
// release had none: it cancels what was announced.
func view(t *testing.T, s *service, path string, want any, read func(string) any, tolerance float64) {
	t.Helper()
	a := s.get(t, path)
	if want == nil {
		if a.status != http.StatusConflict && a.status != http.StatusBadRequest && a.status != http.StatusOK {
			t.Errorf("%s: %d", path, a.status)
		}
		if strings.Contains(path, "/calendar") && a.status == http.StatusOK && !strings.Contains(a.body, "STATUS:CANCELLED") {
			t.Errorf("%s: nothing is cancelled\n%.900s", path, a.body)
		}
		return
	}
	if a.status != http.StatusOK {
		t.Errorf("%s: %d\n%.900s", path, a.status, a.body)
		return
	}
	same(t, path, read(a.body), want, tolerance)
}

// same reports where an answer lacks or changes what was recorded. Additions by a later release
// are no difference.
func same(t *testing.T, at string, have, want any, tolerance float64) {
	t.Helper()
	switch want := want.(type) {
	case map[string]any:
		h, ok := have.(map[string]any)
		if !ok {
			t.Errorf("%s is %v, want an object", at, have)
			return
		}
		for name, w := range want {
			same(t, at+"."+name, h[name], w, tolerance)
		}
	case []any:
		h, ok := have.([]any)
		if !ok || len(h) != len(want) {
			t.Errorf("%s has %d entries, want %d", at, len(h), len(want))
			return
		}
		for i, w := range want {
			same(t, fmt.Sprintf("%s.%d", at, i), h[i], w, tolerance)
		}
	case float64:
		h, ok := have.(float64)
		if !ok || math.Abs(h-want) > tolerance*max(1, math.Abs(want)) {
			t.Errorf("%s is %v, want %v", at, have, want)
		}
	default:
		if have != want {
			t.Errorf("%s is %v, want %v", at, have, want)
		}
	}
}

// svgLines are the curves of a picture, each scaled to a unit square.
func svgLines(svg string) any {
	var curves []any
	for _, m := range regexp.MustCompile(`<polyline class="line" points="([^"]*)"`).FindAllStringSubmatch(svg, -1) {
		var x, y []float64
		for p := range strings.FieldsSeq(m[1]) {
			a, b, _ := strings.Cut(p, ",")
			u, _ := strconv.ParseFloat(a, 64)
			v, _ := strconv.ParseFloat(b, 64)
			x, y = append(x, u), append(y, v)
		}
		unit(x)
		unit(y)
		var curve []any
		for i := range x {
			curve = append(curve, []any{x[i], y[i]})
		}
		curves = append(curves, curve)
	}
	return curves
}

// unit moves numbers to between 0 and 1.
func unit(x []float64) {
	lo, hi := slices.Min(x), slices.Max(x)
	if hi == lo {
		hi = lo + 1
	}
	for i := range x {
		x[i] = (x[i] - lo) / (hi - lo)
	}
}

// visitTimes are the name, start and end of every visit in a calendar.
func visitTimes(ics string) any {
	var visits []any
	for _, m := range regexp.MustCompile(`UID:(\S+)\r\nDTSTAMP:\S+\r\nDTSTART:(\S+)\r\nDTEND:(\S+)`).FindAllStringSubmatch(ics, -1) {
		visits = append(visits, []any{m[1], m[2], m[3]})
	}
	return visits
}
