package strictjson

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"sync"
)

// Bounds holds a value made in Go, or just read, to what its fields say in a tag bound:"…": "0..6" for a whole
// number, "..100" for how many a list may have, ">0" and ">=0" for what has a sign, or is nil or left out. A list of
// more isn't looked into; of what is known to be wrong nothing is said. The cause of each is [ErrRange].
func (r Reader) Bounds(value any, known func(path string) bool, report Report) {
	checker{r, known, report}.bounds("", reflect.ValueOf(value))
}

func (c checker) bounds(path string, v reflect.Value) {
	if !bounded(v.Type()) {
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			c.bounds(path, v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			c.bounds(At(path, i), v.Index(i))
		}
	case reflect.Struct:
		for _, field := range Fields(v.Type()) {
			inside := bounded(field.Type)
			if field.Bound == "" && !inside {
				continue
			}
			value := v.FieldByIndex(field.Index)
			if field.Bound != "" && !(field.Optional && value.IsZero()) && !field.keeps(value) {
				found, want := field.beyond(reflect.Indirect(value))
				c.when(true, Join(path, field.Key), found, want, ErrRange)
			} else if inside {
				c.bounds(Join(path, field.Key), value)
			}
		}
	}
}

// keeps reports whether a value is within the bound of its field.
func (f Field) keeps(v reflect.Value) bool {
	v = reflect.Indirect(v)
	switch {
	case f.ranged && v.Kind() == reflect.Slice:
		return v.Len() <= f.most
	case f.ranged:
		return int64(f.least) <= v.Int() && v.Int() <= int64(f.most)
	case f.Bound == ">=0":
		return sign(v) >= 0
	}
	return sign(v) > 0
}

// beyond says what is wrong with a value, and what would be right.
func (f Field) beyond(v reflect.Value) (found, want string) {
	switch {
	case f.ranged && v.Kind() == reflect.Slice:
		return strconv.Itoa(v.Len()) + " of them", "at most " + strconv.Itoa(f.most)
	case f.ranged:
		return fmt.Sprint(v), fmt.Sprintf("%d to %d", f.least, f.most)
	case f.Bound == ">=0":
		return fmt.Sprint(v), "zero or more"
	}
	return fmt.Sprint(v), "more than zero"
}

// Range is the least and the most of a bound that has them, "0..6"; ranged is false for any other and for none.
func (f Field) Range() (least, most int, ranged bool) { return f.least, f.most, f.ranged }

// withBound reads the tag.
func (f Field) withBound() Field {
	f.Bound = f.Tag.Get("bound")
	low, high, ranged := strings.Cut(f.Bound, "..")
	f.least, _ = strconv.Atoi(low) // or none, which is 0
	f.most, _ = strconv.Atoi(high)
	f.ranged = ranged
	return f
}

func sign(v reflect.Value) int {
	if v.Kind() == reflect.Int64 {
		return int(max(-1, min(1, v.Int())))
	}
	return v.Interface().(interface{ Sign() int }).Sign()
}

// hasBounds keeps what bounded found.
var hasBounds sync.Map

// bounded reports whether anything in a type, which doesn't hold itself, has a bound.
func bounded(t reflect.Type) bool {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct {
		return false
	}
	if known, ok := hasBounds.Load(t); ok {
		return known.(bool)
	}
	found := false
	for _, field := range Fields(t) {
		found = found || field.Bound != "" || bounded(field.Type)
	}
	hasBounds.Store(t, found)
	return found
}
