package render

import (
	"go/ast"
	"go/constant"
	"go/types"
	"slices"

	"saltlock/chem/quantity"
)

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
		s.gatherFields(n, add)
	case *ast.CallExpr:
		s.gatherArguments(n, add)
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

func (s *source) gatherFields(n *ast.CompositeLit, add func(types.Object, ast.Expr)) {
	st, ok := deref(s.info.TypeOf(n)).Underlying().(*types.Struct)
	if !ok {
		return
	}
	for i, e := range n.Elts {
		if kv, keyed := e.(*ast.KeyValueExpr); keyed {
			add(s.info.Uses[kv.Key.(*ast.Ident)], kv.Value)
		} else {
			add(st.Field(i), e)
		}
	}
}

func (s *source) gatherArguments(n *ast.CallExpr, add func(types.Object, ast.Expr)) {
	sig, ok := s.info.TypeOf(n.Fun).(*types.Signature)
	if !ok {
		return
	}
	if f := s.function(n.Fun); f != nil {
		sig = f.Type().(*types.Signature) // whose parameters are those of the body
	}
	for i := range min(sig.Params().Len(), len(n.Args)) {
		add(sig.Params().At(i), n.Args[i])
	}
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

// scope is the function that encloses a call: its signature, and what it is called.
type scope struct {
	sig  *types.Signature
	name types.Object
}

// within is the innermost function of the nodes that enclose a call.
func (s *source) within(stack []ast.Node) scope {
	for i, n := range slices.Backward(stack) {
		switch n := n.(type) {
		case *ast.FuncDecl:
			return scope{s.info.Defs[n.Name].Type().(*types.Signature), s.info.Defs[n.Name]}
		case *ast.FuncLit:
			in := scope{s.info.TypeOf(n).(*types.Signature), nil}
			if a, ok := stack[i-1].(*ast.AssignStmt); ok {
				in.name = s.object(a.Lhs[0])
			}
			return in
		}
	}
	return scope{}
}

// walk checks every call of a sayer, after it has found the sayers that hand on.
func (s *source) walk(f *ast.File) {
	var stack []ast.Node
	var later []func()
	ast.Inspect(f, func(n ast.Node) bool {
		if n == nil {
			stack = stack[:len(stack)-1]
			return true
		}
		stack = append(stack, n)
		s.wholeCodes(n)
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		sig, _ := s.info.TypeOf(call.Fun).(*types.Signature)
		if at := sayerOf(sig); at >= 0 {
			if in := s.within(stack); call.Ellipsis.IsValid() && sayerOf(in.sig) >= 0 {
				s.prefix[in.name] = s.handsOn(call, in.sig)
			} else {
				later = append(later, func() { s.check(call, sig, at) })
			}
		}
		return true
	})
	for _, do := range later {
		do()
	}
}

// wholeCodes refuses codes that are put together from pieces.
func (s *source) wholeCodes(n ast.Node) {
	e, ok := n.(ast.Expr)
	if !ok || s.info.Types[e].Value != nil {
		return
	}
	pieces := false
	switch e := e.(type) {
	case *ast.CallExpr:
		tv := s.info.Types[e.Fun]
		pieces = tv.IsType() && isCode(tv.Type)
	case *ast.BinaryExpr:
		pieces = isCode(s.info.TypeOf(e))
	}
	if pieces {
		s.errorf(n, "a code is put together here; name whole codes, in a table where there are many")
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
	last, ok := sig.Params().At(sig.Params().Len() - 1).Type().(*types.Slice)
	if !ok { // append also takes the bytes of a string
		return -1
	}
	if i, ok := last.Elem().Underlying().(*types.Interface); !ok || !i.Empty() {
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
