// Doccheck reports what a module exports without saying what it is or showing how it is used.
//
//	doccheck [-examples=report] DIRECTORY
//
// Every package needs a package comment; every exported constant, variable, type, function and
// method, and every exported method of an interface, a doc comment (a constant, a variable or an
// alias may share that of its group). Every exported type, function and method has to appear in
// an Example with checked output, in a test file of its own package. Commands are left out, and no
// example is asked of what is internal: nobody outside can call it.
//
// What an example shows is worked out from types, not from names: Torque.In does not stand for
// Volume.In. A method that the standard library calls through an interface counts as shown where
// a value of its type is handed to the package that calls it (String to fmt, MarshalJSON to
// encoding/json); Error, Unwrap and Is count as shown with their type,
// and so do the methods of the standard encodings, which a table in package service's tests holds.
//
// Go code in README.md's fenced blocks has to compile, inside a function that returns an error, with
// the module's packages and fmt imported; and it has to give the figures that its comments say. A
// comment with a figure is behind the statement it is about, and begins with what that prints or
// what the first variable it sets is, to as many places as the comment has. Any other figure there
// comes after "not", and is none of those.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"go/ast"
	"go/doc"
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
)

func main() {
	examples := flag.String("examples", "fail", "what to do about symbols no example shows: fail or report")
	flag.Parse()
	if flag.NArg() != 1 || (*examples != "fail" && *examples != "report") {
		fmt.Fprintln(os.Stderr, "usage: doccheck [-examples=fail|report] DIRECTORY")
		os.Exit(2)
	}
	found, err := check(flag.Arg(0))
	if err != nil {
		fmt.Fprintln(os.Stderr, "doccheck:", err)
		os.Exit(2)
	}
	for _, u := range found.undocumented {
		fmt.Println("no doc comment:", u)
	}
	for _, u := range found.unshown {
		fmt.Println("in no example: ", u)
	}
	for _, u := range found.readme {
		fmt.Println("README.md:", u)
	}
	fmt.Printf("doccheck: %d packages, %d exported symbols, %d undocumented; %d to be shown, %d not shown; %d blocks in README.md\n",
		found.packages, found.exported, len(found.undocumented), found.toShow, len(found.unshown), found.blocks)
	if len(found.undocumented) > 0 || len(found.readme) > 0 || found.packages == 0 || len(found.unshown) > 0 && *examples == "fail" {
		os.Exit(1)
	}
}

// findings is what check found in a module.
type findings struct {
	packages     int
	exported     int      // symbols that need a doc comment
	undocumented []string // "units/kind.go:12: Torque"
	toShow       int      // types, functions and methods
	unshown      []string // "units.Quantity.In"
	blocks       int      // of Go code in README.md
	readme       []string // what is wrong with them
}

// listed is a package as go list prints it.
type listed struct {
	ImportPath, Name, Dir, Export, ForTest string
	GoFiles, IgnoredGoFiles                []string
	TestGoFiles, XTestGoFiles              []string
	ImportMap                              map[string]string
	Standard, DepOnly                      bool
	Error                                  *struct{ Err string }
}

// examined reports whether a package is one of the module's own that can be imported: no command,
// and not the form it is compiled in for a test.
func (p listed) examined() bool {
	return !p.DepOnly && !p.Standard && p.Name != "main" && !strings.Contains(p.ImportPath, " ")
}

// internal reports whether only the module itself can import a package.
func (p listed) internal() bool { return slices.Contains(strings.Split(p.ImportPath, "/"), "internal") }

// check reads the module in a directory.
func check(dir string) (findings, error) {
	packages, err := list(dir)
	if err != nil {
		return findings{}, err
	}
	var found findings
	for _, path := range slices.Sorted(maps.Keys(packages)) {
		p := packages[path]
		if !p.examined() {
			continue
		}
		found.packages++
		if err := found.documented(dir, p); err != nil {
			return findings{}, err
		}
		if p.internal() {
			continue
		}
		if err := found.shown(packages, p); err != nil {
			return findings{}, err
		}
	}
	blocks, err := readReadme(dir)
	if err != nil {
		return findings{}, err
	}
	found.blocks = len(blocks)
	for _, block := range blocks {
		wrong, err := block.check(dir, packages)
		if err != nil {
			return findings{}, err
		}
		found.readme = append(found.readme, wrong...)
	}
	return found, nil
}

