package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/hex"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	collect "go.opentelemetry.io/proto/otlp/collector/trace/v1"
	spans "go.opentelemetry.io/proto/otlp/trace/v1"
	"google.golang.org/protobuf/proto"
)

// receiver accepts traces as a collector does (OTLP over HTTP), and keeps them.
type receiver struct {
	*httptest.Server
	mu    sync.Mutex
	spans []*spans.Span
	all   bytes.Buffer // as they came
	names []string     // of services
}

func newReceiver(t *testing.T) *receiver {
	r := &receiver{}
	r.Server = httptest.NewServer(http.HandlerFunc(func(_ http.ResponseWriter, q *http.Request) {
		var in io.Reader = q.Body
		if q.Header.Get("Content-Encoding") == "gzip" {
			zipped, err := gzip.NewReader(in)
			if err != nil {
				t.Error(err)
				return
			}
			in = zipped
		}
		text, err := io.ReadAll(in)
		var sent collect.ExportTraceServiceRequest
		if err != nil || q.URL.Path != "/v1/traces" || proto.Unmarshal(text, &sent) != nil {
			t.Errorf("%s: %v, or no traces", q.URL, err)
		}
		r.mu.Lock()
		defer r.mu.Unlock()
		r.all.Write(text)
		for _, of := range sent.ResourceSpans {
			for _, a := range of.Resource.Attributes {
				if a.Key == "service.name" {
					r.names = append(r.names, a.Value.GetStringValue())
				}
			}
			for _, scope := range of.ScopeSpans {
				r.spans = append(r.spans, scope.Spans...)
			}
		}
	}))
	t.Cleanup(r.Close)
	return r
}

// span is the first of a name.
func (r *receiver) span(name string) *spans.Span {
	for _, s := range r.spans {
		if s.Name == name {
			return s
		}
	}
	return nil
}

// With a receiver named in the environment, each request is a span by its route, part of the
// caller's trace, with plans and the database inside. Nothing in them identifies anybody: no
// address, query, id or key.
func TestTraces(t *testing.T) {
	collector := newReceiver(t)
	t.Setenv("OTEL_EXPORTER_OTLP_ENDPOINT", collector.URL)
	t.Setenv("OTEL_EXPORTER_OTLP_COMPRESSION", "gzip")
	t.Setenv("OTEL_SERVICE_NAME", "club")
	ctx, stop := context.WithCancel(t.Context())
	out, ended := &output{}, make(chan error, 1)
	go func() {
		ended <- run(ctx, []string{"serve", "--addr", "127.0.0.1:0", "--drain-wait", "1ms", "--database", filepath.Join(t.TempDir(), "test.db")}, os.Getenv, out)
	}()
	base := listening(t, out)
	const caller = "4bf92f3577b34da6a3ce929d0e0e4736"
	saved := ask(t, http.MethodPost, base+"/v1/transfers", `{"animals": [{"sensitivity": "hardy"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "5 ppt", "temperature": "26 C"}}`, "")
	id, key := saved["id"].(string), saved["key"].(string)
	ask(t, http.MethodPatch, base+"/v1/transfers/"+id, `{"note": "for Ada"}`, key)
	q, err := http.NewRequestWithContext(t.Context(), http.MethodGet, base+"/v1/mixes/salt?target=10%20ppt&volume=4711%20L", nil)
	if err != nil {
		t.Fatal(err)
	}
	q.Header.Set("traceparent", "00-"+caller+"-00f067aa0ba902b7-01")
	if a, err := http.DefaultClient.Do(q); err != nil || a.Body.Close() != nil || a.StatusCode != http.StatusOK {
		t.Fatal(a, err)
	}
	stop()
	if err := <-ended; err != nil {
		t.Fatal(err)
	}
	collector.mu.Lock()
	defer collector.mu.Unlock()
	salt, write := collector.span("GET /v1/mixes/salt"), collector.span("POST /v1/transfers")
	if salt == nil || write == nil {
		t.Fatalf("of %d spans none is the request's", len(collector.spans))
	}
	if got := hex.EncodeToString(salt.TraceId); got != caller {
		t.Errorf("the request is part of the trace %s, want %s", got, caller)
	}
	for _, name := range []string{"wait for a turn to plan", "plan", "database: save"} {
		part := collector.span(name)
		if part == nil || !bytes.Equal(part.ParentSpanId, write.SpanId) || part.EndTimeUnixNano < part.StartTimeUnixNano {
			t.Errorf("%q is no part of the request: %v", name, part)
		}
	}
	if len(collector.names) == 0 || collector.names[0] != "club" {
		t.Errorf("the service is called %v", collector.names)
	}
	for _, private := range []string{id, key, "Ada", "4711", "127.0.0.1", "Go-http-client"} {
		if bytes.Contains(collector.all.Bytes(), []byte(private)) {
			t.Errorf("%q is in the traces", private)
		}
	}
}

// listening waits for the address of a starting program.
func listening(t *testing.T, out *output) string {
	t.Helper()
	for range 600 {
		if base := regexp.MustCompile(`http://127\.0\.0\.1:\d+`).FindString(out.String()); base != "" {
			return base
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatalf("the program does not say where it listens: %s", out)
	return ""
}

// Without the variables there is no tracer; settings that cannot work are refused at start.
func TestTracesByEnvironment(t *testing.T) {
	for _, c := range []struct {
		environment string
		on          bool
		refused     string
	}{
		{"", false, ""},
		{"OTEL_EXPORTER_OTLP_ENDPOINT=http://127.0.0.1:4318", true, ""},
		{"OTEL_TRACES_EXPORTER=otlp", true, ""},
		{"OTEL_TRACES_EXPORTER=none OTEL_EXPORTER_OTLP_ENDPOINT=http://127.0.0.1:4318", false, ""},
		{"OTEL_SDK_DISABLED=true OTEL_EXPORTER_OTLP_ENDPOINT=http://127.0.0.1:4318", false, ""},
		{"OTEL_TRACES_EXPORTER=zipkin", false, "otlp and none"},
		{"OTEL_TRACES_EXPORTER=otlp OTEL_EXPORTER_OTLP_PROTOCOL=grpc", false, "http/protobuf"},
		{"OTEL_TRACES_EXPORTER=otlp OTEL_EXPORTER_OTLP_PROTOCOL=grpc OTEL_EXPORTER_OTLP_TRACES_PROTOCOL=http/protobuf", true, ""},
	} {
		environment := map[string]string{}
		for _, one := range strings.Fields(c.environment) {
			name, value, _ := strings.Cut(one, "=")
			environment[name] = value
		}
		on, err := traced(func(name string) string { return environment[name] })
		if on != c.on || (err == nil) != (c.refused == "") || err != nil && !strings.Contains(err.Error(), c.refused) {
			t.Errorf("%q: %v, %v", c.environment, on, err)
		}
	}
}
