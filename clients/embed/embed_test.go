package embed

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"saltlock/clients/internal/live"
)

// A reader on a phone waits for no more than this, compressed.
func TestSizes(t *testing.T) {
	s, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	for name, most := range map[string]int{"converter.js": 4352, "all.js": 16 << 10, "salt.js": 16 << 10, "species.js": 16 << 10, "transfer.js": 16 << 10} {
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

// The name of a version contains the digest of its modules, so that what a permanent URL serves
// cannot change.
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

// All clients have the contract's version; what a release served is still served.
func TestVersionsInForce(t *testing.T) {
	contract, err := os.ReadFile("../../openapi.yaml")
	if err != nil {
		t.Fatal(err)
	}
	version := regexp.MustCompile(`(?m)^  version: (.+)$`).FindSubmatch(contract)
	current, err := files.ReadFile("dist/current")
	if err != nil || version == nil || !strings.HasPrefix(string(current), string(version[1])+"-") {
		t.Errorf("the elements are at %s, the contract at %s; %v", current, version, err)
	}
	for _, released := range []string{"0.1.0-c241d1a1"} { // by release 0.2.0
		if _, err := fs.Stat(files, "dist/"+released+"/all.js"); err != nil {
			t.Error(err)
		}
	}
}

// base is where the real program answers.
var base string

func TestMain(m *testing.M) { os.Exit(live.Main(m, &base)) }

// Chromium drives each element against the real program; see test/.
func TestInBrowser(t *testing.T) {
	live.Need(t, "node", "apt-get install nodejs npm")
	live.Need(t, "chromium", "apt-get install chromium")
	if _, err := os.Stat("node_modules/playwright-core"); err != nil {
		live.Missing(t, "playwright-core", "npm ci --ignore-scripts --prefix clients/embed")
	}
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		t.Fatal(err)
	}
	tests, err := filepath.Glob("test/*.test.mjs")
	if err != nil || len(tests) == 0 {
		t.Fatalf("no tests: %v", err)
	}
	if os.Getenv("SALTLOCK_LOOKS") != "all" {
		tests = slices.DeleteFunc(tests, func(name string) bool {
			return slices.Contains([]string{"test/converter.test.mjs", "test/salt.test.mjs", "test/species.test.mjs"}, name)
		})
	}
	// A page waits more than it works: several files run at once, each in a browser of its own.
	node := append([]string{"--test", "--test-concurrency=3", "--test-timeout=900000", "--test-reporter=spec"}, tests...)
	t.Log(live.Run(t, []string{"SALTLOCK_URL=" + base, "CHROMIUM=" + chromium}, "node", node...))
}
