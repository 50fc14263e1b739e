package server

import (
	"context"
	"errors"
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/labstack/echo/v4"
	"github.com/prometheus/client_golang/prometheus"

	"saltlock/server/contract"
)

// All attempts of a request together wait no longer than one may.
func TestAttemptsShareTheirWait(t *testing.T) {
	t.Parallel()
	gates, err := newGates(prometheus.NewRegistry())
	if err != nil {
		t.Fatal(err)
	}
	s := &Server{gates: gates, planTime: planTime}
	for gates.plans.slots.TryAcquire(1) { // every place is taken
	}
	start, left := time.Now(), s.newBudget()
	for range attempts {
		if err := s.planned(t.Context(), left, func(context.Context) error { return nil }); !errors.Is(err, errCrowded) {
			t.Errorf("%v, want errCrowded", err)
		}
	}
	if took := time.Since(start); took < queueTime || took > queueTime+time.Second {
		t.Errorf("waited %v, want %v", took, queueTime)
	}
}

// A client turned away because others ask for too much has spent no tokens.
func TestCrowdedSpendsNothing(t *testing.T) {
	s := &Server{plans: newQuota("plans", Rate{PerMinute: 1, Burst: 2}), gates: &gates{}}
	op := &contract.Operation{Operation: &openapi3.Operation{}, Class: contract.Plan}
	var answer error
	ask := func() (http.Header, error) {
		w := httptest.NewRecorder()
		c := echo.New().NewContext(httptest.NewRequestWithContext(t.Context(), http.MethodGet, "/", nil), w)
		x := &exchange{Context: c, operation: op, valid: true, request: asked{Request: contract.Request{Operation: op}}}
		err := s.metered(x, func(echo.Context) error { return answer })
		return w.Header(), err
	}
	answer = errCrowded
	for range 5 {
		if h, err := ask(); !errors.Is(err, errCrowded) || h.Get("RateLimit") != `"plans";r=2;t=0` {
			t.Fatalf("%v, RateLimit %q; want errCrowded with two left", err, h.Get("RateLimit"))
		}
	}
	answer = nil
	for i := range 3 {
		var many *rateError
		if _, err := ask(); (i == 2) != errors.As(err, &many) {
			t.Errorf("answer %d: %v", i, err)
		}
	}
}

// A client is the same whichever way its address is written.
func TestClientOf(t *testing.T) {
	for address, want := range map[string]string{
		"192.0.2.1": "192.0.2.1", "::ffff:192.0.2.1": "192.0.2.1", "2001:db8:1:2:3::4": "2001:db8:1:2::/64", "": "",
	} {
		if got := clientOf(address); got != want {
			t.Errorf("clientOf(%q) = %q, want %q", address, got, want)
		}
	}
}
