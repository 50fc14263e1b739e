package server

import (
	"strconv"
	"time"

	"github.com/labstack/echo/v4"
	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"

	"saltlock/server/contract"
)

// observer registers the service's metrics and returns what feeds them. The
// labels are the operation and the status, never a path, so that their number
// is bounded by the contract.
func observer(r *prometheus.Registry, c *contract.Contract) (echo.MiddlewareFunc, error) {
	seconds := prometheus.NewHistogramVec(prometheus.HistogramOpts{
		Name:    "saltlock_http_request_duration_seconds",
		Help:    "Time to answer a request.",
		Buckets: []float64{.0005, .001, .0025, .005, .01, .025, .05, .1, .25, 1, 5},
	}, []string{"operation", "code"})
	for _, m := range []prometheus.Collector{seconds, collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{})} {
		if err := r.Register(m); err != nil {
			return nil, err
		}
	}
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(ctx echo.Context) error {
			start := time.Now()
			if err := next(ctx); err != nil {
				ctx.Error(err)
			}
			operation := "none"
			if op := c.Operation(ctx); op != nil {
				operation = op.OperationID
			}
			seconds.WithLabelValues(operation, strconv.Itoa(ctx.Response().Status)).Observe(time.Since(start).Seconds())
			return nil
		}
	}, nil
}

// GetMetrics answers GET /metrics.
func (s *Server) GetMetrics(c echo.Context) error {
	promhttp.HandlerFor(s.registry, promhttp.HandlerOpts{}).ServeHTTP(c.Response(), c.Request())
	return nil
}
