// Package deep copies values, so that whoever keeps one is safe from what its giver does later.
package deep

import "reflect"

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
			for i := range v.Len() {
				part(into.Index(i))
			}
			v.Set(into)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				part(v.Field(i))
			}
		}
	}
}
