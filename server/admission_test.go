package server_test

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"
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

// stream begins a table that does not end yet, and returns what ends it.
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

// wait waits until something holds, and tells how long that took.
func wait(t *testing.T, most time.Duration, what string, holds func() bool) time.Duration {
	t.Helper()
	start := time.Now()
	for !holds() {
		if time.Since(start) > most {
			t.Fatalf("%s: not within %v", what, most)
		}
		time.Sleep(time.Millisecond)
	}
	return time.Since(start)
}

// A class that is full turns its requests away, with when to come again; all
// others are answered, and it heals as soon as a place is free.
func TestCrowdedClass(t *testing.T) {
	s := newService(t)
	const inFlight = `saltlock_admission_in_flight{class="batch"}`
	var ends []func()
	for range 4 * runtime.GOMAXPROCS(0) {
		ends = append(ends, stream(t, s))
	}
	wait(t, 10*time.Second, "all tables are let in", func() bool { return metric(t, s, inFlight) == float64(len(ends)) })
	list := `[{"reading": "35 ppt"}]`
	refused := make(chan error, 1)
	go func() {
		r, err := http.Post(s.URL+"/v1/conversions", "application/json", strings.NewReader(list))
		if err != nil {
			refused <- err
			return
		}
		defer r.Body.Close()
		body, err := io.ReadAll(r.Body)
		if wait, _ := strconv.Atoi(r.Header.Get("Retry-After")); r.StatusCode != http.StatusServiceUnavailable || wait < 1 || !strings.Contains(string(body), "/problems/crowded") {
			err = fmt.Errorf("%d, Retry-After %q\n%s", r.StatusCode, r.Header.Get("Retry-After"), body)
		}
		refused <- err
	}()
	wait(t, time.Second, "one waits", func() bool { return metric(t, s, `saltlock_admission_queue{class="batch"}`) == 1 })
	if a := s.get(t, "/v1/conversions?reading=35%20ppt"); a.status != http.StatusOK {
		t.Errorf("a single conversion: %d", a.status)
	}
	start := time.Now()
	if err := <-refused; err != nil {
		t.Error(err)
	}
	if took := time.Since(start); took > 3*time.Second {
		t.Errorf("turned away after %v", took)
	}
	if shed := metric(t, s, `saltlock_admission_shed_total{class="batch"}`); shed != 1 {
		t.Errorf("%g shed, want 1", shed)
	}
	for _, end := range ends {
		end()
	}
	if a := s.call(t, http.MethodPost, "/v1/conversions", list); a.status != http.StatusOK {
		t.Errorf("with places free: %d", a.status)
	}
	if n := metric(t, s, inFlight); n != 0 {
		t.Errorf("%g in flight at the end", n)
	}
}

// A queue has an end: who comes when it is full is turned away at once.
func TestFullQueue(t *testing.T) {
	s := newService(t)
	var ends []func()
	for range 4 * runtime.GOMAXPROCS(0) {
		ends = append(ends, stream(t, s))
	}
	wait(t, 10*time.Second, "all tables are let in", func() bool {
		return metric(t, s, `saltlock_admission_in_flight{class="batch"}`) == float64(len(ends))
	})
	places := 16 * runtime.GOMAXPROCS(0)
	took := make(chan time.Duration)
	for range places + 8 {
		go func() {
			start := time.Now()
			r, err := http.Post(s.URL+"/v1/conversions", "application/json", strings.NewReader(`[{"reading": "35 ppt"}]`))
			if err != nil || r.StatusCode != http.StatusServiceUnavailable {
				t.Errorf("%v, %v", r, err)
			}
			if err == nil {
				r.Body.Close()
			}
			took <- time.Since(start)
		}()
	}
	quick := 0
	for range places + 8 {
		if <-took < time.Second {
			quick++
		}
	}
	if quick < 4 || quick > 16 {
		t.Errorf("%d were turned away at once, want about 8", quick)
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

// Who hangs up right after asking has nothing saved.
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
