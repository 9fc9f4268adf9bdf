package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"strconv"
	"strings"
)

// A mutant is one change of one place.
type mutant struct {
	ID   int // 1, 2, 3, … in the order of the source
	File string
	Func string // the function it is in, or the variable
	Kind string
	From string // the text of the place, on one line
	To   string // what it becomes
	Nth  int    // which of those that are otherwise named alike
	text string // what is compiled in its place
	site *site
	Line int

	survived []string // tables whose rows reach it and give what they gave
}

// name is what mutants are listed by: it holds while other lines come and go.
func (m *mutant) name() string {
	return strings.Join([]string{m.File, m.Func, m.Kind, m.From, m.To, strconv.Itoa(m.Nth)}, "\t")
}

// A site is a place with its mutants: an expression, which is compiled as a function's result, or a
// statement, which is compiled within a switch.
type site struct {
	start, end int // within the file
	result     string
	prefix     string // what an element of a list leaves out before its brace: its type
	statement  bool
	onlyDrop   bool // a statement that mustn't come within a switch: break
	alone      bool // one mutant, one build: a constant's value, for example
	mutants    []*mutant
}

type finder struct {
	name  string // of the file, from the root
	src   []byte
	file  *token.File
	info  *types.Info
	pkg   *types.Package
	sites []*site
	fn    string
	qual  types.Qualifier
	seen  map[string]int
}

// sites finds the places of a file and their mutants.
func sites(name string, src []byte, fset *token.FileSet, file *ast.File, pkg *types.Package, info *types.Info) []*site {
	f := &finder{name: name, src: src, file: fset.File(file.Pos()), info: info, pkg: pkg, seen: map[string]int{}}
	imported := map[string]string{}
	for _, spec := range file.Imports {
		if path, err := strconv.Unquote(spec.Path.Value); err == nil {
			switch {
			case spec.Name != nil:
				imported[path] = spec.Name.Name
			default:
				for _, p := range pkg.Imports() {
					if p.Path() == path {
						imported[path] = p.Name()
					}
				}
			}
		}
	}
	f.qual = func(p *types.Package) string {
		if p == pkg {
			return ""
		}
		if n, ok := imported[p.Path()]; ok {
			return n
		}
		return "notimported"
	}
	for _, decl := range file.Decls {
		switch d := decl.(type) {
		case *ast.FuncDecl:
			f.fn = d.Name.Name
			if d.Recv != nil {
				f.fn = "(" + f.text(d.Recv.List[0].Type) + ")." + f.fn
			}
			if d.Body != nil {
				f.walk(d.Body, nil, false)
			}
		case *ast.GenDecl:
			if d.Tok != token.CONST && d.Tok != token.VAR {
				continue
			}
			for _, spec := range d.Specs {
				s := spec.(*ast.ValueSpec)
				f.fn = s.Names[0].Name
				for _, v := range s.Values {
					f.walk(v, nil, d.Tok == token.CONST)
				}
			}
		}
	}
	return f.sites
}

func (f *finder) offset(p token.Pos) int { return f.file.Offset(p) }

func (f *finder) text(n ast.Node) string { return string(f.src[f.offset(n.Pos()):f.offset(n.End())]) }

// between is the source from a to b.
func (f *finder) between(a, b token.Pos) string { return string(f.src[f.offset(a):f.offset(b)]) }

const longest = 90

func oneLine(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > longest {
		s = string(r[:longest/2]) + "…" + string(r[len(r)-longest/2:])
	}
	return s
}

func (f *finder) add(s *site, kind, from, to, text string) {
	m := &mutant{File: f.name, Func: f.fn, Kind: kind, From: oneLine(from), To: oneLine(to), text: text, site: s,
		Line: f.file.Line(f.file.Pos(s.start))}
	key := m.name()
	f.seen[key]++
	m.Nth = f.seen[key]
	s.mutants = append(s.mutants, m)
}

func (f *finder) keep(s *site) {
	if len(s.mutants) > 0 {
		f.sites = append(f.sites, s)
	}
}

var comparisons = map[token.Token][]token.Token{
	token.LSS: {token.LEQ, token.GEQ}, token.LEQ: {token.LSS, token.GTR},
	token.GTR: {token.GEQ, token.LEQ}, token.GEQ: {token.GTR, token.LSS},
	token.EQL: {token.NEQ}, token.NEQ: {token.EQL},
}

