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

// gather notes where variables, fields and functions get their codes from.
func (s *source) gather(n ast.Node) bool {
	add := func(o types.Object, e ast.Expr) {
		if o != nil {
			s.values[o] = append(s.values[o], e)
		}
	}
	switch n := n.(type) {
	case *ast.AssignStmt:
		for i, l := range n.Lhs {
			if len(n.Rhs) == len(n.Lhs) {
				add(s.object(l), n.Rhs[i])
			}
		}
	case *ast.ValueSpec:
		for i, name := range n.Names {
			if i < len(n.Values) {
				add(s.info.Defs[name], n.Values[i])
			}
		}
	case *ast.RangeStmt:
		add(s.object(n.Value), n.X)
	case *ast.CompositeLit:
		st, ok := deref(s.info.TypeOf(n)).Underlying().(*types.Struct)
		for i, e := range n.Elts {
			if kv, keyed := e.(*ast.KeyValueExpr); keyed && ok {
				add(s.info.Uses[kv.Key.(*ast.Ident)], kv.Value)
			} else if ok {
				add(st.Field(i), e)
			}
		}
	case *ast.CallExpr:
		if sig, ok := s.info.TypeOf(n.Fun).(*types.Signature); ok {
			if f := s.function(n.Fun); f != nil {
				sig = f.Type().(*types.Signature) // whose parameters are those of the body
			}
			for i := range min(sig.Params().Len(), len(n.Args)) {
				add(sig.Params().At(i), n.Args[i])
			}
		}
	case *ast.FuncDecl:
		if n.Body != nil {
			ast.Inspect(n.Body, func(in ast.Node) bool {
				if r, ok := in.(*ast.ReturnStmt); ok {
					s.returns[s.info.Defs[n.Name]] = append(s.returns[s.info.Defs[n.Name]], r.Results...)
				}
				return true
			})
		}
	}
	return true
}

// function is the declared function that a call names; nil for others.
func (s *source) function(e ast.Expr) *types.Func {
	f, _ := s.object(e).(*types.Func)
	if f != nil {
		f = f.Origin()
	}
	return f
}

// object is the variable, field or function that an expression names; nil for others.
func (s *source) object(e ast.Expr) types.Object {
	switch e := e.(type) {
	case *ast.Ident:
		if o := s.info.Defs[e]; o != nil {
			return o
		}
		return s.info.Uses[e]
	case *ast.SelectorExpr:
		if sel := s.info.Selections[e]; sel != nil {
			return sel.Obj()
		}
		return s.info.Uses[e.Sel]
	}
	return nil
}

// walk checks every call of a sayer, and finds the sayers that hand on.
func (s *source) walk(f *ast.File) {
	type scope struct {
		sig  *types.Signature
		name types.Object
	}
	var stack []ast.Node
	within := func() scope {
		for i, n := range slices.Backward(stack) {
			switch n := n.(type) {
			case *ast.FuncDecl:
				return scope{s.info.Defs[n.Name].Type().(*types.Signature), s.info.Defs[n.Name]}
			case *ast.FuncLit:
				if a, ok := stack[i-1].(*ast.AssignStmt); ok {
					return scope{s.info.TypeOf(n).(*types.Signature), s.object(a.Lhs[0])}
				}
				return scope{s.info.TypeOf(n).(*types.Signature), nil}
			}
		}
		return scope{}
	}
	var later []func()
	ast.Inspect(f, func(n ast.Node) bool {
		if n == nil {
			stack = stack[:len(stack)-1]
			return true
		}
		stack = append(stack, n)
		if call, ok := n.(*ast.CallExpr); ok {
			sig, ok := s.info.TypeOf(call.Fun).(*types.Signature)
			if at := sayerOf(sig); ok && at >= 0 {
				if in := within(); call.Ellipsis.IsValid() && sayerOf(in.sig) >= 0 {
					s.prefix[in.name] = s.handsOn(call, in.sig)
				} else {
					later = append(later, func() { s.check(call, sig, at) })
				}
			}
			if tv := s.info.Types[call.Fun]; tv.IsType() && isCode(tv.Type) && s.info.Types[call].Value == nil {
				s.errorf(call, "a code is put together here; name whole codes, in a table where there are many")
			}
		}
		if sum, ok := n.(*ast.BinaryExpr); ok && isCode(s.info.TypeOf(sum)) && s.info.Types[sum].Value == nil {
			s.errorf(sum, "a code is put together here; name whole codes, in a table where there are many")
		}
		return true
	})
	for _, do := range later {
		do()
	}
}

// handsOn returns what a sayer puts before the things that it was given.
func (s *source) handsOn(call *ast.CallExpr, own *types.Signature) []types.Type {
	variadic := own.Params().At(own.Params().Len() - 1)
	last := call.Args[len(call.Args)-1]
	if s.object(last) == variadic {
		return nil
	}
	if join, ok := last.(*ast.CallExpr); ok && len(join.Args) == 2 && s.object(join.Args[1]) == variadic {
		if list, ok := join.Args[0].(*ast.CompositeLit); ok {
			var before []types.Type
			for _, e := range list.Elts {
				before = append(before, s.info.TypeOf(e))
			}
			return before
		}
	}
	s.errorf(call, "a sayer hands on its own things: params..., or append([]any{first}, params...)...")
	return nil
}

// sayerOf is the place of the code among the parameters of a sayer; -1 for other functions.
func sayerOf(sig *types.Signature) int {
	if sig == nil || !sig.Variadic() || sig.Params().Len() < 2 {
		return -1
	}
	last := sig.Params().At(sig.Params().Len() - 1).Type().(*types.Slice).Elem().Underlying()
	if i, ok := last.(*types.Interface); !ok || !i.Empty() {
		return -1
	}
	if at := sig.Params().Len() - 2; isCode(sig.Params().At(at).Type()) {
		return at
	}
	return -1
}

func isCode(t types.Type) bool {
	n, ok := t.(*types.Named)
	return ok && n.Obj().Name() == "Code" && n.Obj().Pkg().Path() == "saltlock/chem/quantity"
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

func deref(t types.Type) types.Type {
	if p, ok := t.(*types.Pointer); ok {
		return p.Elem()
	}
	return t
}

// codesOf finds every code that an expression may have.
func (s *source) codesOf(e ast.Expr, found map[quantity.Code]bool, seen map[types.Object]bool) {
	if v := s.info.Types[e].Value; v != nil && v.Kind() == constant.String {
		found[quantity.Code(constant.StringVal(v))] = true
		return
	}
	follow := func(o types.Object, all []ast.Expr) {
		if !seen[o] {
			seen[o] = true
			for _, e := range all {
				s.codesOf(e, found, seen)
			}
		}
	}
	switch e := e.(type) {
	case *ast.ParenExpr:
		s.codesOf(e.X, found, seen)
	case *ast.IndexExpr: // of a table
		s.codesOf(e.X, found, seen)
	case *ast.CompositeLit: // a table
		for _, x := range e.Elts {
			if kv, ok := x.(*ast.KeyValueExpr); ok {
				x = kv.Value
			}
			s.codesOf(x, found, seen)
		}
	case *ast.CallExpr:
		if f := s.function(e.Fun); f != nil {
			follow(f, s.returns[f])
		}
	case *ast.Ident, *ast.SelectorExpr:
		if o := s.object(e); o != nil {
			follow(o, s.values[o])
		}
	}
}
