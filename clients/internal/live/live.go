// Package live runs the real program for the tests of the clients, and the tools of other
// languages that those tests need.
package live

import (
	"bufio"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// Main runs the tests of a package against one run of the program and returns the exit code. It
// sets base to the program's address.
//
// SALTLOCK_PROGRAM names a program already built; without it, Main builds one.
func Main(m *testing.M, base *string) int {
	dir, err := os.MkdirTemp("", "saltlock")
	if err != nil {
		return failed(err)
	}
	defer os.RemoveAll(dir)
	program := os.Getenv("SALTLOCK_PROGRAM")
	if program == "" {
		program = filepath.Join(dir, "saltlock")
		// go run keeps what it links, so that the clients' tests, one after the other, link once.
		if out, err := exec.Command("go", "run", "-exec", "cp", "saltlock/cmd/saltlock", program).CombinedOutput(); err != nil {
			return failed(fmt.Errorf("build: %w\n%s", err, out))
		}
	}
	address, stop, err := start(program, filepath.Join(dir, "test.db"))
	if err != nil {
		return failed(err)
	}
	*base = address
	code := m.Run()
	if err := stop(); err != nil {
		return cmp.Or(code, failed(err))
	}
	return code
}

func failed(err error) int {
	fmt.Fprintln(os.Stderr, err)
	return 1
}

var listening = regexp.MustCompile(`http://[0-9.]+:[0-9]+`)

// start runs the program on a free port, until stop is called.
func start(program, database string) (address string, stop func() error, err error) {
	cmd := exec.Command(program, "serve", "--addr", "127.0.0.1:0", "--database", database)
	log := new(strings.Builder)
	cmd.Stderr = log
	out, err := cmd.StdoutPipe()
	if err != nil {
		return "", nil, err
	}
	if err := cmd.Start(); err != nil {
		return "", nil, err
	}
	found := make(chan string, 1)
	go func() {
		defer close(found)
		told := false
		for s := bufio.NewScanner(out); s.Scan(); {
			if m := listening.FindString(s.Text()); m != "" && !told {
				told = true
				found <- m
			}
		}
	}()
	stop = func() error {
		return errors.Join(cmd.Process.Signal(os.Interrupt), cmd.Wait())
	}
	select {
	case a, ok := <-found:
		if ok {
			return a, stop, nil
		}
	case <-time.After(30 * time.Second):
	}
	return "", nil, fmt.Errorf("%s does not say where it listens: %w\n%s", program, stop(), log)
}

// Watch reads every folder of the module, so that a change of the program, or of a client in
// another language, invalidates cached test results: go test counts what a running test opens as
// its input.
func Watch(t *testing.T) {
	t.Helper()
	os.Getenv("SALTLOCK_PROGRAM")
	root, err := root()
	if err == nil {
		err = filepath.WalkDir(root, func(_ string, d fs.DirEntry, err error) error {
			if d != nil && unwatched[d.Name()] {
				return fs.SkipDir
			}
			return err
		})
	}
	if err != nil {
		t.Fatal(err)
	}
}

// unwatched are folders that change without affecting what is tested.
var unwatched = map[string]bool{".git": true, "node_modules": true, "build": true, "__pycache__": true}

// root is the folder of the module.
func root() (string, error) {
	for dir, err := os.Getwd(); err == nil; dir = filepath.Dir(dir) {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir, nil
		}
		if dir == filepath.Dir(dir) {
			break
		}
	}
	return "", errors.New("no go.mod above the test")
}

// Need skips the test if a command is missing, and says how to install it. If SALTLOCK_CI is set,
// a skip is a failure.
func Need(t *testing.T, command, install string) {
	t.Helper()
	if _, err := exec.LookPath(command); err == nil {
		return
	}
	Missing(t, command, install)
}

// Missing skips the test because something is missing, or fails it if SALTLOCK_CI is set.
func Missing(t *testing.T, what, install string) {
	t.Helper()
	tell := t.Skipf
	if os.Getenv("SALTLOCK_CI") != "" {
		tell = t.Fatalf
	}
	tell("not run: %s is missing; to run it: %s", what, install)
}

// longest is more than any command takes: a browser on a busy machine takes three minutes.
const longest = 8 * time.Minute

// Run runs a command with settings added to the environment. If the command fails, so does the
// test, with everything it wrote.
func Run(t *testing.T, settings []string, name string, args ...string) string {
	t.Helper()
	Watch(t)
	ctx, cancel := context.WithTimeout(t.Context(), longest)
	defer cancel()
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Env = append(os.Environ(), settings...)
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
	return string(out)
}
