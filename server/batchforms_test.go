package server_test

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"net/http"
	"runtime"
	"strings"
	"testing"
)

// A table is answered in the format asked for; it used to be always CSV.
func TestTableInEveryFormat(t *testing.T) {
	s := newService(t)
	const table = "tank,reading [ppt],temperature [C]\r\nA,35,25\r\nB,furlongs,25\r\n"
	const list = `[{"reading":"35 ppt","temperature":"25 C"}]`
	for name, c := range map[string]struct{ query, accept, media string }{
		"by default":    {"", "", "text/csv"},
		"anything":      {"", "*/*", "text/csv"},
		"a browser":     {"", "text/html,application/xml;q=0.9,*/*;q=0.8", "text/csv"},
		"format=csv":    {"?format=csv", "application/json", "text/csv"},
		"format=json":   {"?format=json", "", "application/json"},
		"Accept JSON":   {"", "application/json", "application/json"},
		"format=text":   {"?format=text", "", "text/plain"},
		"Accept a text": {"", "text/plain", "text/plain"},
	} {
		a := s.call(t, http.MethodPost, "/v1/conversions"+c.query, table, "Content-Type", "text/csv", "Accept", c.accept)
		if got, _, _ := strings.Cut(a.header.Get("Content-Type"), ";"); a.status != http.StatusOK || got != c.media {
			t.Errorf("%s: %d %s, want %s\n%.300s", name, a.status, got, c.media, a.body)
		}
		switch c.media {
		case "application/json":
			listed := s.call(t, http.MethodPost, "/v1/conversions", list)
			if got, want := fmt.Sprint(a.field(t, "items.0")), fmt.Sprint(listed.field(t, "items.0")); got != want {
				t.Errorf("%s: a row is\n%s\nthe same reading in a list\n%s", name, got, want)
			}
			if a.number(t, "good") != 1 || a.number(t, "bad") != 1 || a.field(t, "items.1.errors.0.where") != "reading" {
				t.Errorf("%s: %s", name, a.body)
			}
		case "text/plain":
			if a.body != "1 reading converted, 1 with errors.\n" {
				t.Errorf("%s: %q", name, a.body)
			}
		}
	}
	if a := s.call(t, http.MethodPost, "/v1/conversions", table, "Content-Type", "text/csv", "Accept", "image/png"); a.status != http.StatusNotAcceptable {
		t.Errorf("a picture of a table: %d, want 406", a.status)
	}
}

// A long list keeps its order across chunks, in JSON and as a table.
func TestLongListInOrder(t *testing.T) {
	s := newService(t)
	const n = 1234
	items := make([]string, n)
	for i := range items {
		items[i] = fmt.Sprintf(`{"reading":"%d.%02d ppt"}`, 1+i/100, i%100)
		if i%100 == 50 {
			items[i] = `{"reading":"nothing"}`
		}
	}
	list := "[" + strings.Join(items, " ,\n") + "]"
	a := s.call(t, http.MethodPost, "/v1/conversions", list)
	var told struct {
		Good, Bad int
		Items     []struct {
			Conversion *struct {
				Practical struct{ Value float64 } `json:"practical_salinity"`
			}
			Errors []struct{ Reason string }
		}
	}
	if err := json.Unmarshal([]byte(a.body), &told); err != nil || len(told.Items) != n || told.Bad != 12 || told.Good != n-12 {
		t.Fatalf("%d items, %d good, %d bad, %v", len(told.Items), told.Good, told.Bad, err)
	}
	rows, err := csv.NewReader(strings.NewReader(s.call(t, http.MethodPost, "/v1/conversions?format=csv", list).body)).ReadAll()
	if err != nil || len(rows) != n+1 {
		t.Fatalf("%d lines, %v", len(rows), err)
	}
	for i, item := range told.Items {
		want := float64(1+i/100) + float64(i%100)/100
		switch {
		case i%100 == 50:
			if item.Conversion != nil || len(item.Errors) != 1 || rows[i+1][0] != "" || rows[i+1][len(rows[0])-1] == "" {
				t.Fatalf("item %d: %+v, %v; want an error", i, item, rows[i+1])
			}
		case item.Conversion == nil || item.Conversion.Practical.Value < want-1e-9 || item.Conversion.Practical.Value > want+1e-9 || rows[i+1][0] != fmt.Sprintf("%.6g", want):
			t.Fatalf("item %d: %+v, %v; want %g ppt", i, item.Conversion, rows[i+1], want)
		}
	}
}