var arithmetic = map[token.Token]token.Token{
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL, token.REM: token.MUL,
	token.AND: token.OR, token.OR: token.AND, token.XOR: token.AND, token.SHL: token.SHR, token.SHR: token.SHL, token.AND_NOT: token.AND,
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN, token.MUL_ASSIGN: token.QUO_ASSIGN, token.QUO_ASSIGN: token.MUL_ASSIGN,
	token.REM_ASSIGN: token.MUL_ASSIGN, token.AND_ASSIGN: token.OR_ASSIGN, token.OR_ASSIGN: token.AND_ASSIGN,
	token.SHL_ASSIGN: token.SHR_ASSIGN, token.SHR_ASSIGN: token.SHL_ASSIGN,
}

// walk visits n; parents are the nodes above it within the declaration, the nearest last.
func (f *finder) walk(n ast.Node, parents []ast.Node, constant bool) {
	var stack []ast.Node
	stack = append(stack, parents...)
	ast.Inspect(n, func(n ast.Node) bool {
		if n == nil {
			stack = stack[:len(stack)-1]
			return true
		}
		if skipped(n, stack, f.info) {
			return false
		}
		f.visit(n, stack, constant)
		stack = append(stack, n)
		return true
	})
}

// skipped says what has no mutants: what a panic says, the length in a type.
func skipped(n ast.Node, parents []ast.Node, info *types.Info) bool {
	switch n := n.(type) {
	case *ast.CallExpr:
		return builtin(n, info) == "panic"
	case *ast.ImportSpec, *ast.ArrayType, *ast.StructType, *ast.FuncType, *ast.InterfaceType:
		return true
	case *ast.GenDecl:
		return n.Tok == token.CONST || n.Tok == token.TYPE // within a function
	}
	return false
}

func builtin(c *ast.CallExpr, info *types.Info) string {
	if id, ok := c.Fun.(*ast.Ident); ok {
		if _, ok := info.Uses[id].(*types.Builtin); ok {
			return id.Name
		}
	}
	return ""
}

func (f *finder) visit(n ast.Node, parents []ast.Node, constant bool) {
	switch n := n.(type) {
	case ast.Stmt:
		f.statement(n, parents)
	case ast.Expr:
		f.expression(n, parents, constant)
	}
}

func (f *finder) statement(n ast.Stmt, parents []ast.Node) {
	if !inBlock(n, parents) {
		return
	}
	s := &site{start: f.offset(n.Pos()), end: f.offset(n.End()), statement: true}
	switch n := n.(type) {
	case *ast.ExprStmt:
		f.add(s, "drop", f.text(n), "", "")
	case *ast.IncDecStmt:
		f.add(s, "drop", f.text(n), "", "")
		other := map[token.Token]string{token.INC: "--", token.DEC: "++"}[n.Tok]
		f.add(s, "arithmetic", f.text(n), f.text(n.X)+other, f.text(n.X)+other)
	case *ast.AssignStmt:
		if n.Tok == token.DEFINE || len(n.Lhs) == 1 && f.text(n.Lhs[0]) == "_" {
			return
		}
		f.add(s, "drop", f.text(n), "", "")
		if other, ok := arithmetic[n.Tok]; ok && !f.isString(n.Lhs[0]) {
			text := f.text(n.Lhs[0]) + " " + other.String() + " " + f.text(n.Rhs[0])
			f.add(s, "arithmetic", f.text(n), text, text)
		}
	case *ast.BranchStmt:
		if n.Tok != token.BREAK && n.Tok != token.CONTINUE {
			return
		}
		s.onlyDrop = true
		f.add(s, "drop", f.text(n), "", "")
	case *ast.ReturnStmt:
		if len(n.Results) > 0 {
			return
		}
		s.onlyDrop = true
		f.add(s, "drop", f.text(n), "", "")
	case *ast.DeferStmt:
		s.onlyDrop = true
		f.add(s, "drop", f.text(n), "", "")
	}
	f.keep(s)
}

