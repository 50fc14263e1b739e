package server

import (
	"context"
	"net/http"
	"strings"
	"time"

	"github.com/labstack/echo/v4"
	"go.opentelemetry.io/otel/attribute"
	"go.opentelemetry.io/otel/codes"
	"go.opentelemetry.io/otel/propagation"
	"go.opentelemetry.io/otel/trace"

	"saltlock/server/contract"
)

// traces follow a request through the service with OpenTelemetry. They name a request by its route
// alone: no address, query, id or key is in them.
type traces struct {
	tracer   trace.Tracer
	contract *contract.Contract
}

// parent reads from a request whose work it is part of (W3C Trace Context).
var parent propagation.TraceContext

// request opens a span for each request, by its route.
func (t *traces) request(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r := c.Request()
		name := strings.TrimSpace(r.Method + " " + c.Path()) // empty if there is no such route
		ctx, span := t.tracer.Start(parent.Extract(r.Context(), propagation.HeaderCarrier(r.Header)), name, trace.WithSpanKind(trace.SpanKindServer))
		defer span.End()
		c.SetRequest(r.WithContext(ctx))
		err := next(c)
		status := c.Response().Status
		span.SetAttributes(attribute.String("http.request.method", r.Method), attribute.String("http.route", c.Path()), attribute.Int("http.response.status_code", status))
		if op := t.contract.Operation(c); op != nil {
			span.SetAttributes(attribute.String("saltlock.operation", op.OperationID), attribute.String("saltlock.class", string(op.Class)))
		}
		if status >= http.StatusInternalServerError {
			span.SetStatus(codes.Error, "")
		}
		return err
	}
}

// part adds a finished part to the span of a request. With a nil t nothing is traced.
func (t *traces) part(ctx context.Context, name string, start time.Time) {
	if t == nil {
		return
	}
	_, span := t.tracer.Start(ctx, name, trace.WithTimestamp(start))
	span.End()
}
