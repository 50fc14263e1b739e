package server_test

import (
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var readmeSample = regexp.MustCompile("(?s)```sh\ncurl 'localhost:8080(/[^'\n]*)'(?: \\| head -(\\d+))?\n```\n```\n(.*?)\n```")

// The README shows what the service says.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	samples := readmeSample.FindAllStringSubmatch(string(text), -1)
	if len(samples) < 7 {
		t.Fatalf("%d samples found", len(samples))
	}
	s := newService(t)
	for _, m := range samples {
		lines := strings.Split(strings.TrimSpace(strings.ReplaceAll(s.get(t, m[1]).body, "\r", "")), "\n")
		if n, err := strconv.Atoi(m[2]); err == nil {
			lines = lines[:min(n, len(lines))]
		}
		if got := strings.Join(lines, "\n"); got != strings.TrimSpace(m[3]) {
			t.Errorf("curl '%s' answers\n%s\nthe README has\n%s", m[1], got, m[3])
		}
	}
}
