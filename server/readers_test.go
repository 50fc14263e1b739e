package server_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"
)

// Readers who saw nothing but one text at a time knew what to do, how long it takes, when
// to stop and what to buy: 95 of 100 of their answers, as they wrote them, are right. Each
// read a third of the 60 texts, and a fourth what had changed since; who has read is in testdata/readers. An answer with a number
// that its text no longer prints was given to an older text and does not count. Ask a new
// reader once one answer in ten is of that kind.
func TestReadersUnderstand(t *testing.T) {
	type asked struct{ text, question string }
	right := map[asked]*regexp.Regexp{}
	for _, row := range readerRows(t, "../testdata/readers/questions.tsv") {
		right[asked{row[0], row[1]}] = regexp.MustCompile("(?i)" + row[2])
		if _, err := os.Stat("../testdata/golden/" + row[0] + ".txt"); err != nil {
			t.Error(err)
		}
	}
	files, err := filepath.Glob("../testdata/readers/answers-*.tsv")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d readers: %v", len(files), err)
	}
	texts, answered, good, outdated := map[string]bool{}, map[asked]bool{}, 0, 0
	for _, file := range files {
		for _, row := range readerRows(t, file) {
			of := asked{row[0], row[1]}
			is := right[of]
			if is == nil || answered[of] {
				t.Fatalf("%s: %q is no question, or was answered twice", row[0], row[1])
			}
			texts[of.text], answered[of] = true, true
			if old := unprinted(t, of.text, row[2]); old != "" {
				t.Logf("%s no longer prints %s: %s %s", of.text, old, of.question, row[2])
				outdated++
			} else if is.MatchString(row[2]) {
				good++
			} else {
				t.Logf("%s: %s %s", row[0], row[1], row[2])
			}
		}
	}
	counted := len(answered) - outdated
	t.Logf("%d of %d right, about %d texts; of %d questions, %d are answered from an older text and %d not at all",
		good, counted, len(texts), len(right), outdated, len(right)-len(answered))
	if 100*good < 95*counted {
		t.Errorf("%d of %d answers are right, want 95 %%", good, counted)
	}
	if 10*counted < 9*len(right) {
		t.Errorf("%d of %d questions are answered from the text of today, want 90 %%", counted, len(right))
	}
}

var printedNumber = regexp.MustCompile(`[0-9]+(?:\.[0-9]+)?`)

// unprinted is a number of an answer that the golden text does not print; empty if it prints all.
func unprinted(t *testing.T, name, answer string) string {
	t.Helper()
	text, err := os.ReadFile("../testdata/golden/" + name + ".txt")
	if err != nil {
		t.Fatal(err)
	}
	printed := printedNumber.FindAllString(string(text), -1)
	for _, n := range printedNumber.FindAllString(answer, -1) {
		if !slices.Contains(printed, n) {
			return n
		}
	}
	return ""
}

// readerRows are text, question and answer of each line, without the header.
func readerRows(t *testing.T, path string) [][]string {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comma, r.Comment, r.LazyQuotes, r.FieldsPerRecord = '\t', '#', true, 3
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d lines: %v", path, len(rows), err)
	}
	return rows[1:]
}
