package service

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// A strict reader of JSON. encoding/json stops at the first error, takes a key given twice, and
// matches names in any letter case; a shop that mends its job file wants everything said at once,
// each with its path. So the text is read into a tree first (that part is encoding/json's), and
// the tree into the Go types by reflection.
//
// A field is required unless its tag says omitempty. Text that ends up on a sheet may hold no
// control characters.

const (
	maxJobBytes = 1 << 20
	maxDepth    = 16
	maxErrors   = 100
	maxString   = 500
	maxItems    = 1000   // of one list or object: more than any record has
	maxValues   = 50_000 // of all of them together: a MiB of brackets would fill memory
)

// node is a JSON value and where it stands.
type node struct {
	path    string
	value   any      // nil, bool, json.Number, string, []node or *object
	members []member // of an object, in the order of the file
}

type member struct {
	key string
	node
}

type object struct{}

// decode fills the struct that into points to and tells all that is wrong.
func decode(data []byte, into any) (errs JobErrors) {
	if root, ok := parse(data, "", &errs); ok {
		bind(root, reflect.ValueOf(into).Elem(), &errs)
	}
	return capped(errs)
}

// parse reads a text into a tree whose paths begin with root; ok means that it can be bound.
func parse(data []byte, root string, errs *JobErrors) (n node, ok bool) {
	if len(data) > maxJobBytes {
		errs.add(root, fmt.Sprintf("%d bytes of text", len(data)), "at most 1 MiB", ErrSize)
		return n, false
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	var twice JobErrors
	r := reader{d, maxValues, &twice}
	n, err := r.node(root, 0)
	if err == nil {
		if _, err = d.Token(); err == nil {
			err = errors.New("something stands behind it")
		} else if errors.Is(err, io.EOF) {
			err = nil
		}
	}
	switch version, newer := newerVersion(n); {
	case err == errMany:
		errs.add(root, fmt.Sprintf("after byte %d: %v", d.InputOffset(), err),
			fmt.Sprintf("at most %d of a list or an object, and %d in all", maxItems, maxValues), ErrSize)
		return n, false
	case err != nil:
		*errs = append(*errs, twice...)
		errs.add(root, fmt.Sprintf("after byte %d: %s", d.InputOffset(), plain.Cut(err.Error())), "one JSON object", ErrJSON)
		return n, false
	case newer:
		errs.add(join(root, "version"), "written for version "+version+", this program reads version "+strconv.Itoa(Version),
			"a newer program, or a file of version "+strconv.Itoa(Version), ErrNewerVersion)
		return n, false
	}
	*errs = append(*errs, twice...)
	return n, true
}

// capped cuts off what nobody would read.
func capped(errs JobErrors) JobErrors {
	if left := len(errs) - maxErrors; left > 0 {
		errs = errs[:maxErrors]
		errs.add("", fmt.Sprintf("and %d errors more", left), "", ErrSize)
	}
	return errs
}

// newerVersion looks before anything else is judged: a newer file may well hold unknown fields.
func newerVersion(root node) (string, bool) {
	for _, m := range root.members {
		if number, ok := m.value.(json.Number); ok && m.key == "version" {
			v, err := strconv.ParseUint(number.String(), 10, 32)
			return plain.Cut(number.String()), err == nil && v > Version
		}
	}
	return "", false
}

// reader reads values until there are too many of them.
type reader struct {
	*json.Decoder
	left int
	errs *JobErrors
}

var errMany = errors.New("too many values")

func (r *reader) node(path string, depth int) (node, error) {
	n := node{path: path}
	if depth > maxDepth {
		return n, errors.New("nested too deeply")
	}
	if r.left--; r.left < 0 {
		return n, errMany
	}
	token, err := r.Token()
	if err != nil {
		return n, err
	}
	switch token {
	case json.Delim('{'):
		n.value = &object{}
		seen := map[string]bool{}
		for count := 0; r.More(); count++ {
			if count == maxItems {
				return n, errMany
			}
			token, err := r.Token()
			if err != nil {
				return n, err
			}
			key, _ := token.(string)
			child, err := r.node(join(path, key), depth+1)
			if err != nil {
				return n, err
			}
			if seen[key] {
				r.errs.add(child.path, "given twice", "it once", errDuplicateField)
				continue
			}
			seen[key] = true
			n.members = append(n.members, member{key, child})
		}
	case json.Delim('['):
		list := []node{}
		for r.More() {
			child, err := r.node(path+"["+strconv.Itoa(len(list))+"]", depth+1)
			if err != nil {
				return n, err
			}
			if list = append(list, child); len(list) > maxItems {
				return n, errMany
			}
		}
		n.value = list
	default:
		n.value = token
		return n, nil
	}
	_, err = r.Token() // the closing one
	return n, err
}

func join(path, key string) string {
	if !plainKey(key) {
		key = plain.Quote(key)
	}
	if path == "" {
		return key
	}
	return path + "." + key
}

func plainKey(key string) bool {
	for _, r := range key {
		if r > unicode.MaxASCII || !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			return false
		}
	}
	return key != "" && len(key) <= 40
}

