package saltlock

import (
	"cmp"
	"context"
	crand "crypto/rand"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"strconv"
	"time"
)

// Options tune a client. The zero value is ready for use.
type Options struct {
	// HTTPClient sends the requests, and its own timeout applies instead of Timeout; nil makes one
	// with Timeout.
	HTTPClient *http.Client
	// Timeout is for one attempt, including reading its answer; 10 s if 0.
	Timeout time.Duration
	// Retries are the attempts after the first; 3 if 0, none if negative.
	Retries int
	// LongestWait is the longest Retry-After that the client waits for; 30 s if 0. A longer one
	// ends the call at once, and the error carries it.
	LongestWait time.Duration
}

// New makes a client of the service at baseURL, such as http://127.0.0.1:8080.
//
// Every answer that is not a success is returned as an error: a [ProblemError] if the service, or
// something in front of it, answered, and the transport's error if nothing did. If err is nil, the
// field JSON200 of an answer is set; for a question with Only it is
// ApplicationvndSaltlockFieldJSON200 instead.
//
// Requests that are safe to repeat are repeated: any request refused with 429 or 503, and a GET
// that found no service, or a gateway without one. A POST gets an Idempotency-Key if it has none,
// so that nothing is saved twice.
func New(baseURL string, o Options) (*ClientWithResponses, error) {
	d := &doer{client: o.HTTPClient, retries: max(cmp.Or(o.Retries, 3), 0), longest: cmp.Or(o.LongestWait, 30*time.Second)}
	if d.client == nil {
		d.client = &http.Client{Timeout: cmp.Or(o.Timeout, 10*time.Second)}
	}
	return NewClientWithResponses(baseURL, WithHTTPClient(d))
}

// doer sends a request until it has a final answer.
type doer struct {
	client  *http.Client
	retries int
	longest time.Duration
}

func (d *doer) Do(req *http.Request) (*http.Response, error) {
	if req.Method == http.MethodPost && req.Header.Get(idempotencyKey) == "" {
		req.Header.Set(idempotencyKey, randomUUID())
	}
	for attempt := 0; ; attempt++ {
		r, err := d.client.Do(req)
		wait := d.pause(req, r, err, attempt)
		switch {
		case wait < 0 && err != nil:
			return nil, err
		case wait < 0 && r.StatusCode >= http.StatusBadRequest:
			return nil, problem(r)
		case wait < 0:
			return r, nil
		}
		if r != nil {
			r.Body.Close()
		}
		if err := sleep(req.Context(), wait); err != nil {
			return nil, err
		}
		if req.GetBody != nil {
			if req.Body, err = req.GetBody(); err != nil {
				return nil, err
			}
		}
	}
}

const idempotencyKey = "Idempotency-Key"

// randomUUID is one of version 4 (RFC 9562).
func randomUUID() string {
	var b [16]byte
	crand.Read(b[:]) // never fails
	b[6], b[8] = b[6]&0x0f|0x40, b[8]&0x3f|0x80
	return fmt.Sprintf("%x-%x-%x-%x-%x", b[:4], b[4:6], b[6:8], b[8:10], b[10:])
}

// pause is how long to wait before sending a request again; negative if it must not be sent.
func (d *doer) pause(req *http.Request, r *http.Response, err error, attempt int) time.Duration {
	const never = -1
	read := req.Method == http.MethodGet || req.Method == http.MethodHead
	switch {
	case attempt >= d.retries, req.Context().Err() != nil, req.Body != nil && req.GetBody == nil:
		return never
	case err != nil && !read:
		return never // it may have been carried out
	case err != nil:
		return backoff(attempt)
	}
	switch r.StatusCode {
	case http.StatusTooManyRequests, http.StatusServiceUnavailable:
	case http.StatusBadGateway, http.StatusGatewayTimeout:
		if !read {
			return never
		}
	default:
		return never
	}
	asked, ok := retryAfter(r.Header, time.Now())
	switch {
	case !ok:
		return backoff(attempt)
	case asked > d.longest:
		return never
	}
	return asked
}

// backoff doubles with each attempt. Half of it is random, so that clients refused together do not
// come back together.
func backoff(attempt int) time.Duration {
	most := min(500*time.Millisecond<<min(attempt, 5), 10*time.Second)
	return most/2 + rand.N(most/2)
}

// retryAfter reads both forms of the header: seconds, or an HTTP date.
func retryAfter(h http.Header, now time.Time) (time.Duration, bool) {
	text := h.Get("Retry-After")
	if s, err := strconv.ParseUint(text, 10, 31); err == nil {
		return time.Duration(s) * time.Second, true
	}
	if at, err := http.ParseTime(text); err == nil {
		return max(at.Sub(now), 0), true
	}
	return 0, false
}

func sleep(ctx context.Context, d time.Duration) error {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-timer.C:
		return nil
	}
}

// longestProblem is more than a problem document ever takes.
const longestProblem = 1 << 20

// drain reads the rest of an answer, as far as a problem document can reach.
func drain(r *http.Response) []byte {
	defer r.Body.Close()
	body, err := io.ReadAll(io.LimitReader(r.Body, longestProblem))
	if err != nil {
		return nil // the status alone says what happened
	}
	return body
}
