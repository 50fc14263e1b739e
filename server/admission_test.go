package server_test

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"saltlock/server"
)

// metric reads one number of /metrics.
func metric(t *testing.T, s *service, name string) float64 {
	t.Helper()
	for lines := bufio.NewScanner(strings.NewReader(s.get(t, "/metrics").body)); lines.Scan(); {
		if rest, ok := strings.CutPrefix(lines.Text(), name+" "); ok {
			x, err := strconv.ParseFloat(rest, 64)
			if err != nil {
				t.Fatal(err)
			}
			return x
		}
	}
	t.Fatalf("no metric %s", name)
	return 0
}

// stream begins a table that does not end yet, and returns the function that ends it.
func stream(t *testing.T, s *service) (end func()) {
	t.Helper()
	in, out := io.Pipe()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.URL+"/v1/conversions", in)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "text/csv")
	done := make(chan struct{})
	go func() {
		defer close(done)
		a, err := s.Client().Do(r)
		if err != nil {
			t.Error(err)
			return
		}
		defer a.Body.Close()
		if _, err := io.Copy(io.Discard, a.Body); err != nil {
			t.Error(err)
		}
	}()
	if _, err := io.WriteString(out, "reading,temperature\n35 ppt,25C\n"); err != nil {
		t.Fatal(err)
	}
	return func() {
		out.Close()
		<-done
	}
}

// wait waits until something holds, and returns how long that took.
func wait(t *testing.T, most time.Duration, what string, holds func() bool) time.Duration {
	t.Helper()
	start := time.Now()
	for !holds() {
		if time.Since(start) > slower*most {
			t.Fatalf("%s: not within %v", what, most)
		}
		time.Sleep(time.Millisecond)
	}
	return time.Since(start)
}

// from posts as another client, named by a proxy, and says how that went.
func (s *service) from(t *testing.T, client, media string, body io.Reader) (*http.Response, error) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.URL+"/v1/conversions", body)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", media)
	r.Header.Set("X-Forwarded-For", client)
	return s.Client().Do(r)
}

const oneReading = `[{"reading": "35 ppt"}]`

// Tables that wait for their clients delay nobody else: one client has only a few links, and a
// waiting link holds no place in a gate.
func TestIdleTablesHoldUpNobodyElse(t *testing.T) {
	t.Parallel()
	s := newServiceWith(t, server.Options{TrustedProxies: []netip.Prefix{netip.MustParsePrefix("127.0.0.1/32")}})
	var ends []func()
	for range 8 {
		ends = append(ends, stream(t, s))
	}
	wait(t, 10*time.Second, "all tables are open", func() bool { return metric(t, s, `saltlock_admission_in_flight{class="stream"}`) == 8 })
	if n := metric(t, s, `saltlock_admission_in_flight{class="batch"}`); n != 0 {
		t.Errorf("%g places are held where nothing is computed", n)
	}
	ninth, err := s.from(t, "127.0.0.1", "application/json", strings.NewReader(oneReading))
	if err != nil {
		t.Fatal(err)
	}
	defer ninth.Body.Close()
	if again, _ := strconv.Atoi(ninth.Header.Get("Retry-After")); ninth.StatusCode != http.StatusTooManyRequests || again < 1 {
		t.Errorf("the ninth of one client: %d, Retry-After %d; want 429 and when to come again", ninth.StatusCode, again)
	}
	start := time.Now()
	other, err := s.from(t, "192.0.2.7", "application/json", strings.NewReader(oneReading))
	if err != nil {
		t.Fatal(err)
	}
	defer other.Body.Close()
	if took := time.Since(start); other.StatusCode != http.StatusOK || took > slower*time.Second {
		t.Errorf("another client: %d after %v, want 200 at once", other.StatusCode, took)
	}
	for _, end := range ends {
		end()
	}
	if a := s.call(t, http.MethodPost, "/v1/conversions", oneReading); a.status != http.StatusOK {
		t.Errorf("with places free: %d", a.status)
	}
	wait(t, time.Second, "no link is open at the end", func() bool { // an answer comes a moment before its place is free
		return metric(t, s, `saltlock_admission_in_flight{class="stream"}`) == 0
	})
}

