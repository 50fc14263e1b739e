package server_test

import (
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

// What people read in goldens is short and plain. TestWelfare asks for more text, and holds all of
// it together to the same rules.
func TestPlainWords(t *testing.T) {
	t.Parallel()
	arePlain(t, goldenTexts(t))
}

// goldenTexts are the golden answers in text, by file.
func goldenTexts(t *testing.T) map[string]string {
	t.Helper()
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
	return texts
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
