package server_test

import (
	"bufio"
	"bytes"
	"fmt"
	"log"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
)

// What a second attack over HTTP found.

// Go reads an offset of a day but does not write it again, which used to give a 500.
func TestOffsetsOfADay(t *testing.T) {
	s := newService(t)
	for _, at := range []string{"2026-12-01T09:00:00+24:00", "2026-12-01T09:00:00-24:00", "2026-12-01T09:00:00+23:60"} {
		body := `{` + twoWaters + `,"start":"` + at + `"}`
		for _, target := range []string{"/v1/transfers", "/v1/transfers/plan?format=ics"} {
			status, _, answer := s.send(t, target, "application/json", strings.NewReader(body))
			if status != http.StatusBadRequest || !strings.Contains(answer, "/start") {
				t.Errorf("%s at %s: %d, want 400 at /start\n%s", target, at, status, answer)
			}
		}
	}
	status, _, answer := s.send(t, "/v1/transfers/plan", "application/json", strings.NewReader(`{`+twoWaters+`,"start":"2026-12-01T09:00:00+14:00"}`))
	if strings.Contains(answer, "from UTC") {
		t.Errorf("an offset that clocks have is refused: %d %s", status, answer)
	}
}

// lockedBuffer is a log that a server writes while the test reads it.
type lockedBuffer struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (b *lockedBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.text.Write(p)
}

func (b *lockedBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.text.String()
}

// A table answered before it was read to its end used to panic in net/http.
func TestTablesAnsweredEarly(t *testing.T) {
	s := newService(t)
	said := new(lockedBuffer)
	s.Config.ErrorLog = log.New(said, "", 0)
	for _, c := range []struct {
		name, table string
		status      int
	}{
		{"no reading", "a,b,c\n" + strings.Repeat("1,2,3\n", 2000), http.StatusBadRequest},
		{"a wide head", strings.Repeat("a,", 10_000) + "\n" + strings.Repeat("1,2,3\n", 2000), http.StatusBadRequest},
		{"a long row", "reading [ppt]\n" + strings.Repeat("1", 200_000) + "\n", http.StatusOK},
	} {
		for range 3 {
			if status, _, answer := s.send(t, "/v1/conversions", "text/csv", strings.NewReader(c.table)); status != c.status {
				t.Errorf("%s: %d, want %d\n%.300s", c.name, status, c.status, answer)
			}
		}
	}
	s.Close()
	if strings.Contains(said.String(), "panic") {
		t.Errorf("the server says\n%.600s", said)
	}
}

// A client that sends everything before it reads still gets its refusal, which closing the
// connection on the rest would destroy.
func TestRefusalsOfLongBodiesArrive(t *testing.T) {
	s := newService(t)
	const long = 8 << 20
	for name, c := range map[string]struct {
		target, media, body string
		status              int
	}{
		"a table without reading": {"/v1/conversions", "text/csv", "a,b,c\n" + strings.Repeat("1,2,3\n", long/6), http.StatusBadRequest},
		"a charset":               {"/v1/conversions", "text/csv; charset=utf-7", strings.Repeat("1", long), http.StatusUnsupportedMediaType},
		"a list":                  {"/v1/conversions", "application/json", "[" + strings.Repeat("0,", long/2), http.StatusRequestEntityTooLarge},
		"a plan":                  {"/v1/transfers/plan", "application/json", strings.Repeat(" ", long), http.StatusRequestEntityTooLarge},
		"a media type":            {"/v1/transfers", "text/plain", strings.Repeat(" ", long), http.StatusUnsupportedMediaType},
	} {
		for range 3 {
			link, err := net.Dial("tcp", s.Listener.Addr().String())
			if err != nil {
				t.Fatal(err)
			}
			_, err = fmt.Fprintf(link, "POST %s HTTP/1.1\r\nHost: x\r\nContent-Type: %s\r\nContent-Length: %d\r\n\r\n%s", c.target, c.media, len(c.body), c.body)
			answer, noAnswer := http.ReadResponse(bufio.NewReader(link), nil)
			if err != nil || noAnswer != nil || answer.StatusCode != c.status {
				t.Errorf("%s: sent %v, answered %v; want %d", name, err, noAnswer, c.status)
			}
			link.Close()
		}
	}
}

// Lines ending in a bare carriage return used to count as one head and no rows, with status 200.
func TestTableOfCarriageReturns(t *testing.T) {
	s := newService(t)
	status, _, answer := s.send(t, "/v1/conversions", "text/csv", strings.NewReader("reading [ppt],tank\r35,a\r30,b\r"))
	if status != http.StatusBadRequest || !strings.Contains(answer, "line feeds") {
		t.Errorf("%d, want 400 that names the line ends\n%s", status, answer)
	}
}

func TestJSONWithByteOrderMark(t *testing.T) {
	s := newService(t)
	for target, body := range map[string]string{"/v1/conversions": `[{"reading":"35 ppt"}]`, "/v1/transfers/plan": `{` + twoWaters + `,"animals":[{"sensitivity":"hardy"}]}`} {
		if status, _, answer := s.send(t, target, "application/json", strings.NewReader("\xef\xbb\xbf"+body)); status != http.StatusOK {
			t.Errorf("%s: %d, want 200\n%s", target, status, answer)
		}
	}
}
