package server_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/text/language"

	"saltlock/server/render"
)

// wordless are the errors of a request that carry their sentence of the catalogue in a field, so
// that it exists in every language.
var wordless = map[string]string{"MissingError": "Note", "ConflictError": "Note", "UnreachableError": "Note"}

// Every contradiction and every missing value that chem and server report has its sentence in the
// catalogue. A fault without one would turn a whole answer in German into English.
func TestFaultsHaveSentences(t *testing.T) {
	found := 0
	for _, root := range []string{"../chem", "."} {
		err := filepath.WalkDir(root, func(path string, _ fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			set := token.NewFileSet()
			file, err := parser.ParseFile(set, path, nil, parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				literal, ok := n.(*ast.CompositeLit)
				if !ok {
					return true
				}
				note, ok := wordless[typeName(literal.Type)]
				if !ok || len(literal.Elts) == 0 {
					return true
				}
				found++
				if !names(literal, note) {
					t.Errorf("%s: a fault without its %s", set.Position(literal.Pos()), note)
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if found < 60 {
		t.Errorf("only %d faults found: does the test still read them?", found)
	}
}

func typeName(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return e.Sel.Name
	}
	return ""
}

// names reports whether a literal sets a field to something that is not empty.
func names(literal *ast.CompositeLit, field string) bool {
	for _, e := range literal.Elts {
		pair, ok := e.(*ast.KeyValueExpr)
		if !ok || typeName(pair.Key) != field {
			continue
		}
		empty, ok := pair.Value.(*ast.CompositeLit)
		return !ok || len(empty.Elts) > 0
	}
	return false
}

// Whatever a query can give has its name in German, so that a fault there can be said in German.
func TestPlacesInGerman(t *testing.T) {
	for key, op := range newService(t).doc.Paths.Map() {
		for method, o := range op.Operations() {
			for _, p := range o.Parameters {
				v, missed := render.Voice{Language: language.German}.Attentive()
				if v.Place(p.Value.Name); *missed && p.Value.In == "query" {
					t.Errorf("%s %s: %s has no name in German", method, key, p.Value.Name)
				}
			}
		}
	}
}
