package service

import (
	"bytes"
	"encoding"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/strictjson"
	"example.com/snugturn/torque"
)

var writeSchema = flag.Bool("schema", false, "write *.schema.json anew from the Go types and their comments")

type schema map[string]any

// fromGo makes the schema of a type: what its tags, its kind and its comments say.
type fromGo struct {
	comments map[string]string // "Job.ID" and "Job" to their words
	defs     schema
	output   bool // of what is written, not of what is read
	part     bool // of a file that another one adds to: objects may lack fields, but not those in a list
}

func (f *fromGo) of(typ reflect.Type) schema {
	if typ.Kind() == reflect.Pointer {
		return f.of(typ.Elem())
	}
	if reflect.PointerTo(typ).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()) {
		return f.text(typ)
	}
	if typ == reflect.TypeFor[Values]() {
		return schema{"type": "object"} // each as its own type writes it
	}
	switch typ.Kind() {
	case reflect.String:
		if f.output { // as long as its words are
			return schema{"type": "string"}
		}
		return schema{"type": "string", "maxLength": maxString}
	case reflect.Bool:
		return schema{"type": "boolean"}
	case reflect.Int:
		return schema{"type": "integer"}
	case reflect.Slice:
		whole := *f
		whole.part = false
		return schema{"type": "array", "items": whole.of(typ.Elem())}
	case reflect.Map:
		return schema{"type": "object", "additionalProperties": f.of(typ.Elem())}
	case reflect.Struct:
		return f.object(typ)
	}
	panic("no schema for " + typ.String())
}

// text is one of a few words, or a string such as the sample; a quantity may be written in two parts.
func (f *fromGo) text(typ reflect.Type) schema {
	if words := wordsOf(typ); len(words) > 0 {
		return schema{"enum": words}
	}
	text := schema{"type": "string", "maxLength": maxString, "examples": []string{sample(typ)}}
	if !strings.HasSuffix(typ.PkgPath(), "/units") && typ != reflect.TypeFor[drain.StatedDensity]() {
		return text
	}
	name, part := defName(typ), schema{"type": "string"}
	f.defs[name] = schema{"anyOf": []schema{text, {"type": "object", "additionalProperties": false,
		"required": []string{"value", "unit"}, "properties": schema{"value": part, "unit": part}}}}
	return schema{"$ref": "#/$defs/" + name}
}

var ofUnits = regexp.MustCompile(`^(\w+)\[.*\.(\w+)Units\]`)

// defName is "Torque" for a quantity of torque, "RangeOfMass" for an estimate of a mass, "Record"
// for the JSON of a record.
func defName(typ reflect.Type) string {
	if name, inside := strings.CutSuffix(typ.Name(), "File"); inside {
		return strings.ToUpper(name[:1]) + name[1:]
	}
	if kind := ofUnits.FindStringSubmatch(typ.Name()); kind != nil { // Estimate[….UnitOf[….torqueUnits]]
		name := strings.ToUpper(kind[2][:1]) + kind[2][1:]
		return map[string]string{"Quantity": name, "Estimate": "RangeOf" + name, "UnitOf": name + "Unit"}[kind[1]]
	}
	if typ == reflect.TypeFor[torque.Adapter]() {
		return "Lever"
	}
	return typ.Name()
}

// wordsOf are the names of all constants of a small type.
func wordsOf(typ reflect.Type) (words []string) {
	if typ.Kind() != reflect.Uint8 {
		return nil
	}
	for n := range 256 {
		v := reflect.New(typ).Elem()
		v.SetUint(uint64(n))
		if word, err := v.Interface().(encoding.TextMarshaler).MarshalText(); err == nil {
			words = append(words, string(word))
		}
	}
	return words
}

func (f *fromGo) object(typ reflect.Type) schema {
	name := defName(typ)
	if f.part {
		name += "Part"
	}
	if _, done := f.defs[name]; !done {
		object := schema{"type": "object", "additionalProperties": false}
		f.defs[name] = object
		properties, required := schema{}, []string{}
		for _, field := range strictjson.Fields(typ) {
			key, optional := field.Key, field.Optional
			property := f.of(field.Type)
			if words := f.comments[typ.Name()+"."+field.Name]; words != "" {
				property["description"] = words
			}
			properties[key] = property
			if f.part && key == "stations" {
				station := f.of(field.Type.Elem())["$ref"].(string)
				delete(f.defs[strings.TrimPrefix(station, "#/$defs/")].(schema)["properties"].(schema), "id")
				properties[key] = schema{"description": "each under its ID; in a job, a list replaces all of the card's",
					"anyOf": []schema{{"type": "object", "additionalProperties": schema{"$ref": station}}, {"type": "array", "items": property["items"]}}}
			}
			if !optional && !f.part {
				required = append(required, key)
			}
		}
		if object["properties"] = properties; !f.part {
			object["required"] = required
		}
		if words := f.comments[typ.Name()]; words != "" {
			object["description"] = words
		}
	}
	return schema{"$ref": "#/$defs/" + name}
}

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