// Many clients together get a limited number of links; the rest are turned away with a time to
// come again.
func TestCrowdedLinks(t *testing.T) {
	t.Parallel()
	s := newServiceWith(t, server.Options{TrustedProxies: []netip.Prefix{netip.MustParsePrefix("127.0.0.1/32")}})
	var open []*io.PipeWriter
	most := 32 * runtime.GOMAXPROCS(0)
	for i := range most {
		in, out := io.Pipe()
		open = append(open, out)
		go func() {
			if r, err := s.from(t, fmt.Sprintf("192.0.2.%d", i/8), "text/csv", in); err == nil {
				_, _ = io.Copy(io.Discard, r.Body) // it ends with the test
				r.Body.Close()
			}
		}()
		if _, err := io.WriteString(out, "reading\n35 ppt\n"); err != nil {
			t.Fatal(err)
		}
	}
	wait(t, 20*time.Second, "all tables are open", func() bool {
		return metric(t, s, `saltlock_admission_in_flight{class="stream"}`) == float64(most)
	})
	r, err := s.from(t, "198.51.100.1", "application/json", strings.NewReader(oneReading))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if again, _ := strconv.Atoi(r.Header.Get("Retry-After")); err != nil || r.StatusCode != http.StatusServiceUnavailable || again < 1 || !strings.Contains(string(body), "/problems/crowded") {
		t.Errorf("one more: %d, Retry-After %d, %v; want 503\n%s", r.StatusCode, again, err, body)
	}
	if a := s.get(t, "/v1/conversions?reading=35%20ppt"); a.status != http.StatusOK {
		t.Errorf("a single conversion: %d", a.status)
	}
	if shed := metric(t, s, `saltlock_admission_shed_total{class="stream"}`); shed != 1 {
		t.Errorf("%g shed, want 1", shed)
	}
	for _, out := range open {
		out.Close()
	}
}

// A queue has an end: whoever comes when it is full is turned away at once.
func TestFullQueue(t *testing.T) {
	s := newService(t)
	var ends []func()
	for range 8 {
		ends = append(ends, stream(t, s))
	}
	wait(t, 10*time.Second, "all tables are open", func() bool { return metric(t, s, `saltlock_admission_in_flight{class="stream"}`) == 8 })
	const places, more = 16, 8
	took := make(chan time.Duration)
	for range places + more {
		go func() {
			start := time.Now()
			r, err := http.Post(s.URL+"/v1/conversions", "application/json", strings.NewReader(oneReading))
			if err != nil || r.StatusCode != http.StatusTooManyRequests {
				t.Errorf("%v, %v", r, err)
			}
			if err == nil {
				r.Body.Close()
			}
			took <- time.Since(start)
		}()
	}
	quick := 0
	for range places + more {
		if <-took < time.Second {
			quick++
		}
	}
	if quick < more/2 || quick > 2*more {
		t.Errorf("%d were turned away at once, want about %d", quick, more)
	}
	for _, end := range ends {
		end()
	}
}

// lost is a connection that breaks when the answer is written.
type lost struct{ header http.Header }

func (l lost) Header() http.Header     { return l.header }
func (lost) WriteHeader(int)           {}
func (lost) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }
func (lost) FlushError() error         { return io.ErrClosedPipe }
func (f faulty) kept(t *testing.T) int {
	t.Helper()
	var rows int
	if err := f.sql.QueryRowContext(t.Context(), "SELECT COUNT(*) FROM transfers").Scan(&rows); err != nil {
		t.Fatal(err)
	}
	return rows
}

// A transfer is kept only if its key is with the client or a retry can get it.
func TestTransferWhoseKeyIsLost(t *testing.T) {
	const random = "5f0c2c0e-4c1b-4a35-9d0a-6f1c2b7e4d90"
	for retry, want := range map[string]int{"": 0, "my-first-transfer": 0, random: 1} {
		f := newFaulty(t)
		r := httptest.NewRequestWithContext(t.Context(), http.MethodPost, "/v1/transfers", strings.NewReader(savedBody))
		r.Header.Set("Content-Type", "application/json")
		if retry != "" {
			r.Header.Set("Idempotency-Key", retry)
		}
		f.Config.Handler.ServeHTTP(lost{http.Header{}}, r)
		if got := f.kept(t); got != want {
			t.Errorf("with the idempotency key %q %d transfers are kept, want %d", retry, got, want)
		}
	}
}

// If a client hangs up right after asking, nothing is saved for it.
func TestTransferOfWhoHangsUp(t *testing.T) {
	f := newFaulty(t)
	for range 20 {
		c, err := net.Dial("tcp", f.Listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		if _, err := fmt.Fprintf(c, "POST /v1/transfers HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s", len(savedBody), savedBody); err != nil {
			t.Fatal(err)
		}
		c.Close()
	}
	f.Close() // waits for what is still being computed
	if got := f.kept(t); got != 0 {
		t.Errorf("%d transfers are kept that nobody can change", got)
	}
}
