package server_test

import (
	"bufio"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// post sends a table that is written while the answer is read.
func (s *service) post(t *testing.T, write func(io.Writer)) *http.Response {
	t.Helper()
	in, out := io.Pipe()
	go func() {
		write(out)
		out.Close()
	}()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.URL+"/v1/conversions", in)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "text/csv")
	response, err := s.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { response.Body.Close() })
	return response
}

// Every row of a long table is answered, and bad rows do not stop the others. Without full duplex,
// a few thousand rows are enough to block both sides.
func TestLongTable(t *testing.T) {
	s := newService(t)
	const rows = 5000
	response := s.post(t, func(w io.Writer) {
		fmt.Fprint(w, "name,reading [SG],temperature [C]\r\n")
		for i := range rows {
			reading := "1.0075"
			if i%10 == 0 {
				reading = "1.0075 furlongs"
			}
			fmt.Fprintf(w, "row %d,%s,26\r\n", i, reading)
		}
	})
	lines := bufio.NewScanner(response.Body)
	for n := -1; lines.Scan(); n++ {
		if n >= 0 && !strings.HasPrefix(lines.Text(), fmt.Sprintf("row %d,", n)) {
			t.Fatalf("row %d is answered by %q", n, lines.Text())
		}
		if bad := strings.Contains(lines.Text(), "furlongs is no unit") || strings.Contains(lines.Text(), "is no unit of"); n >= 0 && bad != (n%10 == 0) {
			t.Fatalf("row %d: %q", n, lines.Text())
		}
	}
	if good, bad := response.Trailer.Get("Saltlock-Rows-Good"), response.Trailer.Get("Saltlock-Rows-Bad"); good != "4500" || bad != "500" {
		t.Errorf("trailers count %s good and %s bad rows, want 4500 and 500", good, bad)
	}
}

// The first rows are answered before the last are sent.
func TestTableStreams(t *testing.T) {
	s := newService(t)
	answered := make(chan struct{})
	response := s.post(t, func(w io.Writer) {
		fmt.Fprint(w, "reading,temperature\n1.0075 SG,26C\n")
		select {
		case <-answered:
		case <-time.After(20 * time.Second):
			t.Error("no row is answered while the table is open")
		}
		fmt.Fprint(w, "35 ppt,25C\n")
	})
	lines := bufio.NewReader(response.Body)
	for range 2 {
		if _, err := lines.ReadString('\n'); err != nil {
			t.Fatal(err)
		}
	}
	close(answered)
	if rest, err := io.ReadAll(lines); err != nil || !strings.HasPrefix(string(rest), "35 ppt,25C,35,") {
		t.Errorf("the last row is %q, %v", rest, err)
	}
}

// watched is a connection that counts how often its deadline is extended.
type watched struct {
	*httptest.ResponseRecorder
	moved int
}

func (w *watched) SetReadDeadline(time.Time) error { return nil }
func (w *watched) EnableFullDuplex() error         { return nil }
func (w *watched) SetWriteDeadline(time.Time) error {
	w.moved++
	return nil
}

// A client that sends without a pause is not cut off: each row extends the deadlines.
func TestTableWithoutPause(t *testing.T) {
	s := newService(t)
	var table strings.Builder
	table.WriteString("reading,temperature,note\n")
	for i := range 5000 {
		fmt.Fprintf(&table, "1.00%02d SG,26C,%d\n", i%100, i)
	}
	w := &watched{ResponseRecorder: httptest.NewRecorder()}
	r := httptest.NewRequestWithContext(t.Context(), http.MethodPost, "/v1/conversions", strings.NewReader(table.String()))
	r.Header.Set("Content-Type", "text/csv")
	s.Config.Handler.ServeHTTP(w, r)
	if lines := strings.Count(w.Body.String(), "\r\n"); lines != 5001 || w.moved < 10 {
		t.Errorf("%d lines, deadlines moved %d times; want 5001, and once in 500 rows", lines, w.moved)
	}
}

func TestTableProblems(t *testing.T) {
	s := newService(t)
	for body, want := range map[string]struct{ where, says string }{
		"raeding,temperature\n1,2\n":       {"reading", `"raeding"`},
		"":                                 {"/", "no head"},
		strings.Repeat("reading ", 10_000): {"/", "more than 65536 bytes"},
		"becken;reading [ppt]\nA;13,3\n":   {"sep", "sep=semicolon"},
		"tank\treading\nA\t35 ppt\n":       {"sep", "tabs"},
		"reading,Temperature [C],temperature (F)\n35 ppt,25,77\n": {"temperature", "2 times"},
		"reading,temprature\n35 ppt,25 C\n":                       {"temprature", `"temperature" may be meant`},
		"reading,temperature,calibraton\n1.010 SG,25 C,60F/60F\n": {"calibraton", `"calibration"`},
	} {
		a := s.call(t, http.MethodPost, "/v1/conversions", body, "Content-Type", "text/csv")
		if p := a.problem(t); a.status != 400 || len(p.Errors) != 1 || p.Errors[0].Where != want.where || !strings.Contains(p.Errors[0].Reason, want.says) {
			t.Errorf("table %.60q: %d %s, want a fault at %s that says %s", body, a.status, a.body, want.where, want.says)
		}
	}
	own := s.call(t, http.MethodPost, "/v1/conversions", "state,reading (ppt),temperature (C),temperature_2,condition\nx,35,25,y,z\n", "Content-Type", "text/csv")
	if !strings.Contains(own.body, "\nx,35,25,y,z,35,") {
		t.Errorf("columns of its own: %s", own.body)
	}
	comma := s.call(t, http.MethodPost, "/v1/conversions?decimal=comma", "becken;reading [ppt]\nA;13,3\n", "Content-Type", "text/csv")
	if !strings.Contains(comma.body, "A;13,3;13,3;") {
		t.Errorf("with decimal=comma: %s", comma.body)
	}
	if a := s.call(t, http.MethodPost, "/v1/conversions", `[]`); a.status != 400 {
		t.Errorf("an empty list: %d, want 400", a.status)
	}
}
