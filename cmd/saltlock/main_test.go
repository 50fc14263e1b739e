package main

import (
	"bytes"
	"context"
	"io"
	"net"
	"net/http"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"saltlock/server/store"
)

// output collects what the program says while it runs.
type output struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (o *output) Write(p []byte) (int, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.text.Write(p)
}

func (o *output) String() string {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.text.String()
}

// A request in progress is finished after the signal to stop, and the program ends without an
// error.
func TestServe(t *testing.T) {
	t.Parallel()
	ctx, stop := context.WithCancel(t.Context())
	out := &output{}
	ended := make(chan error, 1)
	environment := map[string]string{"SALTLOCK_DATABASE": filepath.Join(t.TempDir(), "test.db")}
	go func() {
		ended <- run(ctx, []string{"serve", "--addr", "127.0.0.1:0"}, func(name string) string { return environment[name] }, out)
	}()
	base := listening(t, out)
	in, body := io.Pipe()
	answer := make(chan *http.Response, 1)
	go func() {
		r, err := http.Post(base+"/v1/conversions", "text/csv", in)
		if err != nil {
			t.Error(err)
			close(answer)
			return
		}
		answer <- r
	}()
	if _, err := io.WriteString(body, "reading,temperature\n"); err != nil {
		t.Fatal(err)
	}
	r := <-answer
	if r == nil {
		t.FailNow()
	}
	defer r.Body.Close()
	stop()
	if _, err := io.WriteString(body, "35 ppt,25C\n"); err != nil {
		t.Fatal(err)
	}
	body.Close()
	if text, err := io.ReadAll(r.Body); err != nil || !strings.Contains(string(text), "\n35 ppt,25C,35,") {
		t.Errorf("the request in hand got %q, %v", text, err)
	}
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// The pages name the address and the operator from the settings.
func TestPagesKnowWhereTheyAre(t *testing.T) {
	t.Parallel()
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	out := &output{}
	ended := make(chan error, 1)
	settings := map[string]string{"SALTLOCK_DATABASE": filepath.Join(t.TempDir(), "test.db"), "SALTLOCK_OPERATOR": "Example <Fishkeepers>"}
	go func() {
		ended <- run(ctx, []string{"serve", "--addr", "127.0.0.1:0", "--public-url", "https://salt.example.org/"}, func(name string) string { return settings[name] }, out)
	}()
	base := listening(t, out)
	r, err := http.Get(base + "/docs")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	page, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"https://salt.example.org/v1/mixes/salt?", "run by Example &lt;Fishkeepers&gt;.", `content="https://salt.example.org/card.png"`} {
		if !strings.Contains(strings.ReplaceAll(string(page), "<wbr>", ""), want) { // where a line may break
			t.Errorf("the reference has no %q", want)
		}
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

func TestBaseURL(t *testing.T) {
	for address, want := range map[string]string{"0.0.0.0:80": "http://localhost:80", "[::]:8080": "http://localhost:8080", "[::1]:81": "http://[::1]:81", "127.0.0.1:82": "http://127.0.0.1:82"} {
		a, err := net.ResolveTCPAddr("tcp", address)
		if err != nil {
			t.Fatal(err)
		}
		if got := baseURL(a); got != want {
			t.Errorf("baseURL(%s) = %s, want %s", address, got, want)
		}
	}
}

func TestCommands(t *testing.T) {
	for _, c := range []struct {
		args []string
		says string
		fail string
	}{
		{nil, "saltlock serve", ""},
		{[]string{"help"}, "saltlock serve", ""},
		{[]string{"version"}, "saltlock 0.", ""},
		{[]string{"srve"}, "", "no command"},
		{[]string{"serve", "now"}, "", "takes no"},
		{[]string{"serve", "--addr", ""}, "", "addr is empty"},
		{[]string{"serve", "--database", t.TempDir() + "/x.db", "--supplement", t.TempDir() + "/none.csv"}, "", "own entries not loaded"},
		{[]string{"serve", "--database", t.TempDir() + "/none/there.db"}, "", "open database"},
	} {
		out := &output{}
		err := run(t.Context(), c.args, func(string) string { return "" }, out)
		if (err == nil) != (c.fail == "") || err != nil && !strings.Contains(err.Error(), c.fail) || !strings.Contains(out.String(), c.says) {
			t.Errorf("saltlock %q says %q, %v; want %q, %q", c.args, out, err, c.says, c.fail)
		}
	}
}

// Transfers go from one database to another by an export, and into a copy by a backup.
func TestCarry(t *testing.T) {
	dir := t.TempDir()
	database, copied, lines := filepath.Join(dir, "test.db"), filepath.Join(dir, "copy.db"), filepath.Join(dir, "export.jsonl")
	db, err := store.Open(t.Context(), database)
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args       []string
		says, fail string
	}{
		{[]string{"backup", "--database", database, copied}, "Copied", ""},
		{[]string{"backup", "--database", database, copied}, "", "exists"},
		{[]string{"backup", "--database", database}, "", "name of a file"},
		{[]string{"backup", "--database", filepath.Join(dir, "none.db"), filepath.Join(dir, "new.db")}, "", "no such file"},
		{[]string{"export", "--database", filepath.Join(dir, "none.db"), filepath.Join(dir, "new.jsonl")}, "", "no such file"},
		{[]string{"export", "--database", copied, lines}, "Wrote 0 transfers", ""},
		{[]string{"import", "--database", database, lines}, "Added 0 transfers", ""},
		{[]string{"import", "--database", database, copied}, "", "line 1"},
		{[]string{"import", "--database", database, lines, lines}, "", "takes no"},
	} {
		out := &output{}
		err := run(t.Context(), c.args, func(string) string { return "" }, out)
		if (err == nil) != (c.fail == "") || err != nil && !strings.Contains(err.Error(), c.fail) || !strings.Contains(out.String(), c.says) {
			t.Errorf("saltlock %q says %q, %v; want %q, %q", c.args, out, err, c.says, c.fail)
		}
	}
}
