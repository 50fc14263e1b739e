package server_test

import (
	"encoding/json"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var goSnippet = regexp.MustCompile(`(?s)in Go"><code>(.*?)</code>`)

// The Go of the reference compiles against the client.
func TestGoSnippets(t *testing.T) {
	s := newService(t)
	found := goSnippet.FindAllStringSubmatch(s.get(t, "/docs").body, -1)
	if len(found) < 12 {
		t.Fatalf("%d snippets of Go", len(found))
	}
	var source strings.Builder
	source.WriteString("package snippets\n\nimport (\n\"context\"\n\"fmt\"\n\"strings\"\nsaltlock \"saltlock/clients/go\"\n)\n\nvar _ = strings.NewReader\nvar all = []func(context.Context) error{\n")
	for _, m := range found {
		source.WriteString("func(ctx context.Context) error {\n" + html.UnescapeString(m[1]) + "\nreturn nil\n},\n")
	}
	source.WriteString("}\nvar _ = all\n")
	dir := t.TempDir()
	file := filepath.Join(dir, "snippets.go")
	if err := os.WriteFile(file, []byte(source.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	root, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	overlay, err := json.Marshal(map[string]any{"Replace": map[string]string{filepath.Join(root, "clients/go/snippets/snippets.go"): file}})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "overlay.json"), overlay, 0o600); err != nil {
		t.Fatal(err)
	}
	build := exec.CommandContext(t.Context(), "go", "build", "-overlay", filepath.Join(dir, "overlay.json"), "./clients/go/snippets")
	build.Dir = root
	if out, err := build.CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}
