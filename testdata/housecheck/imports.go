package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// library lists the packages there may be, each with those of its own module that it may import.
// What isn't here fails, as does what is here and isn't there. Both sides may be patterns:
// "internal/*". Programs under examples are free.
var library = map[string][]string{
	"internal/plain":      {},
	"internal/strictjson": {"internal/plain"},
	"internal/encode":     {},
	"internal/deep":       {},
	"internal/misread":    {"internal/plain", "units"},
	"internal/rational":   {},
	"internal/wrap":       {"internal/plain", "units"},
	"internal/catalogue":  {"internal/misread", "internal/plain", "units"},
	"internal/clock":      {"internal/misread", "internal/plain", "units"},
	"internal/enum":       {"internal/encode", "internal/plain", "units"},
	"units":               {"internal/*"},
	"torque":              {"internal/*", "units"},
	"turn":                {"internal/*", "units"},
	"drain":               {"internal/*", "units"},
	"drain/waste":         {"internal/*", "units", "drain", "drain/waste/internal/*"},
	"service":             {"internal/*", "units", "torque", "turn", "drain", "drain/waste", "drain/waste/usfederal", "drain/waste/europe"},
	"service/sheet":       {"internal/*", "units", "torque", "turn", "drain", "drain/waste", "service"},

	// A jurisdiction's package imports the core, and the core none of them.
	"drain/waste/internal/paper": {"internal/*", "units", "drain"},
	"drain/waste/usfederal":      {"internal/*", "units", "drain", "drain/waste", "drain/waste/internal/*"},
	"drain/waste/europe":         {"internal/*", "units", "drain", "drain/waste", "drain/waste/internal/*"},
}

// pure are the packages from elsewhere that the library may import: those that touch no file, clock,
// zone, network, environment or chance. Of those that do, what it may use is listed.
var pure = map[string][]string{
	"bytes": nil, "cmp": nil, "embed": nil, "errors": nil, "io": nil, "iter": nil, "maps": nil, "math": nil,
	"math/big": nil, "math/bits": nil, "reflect": nil, "slices": nil, "sort": nil, "strconv": nil, "strings": nil,
	"sync": nil, "unicode": nil, "unicode/utf16": nil, "unicode/utf8": nil,
	"encoding": nil, "encoding/base64": nil, "encoding/binary": nil, "encoding/csv": nil, "encoding/hex": nil,
	"encoding/json": nil, "encoding/xml": nil, "crypto/sha256": nil, "html": nil,
	"github.com/shopspring/decimal": nil,

	"database/sql/driver": {"Value", "Valuer", "Valuer.*"},
	"fmt": {"Append", "Appendf", "Appendln", "Errorf", "FormatString", "Formatter", "Formatter.*", "Fprint", "Fprintf",
		"Fprintln", "GoStringer", "GoStringer.*", "Sprint", "Sprintf", "Sprintln", "Sscan", "Sscanf", "State", "State.*",
		"Stringer", "Stringer.*"},
	"html/template": {"CSS", "FuncMap", "HTML", "HTMLAttr", "HTMLEscapeString", "Must", "New", "Template", "Template.Clone",
		"Template.Execute", "Template.ExecuteTemplate", "Template.Funcs", "Template.Lookup", "Template.New",
		"Template.Option", "Template.Parse"},
	"log/slog": {"Any", "AnyValue", "Attr", "Attr.*", "Bool", "BoolValue", "Duration", "DurationValue", "Group",
		"GroupValue", "Int", "Int64", "Int64Value", "IntValue", "LogValuer", "LogValuer.*", "String", "StringValue",
		"Value", "Value.*"},
	// Not Parse, Unix or decoding from JSON, which look for the machine's zone.
	"time": {"ANSIC", "DateOnly", "DateTime", "Kitchen", "Layout", "RFC1123", "RFC1123Z", "RFC3339", "RFC3339Nano",
		"RFC822", "RFC822Z", "RFC850", "TimeOnly",
		"Nanosecond", "Microsecond", "Millisecond", "Second", "Minute", "Hour",
		"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
		"December", "Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday",
		"Date", "Duration", "Duration.*", "FixedZone", "Location", "Location.String", "Month", "Month.*", "ParseDuration",
		"ParseError", "ParseError.*", "ParseInLocation", "Time", "UTC", "Weekday", "Weekday.*",
		"Time.Add", "Time.AddDate", "Time.After", "Time.AppendFormat", "Time.Before", "Time.Clock", "Time.Compare",
		"Time.Date", "Time.Day", "Time.Equal", "Time.Format", "Time.Hour", "Time.ISOWeek", "Time.In", "Time.IsZero",
		"Time.Location", "Time.MarshalJSON", "Time.MarshalText", "Time.AppendText", "Time.Minute", "Time.Month",
		"Time.Nanosecond", "Time.Round", "Time.Second", "Time.String", "Time.Sub", "Time.Truncate", "Time.UTC",
		"Time.Unix", "Time.UnixNano", "Time.Weekday", "Time.Year", "Time.YearDay", "Time.Zone"},
}