type publishedSchema struct {
	file, title string
	of          reflect.Type
	output      bool
	get         func() []byte
}

// named gets one of this package's.
func named(name string) func() []byte { return func() []byte { return Schemas()[name] } }

// published is the schemas of this package.
var published = []publishedSchema{
	{"job.schema.json", "Job file of a fuel-filter service", reflect.TypeFor[Job](), false, named("job")},
	{"machine.schema.json", "Machine card of a fuel-filter service, or a job laid over one", reflect.TypeFor[Job](), false, named("machine")},
	{"asdone.schema.json", "As-done readings of a fuel-filter service", reflect.TypeFor[AsDone](), false, named("asDone")},
	{"record.schema.json", "Record of a fuel-filter service", reflect.TypeFor[Record](), false, named("record")},
}

// The published schemas say what the Go types say: fields, which may be left out, lists, words,
// and the comments beside them.
func TestSchemaIsThatOfTheTypes(t *testing.T) {
	words := comments(t)
	versions := map[string]int{"Job": JobVersion, "AsDone": AsDoneVersion, "Rules": RulesVersion, "Record": recordVersion, "JobPart": machineVersion, "Sheet": 1}
	for _, p := range append(published, publishedSchema{"sheet/sheet.schema.json", "Work sheet of a fuel-filter service", Lays.Type, true, Lays.Schema}) {
		f := fromGo{comments: words, defs: schema{}, output: p.output, part: p.file == "machine.schema.json"}
		root := f.of(p.of)
		root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
		root["title"] = p.title
		root["$defs"] = f.defs
		for name, version := range versions {
			if def, ok := f.defs[name].(schema); ok {
				if name == "JobPart" {
					def["required"] = []string{"version"}
				}
				def["properties"].(schema)["version"] = schema{"const": version, "description": "of the form of this file"}
			}
		}
		want, err := json.MarshalIndent(root, "", "  ")
		require.NoError(t, err)
		want = append(want, '\n')
		if *writeSchema {
			require.NoError(t, os.WriteFile(p.file, want, 0o644))
			continue
		}
		if string(want) != string(p.get()) { // a difference of this length is no help printed
			t.Errorf("%s is not that of the Go types; go test ./service -run Schema -schema writes it anew", p.file)
		}
		assert.Greater(t, len(f.defs), 10, p.file)
		got := p.get()
		got[0] = 'x'
		assert.NotEqual(t, got[0], p.get()[0], "nobody can change it for others")
	}
}

// violations holds a value against a schema, as far as the job file's schema goes: JSON Schema
// 2020-12, its keywords from memory (M). It knows nothing of the Go types.
func violations(root, s map[string]any, v any, path string) (all []string) {
	wrong := func(what string, args ...any) { all = append(all, path+": "+fmt.Sprintf(what, args...)) }
	for keyword, arg := range s {
		switch keyword {
		case "$ref":
			name := strings.TrimPrefix(arg.(string), "#/$defs/")
			all = append(all, violations(root, root["$defs"].(map[string]any)[name].(map[string]any), v, path)...)
		case "type":
			is := map[string]bool{}
			switch v := v.(type) {
			case string:
				is["string"] = true
			case bool:
				is["boolean"] = true
			case float64:
				is["number"], is["integer"] = true, v == float64(int64(v))
			case []any:
				is["array"] = true
			case map[string]any:
				is["object"] = true
			}
			if !is[arg.(string)] {
				wrong("no %v", arg)
			}
		case "const":
			if v != arg {
				wrong("not %v", arg)
			}
		case "enum":
			if !slices.Contains(arg.([]any), v) {
				wrong("none of %v", arg)
			}
		case "maxLength":
			if text, ok := v.(string); ok && len([]rune(text)) > int(arg.(float64)) {
				wrong("too long")
			}
		case "anyOf":
			if !slices.ContainsFunc(arg.([]any), func(one any) bool { return len(violations(root, one.(map[string]any), v, path)) == 0 }) {
				wrong("none of the ways to write it")
			}
		case "items":
			list, _ := v.([]any)
			for i, child := range list {
				all = append(all, violations(root, arg.(map[string]any), child, fmt.Sprintf("%s[%d]", path, i))...)
			}
		case "required":
			object, _ := v.(map[string]any)
			for _, name := range arg.([]any) {
				if _, ok := object[name.(string)]; !ok {
					wrong("%v is missing", name)
				}
			}
		case "properties":
			object, _ := v.(map[string]any)
			for name, child := range object {
				if sub, ok := arg.(map[string]any)[name].(map[string]any); ok {
					all = append(all, violations(root, sub, child, path+"."+name)...)
				} else if s["additionalProperties"] == false {
					wrong("%s is unknown", name)
				}
			}
		case "additionalProperties":
			object, _ := v.(map[string]any)
			each, _ := arg.(map[string]any)
			for name, child := range object {
				if each != nil {
					all = append(all, violations(root, each, child, path+"."+name)...)
				}
			}
		case "description", "title", "examples", "$schema", "$defs":
		default:
			wrong("keyword %s isn't known to this test", keyword)
		}
	}
	return all
}

