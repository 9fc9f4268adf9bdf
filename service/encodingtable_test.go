package service_test

import (
	"bytes"
	"database/sql"
	"database/sql/driver"
	"encoding"
	"encoding/gob"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/service"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var writeEncodings = flag.Bool("encodings", false, "write the table of encodings in DEVELOPERS.md anew")

// encoded are a value of every exported type that isn't a struct of exported fields alone. Each goes
// through every encoding and back.
var encoded = []any{
	units.MustParseTorque("12.50 N·m"), units.MustParseShare("4 %"), units.MustParseTemperature("15.0 °C"),
	units.InchPound, units.USGallon, units.Fahrenheit,
	torque.MustParseBand("145 to 190 in-lb"),
	turn.MustParse("3/4 turn"), turn.MustParseInstruction("3/4 to 1 turn after gasket contact"),
	must(turn.ParseSequence("40 N·m then 1/8 turn + 1/8 turn")), turn.MustParseThread("1-12 UNF-2A-LH"),
	must(turn.ParsePart("1/3")), must(turn.NewRing([]string{"A", "B", "C"}, turn.Clockwise)),
	turn.Position{Mark: "D", Past: turn.MustParse("1/8 turn"), Passes: 1},
	must(drain.Exactly(units.MustParseVolume("1.50 L"), drain.Weighed)),
	must(drain.ParseStatedDensity("35.2 °API")), waste.MustParseDate("2026-03-31"), usfederal.RuleSet(),
	waste.Posting{At: time.Date(2026, 3, 9, 17, 0, 0, 0, time.UTC), By: "Ann", Withdrawal: &waste.Withdrawal{Job: "W-1", Revision: 1}},
	waste.Zone("Europe/Vienna"), drain.Duration(90e9), fillPart("half of the bowl"),
}

func fillPart(text string) (f service.FillPart) {
	if err := f.UnmarshalText([]byte(text)); err != nil {
		panic(err)
	}
	return f
}

// fieldwise are those of encoded that encoding/json and gob write field by field. What such a type
// doesn't export isn't needed to use what is read back, or is worked out again.
var fieldwise = []string{"turn.Position", "waste.RuleSet"}

// notStored are the other types that are more than exported fields, with the reason. Where a value would
// lose something, JSON refuses it.
var notStored = map[string]string{
	"units.Rounding":      "an argument",
	"service.Plan":        "made again from its job",
	"service.StepKind":    "of a plan, which is made again from its job",
	"sheet.Sheet":         "written whole by its JSON, and read field by field",
	"sheet.Words":         "read from the catalogues",
	"service.Word":        "of a plan, which is made again from its job",
	"service.Step":        "of a plan, which is made again from its job",
	"service.Finding":     "of a plan, which is made again from its job",
	"service.Values":      "of a plan, which is made again from its job",
	"service.Clause":      "of a record",
	"service.Record":      "written whole, and read by ReadRecord alone, which checks it",
	"service.Isolated":    "of a plan, which is made again from its job",
	"service.Wrench":      "of a job, which reads and writes it field by field",
	"torque.Setting":      "a result; what isn't exported is its exact least and most",
	"drain.Stack":         "its vessels are what to store",
	"drain.Fuel":          "refused: its density and the temperature of that are what to store",
	"waste.Ledger":        "written as a text of its postings, a line each; package waste's tests read it back",
	"torque.PrintedLimit": "refused: the text that it was read from is what to store",
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// typeName is "units.Quantity" for any quantity, since the methods are those of the generic type.
func typeName(t reflect.Type) string {
	name, _, _ := strings.Cut(t.String(), "[")
	return name
}

// A type that is added and encodes itself, or would lose what it doesn't export, is in one of the lists.
func TestEveryTypeIsInTheTable(t *testing.T) {
	known := map[string]bool{}
	for _, v := range encoded {
		known[typeName(reflect.TypeOf(v))] = true
	}
	for _, enum := range enums {
		require.False(t, known[enum.of.String()], "listed twice: %s", enum.of)
		known[enum.of.String()] = true
	}
	for name := range notStored {
		require.False(t, known[name], "listed twice: %s", name)
		known[name] = true
	}
	seen := map[string]bool{}
	for _, name := range typesToEncode(t) {
		assert.True(t, known[name], "%s isn't in encoded, enums or notStored", name)
		seen[name] = true
	}
	for name := range known {
		assert.True(t, seen[name], "%s is listed and isn't such a type", name)
	}
	assert.Greater(t, len(seen), 50)
}

// typesToEncode are the exported types of the library but interfaces, errors and structs of exported
// fields alone.
func typesToEncode(t *testing.T) (names []string) {
	for _, root := range []string{"units", "torque", "turn", "drain", "service"} {
		err := filepath.WalkDir(filepath.Join("..", root), func(dir string, d fs.DirEntry, err error) error {
			if err != nil || !d.IsDir() {
				return err
			}
			if d.Name() == "internal" || d.Name() == "testdata" {
				return fs.SkipDir
			}
			names = append(names, typesIn(t, dir)...)
			return nil
		})
		require.NoError(t, err)
	}
	return names
}

func typesIn(t *testing.T, dir string) (names []string) {
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	require.NoError(t, err)
	methods, types := map[string]bool{}, map[string]ast.Expr{}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.FuncDecl:
				if n.Recv != nil {
					methods[receiver(n)+"."+n.Name.Name] = true
				}
				return false
			case *ast.TypeSpec:
				if n.Name.IsExported() && !n.Assign.IsValid() {
					types[file.Name.Name+"."+n.Name.Name] = n.Type
				}
			}
			return true
		})
	}
	for name, of := range types {
		_, bare, _ := strings.Cut(name, ".")
		encodes := slices.ContainsFunc([]string{"UnmarshalText", "UnmarshalJSON", "UnmarshalBinary", "Scan", "MarshalText"},
			func(m string) bool { return methods[bare+"."+m] })
		_, isInterface := of.(*ast.InterfaceType)
		if !isInterface && !methods[bare+".Error"] && !strings.HasSuffix(bare, "Error") && (encodes || !exportedFieldsAlone(of)) {
			names = append(names, name)
		}
	}
	return names
}

