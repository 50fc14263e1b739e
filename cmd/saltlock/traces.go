package main

import (
	"context"
	"fmt"
	"log/slog"
	"strings"
	"time"

	"go.opentelemetry.io/otel"
	"go.opentelemetry.io/otel/attribute"
	"go.opentelemetry.io/otel/exporters/otlp/otlptrace/otlptracehttp"
	"go.opentelemetry.io/otel/sdk/resource"
	sdktrace "go.opentelemetry.io/otel/sdk/trace"
	"go.opentelemetry.io/otel/trace"

	"saltlock/server"
)

// lastTraces is how long the program waits at its end for the trace receiver.
const lastTraces = 3 * time.Second

// tracing follows the variables that OpenTelemetry defines for every program. It is on if a
// receiver is given (OTEL_EXPORTER_OTLP_ENDPOINT, or …_TRACES_ENDPOINT) or asked for
// (OTEL_TRACES_EXPORTER=otlp), and sends by HTTP. The library itself reads sampling, batches,
// headers and certificates from the environment. Without these there is no tracer, and none of
// this runs. flush sends what is left.
func tracing(ctx context.Context, log *slog.Logger, getenv func(string) string) (tracer trace.Tracer, flush func(), err error) {
	none := func() {}
	on, err := traced(getenv)
	if err != nil || !on {
		return nil, none, err
	}
	exporter, err := otlptracehttp.New(ctx)
	if err != nil {
		return nil, none, fmt.Errorf("traces: %w", err)
	}
	described, err := resource.New(ctx, resource.WithAttributes(attribute.String("service.name", "saltlock"), attribute.String("service.version", server.Version)),
		resource.WithTelemetrySDK(), resource.WithFromEnv()) // these may give it another name
	if err != nil {
		return nil, none, fmt.Errorf("traces: %w", err)
	}
	provider := sdktrace.NewTracerProvider(sdktrace.WithBatcher(exporter), sdktrace.WithResource(described))
	otel.SetErrorHandler(otel.ErrorHandlerFunc(func(err error) { log.Warn("traces are not taken", "error", err) }))
	return provider.Tracer("saltlock"), func() {
		within, cancel := context.WithTimeout(context.WithoutCancel(ctx), lastTraces)
		defer cancel()
		if err := provider.Shutdown(within); err != nil {
			log.Warn("the last traces were not taken", "error", err)
		}
	}, nil
}

// traced reports whether traces are asked for, and refuses settings that cannot work.
func traced(getenv func(string) string) (bool, error) {
	exporter := getenv("OTEL_TRACES_EXPORTER")
	switch {
	case strings.EqualFold(getenv("OTEL_SDK_DISABLED"), "true") || exporter == "none":
		return false, nil
	case exporter == "" && getenv("OTEL_EXPORTER_OTLP_ENDPOINT") == "" && getenv("OTEL_EXPORTER_OTLP_TRACES_ENDPOINT") == "":
		return false, nil
	case exporter != "" && exporter != "otlp":
		return false, fmt.Errorf("OTEL_TRACES_EXPORTER is %q; otlp and none can be had", exporter)
	}
	for _, name := range []string{"OTEL_EXPORTER_OTLP_TRACES_PROTOCOL", "OTEL_EXPORTER_OTLP_PROTOCOL"} {
		if protocol := getenv(name); protocol != "" {
			if protocol != "http/protobuf" {
				return false, fmt.Errorf("%s is %q; http/protobuf alone can be had", name, protocol)
			}
			break // the first of them counts
		}
	}
	return true, nil
}
