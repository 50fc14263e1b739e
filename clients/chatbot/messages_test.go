package main

import (
	"os"
	"regexp"
	"strings"
	"testing"
)

// Messages as keepers type them: each answer says what it must, and never what could
// hurt an animal.
func TestMessages(t *testing.T) {
	c := start(t, base)
	list, err := os.ReadFile("testdata/messages.tsv")
	if err != nil {
		t.Fatal(err)
	}
	all := 0
	for line := range strings.Lines(string(list)) {
		if line = strings.TrimSuffix(line, "\n"); strings.HasPrefix(line, "#") {
			continue
		}
		all++
		cells := append(strings.Split(line, "\t"), "", "") // the last may be left out
		answer := c.say(t, cells[0]).Text
		for want := range strings.SplitSeq(cells[1], " & ") {
			if !matches(t, want, answer) {
				t.Errorf("%q is answered\n%s\nwant %q in it", cells[0], answer, want)
			}
		}
		if never := cells[2]; never != "" && matches(t, never, answer) {
			t.Errorf("%q is answered\n%s\nnever %q", cells[0], answer, never)
		}
	}
	if all < 120 {
		t.Errorf("only %d messages", all)
	}
}

func matches(t *testing.T, pattern, text string) bool {
	t.Helper()
	p, err := regexp.Compile(pattern)
	if err != nil {
		t.Fatal(err)
	}
	return p.MatchString(text)
}
