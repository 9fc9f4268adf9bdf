package service

import "reflect"

// owned is a copy that shares no list and no pointer with what it was made of: whoever keeps it is
// safe from what its giver does later. The small values of the other packages can't be changed and
// are shared.
func owned[T any](value T) T {
	own(reflect.ValueOf(&value).Elem())
	return value
}

func own(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			into := reflect.New(v.Type().Elem())
			into.Elem().Set(v.Elem())
			own(into.Elem())
			v.Set(into)
		}
	case reflect.Slice:
		if !v.IsNil() {
			into := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
			reflect.Copy(into, v)
			for i := range v.Len() {
				own(into.Index(i))
			}
			v.Set(into)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				own(v.Field(i))
			}
		}
	}
}
