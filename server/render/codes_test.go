package render

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"saltlock/chem/quantity"
)

// Every call that says something names its code where a reader of the source can
// see it, and hands over what the sentence speaks of: as many, of the right kind.
func TestCodesAndTheirSentences(t *testing.T) {
	if malformed != nil {
		t.Fatal(malformed)
	}
	calls := &source{t: t, fset: token.NewFileSet(), prefix: map[types.Object][]types.Type{}, values: map[types.Object][]ast.Expr{},
		returns: map[types.Object][]ast.Expr{}, said: map[quantity.Code]bool{}}
	for _, p := range calls.load("./chem/...", "./server/...") {
		calls.read(p)
	}
	if calls.checked < 300 {
		t.Errorf("only %d calls found: does the test still read them?", calls.checked)
	}
	for _, code := range slices.Sorted(maps.Keys(english)) {
		if !calls.said[code] {
			t.Errorf("nothing says %q: take its sentence out", code)
		}
	}
}

// A sentence in another language speaks of what the English one does.
func TestTranslations(t *testing.T) {
	for tag, said := range languages {
		for code, sentence := range said {
			want, err := signature(english[code])
			got, alsoErr := signature(sentence)
			if err := errors.Join(err, alsoErr); err != nil || !maps.Equal(got, want) {
				t.Errorf("%v: %s speaks of %v, in English of %v: %v", tag, code, got, want, err)
			}
		}
	}
}

// What is said of jellyfish speaks of what it is said in place of: its code is put in place of the
// other.
func TestBells(t *testing.T) {
	for code, sentence := range jellyfishSentences {
		other, bell := strings.CutSuffix(string(code), "_bell")
		if !bell {
			continue
		}
		got, err := signature(sentence)
		want, alsoErr := signature(english[quantity.Code(other)])
		if err := errors.Join(err, alsoErr); err != nil || !maps.Equal(got, want) {
			t.Errorf("%s speaks of %v, %s of %v: %v", code, got, other, want, err)
		}
	}
}

func signature(sentence string) (map[int]kind, error) {
	p, err := parse(sentence)
	if err != nil {
		return nil, err
	}
	return p.speaksOf()
}

// source is what the calls of the module are read from. A sayer is a function
// that takes a code and, last, the things spoken of: noteOf, Voice.Say, and those
// that hand both on to one of them, some with things of their own before.
type source struct {
	t       *testing.T
	fset    *token.FileSet
	info    *types.Info
	pkg     *types.Package
	prefix  map[types.Object][]types.Type // by sayer: what it puts before its own parameters
	values  map[types.Object][]ast.Expr   // by variable, field or parameter: every expression it gets its value from
	returns map[types.Object][]ast.Expr   // by function: what it returns
	said    map[quantity.Code]bool
	checked int
}

type listed struct {
	ImportPath, Dir, Export string
	GoFiles, CgoFiles       []string
	DepOnly                 bool
}

// load lists the packages with what they import compiled.
func (s *source) load(patterns ...string) []listed {
	list := exec.CommandContext(s.t.Context(), "go", append([]string{"list", "-export", "-deps", "-json=ImportPath,Dir,Export,GoFiles,DepOnly"}, patterns...)...)
	list.Dir = "../.."
	out, err := list.Output()
	if err != nil {
		s.t.Fatalf("go list: %v", err)
	}
	var all []listed
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		if err := d.Decode(&p); err == io.EOF {
			return all
		} else if err != nil {
			s.t.Fatal(err)
		}
		exports[p.ImportPath] = p.Export
		if !p.DepOnly {
			all = append(all, p)
		}
	}
}

var exports = map[string]string{}

// read checks one package.
func (s *source) read(p listed) {
	var files []*ast.File
	for _, name := range p.GoFiles {
		f, err := parser.ParseFile(s.fset, filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
		if err != nil {
			s.t.Fatal(err)
		}
		files = append(files, f)
	}
	s.info = &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{}, Selections: map[*ast.SelectorExpr]*types.Selection{}}
	conf := types.Config{Importer: importer.ForCompiler(s.fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })}
	var err error
	if s.pkg, err = conf.Check(p.ImportPath, s.fset, files, s.info); err != nil {
		s.t.Fatal(err)
	}
	for _, f := range files {
		ast.Inspect(f, s.gather)
	}
	for _, f := range files {
		s.walk(f)
	}
	for e, tv := range s.info.Types {
		if isCode(tv.Type) && tv.Value != nil && tv.Value.Kind() == constant.String && constant.StringVal(tv.Value) != "" {
			s.mustKnow(e, quantity.Code(constant.StringVal(tv.Value)))
		}
	}
}

func (s *source) errorf(at ast.Node, format string, args ...any) {
	s.t.Helper()
	where := s.fset.Position(at.Pos())
	s.t.Errorf("%s:%d: %s", where.Filename, where.Line, fmt.Sprintf(format, args...))
}

func (s *source) mustKnow(at ast.Node, code quantity.Code) {
	s.said[code] = true
	if !Knows(code) {
		s.errorf(at, "%q has no sentence; write one in english_*.go", code)
	}
}

// check holds one call to the sentences of every code that it may say.
func (s *source) check(call *ast.CallExpr, sig *types.Signature, at int) {
	s.checked++
	if call.Ellipsis.IsValid() {
		code, isCode := call.Args[at].(*ast.SelectorExpr)
		params, isParams := call.Args[at+1].(*ast.SelectorExpr)
		if isCode && isParams && types.ExprString(code.X) == types.ExprString(params.X) && strings.HasSuffix(deref(s.info.TypeOf(code.X)).String(), "quantity.Note") {
			return // a note, which was checked where it was made
		}
		s.errorf(call, "what is spoken of is handed over as a list, which cannot be checked")
		return
	}
	given := slices.Clone(s.prefix[s.object(call.Fun)])
	for _, a := range call.Args[at+1:] {
		given = append(given, s.info.TypeOf(a))
	}
	codes := map[quantity.Code]bool{}
	s.codesOf(call.Args[at], codes, map[types.Object]bool{})
	if len(codes) == 0 {
		s.errorf(call, "no code can be found for this call")
	}
	for code := range codes {
		s.mustKnow(call, code)
		want, err := signature(english[code])
		if err != nil {
			s.errorf(call, "%s: %v", code, err)
		}
		if len(want) != len(given) {
			s.errorf(call, "%s speaks of %d things, %d are given", code, len(want), len(given))
			continue
		}
		for i, t := range given {
			if k := kindOf(t); k != want[i] && !(k == aCount && want[i] == aNumber) {
				s.errorf(call, "%s: {%d} is a %s, and %v is a %s", code, i, want[i], t, k)
			}
		}
	}
}

// kindOf says what a type is to a sentence.
func kindOf(t types.Type) kind {
	t = deref(t)
	has := func(name string) bool {
		o, _, _ := types.LookupFieldOrMethod(t, true, nil, name)
		_, ok := o.(*types.Func)
		return ok
	}
	switch n, _ := t.(*types.Named); {
	case has("Measure"), has("Unit"), n != nil && (n.Obj().Name() == "Reading" || n.Obj().Name() == "Measure"):
		return aQuantity
	case has("String"):
		return aName
	}
	if b, ok := t.Underlying().(*types.Basic); ok {
		switch {
		case b.Info()&types.IsString != 0:
			return aName
		case b.Info()&types.IsInteger != 0:
			return aCount
		case b.Info()&types.IsFloat != 0:
			return aNumber
		}
	}
	return "unknown thing"
}
