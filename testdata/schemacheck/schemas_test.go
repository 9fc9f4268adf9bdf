package schemacheck

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

// compiled is a schema, itself held against the schema of schemas.
func compiled(t *testing.T, text []byte) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func judge(t *testing.T, s *jsonschema.Schema, text []byte) error {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(doc)
}

func read(t *testing.T, pattern string) map[string][]byte {
	t.Helper()
	names, err := filepath.Glob(filepath.Join("../..", pattern))
	if err != nil || len(names) == 0 {
		t.Fatal("no file is named ", pattern)
	}
	files := map[string][]byte{}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = text
	}
	return files
}

// Source: json-schema.
func TestSchemasTakeWhatTheLibraryDoes(t *testing.T) {
	jobs, sheets := compiled(t, service.Schemas()["job"]), compiled(t, sheet.Schema())
	for _, pattern := range []string{"service/testdata/bench.json", "service/testdata/jobs/*.json", "examples/servicesheet/demo.json"} {
		for name, text := range read(t, pattern) {
			if err := judge(t, jobs, text); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			job, err := service.ReadJob(text)
			if err != nil {
				t.Fatal(name, err)
			}
			plan, err := service.NewPlan(job, service.Rules{})
			if err != nil {
				t.Fatal(name, err)
			}
			laid, err := sheet.English().Sheet(plan, false).JSON()
			if err != nil {
				t.Fatal(name, err)
			}
			if err := judge(t, sheets, laid); err != nil {
				t.Errorf("the sheet of %s: %v", name, err)
			}
		}
	}
	for pattern, schema := range map[string][]byte{
		"service/testdata/*machine.json": service.Schemas()["machine"], "examples/servicesheet/demo-[mj]*.json": service.Schemas()["machine"],
		"service/testdata/asdone.json": service.Schemas()["asDone"], "service/testdata/rules.json": service.Schemas()["rules"],
		"examples/servicesheet/demo-rules.json": service.Schemas()["rules"], "service/testdata/record*.json": service.Schemas()["record"],
	} {
		s := compiled(t, schema)
		for name, text := range read(t, pattern) {
			if err := judge(t, s, text); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

// Source: json-schema.
func TestSchemasRefuse(t *testing.T) {
	for _, c := range []struct {
		schema         []byte
		file, old, new string
	}{
		{service.Schemas()["job"], "service/testdata/bench.json", `"fuel": {`, `"fuels": {`},
		{service.Schemas()["job"], "service/testdata/bench.json", `"suction"`, `"sucking"`},
		{service.Schemas()["job"], "service/testdata/bench.json", `"revision": 1`, `"revision": "1"`},
		{service.Schemas()["machine"], "service/testdata/machine.json", `"fuel": {`, `"fuels": {`},
		{service.Schemas()["machine"], "service/testdata/machine.json", `"where": "rim",`, ``},
		{service.Schemas()["machine"], "service/testdata/machine.json", `"grade"`, `"grad"`},
		{service.Schemas()["machine"], "service/testdata/machine.json", `"name": "pre-filter bowl"`, `"id": "A"`},
		{service.Schemas()["machine"], "service/testdata/machine.json", `"fill": "dry"`, `"fill": "wet"`},
		{service.Schemas()["machine"], "service/testdata/machine.json", `"version": 1`, `"version": 2`},
		{service.Schemas()["machine"], "service/testdata/*machine.json", `"version": 1,`, ``},
		{service.Schemas()["asDone"], "service/testdata/asdone.json", `"stations"`, `"station"`},
		{service.Schemas()["rules"], "service/testdata/rules.json", `, "source": "invented"`, ``},
		{service.Schemas()["record"], "service/testdata/record.json", `"verdict":"pass"`, `"verdict":"good"`},
		{service.Schemas()["record"], "service/testdata/record-month.json", `"upTo":`, `"up_to":`},
		{sheet.Schema(), "examples/servicesheet/testdata/demo.json", `"sections"`, `"parts"`},
	} {
		for name, text := range read(t, c.file) {
			if !strings.Contains(string(text), c.old) {
				t.Fatal(name, " holds no ", c.old)
			}
			if judge(t, compiled(t, c.schema), []byte(strings.Replace(string(text), c.old, c.new, 1))) == nil {
				t.Errorf("%s with %s passes", name, c.new)
			}
		}
	}
}

func all() map[string][]byte {
	schemas := service.Schemas()
	schemas["sheet"] = sheet.Schema()
	return schemas
}

// keywords are those of JSON Schema 2020-12 (Core, section 8 to 10; Validation, section 6 to 9) that a
// schema here may use, each with what is below it. An unknown one is an annotation to a validator, so
// that a misspelt one checks nothing.
var keywords = map[string]string{
	"$schema": "", "$id": "", "$ref": "", "$comment": "", "$defs": "named",
	"properties": "named", "patternProperties": "named", "additionalProperties": "one", "propertyNames": "one",
	"items": "one", "prefixItems": "list", "contains": "one",
	"allOf": "list", "anyOf": "list", "oneOf": "list", "not": "one", "if": "one", "then": "one", "else": "one",
	"dependentSchemas": "named", "dependentRequired": "", "required": "", "minProperties": "", "maxProperties": "",
	"type": "", "enum": "", "const": "", "pattern": "", "minLength": "", "maxLength": "", "format": "",
	"minimum": "", "maximum": "", "exclusiveMinimum": "", "exclusiveMaximum": "", "multipleOf": "",
	"minItems": "", "maxItems": "", "uniqueItems": "", "minContains": "", "maxContains": "",
	"title": "", "description": "", "default": "", "deprecated": "", "examples": "", "readOnly": "", "writeOnly": "",
}

// Every schema knows its keywords, says what may be in its place, and closes its objects.
func TestSchemasAreStrict(t *testing.T) {
	for name, text := range all() {
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if root := doc.(map[string]any); root["$schema"] != "https://json-schema.org/draft/2020-12/schema" {
			t.Errorf("%s: $schema is %v", name, root["$schema"])
		}
		strict(t, name, doc)
	}
}

func strict(t *testing.T, at string, doc any) {
	schema, ok := doc.(map[string]any)
	if !ok {
		t.Errorf("%s is %v: anything may stand there", at, doc)
		return
	}
	says := false
	for keyword, value := range schema {
		below, known := keywords[keyword]
		if !known {
			t.Errorf("%s: no keyword is called %q", at, keyword)
		}
		says = says || slices.Contains([]string{"type", "$ref", "enum", "const", "anyOf", "oneOf", "allOf"}, keyword)
		if slices.Contains([]string{"if", "then", "else", "not", "dependentSchemas"}, keyword) {
			properties, _ := schema["properties"].(map[string]any)
			conditions(t, at, map[string]any{keyword: value}, properties)
			continue
		}
		switch {
		case keyword == "additionalProperties" && value == false:
		case below == "one":
			strict(t, at+"/"+keyword, value)
		case below == "list":
			for i, s := range value.([]any) {
				strict(t, fmt.Sprintf("%s/%s/%d", at, keyword, i), s)
			}
		case below == "named":
			for key, s := range value.(map[string]any) {
				strict(t, at+"/"+keyword+"/"+key, s)
			}
		}
	}
	if !says {
		t.Errorf("%s: anything may stand there", at)
	}
	properties, _ := schema["properties"].(map[string]any)
	if rest, given := schema["additionalProperties"]; schema["type"] == "object" && !given {
		t.Errorf("%s: the object is open", at)
	} else if len(properties) > 0 && rest != false {
		t.Errorf("%s: the object takes more than its properties", at)
	}
	required, _ := schema["required"].([]any)
	for _, name := range required {
		if properties[name.(string)] == nil {
			t.Errorf("%s: requires %q, which it doesn't describe", at, name)
		}
	}
}

// conditions are what an object says of fields that depend on each other: it knows their keywords, and each field
// that they name.
func conditions(t *testing.T, at string, doc any, properties map[string]any) {
	switch d := doc.(type) {
	case []any:
		for i, one := range d {
			conditions(t, fmt.Sprint(at, "/", i), one, properties)
		}
	case map[string]any:
		for keyword, value := range d {
			below, known := keywords[keyword]
			if !known {
				t.Errorf("%s: no keyword is called %q", at, keyword)
			}
			switch keyword {
			case "required":
				for _, name := range value.([]any) {
					described(t, at, name.(string), properties)
				}
			case "properties": // what is in them is of another object
				for name := range value.(map[string]any) {
					described(t, at, name, properties)
				}
			case "dependentSchemas":
				for name, then := range value.(map[string]any) {
					described(t, at, name, properties)
					conditions(t, at+"/"+name, then, properties)
				}
			default:
				if below != "" {
					conditions(t, at+"/"+keyword, value, properties)
				}
			}
		}
	}
}

func described(t *testing.T, at, name string, properties map[string]any) {
	if properties != nil && properties[name] == nil {
		t.Errorf("%s: names %q, which isn't described", at, name)
	}
}

// changes are documents like this one, in each of which one object has a member more, or less.
func changes(doc any, name string) (with, without map[string]any) {
	with, without = map[string]any{}, map[string]any{}
	objects(doc, name, func(at string, object map[string]any) {
		object["unheardOf"] = "x"
		with[at] = copied(doc)
		delete(object, "unheardOf")
		for key, value := range maps.Clone(object) {
			delete(object, key)
			without[at+"/"+key] = copied(doc)
			object[key] = value
		}
	})
	return with, without
}

func objects(doc any, at string, visit func(string, map[string]any)) {
	switch d := doc.(type) {
	case map[string]any:
		visit(at, d)
		for key, value := range d {
			objects(value, at+"/"+key, visit)
		}
	case []any:
		for i, value := range d {
			objects(value, fmt.Sprint(at, "/", i), visit)
		}
	}
}

func copied(doc any) any {
	switch d := doc.(type) {
	case map[string]any:
		c := map[string]any{}
		for key, value := range d {
			c[key] = copied(value)
		}
		return c
	case []any:
		c := make([]any, len(d))
		for i, value := range d {
			c[i] = copied(value)
		}
		return c
	}
	return doc
}

// What the library calls unknown or missing in a job, its schema refuses too, wherever it stands. Of which
// several fields one is needed, and which needs another, the schema doesn't say.
func TestSchemaRefusesWhatTheLibraryDoes(t *testing.T) {
	schema, tried := compiled(t, service.Schemas()["job"]), 0
	for name, text := range read(t, "service/testdata/jobs/*.json") {
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		with, without := changes(doc, filepath.Base(name))
		for at, changed := range with {
			tried++
			if schema.Validate(changed) == nil {
				t.Errorf("%s: an unknown member passes", at)
			}
		}
		for at, changed := range without {
			text, err := json.Marshal(changed)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := service.ReadJob(text); err != nil && strings.Contains(err.Error(), "missing; want the field") {
				tried++
				if schema.Validate(changed) == nil {
					t.Errorf("%s: may be left out, and the library says %v", at, err)
				}
			}
		}
	}
	if tried < 300 {
		t.Errorf("only %d changes tried", tried)
	}
	t.Log(tried, "changes")
}