// list asks for the packages and their tests with everything they import, compiled.
func list(dir string) (map[string]listed, error) {
	cmd := exec.Command("go", "list", "-export", "-deps", "-test", "-json", "./...", "fmt")
	cmd.Dir = dir
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w\n%s", err, stderr.Bytes())
	}
	packages := map[string]listed{}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return packages, nil
		} else if err != nil {
			return nil, err
		}
		packages[p.ImportPath] = p
	}
}

// documented looks for doc comments, whatever system a file is built for.
func (f *findings) documented(root string, p listed) error {
	fset := token.NewFileSet()
	packageComment := false
	need := func(pos token.Pos, name string, comments ...*ast.CommentGroup) {
		f.exported++
		for _, c := range comments {
			if strings.TrimSpace(c.Text()) != "" {
				return
			}
		}
		at := fset.Position(pos)
		f.undocumented = append(f.undocumented, fmt.Sprintf("%s:%d: %s", relative(root, at.Filename), at.Line, name))
	}
	for _, name := range slices.Concat(p.GoFiles, p.IgnoredGoFiles) {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(fset, filepath.Join(p.Dir, name), nil, parser.ParseComments)
		if err != nil {
			return err
		}
		packageComment = packageComment || file.Doc != nil
		for _, decl := range file.Decls {
			switch d := decl.(type) {
			case *ast.FuncDecl:
				receiver := receiverName(d)
				if d.Name.IsExported() && (receiver == "" || ast.IsExported(receiver)) {
					need(d.Pos(), strings.TrimPrefix(receiver+"."+d.Name.Name, "."), d.Doc)
				}
			case *ast.GenDecl:
				documentedSpecs(d, need)
			}
		}
	}
	if !packageComment {
		f.undocumented = append(f.undocumented, "package "+p.ImportPath)
	}
	return nil
}

func documentedSpecs(d *ast.GenDecl, need func(token.Pos, string, ...*ast.CommentGroup)) {
	for _, spec := range d.Specs {
		switch s := spec.(type) {
		case *ast.ValueSpec:
			for _, name := range s.Names {
				if name.IsExported() {
					need(name.Pos(), name.Name, s.Doc, s.Comment, d.Doc)
				}
			}
		case *ast.TypeSpec:
			if !s.Name.IsExported() {
				continue
			}
			comments := []*ast.CommentGroup{s.Doc, s.Comment}
			if s.Assign.IsValid() || !d.Lparen.IsValid() {
				comments = append(comments, d.Doc)
			}
			need(s.Pos(), s.Name.Name, comments...)
			if t, ok := s.Type.(*ast.InterfaceType); ok {
				for _, m := range t.Methods.List {
					for _, name := range m.Names {
						if name.IsExported() {
							need(name.Pos(), s.Name.Name+"."+name.Name, m.Doc, m.Comment)
						}
					}
				}
			}
		}
	}
}

// receiverName is the name of the type a method belongs to, "" for a function.
func receiverName(d *ast.FuncDecl) string {
	if d.Recv == nil {
		return ""
	}
	t := d.Recv.List[0].Type
	for {
		switch x := t.(type) {
		case *ast.StarExpr:
			t = x.X
		case *ast.IndexExpr:
			t = x.X
		case *ast.IndexListExpr:
			t = x.X
		case *ast.Ident:
			return x.Name
		default:
			return ""
		}
	}
}

// shown compares what a package exports with what its examples use.
func (f *findings) shown(packages map[string]listed, p listed) error {
	used := map[string]bool{}
	for _, files := range []struct {
		path  string
		names []string
	}{
		// Tests within the package are checked with its files, those outside it by themselves.
		{p.ImportPath, slices.Concat(p.GoFiles, p.TestGoFiles)},
		{p.ImportPath + "_test", p.XTestGoFiles},
	} {
		if err := uses(used, packages, p, files.path, files.names); err != nil {
			return err
		}
	}
	pkg, err := importerFor(packages, "", token.NewFileSet()).Import(p.ImportPath)
	if err != nil {
		return err
	}
	for _, symbol := range exported(pkg) {
		f.toShow++
		if !used[symbol] {
			f.unshown = append(f.unshown, symbol)
		}
	}
	return nil
}

