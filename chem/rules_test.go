// The house laws that a machine can hold: who imports whom, where formulas and
// data come from, and that everything exported shows how it is used.
package chem_test

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// root is the folder of go.mod, seen from this test.
const root = ".."

// mayImport says which packages of the module each one may import. Arrows never turn round.
var mayImport = map[string][]string{
	"chem":                    {},
	"chem/quantity":           {},
	"chem/internal/numeric":   {},
	"chem/internal/published": {},
	"chem/ramp":               {"chem/internal/numeric"},
	"chem/tolerance":          {"chem/quantity"},
	"chem/seawater":           {"chem/quantity", "chem/internal/numeric"},
	"chem/instrument":         {"chem/quantity", "chem/seawater", "chem/internal/numeric"},
	"chem/hydraulics":         {"chem/quantity", "chem/seawater", "chem/internal/numeric"},
	"chem/lifesupport":        {"chem/quantity", "chem/seawater", "chem/internal/numeric"},
	"chem/drip":               {"chem/internal/numeric"},
	// A target is a reading, so mixing resolves it with an instrument.
	"chem/mixing": {"chem/quantity", "chem/seawater", "chem/internal/numeric", "chem/instrument"},
	"chem/transfer": {"chem/quantity", "chem/internal/numeric", "chem/seawater", "chem/instrument",
		"chem/mixing", "chem/lifesupport", "chem/hydraulics", "chem/tolerance", "chem/drip", "chem/ramp"},
	"chem/followup": {"chem/quantity", "chem/internal/numeric", "chem/instrument", "chem/mixing", "chem/lifesupport", "chem/hydraulics",
		"chem/tolerance", "chem/drip", "chem/ramp", "chem/seawater", "chem/transfer"},
	"server/render": {"chem/quantity"},
	"server/encode": {"chem/quantity"},
	// Counts words for tests.
	"server/internal/plainwords": {},
	"server/store":               {"chem/quantity", "chem/tolerance", "chem/transfer", "chem/followup"},
	// Starts PostgreSQL for tests.
	"server/store/postgrestest": {},
	"api":                       {"chem/quantity", "chem/instrument", "chem/mixing", "chem/seawater", "chem/tolerance", "chem/transfer", "chem/followup"},
	// The contract knows the quantities whose formats it checks; a page asks the service, and computes no plan.
	"server/contract": {"api", "chem/quantity", "chem/instrument", "chem/mixing", "chem/transfer", "chem/followup"},
	"server/site":     {"api", "chem/quantity", "chem/instrument", "server/contract", "server/render", "clients/embed"},
	"server/bots":     {"server/contract"},
	"server":          {"api", "chem/*", "server/bots", "server/contract", "server/encode", "server/site", "server/render", "server/store"},
	"cmd/saltlock":    {"server", "server/store"},
	// A client sees nothing but the contract.
	"clients/chatbot": {"clients/go"},
}

// kept says what chem leaves to others, and why.
var kept = map[string]string{
	"net":           "chem answers functions, not requests",
	"os":            "data comes in as arguments",
	"log":           "what happened is said by results and errors",
	"database/sql":  "the store keeps data",
	"math/rand":     "same question, same answer",
	"encoding/json": "quantity alone knows the wire",
}

// excepted are the imports that one package may have all the same.
var excepted = map[string]string{
	"chem/quantity encoding/json": "it reads and writes quantities",
	"chem/internal/published os":  "it reads the tables of the tests",
}

func TestImports(t *testing.T) {
	for _, p := range packages(t) {
		allowed, known := mayImport[p.path]
		if !known && !strings.HasPrefix(p.path, "clients/") {
			t.Errorf("%s has no place yet in mayImport", p.path)
		}
		for _, imported := range p.imports {
			own, ours := strings.CutPrefix(imported, "saltlock/")
			if ours && !slices.ContainsFunc(allowed, func(a string) bool { return own == a || path.Dir(own) == path.Dir(a) && path.Base(a) == "*" }) {
				t.Errorf("%s imports %s; it may import %v", p.path, own, allowed)
			}
			if ours || p.path != "chem" && !strings.HasPrefix(p.path, "chem/") {
				continue
			}
			if strings.Contains(strings.Split(imported, "/")[0], ".") {
				t.Errorf("%s imports %s; chem is made of the standard library", p.path, imported)
			}
			for parent := imported; parent != "."; parent = path.Dir(parent) {
				if why, ok := kept[parent]; ok && excepted[p.path+" "+imported] == "" {
					t.Errorf("%s imports %s: %s", p.path, imported, why)
				}
			}
		}
	}
}

func TestChemHasNoClock(t *testing.T) {
	for name, f := range sources(t, ".") {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		ast.Inspect(f, func(n ast.Node) bool {
			s, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			if x, ok := s.X.(*ast.Ident); ok && x.Name == "time" && s.Sel.Name == "Now" {
				t.Errorf("%s: calls time.Now; a start comes in as an argument", name)
			}
			return true
		})
	}
}

