package service_test

import (
	"bytes"
	"database/sql"
	"database/sql/driver"
	"encoding"
	"encoding/gob"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/service"
	"example.com/snugturn/units"
)

// decoded are a value of every type that decodes itself, none of them the zero value.
func decoded() (all []reflect.Value) {
	values := append([]any{must(units.ParseAngle("30°")), units.MustParseVolume("1.5 US gal"), units.MustParseMass("2 lb"), units.MustParseDensity("0.84 kg/L"),
		units.MustParseLength("2 in"), units.MustParseFlow("90 L/h"), must(units.ParsePressure("1 bar")), units.KelvinDifference.Of(30), units.Litre, units.Kilogram,
		units.Millimetre, units.Degree, must(drain.Exactly(units.Gram.Of(850), drain.Measured)), must(drain.Exactly(units.Millimetre.Of(3), drain.Measured))}, encoded...)
	for _, v := range values {
		all = append(all, reflect.ValueOf(v))
	}
	for _, enum := range enums {
		v := reflect.New(enum.of).Elem()
		v.SetUint(1)
		all = append(all, v)
	}
	return all
}

// ways are those that a value is read in, each with what it writes; nil where a type hasn't that way.
var ways = []struct {
	name  string
	write func(v any) ([]byte, error)
	read  func(into any, data []byte) (known bool, err error)
}{
	{"text", func(v any) ([]byte, error) { return writeText(v) }, func(into any, data []byte) (bool, error) {
		m, ok := into.(encoding.TextUnmarshaler)
		if !ok {
			return false, nil
		}
		return true, m.UnmarshalText(data)
	}},
	{"JSON", json.Marshal, func(into any, data []byte) (bool, error) { // not json.Unmarshal, which looks at it first
		m, ok := into.(json.Unmarshaler)
		if !ok {
			return true, json.Unmarshal(data, into)
		}
		return true, m.UnmarshalJSON(data)
	}},
	{"column", func(v any) ([]byte, error) {
		stored, ok := v.(driver.Valuer)
		if !ok {
			return writeText(v)
		}
		column, err := stored.Value()
		text, _ := column.(string)
		return []byte(text), err
	}, func(into any, data []byte) (bool, error) {
		m, ok := into.(sql.Scanner)
		if !ok {
			return false, nil
		}
		return true, m.Scan(string(data))
	}},
	{"bytes", json.Marshal, func(into any, data []byte) (bool, error) {
		m, ok := into.(sql.Scanner)
		if !ok {
			return false, nil
		}
		return true, m.Scan(data)
	}},
	{"binary", func(v any) ([]byte, error) { return v.(encoding.BinaryMarshaler).MarshalBinary() }, func(into any, data []byte) (bool, error) {
		m, ok := into.(encoding.BinaryUnmarshaler)
		if !ok {
			return false, nil
		}
		return true, m.UnmarshalBinary(data)
	}},
	{"gob", func(v any) ([]byte, error) {
		var b bytes.Buffer
		err := gob.NewEncoder(&b).Encode(v)
		return b.Bytes(), err
	}, func(into any, data []byte) (bool, error) {
		return true, gob.NewDecoder(bytes.NewReader(data)).Decode(into)
	}},
}

func writeText(v any) ([]byte, error) {
	if m, ok := v.(encoding.TextMarshaler); ok {
		return m.MarshalText()
	}
	return json.Marshal(v)
}

// refused holds what a type of the library says of what it doesn't take: short, and with a cause that is known.
func refused(t *testing.T, what string, err error) {
	t.Helper()
	if len(err.Error()) > 1000 || strings.TrimSpace(err.Error()) == "" {
		t.Fatalf("%s: %d bytes: %.200s", what, len(err.Error()), err)
	}
	for _, cause := range []error{units.ErrSyntax, units.ErrRange, units.ErrNoUnit, units.ErrUnknownUnit, units.ErrOtherKind, units.ErrAmbiguous,
		drain.ErrOrder, drain.ErrNegative, drain.ErrDensity} {
		if errors.Is(err, cause) {
			return
		}
	}
	var parse *units.ParseError
	var of *waste.Error
	var job *service.JobError
	if !errors.As(err, &parse) && !errors.As(err, &of) && !errors.As(err, &job) {
		t.Fatalf("%s: a %T without a cause: %v", what, err, err)
	}
}

// FuzzDecode: every type that decodes itself, in every way. What is refused leaves the variable as it was;
// what is read is written, and read again as the same.
func FuzzDecode(f *testing.F) {
	all := decoded()
	for i, v := range all {
		for k, way := range ways {
			into := reflect.New(v.Type()).Interface()
			if known, _ := way.read(into, nil); !known {
				continue
			}
			data, err := way.write(v.Interface())
			if err != nil {
				continue
			}
			f.Add(uint8(i), uint8(k), data)
			f.Add(uint8(i), uint8(k), data[:len(data)/2])
			f.Add(uint8(i), uint8(k), append([]byte("\u202e"), data...))
		}
	}
	f.Fuzz(func(t *testing.T, which, how uint8, data []byte) {
		v, way := all[int(which)%len(all)], ways[int(how)%len(ways)]
		what := fmt.Sprintf("%s by %s", typeName(v.Type()), way.name)
		into, byField := reflect.New(v.Type()), way.name == "gob" && slices.Contains(fieldwise, typeName(v.Type()))
		if !byField { // else gob writes into the lists that it shares with v
			into.Elem().Set(v)
		}
		before := fmt.Sprintf("%#v", into.Elem().Interface())
		known, err := way.read(into.Interface(), data)
		if !known {
			return
		}
		_, own := into.Interface().(json.Unmarshaler)
		own = own && !byField
		if err != nil {
			if own { // others are read field by field, by encoding/json or gob
				assert.Equal(t, before, fmt.Sprintf("%#v", into.Elem().Interface()), "%s: refused, and changed", what)
				if way.name != "gob" {
					refused(t, what, err)
				}
			}
			return
		}
		if shown, ok := into.Elem().Interface().(fmt.Stringer); ok {
			assert.Empty(t, plain.Hidden(shown.String()), what)
		}
		written, err := way.write(into.Elem().Interface())
		if err != nil && way.name == "gob" || !own { // a value of the zero value's fields may be no value
			return
		}
		require.NoError(t, err, what)
		again := reflect.New(v.Type())
		_, err = way.read(again.Interface(), written)
		require.NoError(t, err, "%s: reads %q, writes %q", what, data, written)
		rewritten, err := way.write(again.Elem().Interface())
		require.NoError(t, err, what)
		assert.Equal(t, string(written), string(rewritten), what)
	})
}
