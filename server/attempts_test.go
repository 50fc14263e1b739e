package server_test

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
)

// attempts reads what hostile clients try.
func attempts(t *testing.T) [][]string {
	t.Helper()
	file, err := os.Open("../testdata/attempts/attempts.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// Every attempt in the list gets its answer, none a 5xx, and the transfers stay as they were.
func TestAttempts(t *testing.T) {
	s := newService(t)
	const retry = "0190b6f2-7c1a-7d3e-9c55-3f1f6f1f7a01"
	saved := s.call(t, http.MethodPost, "/v1/transfers", savedBody, "Idempotency-Key", retry)
	other := s.call(t, http.MethodPost, "/v1/transfers", savedBody)
	id, key := saved.field(t, "id").(string), saved.field(t, "key").(string)
	fill := strings.NewReplacer("{id}", id, "{key}", key, "{other}", other.field(t, "id").(string), `\n`, "\n")
	before := s.get(t, "/v1/transfers/"+id).body
	for _, row := range attempts(t) {
		name, method, target, headers, body, status, says, hides := row[0], row[1], fill.Replace(row[2]), fill.Replace(row[3]), fill.Replace(row[4]), row[5], row[6], fill.Replace(row[7])
		t.Run(name, func(t *testing.T) {
			var pairs []string
			for line := range strings.Lines(headers) {
				field, value, _ := strings.Cut(strings.TrimSpace(line), ": ")
				pairs = append(pairs, field, value)
			}
			a := s.call(t, method, target, body, pairs...)
			if want, err := strconv.Atoi(status); err == nil && a.status != want || a.status >= 500 {
				t.Errorf("%d, want %s\n%.500s", a.status, status, a.body)
			}
			whole := fmt.Sprint(a.header) + "\n" + a.body
			if !strings.Contains(whole, says) {
				t.Errorf("says nothing of %q\n%.500s", says, a.body)
			}
			if hides != "" && strings.Contains(whole, hides) {
				t.Errorf("says %q\n%.500s", hides, whole)
			}
			if a.header.Get("X-Evil") != "" || a.header.Get("Set-Cookie") != "" {
				t.Errorf("headers of the client's making: %v", a.header)
			}
		})
	}
	if after := s.get(t, "/v1/transfers/"+id).body; after != before {
		t.Errorf("the transfer has changed\n%s\nbefore\n%s", after, before)
	}
}

// raw sends bytes that no client library would send, and returns the statuses that come back.
func raw(t *testing.T, s *service, request string) (statuses []int) {
	t.Helper()
	c, err := net.Dial("tcp", strings.TrimPrefix(s.URL, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if err := c.SetDeadline(time.Now().Add(5 * time.Second)); err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(c, request); err != nil {
		t.Fatal(err)
	}
	for in := bufio.NewReader(c); ; {
		r, err := http.ReadResponse(in, nil)
		if err != nil {
			return statuses
		}
		if _, err := io.Copy(io.Discard, r.Body); err != nil {
			return statuses
		}
		statuses = append(statuses, r.StatusCode)
		if r.Close {
			return statuses
		}
	}
}

// A second request hidden in the body of a first is never answered.
func TestSmuggledRequests(t *testing.T) {
	s := newService(t)
	const hidden = "GET /healthz HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n"
	for name, request := range map[string]string{
		"two lengths":          "POST /v1/transfers/plan HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 2\r\nContent-Length: 3\r\n\r\n{}" + hidden,
		"length and chunks":    "POST /v1/transfers/plan HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 4\r\nTransfer-Encoding: chunked\r\nConnection: close\r\n\r\n0\r\n\r\n" + hidden,
		"chunks misspelt":      "POST /v1/transfers/plan HTTP/1.1\r\nHost: x\r\nTransfer-Encoding: xchunked\r\n\r\n0\r\n\r\n" + hidden,
		"a blank in a name":    "GET /v1/methods HTTP/1.1\r\nHost : x\r\n\r\n" + hidden,
		"a folded header":      "GET /v1/methods HTTP/1.1\r\nHost: x\r\n Evil: 1\r\nX y: 1\r\n\r\n" + hidden,
		"no host":              "GET /v1/methods HTTP/1.1\r\n\r\n" + hidden,
		"two hosts":            "GET /v1/methods HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n" + hidden,
		"a length of a letter": "POST /v1/transfers/plan HTTP/1.1\r\nHost: x\r\nContent-Length: +2\r\n\r\n{}" + hidden,
	} {
		got := raw(t, s, request)
		if len(got) != 1 || got[0] < 400 || got[0] >= 500 && got[0] != http.StatusNotImplemented {
			t.Errorf("%s: answered %v, want one refusal", name, got)
		}
	}
}
