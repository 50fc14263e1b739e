package seawater

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"saltlock/chem/quantity"
)

// Every constant that ends in Method has its entry, and every entry is whole.
func TestMethods(t *testing.T) {
	var keys []string
	kebab := regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)+$|^chlorinity$`)
	for _, m := range Methods() {
		keys = append(keys, m.Key)
		if !kebab.MatchString(m.Key) {
			t.Errorf("key %q is not in kebab-case", m.Key)
		}
		if slices.Contains([]string{m.Title, m.Source, m.Validity, m.Uncertainty, string(m.Standing)}, "") {
			t.Errorf("%s lacks a field: %+v", m.Key, m)
		}
	}
	want := methodConstants(t)
	slices.Sort(want)
	slices.Sort(keys)
	if !slices.Equal(keys, want) {
		t.Errorf("Methods has %q, constants are %q", keys, want)
	}
}

// methodConstants reads the values of all constants whose name ends in Method.
func methodConstants(t *testing.T) (values []string) {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			spec, ok := n.(*ast.ValueSpec)
			if !ok || !strings.HasSuffix(spec.Names[0].Name, "Method") {
				return true
			}
			value, err := strconv.Unquote(spec.Values[0].(*ast.BasicLit).Value)
			if err != nil {
				t.Fatal(err)
			}
			values = append(values, value)
			return true
		})
	}
	return values
}

// The caller may change the list it got.
func TestMethodsAreTheCallers(t *testing.T) {
	Methods()[0] = quantity.Method{}
	if got := Methods()[0].Key; got != DensityMethod {
		t.Errorf("Methods()[0].Key = %q, want %q", got, DensityMethod)
	}
}
