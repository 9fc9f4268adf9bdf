// Package deep copies values, so that whoever keeps one is safe from what its giver does later.
package deep

import (
	"reflect"
	"sync"
)

// Copy is a copy of a struct, list or pointer that shares no list and no pointer with what it was made
// of. What can't be reached from outside a package, unexported fields, is shared: the small values of the
// library can't be changed.
func Copy[T any](value T) T {
	part(reflect.ValueOf(&value).Elem())
	return value
}

func part(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			into := reflect.New(v.Type().Elem())
			into.Elem().Set(v.Elem())
			part(into.Elem())
			v.Set(into)
		}
	case reflect.Slice:
		if !v.IsNil() {
			into := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
			reflect.Copy(into, v)
			if !flat(v.Type().Elem()) {
				for i := range v.Len() {
					part(into.Index(i))
				}
			}
			v.Set(into)
		}
	case reflect.Struct:
		for _, i := range toCopy(v.Type()) {
			part(v.Field(i))
		}
	}
}

// flat reports whether a copy shares nothing: no list and no pointer can be reached.
func flat(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice:
		return false
	case reflect.Struct:
		return len(toCopy(t)) == 0
	}
	return true
}

// known keeps what toCopy found of each type.
var known sync.Map

// toCopy are the exported fields of a struct that aren't flat.
func toCopy(t reflect.Type) []int {
	if fields, ok := known.Load(t); ok {
		return fields.([]int)
	}
	var fields []int
	for i := range t.NumField() {
		if f := t.Field(i); f.IsExported() && !flat(f.Type) {
			fields = append(fields, i)
		}
	}
	known.Store(t, fields)
	return fields
}
