package saltlock

import (
	"context"
	"errors"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// A service that refuses its first callers is asked again after the time it names.
func TestRetries(t *testing.T) {
	for _, c := range []struct {
		name     string
		status   int
		after    string // Retry-After
		post     bool
		refusals int // before it answers
		asked    int // want: calls in all
		refused  bool
	}{
		{"turned away twice", 429, "0", false, 2, 3, false},
		{"date in the past", 503, "Sun, 06 Nov 1994 08:49:37 GMT", false, 1, 2, false},
		{"a post turned away", 503, "0", true, 1, 2, false},
		{"a post behind a broken gateway", 502, "0", true, 1, 1, true},
		{"a get behind a broken gateway", 502, "0", false, 1, 2, false},
		{"longer than one waits", 429, "3600", false, 1, 1, true},
		{"never mended", 503, "0", false, 9, 4, true},
		{"a fault of the request", 400, "0", false, 9, 1, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			asked, keys := 0, map[string]bool{}
			s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
				keys[r.Header.Get("Idempotency-Key")] = true
				if asked++; asked <= c.refusals {
					w.Header().Set("Retry-After", c.after)
					w.WriteHeader(c.status)
					return
				}
				w.Header().Set("Content-Type", "application/json")
				w.Write([]byte("{}"))
			}))
			defer s.Close()
			client, err := New(s.URL, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if c.post {
				_, err = client.ConvertReadingsWithResponse(t.Context(), nil, []ConversionItem{{Reading: "10 ppt"}})
			} else {
				_, err = client.ListMethodsWithResponse(t.Context(), nil)
			}
			problem := new(ProblemError)
			if errors.As(err, &problem) != c.refused || asked != c.asked {
				t.Errorf("asked %d times, err %v; want %d times, refused %v", asked, err, c.asked, c.refused)
			}
			if len(keys) != 1 || keys[""] == c.post {
				t.Errorf("the keys were %v", keys) // each try has the same
			}
			if c.refused && (problem.Status != c.status || problem.Type != "about:blank") {
				t.Errorf("problem %+v, want status %d without a document", problem.Problem, c.status)
			}
			if c.after == "3600" && problem.RetryAfter != time.Hour {
				t.Errorf("Retry-After %v, want an hour", problem.RetryAfter)
			}
		})
	}
}

// An attempt ends with its timeout, the waiting with the caller's context.
func TestTimeouts(t *testing.T) {
	slow := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { <-r.Context().Done() }))
	defer slow.Close()
	client, err := New(slow.URL, Options{Timeout: 20 * time.Millisecond, Retries: -1})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := client.ListMethodsWithResponse(t.Context(), nil); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("slow service: %v, want a deadline exceeded", err)
	}

	busy := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Retry-After", "20")
		w.WriteHeader(http.StatusServiceUnavailable)
	}))
	defer busy.Close()
	if client, err = New(busy.URL, Options{}); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	if _, err := client.ListMethodsWithResponse(ctx, nil); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("busy service: %v, want the wait to end with the context", err)
	}
}

// At most half of the wait is random, and the wait has a limit.
func TestBackoff(t *testing.T) {
	for attempt, most := range []time.Duration{500, 1000, 2000, 4000, 8000, 10000, 10000} {
		most *= time.Millisecond
		if got := backoff(attempt); got < most/2 || got > most {
			t.Errorf("backoff(%d) = %v, want %v to %v", attempt, got, most/2, most)
		}
	}
}

func TestProblemErrorText(t *testing.T) {
	detail := "gone"
	e := &ProblemError{Problem: Problem{Status: 404, Title: "Not found", Detail: &detail}}
	if got := e.Error(); got != "404 Not found: gone" {
		t.Errorf("Error() = %q", got)
	}
	e.Errors = &[]Fault{{Where: "target", Reason: "no unit"}, {Where: "volume", Reason: "no number"}}
	if got := e.Error(); strings.Count(got, "\n") != 2 || !strings.Contains(got, "target: no unit") {
		t.Errorf("Error() = %q, want every fault on its line", got)
	}
}
