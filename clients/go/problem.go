package saltlock

import (
	"encoding/json"
	"fmt"
	"mime"
	"net/http"
	"strings"
	"time"
)

// ProblemError is a refusal by the service: a problem document (RFC 9457) with
// every fault of the request.
//
//	var refused *saltlock.ProblemError
//	if errors.As(err, &refused) {
//		for _, f := range refused.Faults() { … f.Where, f.Reason … }
//	}
type ProblemError struct {
	Problem
	// RetryAfter is how long the service asked clients to wait; 0 if it did not.
	RetryAfter time.Duration
}

// Error gives the title, and each fault on its own line.
func (e *ProblemError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d %s", e.Status, e.Title)
	for _, f := range e.Faults() {
		fmt.Fprintf(&b, "\n%s: %s", f.Where, f.Reason)
	}
	if len(e.Faults()) == 0 && e.Detail != nil {
		fmt.Fprintf(&b, ": %s", *e.Detail)
	}
	return b.String()
}

// Faults are what is wrong, where, and what to do; empty if the problem is not in the request.
func (e *ProblemError) Faults() []Fault {
	if e.Errors == nil {
		return nil
	}
	return *e.Errors
}

// problem reads the problem document. An answer without one, from something in front of the
// service, becomes a problem of type about:blank.
func problem(r *http.Response) *ProblemError {
	e := new(ProblemError)
	e.RetryAfter, _ = retryAfter(r.Header, time.Now())
	media, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if body := drain(r); err == nil && media == "application/problem+json" && json.Unmarshal(body, &e.Problem) == nil {
		return e
	}
	e.Problem = Problem{Type: "about:blank", Title: http.StatusText(r.StatusCode), Status: r.StatusCode}
	return e
}
