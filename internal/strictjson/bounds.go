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
			value, at := v.FieldByIndex(field.Index), Join(path, field.Key)
			if c.keeps(field, at, value) {
				c.bounds(at, value)
			}
		}
	}
}

// keeps holds one field to its bound.
func (c checker) keeps(field Field, path string, v reflect.Value) bool {
	if field.Bound == "" || field.Optional && v.IsZero() {
		return true
	}
	v = reflect.Indirect(v)
	least, most, ranged := field.Range()
	found, want, ok := fmt.Sprint(v), "more than zero", true
	switch {
	case ranged && v.Kind() == reflect.Slice:
		ok = v.Len() <= most
		found, want = strconv.Itoa(v.Len())+" of them", "at most "+strconv.Itoa(most)
	case ranged:
		ok = int64(least) <= v.Int() && v.Int() <= int64(most)
		want = fmt.Sprintf("%d to %d", least, most)
	case field.Bound == ">=0":
		ok, want = sign(v) >= 0, "zero or more"
	default:
		ok = sign(v) > 0
	}
	c.when(!ok, path, found, want, ErrRange)
	return ok
}

// Range is the least and the most of a bound that has them, "0..6"; ranged is false for any other and for none.
func (f Field) Range() (least, most int, ranged bool) {
	low, high, ranged := strings.Cut(f.Bound, "..")
	least, _ = strconv.Atoi(low) // or none, which is 0
	most, _ = strconv.Atoi(high)
	return least, most, ranged
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
