package server_test

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"math/rand"
	"net/http"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
)

// count is a number of tries that .ci/soak raises.
func count(t *testing.T, name string, usual int) int {
	t.Helper()
	n, err := strconv.Atoi(cmp.Or(os.Getenv(name), strconv.Itoa(usual)))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// levers are what makes a plan dear, each with its settings; the first is to leave
// it out.
var levers = map[string][]string{
	"animals":          {`[{"sensitivity": "hardy", "origin": "captive", "count": 4, "mass": "1 g"}]`, `[{"sensitivity": "moderate", "origin": "captive", "count": 3, "mass": "2 g"}]`, `[{"sensitivity": "delicate", "count": 6, "mass": "1 g"}]`, `[{"species": "scatophagus-argus", "stage": "juvenile", "origin": "captive", "count": 5, "mass": "5 g"}]`},
	"to":               {`{"salinity": "10 ppt", "temperature": "26 C"}`, `{"salinity": "5 ppt", "temperature": "27 C"}`, `{"salinity": "16 ppt", "temperature": "24 C"}`, `{"salinity": "30 ppt", "temperature": "26 C"}`},
	"from":             {`{"salinity": "2 ppt", "temperature": "26 C"}`, `{"salinity": "0.3 ppt", "temperature": "24 C", "tan": "0.2 mg/L N", "ph": "7.4"}`, `{"salinity": "8 ppt", "temperature": "25 C"}`},
	"container":        {`{"capacity": "20 L", "aerated": true}`, `{"capacity": "9 L", "start_volume": "5 L", "least_volume": "4 L", "aerated": true}`, `{"capacity": "60 L", "start_volume": "6 L", "aerated": true}`, `{"shape": "bucket", "top_diameter": "30 cm", "bottom_diameter": "26 cm", "height": "32 cm", "start_volume": "6 L", "least_volume": "6 L", "aerated": true}`, `{"capacity": "12 L", "start_volume": "6 L", "overflow": true, "waste_capacity": "10 L", "aerated": true}`},
	"line":             {`{"drop_volume": "0.05 mL", "settings": 3}`, `{"drop_volume": "0.05 mL", "settings": 1}`, `{"drop_volume": "0.05 mL", "settings": 5}`, `{"drop_volume": "0.084 mL", "settings": 8, "greatest_drip": "20 drops/s"}`, `{"drop_volume": "0.05 mL", "settings": 4, "bore": "4 mm", "length": "1.5 m", "head": "30 cm", "intake_depth": "1 cm"}`},
	"source_tank":      {``, `{"volume": "450 L", "surface": "7500 cm2"}`, `{"volume": "60 L", "surface": "2000 cm2"}`},
	"visits":           {``, `{"every": "2 h"}`, `{"every": "1 h", "quiet_from": "22:00", "quiet_until": "07:00"}`, `{"every": "3 h", "quiet_from": "21:00", "quiet_until": "06:30"}`},
	"room_temperature": {``, `"20 C"`, `"24 C"`},
	"recent_change":    {``, `"1 g/kg"`},
	"prefer":           {``, `"time"`, `"visits"`, `"water"`},
	"route":            {``, `"drip"`, `"staged"`, `"combined"`, `"ramp"`},
	"home_tank":        {``, `{"volume": "200 L", "source": "0.2 ppt"}`},
	"holding_tanks":    {``, `{"volume": "100 L", "source": "0.2 ppt"}`},
	"tolerance":        {``, `"0.5 g/kg"`, `"1 g/kg"`},
	"limits":           {``, `{"per_hour": "0.5 g/kg/h"}`, `{"oxygen": "6 mg/L"}`, `{"per_hour": "3 g/kg/h", "per_24_hours": "20 g/kg"}`},
	"instrument":       {`{"kind": "refractometer"}`, `{"kind": "hydrometer", "calibration": "60F/60F"}`},
}

// climb looks for the dearest plan by changing one or two levers at a time, until
// one takes as long as any may, and returns its body and how long it took.
func climb(t *testing.T, s *service, rounds int) (body string, took time.Duration) {
	t.Helper()
	rng := rand.New(rand.NewSource(11))
	names := slices.Sorted(func(yield func(string) bool) {
		for name := range levers {
			if !yield(name) {
				return
			}
		}
	})
	write := func(at map[string]int) string {
		fields := []string{`"start": "2026-12-01T09:00:00Z"`, `"time_zone": "Europe/Berlin"`}
		for _, name := range names {
			if v := levers[name][at[name]]; v != "" {
				fields = append(fields, fmt.Sprintf("%q: %s", name, v))
			}
		}
		return "{" + strings.Join(fields, ", ") + "}"
	}
	best := map[string]int{}
	for i := range rounds {
		trial := map[string]int{}
		for name, at := range best {
			trial[name] = at
		}
		changes := 1 + rng.Intn(2)
		if i%20 == 19 { // from time to time far away
			changes = len(names)
		}
		for range changes {
			name := names[rng.Intn(len(names))]
			trial[name] = rng.Intn(len(levers[name]))
		}
		asked := write(trial)
		start := time.Now()
		a := post(t, s, "/v1/transfers/plan", asked)
		if a.status >= http.StatusInternalServerError && a.status != http.StatusServiceUnavailable {
			t.Errorf("%d to %s\n%s", a.status, asked, a.body)
		}
		if d := time.Since(start); d > took {
			best, body, took = trial, asked, d
		}
		if took > 2*time.Second {
			break
		}
	}
	return body, took
}

// post is call without the contract, for what may be turned away.
func post(t testing.TB, s *service, path, body string) answered {
	r, err := http.Post(s.URL+path, "application/json", strings.NewReader(body))
	if err != nil {
		t.Error(err)
		return answered{}
	}
	defer r.Body.Close()
	read, err := io.ReadAll(r.Body)
	if err != nil {
		t.Error(err)
	}
	return answered{r.StatusCode, r.Header, string(read)}
}

// Many who ask for the dearest plan that can be found do not keep waiting who asks
// for a conversion, and are themselves answered or turned away soon.
func TestDearPlansStarveNobody(t *testing.T) {
	s := newService(t)
	clients, seconds := count(t, "SALTLOCK_CLIENTS", 16), count(t, "SALTLOCK_LOAD_SECONDS", 3)
	dear, alone := climb(t, s, count(t, "SALTLOCK_CLIMB", 40))
	t.Logf("the dearest plan takes %v: %s", alone, dear)
	stop := make(chan struct{})
	var wg sync.WaitGroup
	var mu sync.Mutex
	var slowest time.Duration
	statuses := map[int]int{}
	for range clients {
		wg.Go(func() {
			for {
				select {
				case <-stop:
					return
				default:
				}
				start := time.Now()
				a := post(t, s, "/v1/transfers/plan", dear)
				took := time.Since(start)
				if a.status == http.StatusServiceUnavailable && a.header.Get("Retry-After") == "" {
					t.Error("503 without Retry-After")
				}
				mu.Lock()
				slowest = max(slowest, took)
				statuses[a.status]++
				mu.Unlock()
				if a.status == http.StatusServiceUnavailable {
					time.Sleep(50 * time.Millisecond) // a client that is turned away does not spin
				}
			}
		})
	}
	var times []time.Duration
	for end := time.Now().Add(time.Duration(seconds) * time.Second); time.Now().Before(end); {
		start := time.Now()
		if a := s.get(t, fmt.Sprintf("/v1/conversions?reading=%.4f%%20ppt&temperature=25C", 1+30*rand.Float64())); a.status != http.StatusOK {
			t.Errorf("a conversion: %d", a.status)
		}
		times = append(times, time.Since(start))
		time.Sleep(5 * time.Millisecond)
	}
	close(stop)
	wg.Wait()
	slices.Sort(times)
	p99 := times[len(times)*99/100]
	t.Logf("%d clients, %d s: conversions %d, median %v, p99 %v, slowest %v; plans %v, slowest %v", clients, seconds, len(times), times[len(times)/2], p99, times[len(times)-1], statuses, slowest)
	if p99 > 100*time.Millisecond {
		t.Errorf("p99 of conversions is %v, want under 100 ms", p99)
	}
	if slowest > 4*time.Second {
		t.Errorf("a plan took %v to be answered or turned away, want under 4 s", slowest)
	}
	for status := range statuses {
		if status != http.StatusOK && status != http.StatusUnprocessableEntity && status != http.StatusServiceUnavailable {
			t.Errorf("status %d", status)
		}
	}
	if statuses[http.StatusOK]+statuses[http.StatusUnprocessableEntity] == 0 && alone < time.Second {
		t.Error("nobody got a plan")
	}
}

// A client that leaves while its plan is computed frees the core at once.
func TestClientThatLeavesFreesTheCore(t *testing.T) {
	s := newService(t)
	dear, alone := climb(t, s, count(t, "SALTLOCK_CLIMB", 40))
	if alone < 40*time.Millisecond {
		t.Fatalf("the dearest plan found takes %v; nothing is computed long enough to leave", alone)
	}
	const inFlight = `saltlock_admission_in_flight{class="plan"}`
	var slowest time.Duration
	for range 10 {
		ctx, leave := context.WithCancel(t.Context())
		r, err := http.NewRequestWithContext(ctx, http.MethodPost, s.URL+"/v1/transfers/plan", strings.NewReader(dear))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", "application/json")
		left := make(chan error, 1)
		go func() {
			a, err := s.Client().Do(r)
			if err == nil {
				a.Body.Close()
			}
			left <- err
		}()
		wait(t, 5*time.Second, "the plan is computed", func() bool { return metric(t, s, inFlight) == 1 })
		leave()
		if err := <-left; err == nil {
			t.Fatal("the plan was there before the client left")
		}
		slowest = max(slowest, wait(t, 10*time.Second, "the core is free", func() bool { return metric(t, s, inFlight) == 0 }))
	}
	t.Logf("the dearest plan takes %v; the core is free %v after its client left, at the latest", alone, slowest)
	if slowest > 50*time.Millisecond {
		t.Errorf("the core is free %v after the client left, want 50 ms", slowest)
	}
}