// inBlock says whether the statement is one of a list, and not the init or post of another.
func inBlock(n ast.Stmt, parents []ast.Node) bool {
	if len(parents) == 0 {
		return false
	}
	switch p := parents[len(parents)-1].(type) {
	case *ast.BlockStmt, *ast.CaseClause:
		return true
	case *ast.CommClause:
		return p.Comm != n
	}
	return false
}

func (f *finder) isString(e ast.Expr) bool {
	t := f.info.TypeOf(e)
	if t == nil {
		return false
	}
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&types.IsString != 0
}

func (f *finder) expression(n ast.Expr, parents []ast.Node, constant bool) {
	tv, ok := f.info.Types[n]
	if !ok || tv.IsType() || tv.IsBuiltin() {
		return
	}
	s := &site{start: f.offset(n.Pos()), end: f.offset(n.End()), alone: constant}
	switch t := tv.Type.(type) {
	case *types.Tuple:
		var results []string
		for v := range t.Variables() {
			results = append(results, types.TypeString(v.Type(), f.qual))
		}
		s.result = "(" + strings.Join(results, ", ") + ")"
	default:
		s.result = types.TypeString(types.Default(t), f.qual)
	}
	var parent ast.Node
	if len(parents) > 0 {
		parent = parents[len(parents)-1]
	}
	if tv.Value != nil { // part of a constant expression: the type is that of the whole
		for i := len(parents) - 1; i >= 0; i-- {
			whole, ok := parents[i].(ast.Expr)
			if _, binary := whole.(*ast.BinaryExpr); !ok || f.info.Types[whole].Value == nil || binary && comparisons[whole.(*ast.BinaryExpr).Op] != nil {
				break
			}
			if call, ok := whole.(*ast.CallExpr); ok && call != nil {
				break
			}
			s.result = types.TypeString(types.Default(f.info.Types[whole].Type), f.qual)
		}
	}
	switch n := n.(type) {
	case *ast.BinaryExpr:
		f.binary(s, n)
	case *ast.UnaryExpr:
		if n.Op == token.NOT || n.Op == token.SUB {
			f.add(s, "negation", f.text(n), f.text(n.X), f.text(n.X))
		}
	case *ast.BasicLit:
		f.literal(s, n, parents)
	case *ast.CallExpr:
		switch parent.(type) {
		case *ast.DeferStmt, *ast.GoStmt:
		default:
			f.swapArguments(s, n)
		}
	case *ast.SelectorExpr:
		f.otherField(s, n, parent)
	case *ast.CompositeLit:
		if u, ok := parent.(*ast.UnaryExpr); !ok || u.Op != token.AND {
			f.swapValues(s, n, "")
		}
	}
	if u, ok := n.(*ast.UnaryExpr); ok && u.Op == token.AND {
		if lit, ok := u.X.(*ast.CompositeLit); ok {
			f.swapValues(s, lit, "&")
		}
	}
	if condition(n, parent) && !f.isConstant(n) {
		f.add(s, "forced", f.text(n), "true", "true")
		f.add(s, "forced", f.text(n), "false", "false")
	}
	f.keep(s)
}

func (f *finder) isConstant(e ast.Expr) bool { return f.info.Types[e].Value != nil }

func condition(n ast.Expr, parent ast.Node) bool {
	p, ok := parent.(*ast.IfStmt)
	return ok && p.Cond == n
}

func (f *finder) binary(s *site, n *ast.BinaryExpr) {
	replaced := func(op token.Token) string {
		return f.between(n.Pos(), n.OpPos) + op.String() + f.between(n.OpPos+token.Pos(len(n.Op.String())), n.End())
	}
	for _, op := range comparisons[n.Op] {
		f.add(s, "comparison", f.text(n), replaced(op), replaced(op))
	}
	switch {
	case n.Op == token.LAND || n.Op == token.LOR:
		other := map[token.Token]token.Token{token.LAND: token.LOR, token.LOR: token.LAND}[n.Op]
		text := "(" + f.text(n.X) + ") " + other.String() + " (" + f.text(n.Y) + ")"
		f.add(s, "condition", f.text(n), replaced(other), text)
		f.add(s, "condition", f.text(n), f.text(n.X), f.text(n.X))
		f.add(s, "condition", f.text(n), f.text(n.Y), f.text(n.Y))
	case n.Op == token.ADD && f.isString(n):
		f.add(s, "string", f.text(n), f.text(n.X), f.text(n.X))
	default:
		if op, ok := arithmetic[n.Op]; ok {
			text := "(" + f.text(n.X) + ") " + op.String() + " (" + f.text(n.Y) + ")"
			f.add(s, "arithmetic", f.text(n), replaced(op), text)
		}
	}
}

