package server_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

// Readers who saw nothing but one text at a time knew what to do, how long it takes, when
// to stop and what to buy: 95 of 100 of their answers, as they wrote them, are right. Each
// reads a third of the 60 texts; who has read is in testdata/readers.
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
	texts, answered, good := map[string]bool{}, map[asked]bool{}, 0
	for _, file := range files {
		for _, row := range readerRows(t, file) {
			of := asked{row[0], row[1]}
			is := right[of]
			if is == nil || answered[of] {
				t.Fatalf("%s: %q is no question, or was answered twice", row[0], row[1])
			}
			texts[of.text], answered[of] = true, true
			if is.MatchString(row[2]) {
				good++
			} else {
				t.Logf("%s: %s %s", row[0], row[1], row[2])
			}
		}
	}
	t.Logf("%d of %d right, about %d texts", good, len(answered), len(texts))
	if 100*good < 95*len(answered) {
		t.Errorf("%d of %d answers are right, want 95 %%", good, len(answered))
	}
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