// exported lists a package's exported types, functions and methods of concrete types.
func exported(pkg *types.Package) []string {
	var symbols []string
	for _, name := range pkg.Scope().Names() {
		object := pkg.Scope().Lookup(name)
		if !object.Exported() {
			continue
		}
		switch o := object.(type) {
		case *types.Func:
			symbols = append(symbols, symbol(o))
		case *types.TypeName:
			if i, ok := o.Type().Underlying().(*types.Interface); ok && !i.IsMethodSet() {
				continue // a constraint: nothing is ever of that type
			}
			symbols = append(symbols, symbol(o))
			named, ok := o.Type().(*types.Named)
			if !ok || types.IsInterface(named) {
				continue
			}
			for m := range methods(named) {
				symbols = append(symbols, symbol(m))
			}
		}
	}
	return symbols
}

// methods ranges over the exported methods declared on a type.
func methods(named *types.Named) func(func(*types.Func) bool) {
	return func(yield func(*types.Func) bool) {
		for m := range named.Origin().Methods() {
			if m.Exported() && !yield(m) {
				return
			}
		}
	}
}

// symbol names a package-level object or a method: "units.Quantity.In", "waste.Ledger".
func symbol(o types.Object) string {
	if o == nil || o.Pkg() == nil {
		return ""
	}
	prefix := o.Pkg().Name() + "."
	if f, ok := o.(*types.Func); ok {
		if receiver := f.Signature().Recv(); receiver != nil {
			named := namedOf(receiver.Type())
			if named == nil {
				return ""
			}
			prefix += named.Obj().Name() + "."
		}
	}
	return prefix + o.Name()
}

func namedOf(t types.Type) *types.Named {
	t = types.Unalias(t)
	if p, ok := t.(*types.Pointer); ok {
		t = types.Unalias(p.Elem())
	}
	named, _ := t.(*types.Named)
	return named
}

// importerFor reads compiled packages, taking the variant that was built for a package's tests
// where there is one: its test helpers are in that.
func importerFor(packages map[string]listed, forTest string, fset *token.FileSet) types.Importer {
	return importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) {
		p, ok := packages[path+" ["+forTest+".test]"]
		if !ok || p.Export == "" {
			p = packages[path]
		}
		if p.Export == "" {
			return nil, fmt.Errorf("no export data for %s", path)
		}
		return os.Open(p.Export)
	})
}

// uses adds what the examples among some files of a package use.
func uses(used map[string]bool, packages map[string]listed, p listed, path string, names []string) error {
	fset := token.NewFileSet()
	var files, tests []*ast.File
	for _, name := range names {
		file, err := parser.ParseFile(fset, filepath.Join(p.Dir, name), nil, parser.ParseComments)
		if err != nil {
			return err
		}
		files = append(files, file)
		if strings.HasSuffix(name, "_test.go") {
			tests = append(tests, file)
		}
	}
	if len(tests) == 0 {
		return nil
	}
	info := &types.Info{
		Uses:  map[*ast.Ident]types.Object{},
		Types: map[ast.Expr]types.TypeAndValue{},
	}
	config := types.Config{Importer: importerFor(packages, p.ImportPath, fset)}
	if _, err := config.Check(path, fset, files, info); err != nil {
		return err
	}
	for _, example := range doc.Examples(tests...) {
		if example.Output == "" && !example.EmptyOutput {
			continue
		}
		// A whole-file example's code is its file; its helpers are part of what is shown.
		ast.Inspect(example.Code, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.Ident:
				mark(used, info.Uses[n])
			case *ast.CallExpr:
				markCall(used, info, n)
			}
			if e, ok := n.(ast.Expr); ok {
				markType(used, info.Types[e].Type)
			}
			return true
		})
	}
	return nil
}