func (f *finder) literal(s *site, n *ast.BasicLit, parents []ast.Node) {
	if len(parents) > 0 {
		if kv, ok := parents[len(parents)-1].(*ast.KeyValueExpr); ok && kv.Key == n && n.Kind == token.INT {
			s.alone = true // an index of an array
		}
	}
	switch n.Kind {
	case token.INT:
		to := "(" + n.Value + " + 1)"
		if v, err := strconv.ParseInt(n.Value, 0, 64); err == nil {
			to = strconv.FormatInt(v+1, 10)
		}
		f.add(s, "constant", n.Value, to, to)
	case token.FLOAT:
		to := "(" + n.Value + " + 1)"
		f.add(s, "constant", n.Value, to, to)
	case token.CHAR:
		if c, _, _, err := strconv.UnquoteChar(n.Value[1:], '\''); err == nil {
			to := strconv.QuoteRune(c + 1)
			f.add(s, "constant", n.Value, to, to)
		}
	case token.STRING:
		v, err := strconv.Unquote(n.Value)
		if err != nil || v == "" {
			return
		}
		to := strconv.Quote(otherString(v))
		f.add(s, "string", n.Value, to, to)
	}
}

// otherString changes the first letter or digit that isn't part of a verb of fmt; a text without one
// becomes empty.
func otherString(v string) string {
	b := []byte(v)
	for i := 0; i < len(b); i++ {
		c := b[i]
		switch {
		case c == '%':
			for i++; i < len(b) && bytes.IndexByte([]byte("+-# 0123456789.[]*"), b[i]) >= 0; i++ {
			}
		case c >= '0' && c < '9', c >= 'a' && c < 'z', c >= 'A' && c < 'Z':
			b[i]++
			return string(b)
		case c == '9', c == 'z', c == 'Z':
			b[i]--
			return string(b)
		}
	}
	return ""
}

// swapArguments exchanges neighbours of one type; the elements of a variadic parameter are a list, and stay.
func (f *finder) swapArguments(s *site, n *ast.CallExpr) {
	if f.info.Types[n.Fun].IsType() || builtin(n, f.info) != "" || f.commutes(n) {
		return
	}
	last := len(n.Args)
	if sig, ok := f.info.TypeOf(n.Fun).Underlying().(*types.Signature); ok && sig.Variadic() {
		last = min(last, sig.Params().Len()-1)
	}
	for i := 0; i+1 < last; i++ {
		a, b := n.Args[i], n.Args[i+1]
		if !alike(f.info.TypeOf(a), f.info.TypeOf(b)) || f.text(a) == f.text(b) {
			continue
		}
		text := f.between(n.Pos(), a.Pos()) + f.text(b) + f.between(a.End(), b.Pos()) + f.text(a) + f.between(b.End(), n.End())
		f.add(s, "swap", f.text(n), text, text)
	}
}

// commutes says whether it is a sum or a product of math/big.
func (f *finder) commutes(n *ast.CallExpr) bool {
	sel, ok := n.Fun.(*ast.SelectorExpr)
	if !ok || sel.Sel.Name != "Add" && sel.Sel.Name != "Mul" {
		return false
	}
	m := f.info.Selections[sel]
	return m != nil && m.Obj().Pkg() != nil && m.Obj().Pkg().Path() == "math/big"
}

func alike(a, b types.Type) bool {
	return a != nil && b != nil && types.Identical(types.Default(a), types.Default(b)) && a != types.Typ[types.UntypedNil]
}

