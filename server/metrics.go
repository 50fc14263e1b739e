package server

import (
	"context"
	"errors"
	"net/http"
	"runtime"
	"strconv"
	"sync"
	"time"

	"github.com/labstack/echo/v4"
	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"

	"saltlock/chem/transfer"
	"saltlock/server/contract"
)

// meters are what the service counts about itself. Their labels come from bounded sets: the
// operations of the contract, statuses, routes; never a path, a name or an address.
type meters struct {
	seconds  *prometheus.HistogramVec
	inFlight prometheus.Gauge
	plans    *prometheus.CounterVec
	store    *prometheus.HistogramVec

	succeeded sync.Map // by *contract.Operation: the prometheus.Observer of seconds with status 200
}

func newMeters(r *prometheus.Registry, dataVersion string) (*meters, error) {
	m := &meters{
		seconds: prometheus.NewHistogramVec(prometheus.HistogramOpts{
			Name:    "saltlock_http_request_duration_seconds",
			Help:    "Time to answer a request.",
			Buckets: []float64{.0005, .001, .0025, .005, .01, .025, .05, .1, .25, 1, 5},
		}, []string{"operation", "code"}),
		inFlight: prometheus.NewGauge(prometheus.GaugeOpts{Name: "saltlock_http_requests_in_flight", Help: "Requests being answered, those that wait included."}),
		plans: prometheus.NewCounterVec(prometheus.CounterOpts{Name: "saltlock_plans_total",
			Help: "Plans computed, by route and by what became of the budget of the search: complete, bounded (it was spent), refused (no plan keeps the limits), out_of_time."}, []string{"route", "search"}),
		store: prometheus.NewHistogramVec(prometheus.HistogramOpts{
			Name:    "saltlock_store_duration_seconds",
			Help:    "Time that the database took, by act and result: ok, none (not there, or changed by another), fault.",
			Buckets: []float64{.0005, .001, .0025, .005, .01, .025, .05, .1, .25, 1, 5},
		}, []string{"act", "result"}),
	}
	build := prometheus.NewGauge(prometheus.GaugeOpts{Name: "saltlock_build_info", Help: "1, with the versions that are running.",
		ConstLabels: prometheus.Labels{"version": Version, "data_version": dataVersion, "go_version": runtime.Version()}})
	build.Set(1)
	for _, each := range []prometheus.Collector{m.seconds, m.inFlight, m.plans, m.store, build, collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{})} {
		if err := r.Register(each); err != nil {
			return nil, err
		}
	}
	return m, nil
}

// answered counts and times a request; operation is nil if the contract has none.
func (m *meters) answered(operation *contract.Operation, status int, took time.Duration) {
	if in, known := m.succeeded.Load(operation); known && status == http.StatusOK {
		in.(prometheus.Observer).Observe(took.Seconds())
		return
	}
	id := "none"
	if operation != nil {
		id = operation.OperationID
	}
	in := m.seconds.WithLabelValues(id, strconv.Itoa(status))
	in.Observe(took.Seconds())
	if status == http.StatusOK {
		m.succeeded.Store(operation, in)
	}
}

// plan counts a plan that was computed or refused.
func (m *meters) plan(plan transfer.Plan, err error) {
	_, refused := errors.AsType[*transfer.InfeasibleError](err)
	switch {
	case err == nil:
		m.plans.WithLabelValues(string(plan.Route), string(plan.Search)).Inc()
	case refused:
		m.plans.WithLabelValues("none", "refused").Inc()
	case errors.Is(err, context.DeadlineExceeded):
		m.plans.WithLabelValues("none", "out_of_time").Inc()
	}
}

// acted counts and traces an act of the database.
func (s *Server) acted(ctx context.Context, act string, start time.Time, err error) {
	s.meters.act(act, time.Since(start), err)
	s.traces.part(ctx, "database: "+act, start)
}

// act times an act of the database.
func (m *meters) act(act string, took time.Duration, err error) {
	result := "none"
	switch _, hindered := hindered(err); {
	case err == nil:
		result = "ok"
	case hindered:
		result = "fault"
	}
	m.store.WithLabelValues(act, result).Observe(took.Seconds())
}

// GetMetrics answers GET /metrics.
func (s *Server) GetMetrics(c echo.Context) error {
	promhttp.HandlerFor(s.registry, promhttp.HandlerOpts{}).ServeHTTP(c.Response(), c.Request())
	return nil
}