// imports looks at every file of the library, whatever it is built for, but not at its tests.
func imports() (found []string, err error) {
	module, err := modulePath()
	if err != nil {
		return nil, err
	}
	dirs, err := packageDirs()
	if err != nil {
		return nil, err
	}
	if found, err = strangers(); err != nil {
		return nil, err
	}
	exports, err := exports()
	if err != nil {
		return nil, err
	}
	there := map[string]bool{}
	for _, dir := range slices.Sorted(maps.Keys(dirs)) {
		if dir == "examples" || strings.HasPrefix(dir, "examples/") {
			continue
		}
		listed := matches(slices.Collect(maps.Keys(library)), dir)
		if listed == "" {
			found = append(found, dir+": a package that housecheck doesn't list")
			continue
		}
		there[listed] = true
		p := examined{dir: dir, module: module, may: library[listed], exports: exports, fset: token.NewFileSet()}
		if err := p.examine(dirs[dir]); err != nil {
			return nil, err
		}
		found = append(found, p.found...)
	}
	for _, listed := range slices.Sorted(maps.Keys(library)) {
		if !there[listed] {
			found = append(found, listed+": listed by housecheck and not there")
		}
	}
	fmt.Printf("packages of the library: %d\n", len(there))
	return found, nil
}

// matches gives the pattern that matches a name.
func matches(patterns []string, name string) string {
	for _, pattern := range patterns {
		if ok, _ := path.Match(pattern, name); ok {
			return pattern
		}
	}
	return ""
}

// strangers finds what would be compiled or built next to the Go files: C, assembly, objects, and
// modules that hide packages from the rest.
func strangers() (found []string, err error) {
	err = filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || d.Name() == "examples" || path != "." && d.Name()[0] == '.') {
			return filepath.SkipDir
		}
		compiled := []string{".c", ".cc", ".cpp", ".cxx", ".f", ".F", ".for", ".f90", ".m", ".h", ".hh", ".hpp", ".hxx", ".s", ".S", ".sx", ".swig", ".swigcxx", ".syso"}
		if slices.Contains(compiled, filepath.Ext(path)) || d.Name() == "go.mod" && path != "go.mod" {
			found = append(found, path+" has no place in the library")
		}
		return nil
	})
	return found, err
}

// exports finds the compiled form of the module's packages and of all that they may import.
func exports() (map[string]string, error) {
	arguments := []string{"list", "-export", "-deps", "-json=ImportPath,Export", "./..."}
	cmd := exec.Command("go", append(arguments, slices.Sorted(maps.Keys(pure))...)...)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w\n%s", err, stderr.Bytes())
	}
	files := map[string]string{}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct{ ImportPath, Export string }
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return files, nil
		} else if err != nil {
			return nil, err
		}
		files[p.ImportPath] = p.Export
	}
}