// Jobs that are read pass the schema; those with errors of form don't.
func TestSchemaJudgesJobs(t *testing.T) {
	var root map[string]any
	require.NoError(t, json.Unmarshal(Schemas()["job"], &root))
	judge := func(text []byte) []string {
		var v any
		require.NoError(t, json.Unmarshal(text, &v))
		return violations(root, root, v, "job")
	}
	demo, err := os.ReadFile("../examples/servicesheet/demo.json")
	require.NoError(t, err)
	job, err := ReadJob(demo)
	require.NoError(t, err)
	written, err := json.Marshal(job)
	require.NoError(t, err)
	tools := strings.NewReplacer(withWrenches(wide, fine)...).Replace(bench)
	for _, text := range [][]byte{[]byte(bench), demo, written, []byte(tools), []byte(coverAndCap)} {
		assert.Empty(t, judge(text))
	}
	refused := 0
	for _, c := range badJobs {
		switch c.want {
		case errUnknownField, errMissingField, errType, ErrNewerVersion:
			text := []byte(strings.Replace(bench, c.old, c.new, 1))
			if c.path == "prime" || strings.HasSuffix(c.path, "prefillWith") {
				continue // depends on another field: ReadJob's to judge
			}
			assert.NotEmpty(t, judge(text), c.name)
			refused++
		}
	}
	assert.GreaterOrEqual(t, refused, 5)
	assert.NotEmpty(t, judge(bytes.Replace([]byte(bench), []byte(`"suction"`), []byte(`"sucking"`), 1)))
}

// What this package reads and writes passes its schemas; what has another form doesn't.
func TestSchemasJudgeTheRest(t *testing.T) {
	judge := func(schema func() []byte, text []byte) []string {
		var root map[string]any
		require.NoError(t, json.Unmarshal(schema(), &root))
		var v any
		require.NoError(t, json.Unmarshal(text, &v))
		return violations(root, root, v, "it")
	}
	file := func(name string) []byte {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		return text
	}
	assert.Empty(t, judge(named("asDone"), file("testdata/asdone.json")))
	assert.Empty(t, judge(named("record"), file("testdata/record.json")))
	assert.Empty(t, judge(named("record"), file("testdata/record-month.json")))
	var sheet []byte
	for name, job := range everyJob(t) {
		plan, err := NewPlan(job, Rules{})
		require.NoError(t, err)
		sheet, err = plan.Sheet().JSON()
		require.NoError(t, err)
		assert.Empty(t, judge(Lays.Schema, sheet), name)
	}
	for _, c := range []struct {
		schema   func() []byte
		text     []byte
		old, new string
	}{
		{named("asDone"), file("testdata/asdone.json"), `"stations"`, `"station"`},
		{named("asDone"), file("testdata/asdone.json"), `"version": 1`, `"version": 2`},
		{named("record"), file("testdata/record.json"), `"verdict":"pass"`, `"verdict":"good"`},
		{named("record"), file("testdata/record.json"), `"complete":true`, `"complete":"yes"`},
		{named("record"), file("testdata/record-month.json"), `"upTo":`, `"up_to":`},
		{named("record"), file("testdata/record-month.json"), `"grade":"S"`, `"rating":"S"`},
		{Lays.Schema, sheet, `"pages"`, `"sheets"`},
		{Lays.Schema, sheet, `"number": 1,`, `"number": "1",`},
	} {
		require.Contains(t, string(c.text), c.old)
		assert.NotEmpty(t, judge(c.schema, []byte(strings.Replace(string(c.text), c.old, c.new, 1))), c.new)
	}
}