func receiver(f *ast.FuncDecl) string {
	of := f.Recv.List[0].Type
	if star, ok := of.(*ast.StarExpr); ok {
		of = star.X
	}
	if generic, ok := of.(*ast.IndexExpr); ok {
		of = generic.X
	}
	return of.(*ast.Ident).Name
}

func exportedFieldsAlone(of ast.Expr) bool {
	s, ok := of.(*ast.StructType)
	if !ok {
		return false
	}
	for _, f := range s.Fields.List {
		if len(f.Names) == 0 || slices.ContainsFunc(f.Names, func(n *ast.Ident) bool { return !n.IsExported() }) {
			return false
		}
	}
	return true
}

// row is what came out of the encodings of a value.
type row struct{ name, text, json, sql, gob, slog, zero string }

func TestEveryEncoding(t *testing.T) {
	var rows []row
	for _, v := range encoded {
		rows = append(rows, encodeAll(t, v))
	}
	for _, enum := range enums[:1] { // the others have the same methods, and a test of their own
		v := reflect.New(enum.of).Elem()
		v.SetUint(2)
		r := encodeAll(t, v.Interface())
		r.name = "enumerations, such as " + r.name
		rows = append(rows, r)
	}
	checkTable(t, rows)
}

func encodeAll(t *testing.T, v any) row {
	r := row{name: typeName(reflect.TypeOf(v)), text: "–", sql: "–", gob: "text"}
	fresh := func() any { return reflect.New(reflect.TypeOf(v)).Interface() }
	data := must(json.Marshal(v))
	same := func(back any, how string) {
		assert.JSONEq(t, string(data), string(must(json.Marshal(back))), "%s: %s", r.name, how)
	}
	if m, ok := v.(encoding.TextMarshaler); ok {
		text, back := must(m.MarshalText()), fresh()
		require.NoError(t, back.(encoding.TextUnmarshaler).UnmarshalText(text), r.name)
		same(back, "text")
		r.text = "`" + string(text) + "`"
	}
	back := fresh()
	require.NoError(t, json.Unmarshal(data, back), r.name)
	same(back, "JSON")
	r.json = map[byte]string{'"': "string", '{': "object"}[data[0]]
	fieldByField := slices.Contains(fieldwise, r.name)
	if r.name != "turn.Position" {
		for _, bad := range []string{"null", "1", "true", "[]"} {
			assert.Error(t, json.Unmarshal([]byte(bad), back), "%s reads %s", r.name, bad)
		}
		same(back, "refused JSON changed it")
	}
	if stored, ok := v.(driver.Valuer); ok {
		column, back := must(stored.Value()), fresh()
		require.IsType(t, "", column, r.name)
		require.NoError(t, back.(sql.Scanner).Scan(column), r.name)
		require.NoError(t, back.(sql.Scanner).Scan([]byte(column.(string))), r.name)
		same(back, "SQL")
		for _, bad := range []any{nil, int64(1), 1.5, true, ""} {
			assert.Error(t, back.(sql.Scanner).Scan(bad), "%s reads a column of %v", r.name, bad)
		}
		same(back, "a refused column changed it")
		r.sql = "text"
		if column.(string)[0] == '{' {
			r.sql = "JSON"
		}
	}
	require.Equal(t, fieldByField, r.sql == "–", "%s: SQL", r.name)
	var binary bytes.Buffer
	require.NoError(t, gob.NewEncoder(&binary).Encode(v), r.name)
	if back = fresh(); fieldByField {
		r.gob = "fields"
	} else if r.sql == "JSON" {
		r.gob = "JSON"
	}
	require.NoError(t, gob.NewDecoder(&binary).Decode(back), r.name)
	same(back, "gob")
	r.slog = logged(t, v, r.text)
	r.zero = zeroOf(t, v)
	return r
}

