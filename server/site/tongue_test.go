package site

import (
	"io/fs"
	"net/url"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// own are the texts that pages say by themselves: in templates by t, in Go by says, and
// what the tables of the planner and of the species name.
func own(t *testing.T) map[string]bool {
	t.Helper()
	all := map[string]bool{}
	add := func(texts ...string) {
		for _, text := range texts {
			all[text] = text != ""
		}
	}
	inTemplates, inGo := regexp.MustCompile(`\bt "((?:[^"\\]|\\.)*)"`), regexp.MustCompile(`(?:\.says|[^.]\badd)\("((?:[^"\\]|\\.)*)"[,)]`)
	files, err := fs.Glob(pageFiles, "pages/*.html")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		text, err := pageFiles.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range inTemplates.FindAllStringSubmatch(string(text), -1) {
			add(m[1])
		}
	}
	sources, err := fs.Glob(os.DirFS("."), "*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range sources {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range inGo.FindAllStringSubmatch(string(text), -1) {
			said, err := strconv.Unquote(`"` + m[1] + `"`)
			if err != nil {
				t.Fatal(err)
			}
			add(said)
		}
	}
	for _, page := range planPages {
		add(page.title)
		for _, fold := range page.folds {
			add(fold.title)
			for _, f := range fold.fields {
				add(f.label, f.hint)
			}
		}
	}
	for _, names := range []map[string]string{choiceNames, marks, eventNames, behaviourNames} {
		for _, name := range names {
			add(name)
		}
	}
	for _, p := range presets {
		add(p.name)
	}
	delete(all, "")
	return all
}

// Whatever a page says by itself it says in German, too.
func TestPagesInGerman(t *testing.T) {
	texts := own(t)
	if len(texts) < 250 {
		t.Errorf("only %d texts found: does the test still read them?", len(texts))
	}
	for text := range texts {
		if inGerman.says(text) == text && germanPages[text] == "" {
			t.Errorf("not in German: %s", text)
		}
		if tongue("").says(text) != text {
			t.Errorf("English says %s as %s", text, tongue("").says(text))
		}
	}
}

// The script at the bucket has the same words in both languages.
func TestWordsOfTheScript(t *testing.T) {
	script, err := os.ReadFile("static/words.js")
	if err != nil {
		t.Fatal(err)
	}
	var names [2][]string
	for i, language := range []string{"english", "german"} {
		_, from, ok := strings.Cut(string(script), "const "+language+" = {\n")
		words, _, done := strings.Cut(from, "\n};")
		if !ok || !done {
			t.Fatalf("no words in %s", language)
		}
		for _, m := range regexp.MustCompile(`(?:^|[\t{,] ?)([a-z_A-Z]+): `).FindAllStringSubmatch(words, -1) {
			names[i] = append(names[i], m[1])
		}
	}
	if len(names[0]) < 30 || !slices.Equal(names[0], names[1]) {
		t.Errorf("English has %v\nGerman %v", names[0], names[1])
	}
}

// The language stays in the address, and goes nowhere that has none.
func TestLanguageInAddresses(t *testing.T) {
	for address, want := range map[string]string{
		"/plan": "/plan?lang=de", "/plan?step=waters": "/plan?step=waters&lang=de", "/plan?": "/plan?lang=de",
		"/t/abc#key": "/t/abc?lang=de#key", "/docs": "/docs", "/v1/transfers/abc/calendar.ics": "/v1/transfers/abc/calendar.ics?lang=de",
	} {
		if got := inGerman.here(address); got != want {
			t.Errorf("%s leads to %s, want %s", address, got, want)
		}
		if got := tongue("").here(address); got != address {
			t.Errorf("in English %s leads to %s", address, got)
		}
	}
	for from, want := range map[string]string{"/plan?lang=de": "/plan", "/plan?step=waters": "/plan?lang=de&step=waters", "/t/abc": "/t/abc?lang=de"} {
		u, err := url.Parse(from)
		if err != nil {
			t.Fatal(err)
		}
		if got := switched(u); got != want {
			t.Errorf("from %s to %s, want %s", from, got, want)
		}
	}
	c := loaded(t)
	q := planOf(c, url.Values{"lang": {"de"}, "from_salinity": {"2 ppt"}})
	for _, at := range []string{q.with("step", "waters"), q.link("svg"), q.link("text")} {
		if !strings.Contains(at, "lang=de") {
			t.Errorf("%s lost its language", at)
		}
	}
	if hidden := q.hidden(nil); hidden[len(hidden)-1] != (link{"lang", "de"}) {
		t.Errorf("a form carries %v along", hidden)
	}
}
