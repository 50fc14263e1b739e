package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// A flag outranks the environment, which outranks the file, which outranks the default; the
// program can read what config prints as its file.
func TestSettings(t *testing.T) {
	path := filepath.Join(t.TempDir(), "saltlock.conf")
	if err := os.WriteFile(path, []byte("# ours\n\naddr = 127.0.0.1:1\noperator = File & Sons\nplans-burst = 7\ndatabase=file.db\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	environment := map[string]string{"SALTLOCK_CONFIG": path, "SALTLOCK_OPERATOR": "Env", "SALTLOCK_TRUSTED_PROXIES": "10.0.0.0/8, ::1"}
	getenv := func(name string) string { return environment[name] }
	out := &output{}
	if err := run(t.Context(), []string{"config", "--addr", "127.0.0.1:2"}, getenv, out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"from: flag\naddr = 127.0.0.1:2\n", "from: environment\noperator = Env\n", "from: " + path + "\nplans-burst = 7\n",
		"from: default\nwrites-per-minute = 30\n", "trusted-proxies = 10.0.0.0/8,::1/128\n", "database = file.db\n"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("config says nothing of %q:\n%s", want, out)
		}
	}
	if err := os.WriteFile(path, []byte(out.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	again := &output{}
	if err := run(t.Context(), []string{"config", "--config", path}, func(string) string { return "" }, again); err != nil {
		t.Fatal(err)
	}
	values := func(o *output) string { return regexp.MustCompile(`(?m)^#.*\n`).ReplaceAllString(o.String(), "") }
	if values(again) != values(out) {
		t.Errorf("read again it says\n%s\nbefore\n%s", values(again), values(out))
	}
}

func TestBadSettings(t *testing.T) {
	path := filepath.Join(t.TempDir(), "saltlock.conf")
	for _, c := range []struct{ file, variable, value, says string }{
		{"adr = 127.0.0.1:1", "", "", "line 1"}, {"\nnonsense", "", "", "line 2"}, {"plans-burst = many", "", "", "plans-burst"},
		{"", "SALTLOCK_TRUSTED_PROXIES", "proxy.example.org", "is no network"}, {"", "SALTLOCK_PLANS_PER_MINUTE", "1.5", "plans-per-minute"},
		{"plan-time = 0s", "", "", "100ms to 20s"}, {"plan-time = 1m", "", "", "100ms to 20s"}, {"drain-wait = 999h", "", "", "0s to 1m0s"},
		{"most-connections = 0", "", "", "at least 1"}, {"most-transfers = -1", "", "", "at least 0"}, {"plans-burst = 0", "", "", "at least 1"},
	} {
		if err := os.WriteFile(path, []byte(c.file), 0o600); err != nil {
			t.Fatal(err)
		}
		err := run(t.Context(), []string{"config", "--config", path}, func(name string) string { return map[string]string{c.variable: c.value}[name] }, &output{})
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q, %s=%q: %v, want %q", c.file, c.variable, c.value, err, c.says)
		}
	}
}

// A request head that is too large is refused, and connections beyond the limit wait.
func TestBoundsOfConnections(t *testing.T) {
	t.Parallel()
	ctx, stop := context.WithCancel(t.Context())
	out := &output{}
	ended := make(chan error, 1)
	environment := map[string]string{"SALTLOCK_DATABASE": filepath.Join(t.TempDir(), "test.db"), "SALTLOCK_MOST_CONNECTIONS": "3"}
	go func() {
		ended <- run(ctx, []string{"serve", "--addr", "127.0.0.1:0"}, func(name string) string { return environment[name] }, out)
	}()
	base := listening(t, out)
	r, err := http.Get(base + "/v1/conversions?reading=" + strings.Repeat("9", 40<<10))
	if err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	if r.StatusCode != http.StatusRequestHeaderFieldsTooLarge {
		t.Errorf("an address of 40 kB: %d, want 431", r.StatusCode)
	}
	http.DefaultClient.CloseIdleConnections()
	var open []net.Conn
	for range 3 {
		c, err := net.Dial("tcp", strings.TrimPrefix(base, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		if code := health(t, c); code != "200" {
			t.Fatalf("%s", code)
		}
		open = append(open, c)
	}
	waits, err := net.Dial("tcp", strings.TrimPrefix(base, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	answered := make(chan string, 1)
	go func() { answered <- health(t, waits) }()
	select {
	case code := <-answered:
		t.Errorf("a fourth connection is answered %s", code)
	case <-time.After(300 * time.Millisecond):
	}
	open[0].Close()
	if code := <-answered; code != "200" {
		t.Errorf("with one closed it is answered %s", code)
	}
	for _, c := range append(open[1:], waits) {
		c.Close()
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// health asks for the probe over a connection that stays open, and returns the status.
func health(t *testing.T, c net.Conn) string {
	if _, err := fmt.Fprint(c, "GET /healthz HTTP/1.1\r\nHost: x\r\n\r\n"); err != nil {
		t.Error(err)
	}
	r, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		t.Error(err)
		return ""
	}
	defer r.Body.Close()
	if _, err := io.Copy(io.Discard, r.Body); err != nil {
		t.Error(err)
	}
	return fmt.Sprint(r.StatusCode)
}
