package server_test

import (
	"bufio"
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
)

// readmeSample is a command for a shell and, where one follows, what it prints.
var readmeSample = regexp.MustCompile("(?s)```sh\n(.*?)\n```\n(?:```\n(.*?)```\n)?")

// mostReadme is how many words people read of a README, commands and answers included.
const mostReadme = 700

// Every command of the README runs as it is written there, the start of the program
// included, and prints what the README shows. Only go test, which runs this, is left out.
// With -update the README shows what they print.
func TestReadme(t *testing.T) {
	t.Parallel()
	const name = "../README.md"
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(strings.Fields(string(text))); n > mostReadme {
		t.Errorf("%d words, want %d at most", n, mostReadme)
	}
	samples := readmeSample.FindAllStringSubmatch(string(text), -1)
	if len(samples) != 6 || !strings.Contains(samples[0][1], "serve") || samples[1][1] != "go test ./..." {
		t.Fatalf("%d samples found", len(samples))
	}
	base := served(t, samples[0][1])
	shown := string(text)
	for _, m := range samples[2:] {
		got := inShell(t, strings.ReplaceAll(m[1], "localhost:8080", base))
		if got != m[2] {
			if !*update {
				t.Errorf("%s\nprints\n%s\nthe README has\n%s", m[1], got, m[2])
			}
			shown = strings.Replace(shown, m[0], "```sh\n"+m[1]+"\n```\n```\n"+got+"```\n", 1)
		}
		if strings.Contains(m[1], "/transfers/plan") {
			question, _, _ := strings.Cut(strings.ReplaceAll(m[1], "&format=text", "&format=svg"), " | ")
			compare(t, "../testdata/golden/readme.svg", inShell(t, strings.ReplaceAll(question, "localhost:8080", base)))
		}
	}
	if *update && shown != string(text) {
		if err := os.WriteFile(name, []byte(shown), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// served runs the command that starts the program, on a free port and a database of its
// own, and returns where it answers.
func served(t *testing.T, command string) string {
	t.Helper()
	c := exec.Command("bash", "-c", command)
	c.Dir = ".."
	c.Env = append(os.Environ(), "SALTLOCK_ADDR=127.0.0.1:0", "SALTLOCK_DATABASE="+filepath.Join(t.TempDir(), "readme.db"))
	c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // go run starts a process of its own
	var log bytes.Buffer
	c.Stderr = &log
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := syscall.Kill(-c.Process.Pid, syscall.SIGTERM); err != nil {
			t.Error(err)
		}
		_ = c.Wait() // ended by a signal
	})
	for s := bufio.NewScanner(out); s.Scan(); {
		if at := answersAt.FindStringSubmatch(s.Text()); at != nil {
			return at[1]
		}
	}
	t.Fatalf("%s does not say where it answers\n%s", command, &log)
	return ""
}

var answersAt = regexp.MustCompile(`http://(127\.0\.0\.1:[0-9]+)`)

// inShell runs a command in a folder of its own and returns what it prints.
func inShell(t *testing.T, command string) string {
	t.Helper()
	c := exec.CommandContext(t.Context(), "bash", "-ec", command)
	c.Dir = t.TempDir()
	out, err := c.Output()
	if err != nil {
		t.Errorf("%s: %v", command, err)
	}
	return strings.ReplaceAll(string(out), "\r", "")
}