func (n node) is() string {
	switch n.value.(type) {
	case nil:
		return "null"
	case bool:
		return "true or false"
	case json.Number:
		return "a number"
	case string:
		return "a string"
	case []node:
		return "a list"
	}
	return "an object"
}

// plain is the value as encoding/json writes it.
func (n node) plain() any {
	switch v := n.value.(type) {
	case *object:
		fields := make(map[string]any, len(n.members))
		for _, m := range n.members {
			fields[m.key] = m.plain()
		}
		return fields
	case []node:
		list := make([]any, len(v))
		for i, child := range v {
			list[i] = child.plain()
		}
		return list
	}
	return n.value
}

// bind writes a node into a Go value; a value that is refused stays as it was.
func bind(n node, v reflect.Value, errs *JobErrors) {
	if bindWhole(n, v, errs) {
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if n.value == nil {
			n.wrong("a value", errs)
			return
		}
		v.Set(reflect.New(v.Type().Elem()))
		bind(n, v.Elem(), errs)
	case reflect.Struct:
		if _, ok := n.value.(*object); !ok {
			n.wrong("an object", errs)
			return
		}
		bindStruct(n, v, errs)
	case reflect.Slice:
		list, ok := n.value.([]node)
		if !ok {
			n.wrong("a list", errs)
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), len(list), len(list)))
		for i, child := range list {
			bind(child, v.Index(i), errs)
		}
	default:
		bindPlain(n, v, errs)
	}
}

// wrong tells that a node is of another sort than is wanted.
func (n node) wrong(want string, errs *JobErrors) {
	what := n.is()
	if n.value == nil {
		what, want = "null", want+", or the field left out if it may be"
	}
	errs.add(n.path, what, want, errType)
}

// bindWhole writes a node into a value that reads itself, and reports whether v is one.
func bindWhole(n node, v reflect.Value, errs *JobErrors) bool {
	into := v.Addr().Interface()
	reader, ofText := into.(encoding.TextUnmarshaler)
	strict, ofJSON := into.(json.Unmarshaler) // one that is strict by itself
	_, isObject := n.value.(*object)
	switch text, ok := n.value.(string); {
	case ofText && ok:
		errs.text(n.path, reader.UnmarshalText([]byte(text)))
	case ofText && !(ofJSON && isObject): // a quantity may be {"value":"150","unit":"in-lb"}
		n.wrong("a string such as "+strconv.Quote(sample(v.Type())), errs)
	case ofJSON && !inParts(into):
		text, err := json.Marshal(n.plain())
		if err == nil {
			err = strict.UnmarshalJSON(text)
		}
		errs.value(n.path, err)
	default:
		return false
	}
	return true
}

// bindPlain writes a node into a text, a truth or a whole number.
func bindPlain(n node, v reflect.Value, errs *JobErrors) {
	switch v.Kind() {
	case reflect.String:
		text, ok := n.value.(string)
		if !ok {
			n.wrong("a string", errs)
			return
		}
		if problem := unprintable(text); problem != "" {
			errs.add(n.path, problem, "plain text of at most 500 bytes", units.ErrSyntax)
			return
		}
		v.SetString(text)
	case reflect.Bool:
		truth, ok := n.value.(bool)
		if !ok {
			n.wrong("true or false", errs)
			return
		}
		v.SetBool(truth)
	case reflect.Int:
		number, ok := n.value.(json.Number)
		if !ok {
			n.wrong("a whole number", errs)
			return
		}
		i, err := strconv.ParseInt(number.String(), 10, 32)
		if err != nil {
			errs.add(n.path, plain.Cut(number.String()), "a whole number of everyday size", units.ErrRange)
			return
		}
		v.SetInt(i)
	default:
		panic("service: job types hold no " + v.Kind().String()) // a mistake in this package; a test binds every type
	}
}

// inParts reports whether a value that can read itself is read field by field, so that an error of one
// has the field's path.
func inParts(into any) bool {
	switch into.(type) {
	case *drain.Estimate[units.LengthUnit], *Volumes, *Masses, *drain.Estimate[units.FlowUnit]:
		return true
	}
	return false
}

