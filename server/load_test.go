package server_test

import (
	"fmt"
	"io"
	"net/http"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"saltlock/server"
)

// loadTime is how long the mixed load lasts unless SALTLOCK_LOAD says otherwise, as .ci/run and the
// soak do.
const loadTime = 800 * time.Millisecond

// asker sends requests of one kind until the load ends, and keeps what came back.
type asker struct {
	kind  string
	every time.Duration // of one client; 0 sends the next at once
	ask   func(i int) *http.Request

	mu    sync.Mutex
	codes map[int]int
	took  []time.Duration // of the successes

	longest time.Duration // of all
}

func (a *asker) run(t *testing.T, client *http.Client, until time.Time) {
	for i := 0; time.Now().Before(until); i++ {
		start := time.Now()
		r, err := client.Do(a.ask(i))
		if err != nil {
			t.Errorf("%s: %v", a.kind, err)
			return
		}
		if _, err := io.Copy(io.Discard, r.Body); err != nil {
			t.Errorf("%s: %v", a.kind, err)
		}
		r.Body.Close()
		took := time.Since(start)
		a.mu.Lock()
		a.codes[r.StatusCode]++
		a.longest = max(a.longest, took)
		if r.StatusCode < 300 {
			a.took = append(a.took, took)
		}
		a.mu.Unlock()
		time.Sleep(a.every - took)
	}
}

// part is the time within which so many of 100 successes came; 0 if there are none.
func (a *asker) part(of100 int) time.Duration {
	if len(a.took) == 0 {
		return 0
	}
	slices.Sort(a.took)
	return a.took[len(a.took)*of100/100]
}

// getting asks for one path after another.
func getting(t *testing.T, url func(i int) string) func(int) *http.Request {
	return func(i int) *http.Request {
		r, err := http.NewRequest(http.MethodGet, url(i), nil)
		if err != nil {
			t.Error(err)
		}
		return r
	}
}

// askers are a mix of cheap and expensive requests, with more expensive ones than are let in.
func askers(t *testing.T, base string) []*asker {
	post := func(path string, body func(i int) string) func(int) *http.Request {
		return func(i int) *http.Request {
			r, err := http.NewRequest(http.MethodPost, base+path, strings.NewReader(body(i)))
			if err != nil {
				t.Error(err)
			}
			r.Header.Set("Content-Type", "application/json")
			return r
		}
	}
	get := func(path func(i int) string) func(int) *http.Request {
		return getting(t, func(i int) string { return base + path(i) })
	}
	kinds := []*asker{
		{kind: "plain", every: 50 * time.Millisecond, ask: get(func(i int) string {
			return fmt.Sprintf("/v1/conversions?reading=%d.%03d%%20ppt&temperature=25C", 5+i%30, i%1000)
		})},
		{kind: "plan", ask: post("/v1/transfers/plan", func(i int) string {
			return strings.Replace(planBody, `"count": 4`, fmt.Sprintf(`"count": %d`, 1+i%4), 1)
		})},
		{kind: "save", every: 100 * time.Millisecond, ask: post("/v1/transfers", func(int) string { return savedBody })},
		{kind: "picture", every: 100 * time.Millisecond, ask: get(func(i int) string {
			return strings.Replace(dripLine, "to_salinity=10", fmt.Sprintf("to_salinity=%d.%d", 8+i%3, i%10), 1) + "&format=svg"
		})},
	}
	for _, k := range kinds {
		k.codes = map[int]int{}
	}
	return kinds
}

// Under a mixed load beyond what is let in there are only successes and refusals, and afterwards
// nothing remains of it: no goroutine, no memory, no failing database.
func TestMixedLoad(t *testing.T) {
	lasts := loadTime
	if text := os.Getenv("SALTLOCK_LOAD"); text != "" {
		var err error
		if lasts, err = time.ParseDuration(text); err != nil {
			t.Fatal(err)
		}
	}
	s := newServiceWith(t, server.Options{PlanTime: userTime, Rates: server.Rates{Writes: server.Rate{PerMinute: 120, Burst: 20}}})
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 200}}
	kinds := askers(t, s.URL)
	load := func(lasts time.Duration) {
		var wg sync.WaitGroup
		for _, k := range kinds {
			// Of plans one core's worth is computed and 8 for each core wait: twice as many ask.
			for range map[string]int{"plain": 8, "plan": 2 * (runtime.GOMAXPROCS(0) - 1 + 8*runtime.GOMAXPROCS(0)), "save": 2, "picture": 4}[k.kind] {
				wg.Go(func() { k.run(t, client, time.Now().Add(lasts)) })
			}
		}
		wg.Wait()
		client.CloseIdleConnections()
	}
	load(time.Second) // what is made once is made
	goroutines, memory := settled(t, 0)
	load(lasts)
	after, grown := settled(t, goroutines+5)
	if after > goroutines+5 {
		t.Errorf("%d goroutines, %d before", after, goroutines)
	}
	if grown > memory+memory/2+8<<20 {
		t.Errorf("%d MB in use, %d before", grown>>20, memory>>20)
	}
	for _, k := range kinds {
		for code, n := range k.codes {
			if code >= 300 && code != http.StatusTooManyRequests && code != http.StatusServiceUnavailable {
				t.Errorf("%s: %d answers with %d", k.kind, n, code)
			}
		}
		if len(k.took) == 0 {
			if k.kind == "plain" || k.kind == "plan" { // the others share what is left
				t.Errorf("%s: nobody was let in: %v", k.kind, k.codes)
			}
			t.Logf("%s: %v", k.kind, k.codes)
			continue
		}
		t.Logf("%s: %v; half within %v, 99 of 100 within %v", k.kind, k.codes, k.part(50), k.part(99))
	}
	if a := s.get(t, "/readyz"); a.status != http.StatusOK {
		t.Errorf("/readyz afterwards: %d", a.status)
	}
}

// settled waits until no more than a number of goroutines run, or if that is 0 until none has ended
// for half a second, and returns how many run and how many bytes are in use.
func settled(t *testing.T, most int) (goroutines int, bytes uint64) {
	t.Helper()
	fewest, since := runtime.NumGoroutine(), time.Now()
	for range 50 {
		if goroutines = runtime.NumGoroutine(); goroutines < fewest {
			fewest, since = goroutines, time.Now()
		}
		if goroutines <= most || most == 0 && time.Since(since) > 500*time.Millisecond {
			break
		}
		time.Sleep(50 * time.Millisecond)
	}
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return goroutines, m.HeapInuse
}
