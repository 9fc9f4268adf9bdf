package encode

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

func TestTextAlone(t *testing.T) {
	var got string
	read := func(text []byte) error { got = string(text); return nil }
	refuse := func(given, problem string) error { return errors.New(given + ": " + problem) }

	value, err := Value([]byte("a"), nil)
	assert.NoError(t, err)
	assert.Equal(t, "a", value)
	value, err = Value([]byte("a"), errors.New("nothing to write"))
	assert.EqualError(t, err, "nothing to write")
	assert.Nil(t, value)

	for _, column := range []any{"a b", []byte("a b")} {
		got = ""
		assert.NoError(t, Scan(column, read, refuse))
		assert.Equal(t, "a b", got)
	}
	for column, want := range map[any]string{nil: ": NULL is not accepted; use sql.Null", int64(-3): "-3: not text but int64",
		1.5: "1.5: not text but float64", true: "true: not text but bool", time.Time{}: ": not text but time.Time"} {
		assert.EqualError(t, Scan(column, read, refuse), want)
	}
	for data, want := range map[string]string{`"a\u0020b"`: "a b", " \"a b\"\n": "a b", `""`: ""} {
		got = "stale"
		assert.NoError(t, JSON([]byte(data), read, refuse))
		assert.Equal(t, want, got)
	}
	for data, want := range map[string]string{"null": "null: null is not accepted", "": ": not a JSON string", "3": "3: not a JSON string",
		`{"a":1}`: `{"a":1}: not a JSON string`, `"a`: `"a: not a JSON string`, `"a" "b"`: `"a" "b": not a JSON string`} {
		got = "kept"
		assert.EqualError(t, JSON([]byte(data), read, refuse), want)
		assert.Equal(t, "kept", got)
	}
	long := strings.Repeat("x", 1<<20)
	assert.ErrorContains(t, JSON([]byte(`"`+long+`"`), read, refuse), "too long")
	assert.NoError(t, Scan(long, read, refuse))
	assert.Len(t, got, mostColumn, "a reader sees that it is too long")
}