// swapValues exchanges the values of neighbouring fields of one type.
func (f *finder) swapValues(s *site, n *ast.CompositeLit, prefix string) {
	t := f.info.TypeOf(n)
	if t == nil {
		return
	}
	if _, ok := t.Underlying().(*types.Struct); !ok {
		return
	}
	value := func(e ast.Expr) ast.Expr {
		if kv, ok := e.(*ast.KeyValueExpr); ok {
			return kv.Value
		}
		return e
	}
	for i := 0; i+1 < len(n.Elts); i++ {
		a, b := value(n.Elts[i]), value(n.Elts[i+1])
		if !alike(f.info.TypeOf(a), f.info.TypeOf(b)) || f.text(a) == f.text(b) {
			continue
		}
		text := prefix + f.between(n.Pos(), a.Pos()) + f.text(b) + f.between(a.End(), b.Pos()) + f.text(a) + f.between(b.End(), n.End())
		if n.Type == nil {
			s.prefix = types.TypeString(t, f.qual)
			text = s.prefix + text
		}
		f.add(s, "swap", f.text(n), text, text)
	}
}

// otherField reads the next field of the same type instead.
func (f *finder) otherField(s *site, n *ast.SelectorExpr, parent ast.Node) {
	sel := f.info.Selections[n]
	if sel == nil || sel.Kind() != types.FieldVal || len(sel.Index()) != 1 {
		return
	}
	switch p := parent.(type) {
	case *ast.AssignStmt:
		for _, l := range p.Lhs {
			if l == ast.Expr(n) {
				return
			}
		}
	case *ast.IncDecStmt, *ast.KeyValueExpr:
		if kv, ok := p.(*ast.KeyValueExpr); !ok || kv.Key == ast.Expr(n) {
			return
		}
	case *ast.UnaryExpr:
		if p.Op == token.AND {
			return
		}
	case *ast.SelectorExpr, *ast.IndexExpr, *ast.SliceExpr, *ast.RangeStmt:
		return // what is read there is looked at by itself, or must be a variable
	}
	st, ok := deref(sel.Recv()).Underlying().(*types.Struct)
	if !ok {
		return
	}
	for k := 1; k < st.NumFields(); k++ {
		other := st.Field((sel.Index()[0] + k) % st.NumFields())
		if !other.Exported() && other.Pkg() != f.pkg || !types.Identical(other.Type(), sel.Obj().Type()) {
			continue
		}
		text := f.text(n.X) + "." + other.Name()
		f.add(s, "field", f.text(n), text, text)
		return
	}
}

func deref(t types.Type) types.Type {
	if p, ok := t.Underlying().(*types.Pointer); ok {
		return p.Elem()
	}
	return t
}

// render writes the source with every mutant that isn't built alone, each behind its number.
func render(src []byte, all []*site) []byte {
	var out bytes.Buffer
	var write func(from, to, i int) int
	write = func(from, to, i int) int {
		for i < len(all) && all[i].start < to {
			s := all[i]
			out.Write(src[from:s.start])
			before, after := "", ""
			if !s.alone {
				before, after = s.around()
			}
			out.WriteString(before)
			i = write(s.start, s.end, i+1)
			out.WriteString(after)
			from = s.end
		}
		out.Write(src[from:to])
		return i
	}
	write(0, len(src), 0)
	return out.Bytes()
}

// around is what is put before and after a site.
func (s *site) around() (before, after string) {
	id := s.mutants[0].ID
	var b strings.Builder
	switch {
	case s.onlyDrop:
		return fmt.Sprintf(" /*<%d*/if mutant_(%d) != %d { ", id, id, id), fmt.Sprintf(" }/*%d>*/", id)
	case s.statement:
		fmt.Fprintf(&b, " /*<%d*/switch mutant_(%d) { ", id, id)
		for _, m := range s.mutants {
			fmt.Fprintf(&b, "case %d: %s; ", m.ID, m.text)
		}
		return b.String() + "default: ", fmt.Sprintf(" }/*%d>*/", id)
	}
	void := s.result == "()"
	result := s.result
	if void {
		result = ""
	}
	fmt.Fprintf(&b, " /*<%d*/func() %s { switch mutant_(%d) { ", id, result, id)
	for _, m := range s.mutants {
		if void {
			fmt.Fprintf(&b, "case %d: %s; return; ", m.ID, m.text)
		} else {
			fmt.Fprintf(&b, "case %d: return %s; ", m.ID, m.text)
		}
	}
	if void {
		return b.String() + "}; ", fmt.Sprintf(" }()/*%d>*/", id)
	}
	return b.String() + "}; return " + s.prefix, fmt.Sprintf(" }()/*%d>*/", id)
}