// examined is a package of the library.
type examined struct {
	dir, module string
	may         []string
	exports     map[string]string
	fset        *token.FileSet
	found       []string
}

func (p *examined) report(at token.Pos, format string, args ...any) {
	where := p.fset.Position(at)
	p.found = append(p.found, fmt.Sprintf("%s:%d: %s", where.Filename, where.Line, fmt.Sprintf(format, args...)))
}

// examine parses all files and type-checks them together: of two that are built for different
// systems the names clash, and what the second uses is still worked out.
func (p *examined) examine(names []string) error {
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(p.fset, filepath.Join(p.dir, name), nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		files = append(files, file)
		for _, i := range file.Imports {
			p.imported(i)
		}
	}
	if len(p.found) > 0 || len(files) == 0 {
		return nil // what it imports may have no compiled form
	}
	info := &types.Info{Uses: map[*ast.Ident]types.Object{}}
	config := types.Config{
		Importer: importer.ForCompiler(p.fset, "gc", p.open),
		Error: func(err error) {
			e := err.(types.Error)
			if !strings.Contains(e.Msg, "redeclared") && !strings.Contains(e.Msg, "already declared") && !strings.Contains(e.Msg, "other declaration of") {
				p.report(e.Pos, "can't be examined: %s", e.Msg)
			}
		},
	}
	config.Check(path.Join(p.module, p.dir), p.fset, files, info)
	for id, o := range info.Uses {
		p.used(id, o)
	}
	slices.Sort(p.found)
	return nil
}

func (p *examined) open(name string) (io.ReadCloser, error) {
	if p.exports[name] == "" {
		return nil, fmt.Errorf("%s isn't compiled", name)
	}
	return os.Open(p.exports[name])
}

// imported judges an import by its path.
func (p *examined) imported(i *ast.ImportSpec) {
	name, err := strconv.Unquote(i.Path.Value)
	if err != nil {
		p.report(i.Pos(), "imports %s", i.Path.Value)
		return
	}
	if own, ok := strings.CutPrefix(name, p.module+"/"); ok {
		if matches(p.may, own) == "" {
			p.report(i.Pos(), "%s imports %s", p.dir, own)
		}
	} else if _, ok := pure[name]; !ok {
		p.report(i.Pos(), "imports %s, which housecheck doesn't list as pure", name)
	}
}

// used judges what a name stands for, methods reached through a value among them.
func (p *examined) used(id *ast.Ident, o types.Object) {
	if b, ok := o.(*types.Builtin); ok && (b.Name() == "print" || b.Name() == "println") {
		p.report(id.Pos(), "uses %s, which writes", b.Name())
	}
	if o.Pkg() == nil {
		return
	}
	listed, name := pure[o.Pkg().Path()], symbol(o)
	if listed == nil || name == "" || slices.Contains(listed, name) {
		return
	}
	if receiver, _, ok := strings.Cut(name, "."); ok && slices.Contains(listed, receiver+".*") {
		return
	}
	p.report(id.Pos(), "uses %s.%s, which housecheck doesn't list as pure", o.Pkg().Path(), name)
}

// symbol names what a package declares, "Date" or "Time.Add"; what is inside it has no name.
func symbol(o types.Object) string {
	if f, ok := o.(*types.Func); ok && f.Signature().Recv() != nil {
		t := types.Unalias(f.Signature().Recv().Type())
		if pointer, ok := t.(*types.Pointer); ok {
			t = types.Unalias(pointer.Elem())
		}
		if named, ok := t.(*types.Named); ok {
			return named.Obj().Name() + "." + o.Name()
		}
		return o.Name()
	}
	if o.Parent() == nil || o.Parent() != o.Pkg().Scope() {
		return ""
	}
	return o.Name()
}
