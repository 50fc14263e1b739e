package chem_test

import (
	"bytes"
	"go/ast"
	"os"
	"strings"
	"testing"
)

// A file has at most 300 lines and a function at most 40. A longer function says why it is long.
func TestLengths(t *testing.T) {
	const mostInFile, mostInFunction = 300, 40
	for name, f := range sources(t, ".") {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if n := bytes.Count(text, []byte("\n")); n > mostInFile {
			t.Errorf("%s has %d lines, at most %d are allowed", name, n, mostInFile)
		}
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			n := 1 + bytes.Count(text[fn.Pos()-f.FileStart:fn.End()-f.FileStart], []byte("\n"))
			if n > mostInFunction && !strings.Contains(fn.Doc.Text(), "long") {
				t.Errorf("%s: %s has %d lines and does not say why it is long", name, fn.Name.Name, n)
			}
		}
	}
}
