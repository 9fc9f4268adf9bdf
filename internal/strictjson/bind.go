package strictjson

import (
	"encoding"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"

	"example.com/snugturn/internal/plain"
)

// Bind fills the struct that into points to from a tree.
func (r Reader) Bind(n Node, into any, report Report) {
	b := &binder{Reader: r, to: report}
	b.bind(n, reflect.ValueOf(into).Elem())
}

type binder struct {
	Reader
	to       Report
	reported int
}

func (b *binder) report(path, problem, want string, cause error) {
	b.reported++
	b.to(path, problem, want, cause)
}

// wrong says that a value is of another kind than it should be.
func (b *binder) wrong(n Node, want string) {
	if n.value == nil {
		want += ", or the field omitted if it may be"
	}
	b.report(n.path, n.Is(), want, ErrType)
}

// bind writes a node into a Go value; a value that is refused stays as it was.
func (b *binder) bind(n Node, v reflect.Value) {
	into := v.Addr().Interface()
	reader, ofText := into.(encoding.TextUnmarshaler)
	strict, ofJSON := into.(json.Unmarshaler) // one that is strict by itself
	switch text, isText := n.value.(string); {
	case ofText && isText:
		b.value(n.path, reader.UnmarshalText([]byte(text)))
	case ofText && !(ofJSON && n.IsObject()): // a quantity may be {"value":"150","unit":"in-lb"}
		b.wrong(n, "a string"+b.such(v))
	case ofJSON && (b.InParts == nil || !b.InParts(into)):
		b.value(n.path, strict.UnmarshalJSON(n.JSON()))
	default:
		b.bindKind(n, v)
	}
}

func (b *binder) value(path string, err error) {
	if err != nil {
		b.report(path, "", "", err)
	}
}

func (r Reader) such(v reflect.Value) string {
	if r.Sample == nil {
		return ""
	}
	return " such as " + strconv.Quote(r.Sample(v.Type()))
}

func (b *binder) bindKind(n Node, v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if n.value == nil {
			b.wrong(n, "a value")
			return
		}
		v.Set(reflect.New(v.Type().Elem()))
		b.bind(n, v.Elem())
	case reflect.Struct:
		if !n.IsObject() {
			b.wrong(n, "an object")
			return
		}
		b.bindStruct(n, v)
	case reflect.Slice:
		list, ok := n.value.([]Node)
		if !ok {
			b.wrong(n, "a list")
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), len(list), len(list)))
		for i, child := range list {
			b.bind(child, v.Index(i))
		}
	default:
		b.bindPlain(n, v)
	}
}

// bindPlain writes a node into a text, a truth or a whole number.
func (b *binder) bindPlain(n Node, v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		text, ok := n.value.(string)
		if !ok {
			b.wrong(n, "a string")
		} else if problem := b.Unprintable(text); problem != "" {
			b.report(n.path, problem, b.plainText(), ErrText)
		} else {
			v.SetString(text)
		}
	case reflect.Bool:
		truth, ok := n.value.(bool)
		if !ok {
			b.wrong(n, "true or false")
			return
		}
		v.SetBool(truth)
	case reflect.Int:
		number, ok := n.value.(json.Number)
		if !ok {
			b.wrong(n, "a whole number")
		} else if i, err := strconv.ParseInt(number.String(), 10, 32); err != nil {
			b.report(n.path, plain.Cut(number.String()), everyday, ErrRange)
		} else {
			v.SetInt(i)
		}
	default:
		panic("strictjson: no " + v.Kind().String() + " is read") // a mistake in the type, whatever the text
	}
}

const everyday = "a whole number of everyday size"

func (b *binder) bindStruct(n Node, v reflect.Value) {
	fields := Fields(v.Type())
	known := 0
	for i := range fields {
		field := &fields[i]
		child, ok := n.Member(field.Key)
		switch {
		case ok:
			known++
			b.bindField(child, v.FieldByIndex(field.Index), field)
		case !field.Optional && !b.Partial:
			b.report(Join(n.path, field.Key), "missing", "the field "+strconv.Quote(field.Key), ErrMissing)
		}
	}
	if b.Extra || known == len(n.members) {
		return
	}
	var names []string
	for _, field := range fields {
		names = append(names, field.Key)
	}
	for _, m := range n.members { // in the order of the file
		if !slices.Contains(names, m.key) {
			b.report(m.path, "unknown field", fieldLike(m.key, names), ErrUnknown)
		}
	}
}

// bindField refuses nothing where the field is left out to say so.
func (b *binder) bindField(n Node, v reflect.Value, field *Field) {
	before := b.reported
	b.bind(n, v)
	if b.reported == before && field.zero && v.IsZero() {
		b.report(n.path, plain.Cut(fmt.Sprint(n.plain())), "more than zero, or the field omitted", ErrRange)
	}
}

// fieldLike names the fields there are, and first the one that an unknown key was meant for, if one is near.
func fieldLike(key string, names []string) string {
	near, distance := "", 3 // more than two letters wrong is another word
	for _, name := range names {
		if d := lettersBetween(strings.ToLower(key), strings.ToLower(name), distance); d < distance && d < len(name) {
			near, distance = name, d
		}
	}
	if near == "" {
		return "one of " + strings.Join(names, ", ")
	}
	return strconv.Quote(near) + ", which is nearest, or another of " + strings.Join(names, ", ")
}

// lettersBetween counts the letters to change, add, take away or swap with their neighbour between two texts, up to a most.
func lettersBetween(one, other string, most int) int {
	if max(len(one), len(other))-min(len(one), len(other)) >= most {
		return most
	}
	between := make([][]int, len(one)+1) // the first i letters of one and the first j of the other
	for i := range between {
		between[i] = make([]int, len(other)+1)
		for j := range between[i] {
			switch {
			case i == 0 || j == 0:
				between[i][j] = i + j
				continue
			case one[i-1] == other[j-1]:
				between[i][j] = between[i-1][j-1]
			default:
				between[i][j] = 1 + min(between[i-1][j-1], between[i-1][j], between[i][j-1])
			}
			if i > 1 && j > 1 && one[i-1] == other[j-2] && one[i-2] == other[j-1] {
				between[i][j] = min(between[i][j], 1+between[i-2][j-2])
			}
		}
	}
	return between[len(one)][len(other)]
}

// Field is a field of a struct as JSON has it.
type Field struct {
	reflect.StructField
	Key      string // in the file
	Optional bool   // it may be left out
	Bound    string // see [Reader.Bounds]
	zero     bool   // it is left out where it is zero, nothing or an empty text

	least, most int // of a bound that is a range
	ranged      bool
}

// fieldsOf keeps what [Fields] found.
var fieldsOf sync.Map

// Fields are those of a struct and of the structs that it embeds, not to be changed.
func Fields(t reflect.Type) []Field {
	if known, ok := fieldsOf.Load(t); ok {
		return known.([]Field)
	}
	fields := findFields(t)
	fieldsOf.Store(t, fields)
	return fields
}

func findFields(t reflect.Type) (fields []Field) {
	for _, f := range reflect.VisibleFields(t) {
		key, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if f.Anonymous || !f.IsExported() || key == "" || key == "-" {
			continue
		}
		optional := options == "omitzero" || options == "omitempty"
		zero := options == "omitzero" || optional && (f.Type.Kind() == reflect.String || f.Type.Kind() == reflect.Int)
		fields = append(fields, Field{StructField: f, Key: key, Optional: optional, zero: zero}.withBound())
	}
	return fields
}
