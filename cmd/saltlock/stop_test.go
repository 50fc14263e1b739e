package main

import (
	"context"
	"io"
	"net/http"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A client that sends rows for ever is told of the stop and does not delay it.
func TestEndlessTableHoldsUpNoStop(t *testing.T) {
	t.Parallel()
	ctx, stop := context.WithCancel(t.Context())
	out, ended := &output{}, make(chan error, 1)
	go func() {
		ended <- run(ctx, []string{"serve", "--addr", "127.0.0.1:0", "--database", filepath.Join(t.TempDir(), "test.db")}, func(string) string { return "" }, out)
	}()
	base := listening(t, out)
	in, rows := io.Pipe()
	go func() {
		_, err := io.WriteString(rows, "reading\n")
		for err == nil {
			_, err = io.WriteString(rows, "35 ppt\n")
			time.Sleep(20 * time.Millisecond)
		}
	}()
	r, err := http.Post(base+"/v1/conversions", "text/csv", in)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	start := time.Now()
	stop()
	text, err := io.ReadAll(r.Body)
	if err != nil || !strings.Contains(string(text), "the service stops") {
		t.Errorf("the table ends with %q, %v", text[max(0, len(text)-200):], err)
	}
	in.Close()
	if err := <-ended; err != nil {
		t.Error(err)
	}
	if took := time.Since(start); took > lastAnswers {
		t.Errorf("the program ended %v after the signal", took)
	}
}

// After the signal to stop, /readyz says so while everybody is still answered.
func TestNotReadyBeforeTheStop(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	out, ended := &output{}, make(chan error, 1)
	go func() {
		ended <- run(ctx, []string{"serve", "--addr", "127.0.0.1:0", "--drain-wait", "1s", "--database", filepath.Join(t.TempDir(), "test.db")}, func(string) string { return "" }, out)
	}()
	base := listening(t, out)
	status := func(path string) int {
		r, err := http.Get(base + path)
		if err != nil {
			t.Fatal(err)
		}
		defer r.Body.Close()
		return r.StatusCode
	}
	if got := status("/readyz"); got != http.StatusOK {
		t.Errorf("/readyz: %d", got)
	}
	stop()
	if got := status("/readyz"); got != http.StatusServiceUnavailable {
		t.Errorf("/readyz after the signal: %d", got)
	}
	if got := status("/v1/mixes/salt?target=10ppt&volume=10L"); got != http.StatusOK {
		t.Errorf("a request after the signal: %d", got)
	}
	if err := <-ended; err != nil {
		t.Error(err)
	}
}
