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

// Why a request was not answered in time. Neither error stands for another answer: the same
// request gets the same plan, or none.
var (
	errCrowded   = errors.New("more is asked at once than can be computed")
	errOutOfTime = errors.New("the time for one answer is over")
)

// planTime is how long the plans of one request may take together, unless Options says otherwise.
const planTime = 2 * time.Second

// queueTime is how long a request waits to be let in, and then once more for its plans. With
// planTime this gives a plan or a refusal within four seconds, and a saved plan within six.
const queueTime = 1500 * time.Millisecond

// gate lets in a few requests of a class at a time, keeps a few more waiting and turns the rest
// away at once, so that expensive requests never starve cheap ones.
type gate struct {
	slots   *semaphore.Weighted
	places  int64 // in the queue
	waiting atomic.Int64
	running atomic.Int64
	shed    prometheus.Counter
}

// enter waits up to the given time to be let in. Unless it returns an error, call leave.
func (g *gate) enter(ctx context.Context, wait time.Duration) (leave func(), err error) {
	if !g.slots.TryAcquire(1) {
		if err := g.queue(ctx, wait); err != nil {
			return nil, err
		}
	}
	g.running.Add(1)
	return g.leave, nil
}

// turn waits as long as it takes for the next part of an answer that has begun.
func (g *gate) turn() {
	g.waiting.Add(1)
	_ = g.slots.Acquire(context.Background(), 1) // which fails only with its context
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

// gates has one gate for each class of work that takes more than a moment. A request that holds a
// place in another gate may wait for plans, never the other way round.
type gates struct {
	plans    *gate // every plan that is computed, also for saved transfers
	pictures *gate
	batches  *gate // some of the readings of a request, again and again
	writes   *gate // changes to saved transfers
}

// newGates sizes the gates for this machine. Plans leave one core to everything else.
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
		{"batch", &g.batches, cores, math.MaxInt64}, // links bounds how many there are
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

// part is a gate for a share of those g lets in; those turned away count as turned away by g.
func (g *gate) part(slots int64) *gate {
	return &gate{slots: semaphore.NewWeighted(slots), places: 2 * slots, shed: g.shed}
}

// admitted lets a valid request in by its class; cheap requests pass.
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

// of is the gate of a request; nil if it needs none, or only the one for plans.
func (g *gates) of(a *asked) *gate {
	switch {
	case a.Format == "image/png" || a.Format == "image/svg+xml":
		return g.pictures
	case a.Operation.Class == contract.Write:
		return g.writes
	}
	return nil
}

// budget is what a request has left, over all its attempts: time in the queue for plans, and time
// to compute them.
type budget struct{ queue, plans time.Duration }

func (s *Server) newBudget() *budget { return &budget{queueTime, s.planTime} }

// planned computes plans for a request when its turn comes, within what the request has left.
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
