package embed

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// A reader on a phone waits for no more than this, gzip included.
func TestSizes(t *testing.T) {
	s, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	for name, most := range map[string]int{"converter.js": 4 << 10, "all.js": 16 << 10, "salt.js": 16 << 10, "species.js": 16 << 10, "transfer.js": 16 << 10} {
		f, ok := s.Files[name]
		if !ok {
			t.Errorf("there is no %s", name)
		}
		if len(f.Gzip) > most {
			t.Errorf("%s takes %d bytes gzip, want %d at most", name, len(f.Gzip), most)
		}
		if pinned := s.Files[s.Version+"/"+name]; !bytes.Equal(pinned.Body, f.Body) || len(f.Body) == 0 {
			t.Errorf("%s of version %s is not the current one", name, s.Version)
		}
	}
}

// The name of a version holds the digest of its modules, so that what a URL
// serves for ever cannot change under it.
func TestVersionsAreTheirContent(t *testing.T) {
	folders, err := fs.Glob(files, "dist/*-*")
	if err != nil || len(folders) == 0 {
		t.Fatalf("no versions: %v", err)
	}
	for _, folder := range folders {
		names, err := fs.Glob(files, folder+"/*.js")
		if err != nil {
			t.Fatal(err)
		}
		digest := sha256.New()
		for _, name := range names { // sorted, as the bundle writes them
			body, err := files.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			digest.Write(body)
		}
		if want := hex.EncodeToString(digest.Sum(nil)[:4]); !strings.HasSuffix(folder, "-"+want) {
			t.Errorf("%s holds the modules of %s", path.Base(folder), want)
		}
	}
}

// Chromium drives each element against the real program; see test/.
func TestInBrowser(t *testing.T) {
	node := need(t, "node", "apt-get install nodejs npm")
	chromium := need(t, "chromium", "apt-get install chromium")
	if _, err := os.Stat("node_modules/playwright-core"); err != nil {
		missing(t, "playwright-core", "npm ci --prefix clients/embed")
	}
	run := exec.CommandContext(t.Context(), node, "--test", "--test-timeout=300000", "--test-reporter=spec", "test/main.mjs")
	run.Env = append(os.Environ(), "SALTLOCK_URL="+serve(t), "CHROMIUM="+chromium)
	out, err := run.CombinedOutput()
	if err != nil {
		t.Errorf("%v\n%s", err, out)
	}
	t.Logf("%s", out)
}

// need finds a program, or says how to get it.
func need(t *testing.T, name, install string) string {
	t.Helper()
	p, err := exec.LookPath(name)
	if err != nil {
		missing(t, name, install)
	}
	return p
}

// missing skips the test, which in CI is a failure.
func missing(t *testing.T, what, install string) {
	t.Helper()
	if os.Getenv("SALTLOCK_CI") == "1" {
		t.Fatalf("%s is missing: %s", what, install)
	}
	t.Skipf("the elements were not run in a browser, %s is missing: %s", what, install)
}

// serve builds the program, starts it on a free port and returns where it listens.
func serve(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	binary := filepath.Join(dir, "saltlock")
	if out, err := exec.CommandContext(t.Context(), "go", "build", "-o", binary, "saltlock/cmd/saltlock").CombinedOutput(); err != nil {
		t.Fatalf("build: %v\n%s", err, out)
	}
	program := exec.Command(binary, "serve", "--addr", "127.0.0.1:0", "--database", filepath.Join(dir, "test.db"))
	out, err := program.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := program.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := program.Process.Signal(os.Interrupt); err != nil {
			t.Error(err)
		}
		if err := program.Wait(); err != nil {
			t.Error(err)
		}
	})
	found := make(chan string, 1)
	go func() {
		lines := bufio.NewScanner(out)
		for lines.Scan() {
			if base := regexp.MustCompile(`http://127\.0\.0\.1:\d+`).FindString(lines.Text()); base != "" {
				found <- base
				break
			}
		}
		close(found)
		_, _ = io.Copy(io.Discard, out) // until the program ends
	}()
	select {
	case base := <-found:
		if base == "" {
			t.Fatal("the program ended without saying where it listens")
		}
		return base
	case <-time.After(30 * time.Second):
		t.Fatal("the program does not say where it listens")
	}
	return ""
}
