package server_test

import (
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"saltlock/server/internal/plainwords"
)

// requestName is what a line of a refused request begins with: what is wrong in it.
var requestName = regexp.MustCompile(`(?m)^[a-z0-9 -]+: `)

// asWritten is what a refusal quotes from the request.
var asWritten = regexp.MustCompile(`"[^"\n]*"`)

// What people read in goldens, and what every question of testdata/welfare is answered
// in text, is short and plain.
func TestPlainWords(t *testing.T) {
	t.Parallel()
	texts := map[string]string{}
	goldens, err := filepath.Glob("../testdata/golden/*.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range goldens {
		if strings.HasPrefix(filepath.Base(name), "listMethods.") { // a bibliography
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		texts[filepath.Base(name)] = string(text)
	}
	s := newService(t)
	refusals := 0
	for _, c := range some(welfareCases(t)) {
		q := url.Values{"format": {"text"}}
		for name, values := range c.Query {
			q[name] = values
		}
		status, text := s.plainly(t, c.Ask+"?"+q.Encode()) // a loaded machine may refuse for want of time
		texts[c.ID] = text
		if lines := strings.Count(text, "\n"); status == http.StatusUnprocessableEntity {
			if refusals++; lines > plainwords.MostOfRefusal {
				t.Errorf("%s is refused in %d lines:\n%s", c.ID, lines, text)
			}
		}
	}
	arePlain(t, texts)
	if refusals < 20 && !testing.Short() {
		t.Errorf("only %d refusals", refusals)
	}
}

// arePlain holds texts to the rules, each sentence once.
func arePlain(t *testing.T, texts map[string]string) {
	t.Helper()
	met := map[string]bool{}
	var all []string
	for name, text := range texts {
		lines := map[string]bool{}
		for line := range strings.Lines(text) {
			if lines[line] {
				t.Errorf("%s says twice: %s", name, line)
			}
			lines[line] = true
		}
		for _, sentence := range plainwords.Sentences(asWritten.ReplaceAllString(requestName.ReplaceAllString(text, ""), "“…”")) {
			if met[sentence] {
				continue
			}
			met[sentence] = true
			all = append(all, sentence)
			for _, why := range plainwords.Faults(sentence) {
				t.Errorf("%s: %d words, %s: %s", name, plainwords.Words(sentence), why, sentence)
			}
		}
	}
	median, longest := plainwords.Median(all), plainwords.Longest(all)
	t.Logf("%d sentences, the longest of %d words, the median %d", len(all), longest, median)
	if len(all) < 500 || median > plainwords.MostMedian {
		t.Errorf("%d sentences, median %d words, want 500 and at most %d", len(all), median, plainwords.MostMedian)
	}
}