var (
	citation = regexp.MustCompile(`\[([A-Z][A-Za-z]*[0-9]{2,}[a-z]?)[],]`)
	entry    = regexp.MustCompile(`(?m)^//\t\[(.*?)\]`)
)

// Every [KEY] stands in the bibliography, and everything there is cited.
func TestBibliography(t *testing.T) {
	doc, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	cited := map[string]bool{} // by key: whether a file cites it
	for _, m := range entry.FindAllSubmatch(doc, -1) {
		key := string(m[1])
		if _, twice := cited[key]; twice {
			t.Errorf("doc.go has [%s] twice", key)
		}
		if !citation.MatchString("[" + key + "]") {
			t.Errorf("doc.go: [%s] is no key; write names and year as in [Millero2008]", key)
		}
		cited[key] = false
	}
	for name := range sources(t, ".") {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Error(err)
		}
		for _, m := range citation.FindAllSubmatch(text, -1) {
			key := string(m[1])
			if _, ok := cited[key]; !ok && name != "rules_test.go" {
				t.Errorf("%s cites [%s], which doc.go does not list", name, key)
			}
			cited[key] = cited[key] || name != "doc.go" && name != "rules_test.go"
		}
	}
	for key, used := range cited {
		if !used && key != "" {
			t.Errorf("doc.go lists [%s], which nothing cites", key)
		}
	}
}

// The header of a table is what makes it evidence.
func TestDataNamesItsSource(t *testing.T) {
	files := 0
	for _, dir := range []string{"published", "oracle"} {
		err := filepath.WalkDir(filepath.Join(root, "testdata", dir), func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			files++
			text, err := os.ReadFile(name)
			header := bytes.ToLower(firstComment(text))
			if !bytes.Contains(header, []byte("source")) && !bytes.Contains(header, []byte("oracle")) {
				t.Errorf("%s does not begin with # lines that name its source or oracle", name)
			}
			return err
		})
		if err != nil {
			t.Error(err)
		}
	}
	if files == 0 {
		t.Error("there is no check data")
	}
}

// firstComment returns the lines at the start of text that begin with #.
func firstComment(text []byte) []byte {
	var header []byte
	for line := range bytes.Lines(text) {
		if line[0] != '#' {
			break
		}
		header = append(header, line...)
	}
	return header
}

func TestPackageComments(t *testing.T) {
	for _, p := range packages(t) {
		if strings.HasPrefix(p.path, "clients/") {
			continue
		}
		var with []string
		for _, name := range p.files {
			f, err := parser.ParseFile(token.NewFileSet(), filepath.Join(root, p.path, name), nil, parser.PackageClauseOnly|parser.ParseComments)
			if err != nil {
				t.Error(err)
			} else if f.Doc != nil && !strings.HasSuffix(name, ".gen.go") {
				with = append(with, name)
			}
		}
		if len(with) != 1 {
			t.Errorf("%s has its package comment in %v, want one file", p.path, with)
		}
	}
}

// Examples are the manual. The helpers under internal need none.
func TestExamples(t *testing.T) {
	shown := map[string]bool{}
	exported := map[string]string{} // by folder and name: the file
	for name, f := range sources(t, ".") {
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Recv != nil || strings.HasPrefix(name, "internal") {
				continue
			}
			example, isExample := strings.CutPrefix(fn.Name.Name, "Example")
			switch {
			case strings.HasSuffix(name, "_test.go") && isExample:
				example, _, _ = strings.Cut(example, "_")
				shown[filepath.Dir(name)+" "+example] = true
			case !strings.HasSuffix(name, "_test.go") && fn.Name.IsExported():
				exported[filepath.Dir(name)+" "+fn.Name.Name] = name
			}
		}
	}
	if len(exported) == 0 {
		t.Error("chem exports no function")
	}
	for _, key := range slices.Sorted(maps.Keys(exported)) {
		if !shown[key] {
			t.Errorf("%s: %s has no Example", exported[key], key[strings.Index(key, " ")+1:])
		}
	}
}

// listed is a package of the module as go list sees it.
type listed struct {
	path    string // without the module's name
	imports []string
	files   []string
}

func packages(t *testing.T) []listed {
	t.Helper()
	list := exec.CommandContext(t.Context(), "go", "list", "-e", "-f", `{{.ImportPath}};{{join .Imports " "}};{{join .GoFiles " "}} {{join .CgoFiles " "}}`, "./...")
	list.Dir = root
	out, err := list.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var ps []listed
	for line := range strings.Lines(string(out)) {
		fields := strings.Split(line, ";")
		ps = append(ps, listed{strings.TrimPrefix(fields[0], "saltlock/"), strings.Fields(fields[1]), strings.Fields(fields[2])})
	}
	if len(ps) == 0 {
		t.Fatal("go list names no package")
	}
	return ps
}

// sources parses every Go file under dir, by its name.
func sources(t *testing.T, dir string) map[string]*ast.File {
	t.Helper()
	files := map[string]*ast.File{}
	err := filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(name) != ".go" {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			t.Error(err)
		}
		if f != nil {
			files[name] = f
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
	return files
}
