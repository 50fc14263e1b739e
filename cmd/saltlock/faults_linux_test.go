package main

import (
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A folder or a file that cannot be written: the program says so and ends, and leaves the file
// alone.
func TestReadOnlyFile(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	path := filepath.Join(dir, "test.db")
	process, base := launch(t, theProgram(t), path)
	ask(t, http.MethodGet, base+"/v1/mixes/salt?target=10%20ppt&volume=450%20L", "", "")
	if err := process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	if _, err := process.Wait(); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	program := filepath.Join(dir, "saltlock") // where everybody may run it
	if err := os.Link(theProgram(t), program); err != nil {
		t.Fatal(err)
	}
	for _, at := range []struct {
		path string
		mode os.FileMode
	}{{path, 0o444}, {dir, 0o555}, {filepath.Dir(dir), 0o755}} {
		if err := os.Chmod(at.path, at.mode); err != nil {
			t.Fatal(err)
		}
	}
	defer os.Chmod(dir, 0o755) // so that it can be removed
	cmd := exec.CommandContext(t.Context(), program, "serve", "--addr", "127.0.0.1:0", "--database", path)
	asNobody(cmd)
	out, err := cmd.CombinedOutput()
	if err == nil || !strings.Contains(string(out), "cannot be read or written") {
		t.Errorf("started on a file that it may not write: %v\n%s", err, out)
	}
	if after, err := os.ReadFile(path); err != nil || string(after) != string(before) {
		t.Errorf("the file was changed, %v", err)
	}
}

// Killed before a client has its answer: the same request with the same key, sent again, finds
// what was saved or saves it, once.
func TestKilledMidAnswer(t *testing.T) {
	program, database := theProgram(t), filepath.Join(t.TempDir(), "test.db")
	const body = `{"animals": [{"sensitivity": "hardy"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "5 ppt", "temperature": "26 C"}}`
	unanswered := 0
	for n := range 5 {
		process, base := launch(t, program, database)
		key := fmt.Sprintf("0190b6f2-7c1a-7d3e-9c55-3f1f6f1f7a%02d", n)
		first := make(chan string, 1)
		go func() {
			id, err := saveOnce(base, key, body)
			if err != nil {
				id = ""
			}
			first <- id
		}()
		time.Sleep(300 * time.Microsecond << (2 * n)) // an answer takes a few milliseconds
		if err := process.Kill(); err != nil {
			t.Fatal(err)
		}
		if _, err := process.Wait(); err != nil {
			t.Fatal(err)
		}
		told := <-first
		process, base = launch(t, program, database)
		again, err := saveOnce(base, key, body)
		if err != nil {
			t.Fatal(err)
		}
		once, err := saveOnce(base, key, body)
		if err != nil || once != again || told != "" && told != again {
			t.Errorf("%q is told before, then %q and %q, %v", told, again, once, err)
		}
		if told == "" {
			unanswered++
		}
		if err := process.Kill(); err != nil {
			t.Fatal(err)
		}
		if _, err := process.Wait(); err != nil {
			t.Fatal(err)
		}
	}
	if unanswered == 0 {
		t.Error("each was answered before it was killed")
	}
}

// saveOnce saves a transfer under an idempotency key, and returns its id.
func saveOnce(base, key, body string) (string, error) {
	return send(base+"/v1/transfers", body, "Idempotency-Key", key)
}

// With little memory the program collects garbage more often, and answers the same.
func TestMemoryLimit(t *testing.T) {
	program := theProgram(t)
	t.Setenv("GOMEMLIMIT", "64MiB")
	process, base := launch(t, program, filepath.Join(t.TempDir(), "test.db"))
	defer process.Kill()
	items := strings.Repeat(`{"reading": "1.010 SG", "temperature": "25 C"},`, 9999) + `{"reading": "1.010 SG", "temperature": "25 C"}`
	for range 3 {
		r, err := http.Post(base+"/v1/conversions", "application/json", strings.NewReader("["+items+"]"))
		if err != nil {
			t.Fatal(err)
		}
		n, err := io.Copy(io.Discard, r.Body)
		r.Body.Close()
		if err != nil || r.StatusCode != http.StatusOK || n < 10_000_000 {
			t.Errorf("10,000 readings: %d, %d bytes, %v", r.StatusCode, n, err)
		}
	}
	ask(t, http.MethodPost, base+"/v1/transfers/plan", `{"animals": [{"sensitivity": "hardy"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "10 ppt", "temperature": "26 C"}, "container": {"capacity": "20 L", "aerated": true}}`, "")
	if used := peakMemory(t, process.Pid); used > 160 {
		t.Errorf("%d MB were resident at the most", used)
	}
}

// Clients that send a request head byte by byte delay nobody, and are cut off.
func TestSlowClients(t *testing.T) {
	t.Parallel()
	ctx, stop := context.WithCancel(t.Context())
	out, ended := &output{}, make(chan error, 1)
	go func() {
		ended <- run(ctx, []string{"serve", "--addr", "127.0.0.1:0", "--drain-wait", "1ms", "--database", filepath.Join(t.TempDir(), "test.db")}, func(string) string { return "" }, out)
	}()
	base := listening(t, out)
	start := time.Now()
	var slow []net.Conn
	for range 200 {
		c, err := net.Dial("tcp", strings.TrimPrefix(base, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		if _, err := io.WriteString(c, "GET /v1/methods HTTP/1.1\r\nHost: x\r\nX-Slow: "); err != nil {
			t.Fatal(err)
		}
		slow = append(slow, c)
	}
	asked := time.Now()
	ask(t, http.MethodGet, base+"/v1/mixes/salt?target=10%20ppt&volume=450%20L", "", "")
	if took := time.Since(asked); took > 2*time.Second {
		t.Errorf("beside 200 slow clients an answer takes %v", took)
	}
	for _, c := range slow {
		if err := c.SetReadDeadline(start.Add(slowestHead + 5*time.Second)); err != nil {
			t.Fatal(err)
		}
		if _, err := io.ReadAll(c); err != nil { // not one of our time-outs
			t.Fatalf("a slow client is still connected after %v: %v", time.Since(start), err)
		}
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}
