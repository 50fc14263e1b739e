package server

import (
	"context"
	"errors"
	"math"
	"runtime"
	"sync/atomic"
	"time"

	"github.com/labstack/echo/v4"
	"github.com/prometheus/client_golang/prometheus"
	"golang.org/x/sync/semaphore"

	"saltlock/server/contract"
)

// What keeps a request from being answered in time. Neither is ever another
// answer: the same request gets the same plan, or none.
var (
	errCrowded   = errors.New("more is asked at once than can be computed")
	errOutOfTime = errors.New("the time for one answer is over")
)

// planTime is what the plans of one request may take together, if Options do not say.
const planTime = 2 * time.Second

// queueTime is how long a request waits to be let in, and once more for its plans. With
// planTime you have a plan or a refusal within four seconds, and a saved one within six.
const queueTime = 1500 * time.Millisecond

// gate lets in a few requests of a class at a time, keeps a few more waiting, and
// turns away the rest at once, so that what is dear never starves what is cheap.
type gate struct {
	slots   *semaphore.Weighted
	places  int64 // in the queue
	waiting atomic.Int64
	running atomic.Int64
	shed    prometheus.Counter
}

// enter waits to be let in, so long at the most. leave must be called where there is no error.
func (g *gate) enter(ctx context.Context, wait time.Duration) (leave func(), err error) {
	if !g.slots.TryAcquire(1) {
		if err := g.queue(ctx, wait); err != nil {
			return nil, err
		}
	}
	g.running.Add(1)
	return g.leave, nil
}

// turn waits for as long as it takes, for the next part of an answer that has begun.
func (g *gate) turn() {
	g.waiting.Add(1)
	_ = g.slots.Acquire(context.Background(), 1) // which only its context could refuse
	g.waiting.Add(-1)
	g.running.Add(1)
}

func (g *gate) leave() {
	g.running.Add(-1)
	g.slots.Release(1)
}

func (g *gate) queue(ctx context.Context, wait time.Duration) error {
	defer g.waiting.Add(-1)
	if g.waiting.Add(1) > g.places {
		g.shed.Inc()
		return errCrowded
	}
	within, cancel := context.WithTimeout(ctx, wait)
	defer cancel()
	err := g.slots.Acquire(within, 1)
	if err != nil && ctx.Err() == nil {
		g.shed.Inc()
		return errCrowded
	}
	return err
}

// gates are one for each class of what takes more than a moment. Who holds a place
// in one of the others may wait for plans, never the other way.
type gates struct {
	plans    *gate // every plan that is computed, of saved transfers too
	pictures *gate
	batches  *gate // some of the many readings of a request, again and again
	writes   *gate // what changes saved transfers
}

// newGates sizes the gates for this machine. Plans leave a core to all else.
func newGates(r *prometheus.Registry) (*gates, error) {
	cores := int64(runtime.GOMAXPROCS(0))
	g := &gates{}
	for _, of := range []struct {
		class         string
		gate          **gate
		slots, places int64
	}{
		{"plan", &g.plans, max(1, cores-1), 8 * cores},
		{"picture", &g.pictures, 2 * cores, 16 * cores},
		{"batch", &g.batches, cores, math.MaxInt64}, // whose number the links bound
		{"write", &g.writes, 8 * cores, 32 * cores},
	} {
		var err error
		if *of.gate, err = newGate(r, of.class, of.slots, of.places); err != nil {
			return nil, err
		}
	}
	return g, nil
}

// newGate makes the gate of a class, with its metrics.
func newGate(r *prometheus.Registry, class string, slots, places int64) (*gate, error) {
	label := prometheus.Labels{"class": class}
	g := &gate{slots: semaphore.NewWeighted(slots), places: places,
		shed: prometheus.NewCounter(prometheus.CounterOpts{Name: "saltlock_admission_shed_total", Help: "Requests turned away because their class was full.", ConstLabels: label})}
	for _, c := range []prometheus.Collector{
		g.shed,
		prometheus.NewGaugeFunc(prometheus.GaugeOpts{Name: "saltlock_admission_in_flight", Help: "Requests of a class being computed.", ConstLabels: label},
			func() float64 { return float64(g.running.Load()) }),
		prometheus.NewGaugeFunc(prometheus.GaugeOpts{Name: "saltlock_admission_queue", Help: "Requests waiting to be let in.", ConstLabels: label},
			func() float64 { return float64(min(g.places, g.waiting.Load())) }),
	} {
		if err := r.Register(c); err != nil {
			return nil, err
		}
	}
	return g, nil
}

// part is a gate for a share of those whom g lets in; who is turned away counts as g's.
func (g *gate) part(slots int64) *gate {
	return &gate{slots: semaphore.NewWeighted(slots), places: 2 * slots, shed: g.shed}
}

// admitted lets a valid request in by its class; what is cheap passes.
func (s *Server) admitted(x *exchange, next echo.HandlerFunc) error {
	g := s.gates.of(&x.request)
	if g == nil {
		return next(x)
	}
	leave, err := g.enter(x.Request().Context(), queueTime)
	if err != nil {
		return err
	}
	defer leave()
	return next(x)
}

// of is the gate of a request; nil where none is needed, or plans alone are.
func (g *gates) of(a *asked) *gate {
	switch {
	case a.Format == "image/png" || a.Format == "image/svg+xml":
		return g.pictures
	case a.Operation.Class == contract.Write:
		return g.writes
	}
	return nil
}

// budget is what a request may still take, in all its attempts: waiting for the turn of
// its plans, and computing them.
type budget struct{ queue, plans time.Duration }

func (s *Server) newBudget() *budget { return &budget{queueTime, s.planTime} }

// planned computes plans for a request: in its turn, and no longer than is left of
// what the request may take.
func (s *Server) planned(ctx context.Context, left *budget, f func(context.Context) error) error {
	start := time.Now()
	leave, err := s.gates.plans.enter(ctx, left.queue)
	left.queue -= time.Since(start)
	s.traces.part(ctx, "wait for a turn to plan", start)
	if err != nil {
		return err
	}
	defer leave()
	start = time.Now()
	defer func() { left.plans -= time.Since(start) }()
	within, cancel := context.WithTimeout(ctx, left.plans)
	defer cancel()
	err = f(within)
	s.traces.part(ctx, "plan", start)
	if errors.Is(err, context.DeadlineExceeded) && ctx.Err() == nil {
		return errOutOfTime
	}
	return err
}
