// Package frozen is for tests: a table of calls with what each gave, so that a change of one word or digit
// anywhere is seen. A row is there because it alone shows some change; whether it is right is for the tests
// with a source to say, and for whoever reads the difference when the table is written anew.
package frozen

import (
	"bytes"
	"crypto/sha256"
	"encoding"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"reflect"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("frozen", false, "write the tables of frozen calls anew; read the difference before it is kept")

// Try is set by testdata/mutate, which asks each row of a table again and again, of one mutant after another, whether it
// still gives what it gave. Trial is another number each time: what a test keeps, it keeps for one.
var (
	Try   func(rows []func() bool)
	Trial int
)

// Calls are functions by name; method expressions are functions, too.
type Calls map[string]any

// Of makes calls of functions by name and of every method of the types of values: Turn.Add is a function of
// a Turn and what Add takes. What changes its receiver, UnmarshalText for example, gives what it became.
func Of(functions Calls, values ...any) Calls {
	calls := Calls{}
	for name, f := range functions {
		calls[name] = f
	}
	for _, v := range values {
		t := reflect.TypeOf(v)
		name := t.Name()
		if at := strings.Index(name, "["); at >= 0 { // Quantity[example.com/…units.massUnits]] is Quantity[massUnits]
			name = name[:at] + "[" + strings.Trim(name[strings.LastIndex(name, ".")+1:], "]") + "]"
		}
		for i := range t.NumMethod() {
			calls[name+"."+t.Method(i).Name] = t.Method(i).Func.Interface()
		}
		p := reflect.PointerTo(t)
		for i := range p.NumMethod() {
			m := p.Method(i)
			if _, ok := t.MethodByName(m.Name); ok || m.Type.NumIn() != 2 || m.Type.NumOut() != 1 {
				continue
			}
			in := m.Type.In(1)
			if in.Kind() == reflect.Interface { // of Scan: what a driver gives
				in = reflect.TypeFor[[]byte]()
			}
			shape := reflect.FuncOf([]reflect.Type{in}, []reflect.Type{t, m.Type.Out(0)}, false)
			calls[name+"."+m.Name] = reflect.MakeFunc(shape, func(args []reflect.Value) []reflect.Value {
				became := reflect.New(t)
				out := m.Func.Call([]reflect.Value{became, args[0]})
				return []reflect.Value{became.Elem(), out[0]}
			}).Interface()
		}
	}
	return calls
}

// A Row is one call: its name, its arguments as texts, and what it gave.
type Row struct {
	Name string
	Args []string
	Gave string
}

// String is the row as the table has it.
func (r Row) String() string {
	var b strings.Builder
	b.WriteString(r.Name)
	for _, a := range r.Args {
		b.WriteString(" " + strconv.Quote(a))
	}
	return b.String() + " -> " + r.Gave
}

// Read reads a table, a row a line.
func Read(name string) ([]Row, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	var rows []Row
	for i, line := range strings.Split(strings.TrimSuffix(string(text), "\n"), "\n") {
		if line == "" || line[0] == '#' {
			continue
		}
		var r Row
		var rest string
		r.Name, rest, _ = strings.Cut(line, " ")
		for strings.HasPrefix(rest, `"`) {
			quoted, err := strconv.QuotedPrefix(rest)
			if err != nil {
				return nil, fmt.Errorf("%s:%d: %w", name, i+1, err)
			}
			arg, _ := strconv.Unquote(quoted)
			r.Args = append(r.Args, arg)
			rest = strings.TrimPrefix(rest[len(quoted):], " ")
		}
		r.Gave = strings.TrimPrefix(strings.TrimPrefix(rest, "->"), " ")
		rows = append(rows, r)
	}
	return rows, nil
}

// Test makes every call of the table and compares.
func Test(t *testing.T, table string, calls Calls) {
	rows, err := Read(table)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	var questions []func() bool
	for _, r := range rows {
		name := strings.TrimSuffix(r.Name, "*")
		if _, ok := calls[name]; !ok {
			t.Fatalf("%s: no call is named %s", table, name)
		}
		if Try != nil {
			questions = append(questions, func() bool { return calls.call(r) == r.Gave })
			continue
		}
		got := Row{r.Name, r.Args, calls.call(r)}
		out.WriteString(got.String() + "\n")
		if got.Gave != r.Gave && !*update {
			t.Errorf("%s\nwas %s", got, r.Gave)
		}
	}
	if len(rows) == 0 {
		t.Errorf("%s: no rows", table)
	}
	if Try != nil {
		Try(questions)
		return
	}
	if *update {
		if err := os.WriteFile(table, []byte(out.String()), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// call makes the call of a row, or with a star behind the name a call for each argument.
func (c Calls) call(r Row) string {
	name, each := strings.CutSuffix(r.Name, "*")
	if !each {
		return Call(c[name], r.Args)
	}
	var out []string
	for _, arg := range r.Args {
		out = append(out, Call(c[name], []string{arg}))
	}
	return strings.Join(out, " | ")
}

// Call makes a call with arguments read from texts, and writes its results on one line.
func Call(f any, args []string) (gave string) {
	defer func() {
		if p := recover(); p != nil {
			gave = line(fmt.Sprintf("panic: %v", p))
		}
	}()
	v := reflect.ValueOf(f)
	var in []reflect.Value
	for i, text := range args {
		t := v.Type()
		var param reflect.Type
		switch {
		case t.IsVariadic() && i >= t.NumIn()-1:
			param = t.In(t.NumIn() - 1).Elem()
		case i < t.NumIn():
			param = t.In(i)
		default:
			return "too many arguments"
		}
		arg, err := read(param, text)
		if err != nil {
			return line("no " + param.String() + ": " + err.Error())
		}
		in = append(in, arg)
	}
	if len(in) < v.Type().NumIn() && !v.Type().IsVariadic() || len(in) < v.Type().NumIn()-1 {
		return "too few arguments"
	}
	var out []string
	for _, result := range v.Call(in) {
		out = append(out, write(result.Interface()))
	}
	return line(strings.Join(out, " ; "))
}

// Difference is what became of the lines of one text in another: those that went with a minus, those that
// came with a plus, at most thirty, and a sum over all of the other. Of equal texts it is the sum alone.
func Difference(from, to string) string {
	count := map[string]int{}
	for _, l := range strings.Split(from, "\n") {
		count[strings.TrimSpace(l)]++
	}
	var out []string
	for _, l := range strings.Split(to, "\n") {
		l = strings.TrimSpace(l)
		if count[l]--; count[l] < 0 {
			out = append(out, "+"+l)
		}
	}
	for _, l := range strings.Split(from, "\n") {
		l = strings.TrimSpace(l)
		if count[l] > 0 {
			out = append(out, "-"+l)
			count[l]--
		}
	}
	if len(out) > 30 {
		out = append(out[:30], "…")
	}
	return strings.Join(append(out, fmt.Sprintf("sum %x", sha256.Sum256([]byte(to)))[:20]), "\n")
}

func line(s string) string {
	return strings.NewReplacer("\n", `\n`, "\r", `\r`, "\t", `\t`, "\x00", `\0`).Replace(strings.ToValidUTF8(s, "\uFFFD"))
}

// read makes a value of a text: empty is the zero value, #7 the number behind a word, (a; b) a struct's first fields or a
// list as they are, though the type itself would refuse them, and else what the type itself reads.
func read(t reflect.Type, text string) (reflect.Value, error) {
	p := reflect.New(t)
	if t.Kind() == reflect.String && t.PkgPath() == "" {
		p.Elem().SetString(text)
		return p.Elem(), nil
	}
	if text == "" {
		return p.Elem(), nil
	}
	if strings.HasPrefix(text, "(") && strings.HasSuffix(text, ")") {
		return p.Elem(), readParts(p.Elem(), text[1:len(text)-1])
	}
	if n, ok := strings.CutPrefix(text, "#"); ok && (p.Elem().CanInt() || p.Elem().CanUint()) {
		i, err := strconv.ParseInt(n, 10, 64)
		if p.Elem().CanInt() {
			p.Elem().SetInt(i)
		} else {
			p.Elem().SetUint(uint64(i))
		}
		return p.Elem(), err
	}
	if u, ok := p.Interface().(encoding.TextUnmarshaler); ok && text[0] != '{' {
		return p.Elem(), u.UnmarshalText([]byte(text))
	}
	if t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.Uint8 {
		p.Elem().SetBytes([]byte(text))
		return p.Elem(), nil
	}
	err := json.Unmarshal([]byte(text), p.Interface())
	return p.Elem(), err
}

// readParts sets the fields of a struct, or the elements of a list, from texts with semicolons between.
func readParts(v reflect.Value, text string) error {
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		v = v.Elem()
	}
	var parts []string
	depth, from := 0, 0
	for i, c := range text {
		switch {
		case c == '(' || c == '{':
			depth++
		case c == ')' || c == '}':
			depth--
		case c == ';' && depth == 0:
			parts, from = append(parts, text[from:i]), i+1
		}
	}
	if text != "" {
		parts = append(parts, text[from:])
	}
	if v.Kind() == reflect.Slice {
		v.Set(reflect.MakeSlice(v.Type(), len(parts), len(parts)))
	}
	for i, part := range parts {
		var field reflect.Value
		switch {
		case v.Kind() == reflect.Slice:
			field = v.Index(i)
		case v.Kind() == reflect.Struct && i < v.NumField():
			field = v.Field(i)
		default:
			return fmt.Errorf("%s has no part %d", v.Type(), i+1)
		}
		value, err := read(field.Type(), strings.TrimSpace(part))
		if err != nil {
			return err
		}
		field.Set(value)
	}
	return nil
}

// write is a value as JSON, with its String behind it if that says something else; of an error the text and
// the fields.
func write(v any) string {
	switch v := v.(type) {
	case nil:
		return "nil"
	case string:
		return v
	case []byte:
		return string(v)
	case error:
		e := reflect.Indirect(reflect.ValueOf(v))
		if e.Kind() != reflect.Struct {
			return "error: " + v.Error()
		}
		out := "error: " + v.Error()
		for i := range e.NumField() { // what the text doesn't say
			if f := e.Type().Field(i); f.IsExported() && !e.Field(i).IsZero() {
				if said := fmt.Sprintf("%+v", e.Field(i).Interface()); !strings.Contains(out, said) {
					out += " " + f.Name + ":" + said
				}
			}
		}
		return out
	}
	if p := reflect.ValueOf(v); p.Kind() == reflect.Pointer && p.IsNil() {
		return "nil"
	}
	text, err := json.Marshal(v)
	out := string(text)
	if err != nil {
		out = fmt.Sprintf("%+v", v)
	}
	if s, ok := v.(fmt.Stringer); ok {
		if said := s.String(); said != strings.Trim(out, `"`) {
			out += " " + said
		}
	}
	return out
}

// Edit changes a JSON text: "/fuel/caughtAt=\"50 °C\"" sets a member or an element, "/fuel-" takes it away.
func Edit(t []byte, edits []string) []byte {
	for _, e := range edits {
		at := strings.IndexAny(e, "=-")
		if at < 0 {
			continue
		}
		var doc any
		if json.Unmarshal(t, &doc) != nil {
			return t
		}
		var value any
		if e[at] == '=' && json.Unmarshal([]byte(e[at+1:]), &value) != nil {
			value = e[at+1:]
		}
		doc = set(doc, strings.Split(strings.TrimPrefix(e[:at], "/"), "/"), value, e[at] == '-')
		t, _ = json.Marshal(doc)
	}
	return t
}

func set(doc any, path []string, value any, remove bool) any {
	if len(path) == 0 {
		return value
	}
	switch d := doc.(type) {
	case map[string]any:
		if remove && len(path) == 1 {
			delete(d, path[0])
		} else if next, ok := d[path[0]]; ok || len(path) == 1 {
			d[path[0]] = set(next, path[1:], value, remove)
		} else {
			d[path[0]] = set(map[string]any{}, path[1:], value, remove)
		}
	case []any:
		i := 0
		if _, err := fmt.Sscan(path[0], &i); err != nil || i < 0 || i > len(d) {
			return doc
		}
		switch {
		case remove && len(path) == 1 && i < len(d):
			return append(d[:i:i], d[i+1:]...)
		case i == len(d):
			return append(d, set(map[string]any{}, path[1:], value, remove))
		default:
			d[i] = set(d[i], path[1:], value, remove)
		}
	}
	return doc
}

// JSON is a value on many lines.
func JSON(v any) string {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(v); err != nil {
		return err.Error()
	}
	return b.String()
}
