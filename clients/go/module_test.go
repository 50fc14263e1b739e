package saltlock_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"saltlock/clients/internal/live"
)

// A new module gets the packed client through a file GOPROXY, and asks how much salt.
func TestPackedModule(t *testing.T) {
	dir := t.TempDir()
	proxy, project := filepath.Join(dir, "proxy"), filepath.Join(dir, "project")
	live.Run(t, nil, "go", "run", "../internal/gomodule", "club.example/saltlock", "0.0.1", ".", "../../LICENSE", proxy)
	if err := os.Mkdir(project, 0o700); err != nil {
		t.Fatal(err)
	}
	program := `package main

import (
	"context"
	"fmt"
	"os"

	saltlock "club.example/saltlock"
)

func main() {
	c, err := saltlock.New(os.Args[1], saltlock.Options{})
	if err != nil {
		panic(err)
	}
	mix, err := c.GetSaltMixWithResponse(context.Background(), &saltlock.GetSaltMixParams{Target: "1.010 SG", Volume: new("120 gal")})
	if err != nil {
		panic(err)
	}
	fmt.Printf("%.1f %s\n", mix.JSON200.Salt.Value, mix.JSON200.Salt.Unit)
}
`
	if err := os.WriteFile(filepath.Join(project, "main.go"), []byte(program), 0o600); err != nil {
		t.Fatal(err)
	}
	others := strings.TrimSpace(live.Run(t, nil, "go", "env", "GOPROXY")) // where this repository's own dependencies come from
	asked := func(args ...string) string {
		t.Helper()
		cmd := exec.Command("go", args...)
		cmd.Dir = project
		// A module cache of its own, so that nothing comes from an earlier run.
		cmd.Env = append(os.Environ(), "GOPROXY=file://"+proxy+","+others, "GONOSUMDB=club.example",
			"GOFLAGS=-mod=mod -modcacherw", "GOMODCACHE="+filepath.Join(dir, "modules"))
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("go %v: %v\n%s", args, err, out)
		}
		return string(out)
	}
	asked("mod", "init", "example.org/tank")
	asked("get", "club.example/saltlock@v0.0.1")
	// Without the name of a folder in it, what was built before need not be built again.
	asked("build", "-trimpath", "-o", "tank", ".")
	if got := live.Run(t, nil, filepath.Join(project, "tank"), base); got != "6.1 kg\n" { // 454 L with 13.4 g/kg
		t.Errorf("the packed client answers %q, want 6.1 kg", got)
	}
}
