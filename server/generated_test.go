package server_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/getkin/kin-openapi/openapi3filter"
)

// generatedRequests is how many requests are generated unless SALTLOCK_REQUESTS says otherwise;
// .ci/run asks for 20,000, the soak for 200,000. With -short they are fewest.
const (
	generatedRequests = 2500
	fewestRequests    = 800
)

// oneField is the media type of a field asked for with only= as JSON.
const oneField = "application/vnd.saltlock.field+json"

// mostBroken is the number of broken answers after which the test stops.
const mostBroken = 20

// Requests generated from the contract, valid and nearly valid: each is answered as the contract
// says, and none with a 5xx. A request follows from its number alone, so SALTLOCK_REQUEST=4711
// repeats one.
func TestGeneratedRequests(t *testing.T) {
	t.Parallel()
	s := newService(t)
	g := newGenerator(t, s)
	from, to := 0, generatedRequests
	if testing.Short() {
		to = fewestRequests
	}
	if text := os.Getenv("SALTLOCK_REQUESTS"); text != "" {
		to = atoi(t, text)
	}
	if text := os.Getenv("SALTLOCK_REQUEST"); text != "" {
		from = atoi(t, text)
		to = from + 1
	}
	var next, broken atomic.Int64
	next.Store(int64(from))
	count := map[string]int{}
	turnedAway := 0
	var mu sync.Mutex
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for broken.Load() < mostBroken {
				i := next.Add(1) - 1
				if i >= int64(to) {
					return
				}
				m := g.request(uint64(i))
				status, faults := m.ask(s.Config.Handler)
				// While the other worker has the one place of a dear plan, this one may be turned
				// away, and asks again as it is told to.
				again := 0
				for ; status == http.StatusServiceUnavailable && again < slower; again++ {
					status, faults = m.ask(s.Config.Handler)
				}
				mu.Lock()
				turnedAway += again
				count[m.route.Operation.OperationID]++
				count[strconv.Itoa(status)]++
				mu.Unlock()
				if len(faults) > 0 {
					broken.Add(1)
					t.Errorf("request %d: %s: %d\n%s", i, m, status, strings.Join(faults, "\n"))
				}
			}
		})
	}
	wg.Wait()
	t.Logf("%v; asked again %d times", count, turnedAway)
	if turnedAway > slower*(1+to/10000) {
		t.Errorf("%d of %d requests were turned away", turnedAway, to)
	}
	if from > 0 || broken.Load() > 0 {
		return
	}
	for _, r := range g.routes {
		if count[r.Operation.OperationID] == 0 {
			t.Errorf("no request of %s", r.Operation.OperationID)
		}
	}
	for _, status := range []string{"200", "201", "204", "304", "400", "401", "404", "406", "415", "422"} {
		if count[status] == 0 {
			t.Errorf("no request was answered %s: the mix tries too little", status)
		}
	}
}

func atoi(t *testing.T, text string) int {
	t.Helper()
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// linked is a recorder to which a table can be streamed.
type linked struct{ *httptest.ResponseRecorder }

func (linked) EnableFullDuplex() error          { return nil }
func (linked) SetReadDeadline(time.Time) error  { return nil }
func (linked) SetWriteDeadline(time.Time) error { return nil }
func (l linked) Unwrap() http.ResponseWriter    { return l.ResponseRecorder }
func (l linked) FlushError() error              { l.Flush(); return nil }

// ask sends the request and lists what is wrong with the answer.
func (m *made) ask(h http.Handler) (status int, faults []string) {
	u := m.url()
	r := (&http.Request{Method: m.route.Method, URL: u, Host: u.Host, RequestURI: u.RequestURI(), Header: m.header.Clone(), Proto: "HTTP/1.1", ProtoMajor: 1, ProtoMinor: 1,
		Body: io.NopCloser(strings.NewReader(m.body)), ContentLength: int64(len(m.body)), RemoteAddr: "127.0.0.1:1"}).WithContext(context.Background())
	w := linked{httptest.NewRecorder()}
	h.ServeHTTP(w, r)
	a := answered{w.Code, w.Header(), w.Body.String()}
	if a.status >= http.StatusInternalServerError {
		faults = append(faults, "a fault of our own: "+a.body)
	}
	if routed, ok := m.routed(u); !ok {
		return a.status, faults
	} else if a.status != http.StatusNotModified && a.status != http.StatusNoContent {
		faults = append(faults, m.broken(routed, a)...)
	}
	return a.status, faults
}

// routed is the request as its operation received it; not ok if it went elsewhere.
func (m *made) routed(u *url.URL) (*http.Request, bool) {
	for _, v := range m.path {
		if v == "" || v == "../.." || strings.ContainsAny(v, "/") {
			return nil, false
		}
	}
	return &http.Request{Method: m.route.Method, URL: u, Header: m.header}, !strings.Contains(u.Path, "{")
}

// broken lists how an answer breaks the contract.
func (m *made) broken(r *http.Request, a answered) (faults []string) {
	media := a.header.Get("Content-Type")
	switch {
	case media == "application/problem+json":
		var p problem
		if err := json.Unmarshal([]byte(a.body), &p); err != nil || p.Status != a.status || len(p.Errors) > 100 {
			faults = append(faults, fmt.Sprintf("status %d with the problem (%v) %.500s", a.status, err, a.body))
		}
	case a.status >= 300 && !strings.HasPrefix(media, "text/plain"): // which may be asked for
		faults = append(faults, "a refusal as "+media)
	case strings.HasPrefix(media, "text/csv"):
		rows := csv.NewReader(strings.NewReader(a.body))
		rows.LazyQuotes = true
		if q := r.URL.Query(); q.Get("sep") == "semicolon" || q.Get("sep") == "" && q.Get("decimal") == "comma" {
			rows.Comma = ';'
		}
		if _, err := rows.ReadAll(); err != nil {
			faults = append(faults, fmt.Sprintf("a ragged table: %v\n%.500s", err, a.body))
		}
	}
	if m.only && strings.Contains(media, "json") && a.status == http.StatusOK && media != oneField {
		faults = append(faults, "one field as "+media)
	}
	err := openapi3filter.ValidateResponse(context.Background(), &openapi3filter.ResponseValidationInput{
		RequestValidationInput: &openapi3filter.RequestValidationInput{Request: r, Route: m.route},
		Status:                 a.status, Header: a.header, Body: io.NopCloser(bytes.NewBufferString(a.body)),
		Options: &openapi3filter.Options{MultiError: true, IncludeResponseStatus: true},
	})
	if err != nil {
		faults = append(faults, fmt.Sprintf("the contract is broken: %.1500v\n%.1500s", err, a.body))
	}
	return faults
}
