package schemacheck

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"example.com/snugturn/service"
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

func TestSchemasTakeWhatTheLibraryDoes(t *testing.T) {
	jobs, sheets := compiled(t, service.JobSchema()), compiled(t, service.SheetSchema())
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
			sheet, err := plan.Sheet().JSON()
			if err != nil {
				t.Fatal(name, err)
			}
			if err := judge(t, sheets, sheet); err != nil {
				t.Errorf("the sheet of %s: %v", name, err)
			}
		}
	}
	for pattern, schema := range map[string][]byte{
		"service/testdata/asdone.json": service.AsDoneSchema(), "service/testdata/record*.json": service.RecordSchema(),
	} {
		s := compiled(t, schema)
		for name, text := range read(t, pattern) {
			if err := judge(t, s, text); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

func TestSchemasRefuse(t *testing.T) {
	for _, c := range []struct {
		schema         []byte
		file, old, new string
	}{
		{service.JobSchema(), "service/testdata/bench.json", `"fuel": {`, `"fuels": {`},
		{service.JobSchema(), "service/testdata/bench.json", `"suction"`, `"sucking"`},
		{service.JobSchema(), "service/testdata/bench.json", `"revision": 1`, `"revision": "1"`},
		{service.AsDoneSchema(), "service/testdata/asdone.json", `"stations"`, `"station"`},
		{service.RecordSchema(), "service/testdata/record.json", `"verdict":"pass"`, `"verdict":"good"`},
		{service.RecordSchema(), "service/testdata/record-month.json", `"up_to":`, `"upTo":`},
		{service.SheetSchema(), "examples/servicesheet/testdata/demo.json", `"sections"`, `"parts"`},
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