// A table is read in the charset it declares; bytes that do not fit are reported.
func TestCharsetsOfTables(t *testing.T) {
	s := newService(t)
	for media, body := range map[string]string{
		"text/csv; charset=iso-8859-1":     "beh\xe4lter,reading\nk\xfcbel,35 ppt\n",
		"text/csv; charset=Windows-1252":   "beh\xe4lter,reading\nk\xfcbel,35 ppt\n",
		"text/csv; charset=\"UTF-8\"":      "behälter,reading\nkübel,35 ppt\n",
		"text/csv":                         "behälter,reading\nkübel,35 ppt\n",
		"text/csv; header=present; x=late": "behälter,reading\nkübel,35 ppt\n",
	} {
		status, header, answer := s.send(t, "/v1/conversions", media, strings.NewReader(body))
		if status != http.StatusOK || header.Get("Content-Type") != "text/csv; charset=utf-8" || !strings.HasPrefix(answer, "behälter,reading,") || !strings.Contains(answer, "\r\nkübel,35 ppt,35,") {
			t.Errorf("%s: %d\n%s", media, status, answer)
		}
	}
	status, _, answer := s.send(t, "/v1/conversions", "text/csv; charset=utf-16", strings.NewReader("reading\n35 ppt\n"))
	if status != http.StatusUnsupportedMediaType || !strings.Contains(answer, "iso-8859-1") || !strings.Contains(answer, "utf-8") {
		t.Errorf("utf-16: %d, want 415 that names what is read\n%s", status, answer)
	}
	if status, _, answer = s.send(t, "/v1/conversions", "text/csv", strings.NewReader("beh\xe4lter,reading\nA,35 ppt\n")); status != http.StatusBadRequest || !strings.Contains(answer, "charset") {
		t.Errorf("a head that is not UTF-8: %d, want 400 that names the charset\n%s", status, answer)
	}
	_, _, answer = s.send(t, "/v1/conversions", "text/csv", strings.NewReader("tank,reading\nk\xfcbel,35 ppt\nB,34 ppt\n"))
	rows, err := csv.NewReader(strings.NewReader(answer)).ReadAll()
	if err != nil || len(rows) != 3 || rows[1][0] != "k\ufffdbel" || !strings.Contains(rows[1][len(rows[1])-1], "tank: is not UTF-8") || rows[2][len(rows[2])-1] != "" {
		t.Errorf("a row that is not UTF-8: %v\n%s", err, answer)
	}
}

// Cells that cannot be read are described in words for people.
func TestWordsOfCells(t *testing.T) {
	s := newService(t)
	_, _, answer := s.send(t, "/v1/conversions", "text/csv", strings.NewReader("reading,temperature,instrument,temperature_compensated,tds_factor\n"+
		"35 ppt,25C,refractometer,maybe,\n9 g/L,25C,tds,,half\n9 g/L,25C,tds,,NaN\n9 g/L,25C,tds,,1e999\n35 ppt,25C,refractometer,TRUE,\n"))
	rows, err := csv.NewReader(strings.NewReader(answer)).ReadAll()
	if err != nil || len(rows) != 6 {
		t.Fatalf("%v\n%s", err, answer)
	}
	for i, want := range []string{
		`temperature_compensated: "maybe" is neither true nor false`, `tds_factor: "half" is no number; write it like 0.64`,
		`tds_factor: "NaN" is no number; write it like 0.64`, `tds_factor: "1e999" is no number; write it like 0.64`, "",
	} {
		if got := rows[i+1][len(rows[i+1])-1]; got != want {
			t.Errorf("row %d: %q, want %q", i, got, want)
		}
	}
}

// A list needs the memory of a few chunks, however large its answer is.
func TestUnreadListsTakeNoMemory(t *testing.T) {
	s := newService(t)
	list := "[" + strings.Repeat(`{"reading":"35 ppt","temperature":"25 C"},`, 9999) + `{"reading":"35 ppt"}]`
	used := func() uint64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	before := used()
	for range 8 {
		r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.URL+"/v1/conversions", strings.NewReader(list))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", "application/json")
		answer, err := s.Client().Do(r)
		if err != nil {
			t.Fatal(err)
		}
		defer answer.Body.Close() // of which nothing is read
	}
	// An answer is 24 MB; the connections take a few hundred kilobytes.
	if more := (used() - before) >> 20; more > 64 && used() > before {
		t.Errorf("eight lists that nobody reads hold %d MB", more)
	}
}
