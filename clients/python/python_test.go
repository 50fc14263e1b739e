// Package python drives the tests of the Python module.
package python

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"saltlock/clients/internal/live"
)

// base is where the real program answers.
var base string

func TestMain(m *testing.M) { os.Exit(live.Main(m, &base)) }

func TestModule(t *testing.T) {
	live.Need(t, "python3", "apt-get install python3")
	live.Run(t, []string{"SALTLOCK_URL=" + base, "PYTHONDONTWRITEBYTECODE=1"}, "python3", "-W", "error", "-m", "unittest")
}

// The first line of the README works as it stands there, without an installation.
func TestShell(t *testing.T) {
	live.Need(t, "python3", "apt-get install python3")
	answer := live.Run(t, []string{"SALTLOCK_URL=" + base, "PYTHONDONTWRITEBYTECODE=1"},
		"python3", "-m", "saltlock", "mixes/salt", "target=1.010 SG", "volume=120 gal", "only=salt")
	checkSalt(t, answer)
}

// checkSalt compares an answer with the salt for 120 gallons at 1.010: 454 L of water with 13.4
// g/kg hold about 6.1 kg.
func checkSalt(t *testing.T, answer string) {
	t.Helper()
	if kg, err := strconv.ParseFloat(strings.TrimSpace(answer), 64); err != nil || kg < 6 || kg > 6.2 {
		t.Errorf("the answer is %q, want about 6.1", answer)
	}
}

// A wheel is built in isolation without any network, installed into a new
// environment, and answers as a command and as a typed module.
func TestWheel(t *testing.T) {
	live.Need(t, "python3", "apt-get install python3 python3-venv")
	dir := t.TempDir()
	env := []string{"SALTLOCK_URL=" + base, "PIP_NO_INDEX=1", "PIP_DISABLE_PIP_VERSION_CHECK=1", "PYTHONDONTWRITEBYTECODE=1"}
	live.Run(t, env, "python3", "-m", "venv", dir+"/venv")
	python := dir + "/venv/bin/python"
	for _, out := range []string{"/one", "/two"} {
		live.Run(t, env, python, "-m", "pip", "wheel", "--quiet", "--no-deps", "--wheel-dir", dir+out, ".")
	}
	wheel := only(t, dir+"/one/*.whl")
	if one, two := read(t, wheel), read(t, only(t, dir+"/two/*.whl")); one != two {
		t.Error("the wheel is another when built twice")
	}
	live.Run(t, env, python, "-m", "pip", "install", "--quiet", wheel)
	checkSalt(t, live.Run(t, env, dir+"/venv/bin/saltlock", "mixes/salt", "target=1.010 SG", "volume=120 gal", "only=salt"))
	installed := live.Run(t, env, python, "-I", "-c",
		"import pathlib, saltlock; print(saltlock.VERSION, (pathlib.Path(saltlock.__file__).parent / 'py.typed').exists())")
	if version := strings.Split(filepath.Base(wheel), "-")[1]; strings.TrimSpace(installed) != version+" True" {
		t.Errorf("installed is %q, want version %s and py.typed", installed, version)
	}
}

// A source archive builds into the same wheel elsewhere.
func TestSourceArchive(t *testing.T) {
	live.Need(t, "python3", "apt-get install python3 python3-venv")
	dir := t.TempDir()
	build := "import sys; sys.path.insert(0, 'backend'); import saltlock_build as b; b.build_%s('" + dir + "')"
	env := []string{"PYTHONDONTWRITEBYTECODE=1"}
	live.Run(t, env, "python3", "-c", strings.ReplaceAll(build, "%s", "wheel"))
	live.Run(t, env, "python3", "-c", strings.ReplaceAll(build, "%s", "sdist"))
	want := read(t, only(t, dir+"/*.whl"))
	live.Run(t, env, "tar", "-xzf", only(t, dir+"/*.tar.gz"), "-C", dir)
	again := t.TempDir()
	unpacked := only(t, dir+"/saltlock-*/pyproject.toml")
	cmd := exec.Command("python3", "-c", "import sys; sys.path.insert(0, 'backend'); import saltlock_build as b; b.build_wheel('"+again+"')")
	cmd.Dir = filepath.Dir(unpacked)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if read(t, only(t, again+"/*.whl")) != want {
		t.Error("the source archive builds another wheel than the repository")
	}
}

// A reader that goes away, as head does, is no fault to print.
func TestBrokenPipe(t *testing.T) {
	live.Need(t, "python3", "apt-get install python3")
	reader, writer, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer writer.Close()
	reader.Close()
	said := new(strings.Builder)
	cmd := exec.Command("python3", "-m", "saltlock", "methods")
	cmd.Env = append(os.Environ(), "SALTLOCK_URL="+base, "PYTHONDONTWRITEBYTECODE=1")
	cmd.Stdout, cmd.Stderr = writer, said
	if err := cmd.Run(); cmd.ProcessState.ExitCode() != 141 || said.Len() > 0 {
		t.Errorf("ended with %v and said %q; want 141, as after SIGPIPE, and silence", err, said)
	}
}

func only(t *testing.T, pattern string) string {
	t.Helper()
	found, err := filepath.Glob(pattern)
	if err != nil || len(found) != 1 {
		t.Fatalf("%s names %v, %v; want one file", pattern, found, err)
	}
	return found[0]
}

func read(t *testing.T, name string) string {
	t.Helper()
	content, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(content)
}