// logged is whether a log has the text.
func logged(t *testing.T, v any, text string) string {
	var out bytes.Buffer
	slog.New(slog.NewTextHandler(&out, nil)).Info("m", "v", v)
	assert.NotContains(t, out.String(), "!ERROR")
	_, attribute, _ := strings.Cut(strings.TrimSpace(out.String()), "v=")
	if want := strings.Trim(text, "`"); text != "–" {
		assert.Contains(t, []string{want, fmt.Sprintf("%q", want), fmt.Sprint(v), fmt.Sprintf("%q", fmt.Sprint(v))}, attribute)
		return "text"
	}
	if s, ok := v.(fmt.Stringer); ok && strings.Trim(attribute, `"`) == s.String() {
		return "text"
	}
	return "fields"
}

// zeroOf is what becomes of the zero value in JSON. With omitzero it is left out, and what is read is the
// zero value again.
func zeroOf(t *testing.T, v any) string {
	of := reflect.TypeOf(v)
	holder := reflect.StructOf([]reflect.StructField{{Name: "V", Type: of, Tag: `json:"v,omitzero"`}})
	assert.Equal(t, "{}", string(must(json.Marshal(reflect.New(holder).Interface()))), "%s: omitzero", of)
	filled := reflect.New(holder)
	filled.Elem().Field(0).Set(reflect.ValueOf(v))
	assert.NotEqual(t, "{}", string(must(json.Marshal(filled.Interface()))), "%s: omitzero leaves out a value", of)
	data, err := json.Marshal(reflect.Zero(of).Interface())
	if err != nil {
		return "refused"
	}
	if len(data) > 40 {
		return "its fields"
	}
	return "`" + string(data) + "`"
}

const tableAt = "<!-- encodings: go test ./service -run EveryEncoding -encodings -->\n"

func checkTable(t *testing.T, rows []row) {
	table := "| type | text | JSON | SQL | gob | slog | zero value in JSON |\n|---|---|---|---|---|---|---|\n"
	for _, r := range rows {
		table += fmt.Sprintf("| %s | %s | %s | %s | %s | %s | %s |\n", r.name, r.text, r.json, r.sql, r.gob, r.slog, r.zero)
	}
	const file = "../DEVELOPERS.md"
	doc := string(must(os.ReadFile(file)))
	head, rest, found := strings.Cut(doc, tableAt)
	require.True(t, found, "no table in DEVELOPERS.md")
	old, tail, _ := strings.Cut(rest, "\n\n")
	if *writeEncodings {
		require.NoError(t, os.WriteFile(file, []byte(head+tableAt+strings.TrimSuffix(table, "\n")+"\n\n"+tail), 0o644))
		return
	}
	assert.Equal(t, table, old+"\n", "go test ./service -run EveryEncoding -encodings writes it anew")
}