// mark notes the use of an object and, for a variable, of its type.
func mark(used map[string]bool, o types.Object) {
	switch o := o.(type) {
	case *types.Func:
		used[symbol(o.Origin())] = true
	case *types.TypeName:
		used[symbol(o)] = true
		markType(used, o.Type())
	case *types.Var:
		markType(used, o.Type())
	}
}

// with are methods that are shown by an example of their type: those of errors, and those that package
// service's table of encodings holds every type to.
var with = []string{"Error", "Unwrap", "Is", "MarshalText", "UnmarshalText", "AppendText", "MarshalJSON", "UnmarshalJSON",
	"MarshalBinary", "UnmarshalBinary", "Value", "Scan", "LogValue"}

// markType notes that a value of a type is there, with the methods that come with an error.
func markType(used map[string]bool, t types.Type) {
	if a, ok := t.(*types.Alias); ok {
		used[symbol(a.Obj())] = true
	}
	if tuple, ok := t.(*types.Tuple); ok {
		for v := range tuple.Variables() {
			markType(used, v.Type())
		}
	}
	if t == nil {
		return
	}
	if named := namedOf(t); named != nil {
		used[symbol(named.Obj())] = true
		markMethods(used, named, with...)
		for argument := range named.TypeArgs().Types() {
			markType(used, argument)
		}
	}
}

func markMethods(used map[string]bool, named *types.Named, names ...string) {
	for m := range methods(named) {
		if slices.Contains(names, m.Name()) {
			used[symbol(m)] = true
		}
	}
}

// called are the methods that a package of the standard library calls on what it is handed.
var called = map[string][]string{
	"fmt":             {"String", "Format", "GoString", "Scan"},
	"encoding/json":   {"MarshalJSON", "UnmarshalJSON", "MarshalText", "UnmarshalText"},
	"encoding/gob":    {"MarshalBinary", "UnmarshalBinary"},
	"encoding/xml":    {"MarshalText", "UnmarshalText"},
	"database/sql":    {"Scan", "Value"},
	"flag":            {"MarshalText", "UnmarshalText", "String", "Set"},
	"log/slog":        {"LogValue"},
	"strings":         {"String"},
	"html/template":   {"String"},
	"text/template":   {"String"},
	"text/tabwriter":  {"String"},
	"encoding/binary": {"AppendBinary"},
}

// markCall notes the methods that a call into the standard library reaches through an interface.
func markCall(used map[string]bool, info *types.Info, call *ast.CallExpr) {
	var callee types.Object
	switch f := ast.Unparen(call.Fun).(type) {
	case *ast.SelectorExpr:
		callee = info.Uses[f.Sel]
	case *ast.Ident:
		callee = info.Uses[f]
	}
	if callee == nil || callee.Pkg() == nil {
		return
	}
	names := called[callee.Pkg().Path()]
	if names == nil {
		return
	}
	for _, argument := range call.Args {
		reach(info.Types[argument].Type, map[types.Type]bool{}, func(named *types.Named) {
			markMethods(used, named, names...)
		})
	}
}

// reach visits the named types that a value of a type is made of.
func reach(t types.Type, seen map[types.Type]bool, visit func(*types.Named)) {
	t = types.Unalias(t)
	if t == nil || seen[t] {
		return
	}
	seen[t] = true
	if named, ok := t.(*types.Named); ok {
		visit(named)
	}
	switch u := t.Underlying().(type) {
	case *types.Pointer:
		reach(u.Elem(), seen, visit)
	case *types.Slice:
		reach(u.Elem(), seen, visit)
	case *types.Array:
		reach(u.Elem(), seen, visit)
	case *types.Map:
		reach(u.Key(), seen, visit)
		reach(u.Elem(), seen, visit)
	case *types.Struct:
		for field := range u.Fields() {
			if field.Exported() {
				reach(field.Type(), seen, visit)
			}
		}
	case *types.Tuple: // f(g()), g giving several values
		for v := range u.Variables() {
			reach(v.Type(), seen, visit)
		}
	}
}

func relative(root, path string) string {
	if absolute, err := filepath.Abs(root); err == nil {
		if r, err := filepath.Rel(absolute, path); err == nil {
			return r
		}
	}
	return path
}