func bindStruct(n node, v reflect.Value, errs *JobErrors) {
	given := map[string]node{}
	for _, m := range n.members {
		given[m.key] = m.node
	}
	t := v.Type()
	var names []string
	for _, field := range fieldsOf(t) {
		name, optional := fieldName(field)
		if name == "" {
			continue
		}
		names = append(names, name)
		child, ok := given[name]
		switch {
		case ok:
			before := len(*errs)
			bind(child, v.FieldByIndex(field.Index), errs)
			delete(given, name)
			if len(*errs) == before && v.FieldByIndex(field.Index).IsZero() && strings.HasSuffix(field.Tag.Get("json"), ",omitzero") {
				errs.add(child.path, plain.Cut(fmt.Sprint(child.plain())), "more than nothing, or the field left out", units.ErrRange)
			}
		case !optional:
			errs.add(join(n.path, name), "missing", "the field "+strconv.Quote(name), errMissingField)
		}
	}
	for _, m := range n.members { // in the order of the file
		if _, left := given[m.key]; left {
			errs.add(m.path, "unknown field", "one of "+strings.Join(names, ", "), errUnknownField)
		}
	}
}

// fieldsOf are the fields of a struct and of those that it embeds, as JSON has them.
func fieldsOf(t reflect.Type) []reflect.StructField {
	return slices.DeleteFunc(reflect.VisibleFields(t), func(f reflect.StructField) bool { return f.Anonymous })
}

// fieldName is a field's name in the file, "" for none, and whether it may be left out.
func fieldName(f reflect.StructField) (name string, optional bool) {
	if !f.IsExported() {
		return "", true
	}
	name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
	if name == "-" {
		return "", true
	}
	return name, options == "omitempty" || options == "omitzero"
}

// readable refuses what no decoder would take back from a struct made in Go: texts that say nothing
// or hold what isn't seen, values that can't be written or not be read again, lists without end. What
// is known to be wrong already is passed over.
func readable(path string, v reflect.Value, optional bool, errs *JobErrors) {
	if optional && v.IsZero() {
		return
	}
	if value, ok := v.Interface().(encoding.TextMarshaler); ok {
		if (v.Kind() != reflect.Pointer || !v.IsNil()) && !errs.spoilt(path) {
			errs.value(path, readsBack(value))
		}
		return
	}
	switch v.Kind() {
	case reflect.String:
		text := v.String()
		errs.when(unprintable(text) != "", path, unprintable(text), "plain text of at most 500 bytes", units.ErrSyntax)
		errs.when(plain.Blank(text) && (text != "" || !optional), path, "nothing but blanks", "a text that says something", errMissingField)
	case reflect.Int:
		errs.when(int64(int32(v.Int())) != v.Int(), path, fmt.Sprint(v.Int()), "a whole number of everyday size", units.ErrRange)
	case reflect.Pointer:
		if !v.IsNil() {
			readable(path, v.Elem(), false, errs)
		}
	case reflect.Slice:
		if v.Len() > maxItems {
			errs.when(true, path, fmt.Sprintf("%d of them", v.Len()), fmt.Sprintf("at most %d", maxItems), ErrSize)
			return
		}
		for i := range v.Len() {
			readable(fmt.Sprintf("%s[%d]", path, i), v.Index(i), false, errs)
		}
	case reflect.Struct:
		for _, field := range fieldsOf(v.Type()) {
			if name, optional := fieldName(field); name != "" {
				readable(join(path, name), v.FieldByIndex(field.Index), optional, errs)
			}
		}
	}
}

// readsBack writes a value and reads it again.
func readsBack(value encoding.TextMarshaler) error {
	text, err := value.MarshalText()
	if err != nil {
		return err
	}
	if len(text) == 0 {
		return &JobError{Problem: "nothing given", Want: strconv.Quote(sample(reflect.TypeOf(value))) + " or the like", Err: errMissingField}
	}
	of := reflect.TypeOf(value)
	if of.Kind() == reflect.Pointer {
		of = of.Elem()
	}
	if again, ok := reflect.New(of).Interface().(encoding.TextUnmarshaler); ok {
		return again.UnmarshalText(text)
	}
	return nil
}

// unprintable says why a text may not stand on a sheet, "" if it may.
func unprintable(text string) string {
	if len(text) > maxString {
		return strconv.Itoa(len(text)) + " bytes of text"
	}
	if hidden := plain.Hidden(text); hidden != "" {
		return "text with a character that doesn't print: " + hidden
	}
	return ""
}
