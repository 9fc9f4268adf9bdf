package service

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"unicode"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/internal/plain"
)

var writeSchema = flag.Bool("schema", false, "write *.schema.json anew from the Go types and their comments")

// comments reads what the package's files say of their types and fields.
func comments(t *testing.T) map[string]string {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	words := map[string]string{}
	for _, name := range append(files, "../drain/waste/rules.go", "../torque/wrench.go", "../torque/adapter.go", "sheet/sheet.go", "sheet/picture.go") {
		if !strings.HasSuffix(name, "_test.go") {
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
			require.NoError(t, err)
			readComments(file.Decls, words)
		}
	}
	return words
}

func readComments(decls []ast.Decl, words map[string]string) {
	flatten := func(g *ast.CommentGroup) string { return flat(g.Text()) }
	for _, decl := range decls {
		gen, ok := decl.(*ast.GenDecl)
		if !ok {
			continue
		}
		for _, spec := range gen.Specs {
			typ, ok := spec.(*ast.TypeSpec)
			if !ok {
				continue
			}
			words[typ.Name.Name] = flatten(gen.Doc)
			if s, ok := typ.Type.(*ast.StructType); ok {
				for _, field := range s.Fields.List {
					for _, name := range field.Names {
						words[typ.Name.Name+"."+name.Name] = strings.TrimSpace(flatten(field.Doc) + " " + flatten(field.Comment))
					}
				}
			}
		}
	}
}

// A publishedSchema is a schema of this module: its file, which is also the end of its identifier, the name of
// what it describes, and that in words.
type publishedSchema struct {
	file, name, words string
	of                reflect.Type
	output            bool
	get               func() []byte
}

// named gets one of this package's.
func named(name string) func() []byte { return func() []byte { return Schemas()[name] } }

// published is the schemas of this package.
var published = []publishedSchema{
	{"job.schema.json", "Job", "Job file of a fuel-filter service.", reflect.TypeFor[Job](), false, named("job")},
	{"machine.schema.json", "JobPart", "Machine card of a fuel-filter service, or a job laid over one.", reflect.TypeFor[Job](), false, named("machine")},
	{"asdone.schema.json", "AsDone", "As-done readings of a fuel-filter service.", reflect.TypeFor[AsDone](), false, named("asDone")},
	{"rules.schema.json", "Rules", "Rules that the parties to a fuel-filter service agree on.", reflect.TypeFor[Rules](), false, named("rules")},
	{"record.schema.json", "Record", "Record of a fuel-filter service.", reflect.TypeFor[Record](), false, named("record")},
}

// The published schemas say what the Go types say: fields, which may be left out, lists, words,
// and the comments next to them.
func TestSchemaIsThatOfTheTypes(t *testing.T) {
	words, patterns := comments(t), textPatterns(t)
	for _, p := range append(published, publishedSchema{"sheet/sheet.schema.json", "Sheet", "Work sheet of a fuel-filter service.", Lays.Type, true, Lays.Schema}) {
		want := rooted(p, &fromGo{comments: words, patterns: patterns, defs: schema{}, output: p.output, part: p.name == "JobPart"})
		if *writeSchema {
			require.NoError(t, os.WriteFile(p.file, want, 0o644))
			continue
		}
		if string(want) != string(p.get()) { // a difference of this length is no help printed
			t.Errorf("%s is not that of the Go types; go test ./service -run Schema -schema writes it anew", p.file)
		}
		got := p.get()
		got[0] = 'x'
		assert.NotEqual(t, got[0], p.get()[0], "nobody can change it for others")
	}
}

// rooted is the file of a schema: the type itself at its root, all others below it by their names.
func rooted(p publishedSchema, f *fromGo) []byte {
	f.of(p.of, "")
	versions := map[string]int{"Job": JobVersion, "AsDone": AsDoneVersion, "Rules": RulesVersion, "Record": recordVersion, "JobPart": machineVersion, "Sheet": 1}
	for name, version := range versions {
		if def, ok := f.defs[name].(schema); ok {
			def["properties"].(schema)["version"] = schema{"type": "integer", "const": version, "description": "of the form of this file"}
		}
	}
	root := f.defs[p.name].(schema)
	delete(f.defs, p.name)
	if f.part {
		root["required"] = []string{"version"}
	}
	root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	root["$id"] = "https://example.com/snugturn/schemas/v1/" + path.Base(p.file)
	root["description"] = p.words + "\n" + root["description"].(string)
	root["$defs"] = f.defs
	return indented(root)
}

// indented is JSON of which every character can be seen.
func indented(v any) []byte {
	var text bytes.Buffer
	e := json.NewEncoder(&text)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		panic(err) // of maps, lists and texts
	}
	var seen bytes.Buffer
	for _, r := range text.String() {
		switch {
		case plain.Visible(r) && (r == ' ' || !unicode.IsSpace(r)), r == '\n':
			seen.WriteRune(r)
		default:
			for _, unit := range utf16.Encode([]rune{r}) {
				fmt.Fprintf(&seen, "\\u%04x", unit)
			}
		}
	}
	return seen.Bytes()
}
