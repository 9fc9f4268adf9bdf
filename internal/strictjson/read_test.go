package strictjson

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type part struct {
	Name   string   `json:"name"`
	Number int      `json:"number,omitempty"`
	Lists  []string `json:"lists,omitempty"`
	Inner  *part    `json:"inner,omitempty"`
	Hidden string   `json:"-"`
	Zero   shout    `json:"zero,omitzero"`
}

// shout is a text that reads itself.
type shout string

func (s *shout) UnmarshalText(text []byte) error {
	if strings.ToUpper(string(text)) != string(text) {
		return fmt.Errorf("%q isn't loud", text)
	}
	*s = shout(text)
	return nil
}

func (s shout) MarshalText() ([]byte, error) { return []byte(s), nil }

var reader = Reader{Bytes: 1 << 20, Text: 10, Sample: func(reflect.Type) string { return "A" }}

// problems are all that a reader reports, a line each.
func problems(read func(Report)) (lines []string) {
	read(func(path, problem, want string, cause error) {
		lines = append(lines, strings.TrimSpace(path+": "+problem+"; "+want+": "+cause.Error()))
	})
	return lines
}

func TestRead(t *testing.T) {
	const fields = "one of name, number, lists, inner, zero"
	for text, want := range map[string][]string{
		`{"name": "a", "inner": {"name": "b"}, "zero": "A"}`: nil,
		`{"nmae": "a"}`: {`name: missing; the field "name": missing field`,
			`nmae: unknown field; "name", which is nearest, or another of name, number, lists, inner, zero: unknown field`},
		`{"name": "a", "Number": 1}`: {`Number: unknown field; "number", which is nearest, or another of name, number, lists, inner, zero: unknown field`},
		`{"name": "a", "colour": 1}`: {"colour: unknown field; " + fields + ": unknown field"},
		`{"name": "a", "name": "b"}`: {"name: given twice; it once: field given twice"},
		`{"name": "a", "inner": {"name": null, "number": 1.5, "lists": ["", 7]}}`: {
			"inner.name: null; a string, or the field omitted if it may be: wrong type",
			"inner.number: 1.5; a whole number of everyday size: out of range",
			"inner.lists[1]: a number; a string: wrong type"},
		`{"name": "a\u200b"}`:              {`name: text with a character that doesn't print: \u200b; plain text of at most 10 bytes: no plain text`},
		`{"name": "12345678901"}`:          {"name: 11 bytes of text; plain text of at most 10 bytes: no plain text"},
		`{"name": "a", "zero": "b"}`:       {`zero: ; : "b" isn't loud`},
		`{"name": "a", "zero": 1}`:         {`zero: a number; a string such as "A": wrong type`},
		`{"name": "a", "zero": ""}`:        {"zero: ; more than zero, or the field omitted: out of range"},
		`[]`:                               {": a list; an object: wrong type"},
		`{"name": "a"`:                     {": after byte 12: it ends too soon; one JSON object: not JSON"},
		`{"name": "a"} 1`:                  {": after byte 15: unexpected data after the object; one JSON object: not JSON"},
		strings.Repeat("[", 20):            {": after byte 17: nested too deeply; one JSON object: not JSON"},
		strings.Repeat(" ", 1<<20+1):       {": 1048577 bytes of text; at most 1 MiB: too large"},
		"[" + strings.Repeat("1,", 2000):   {": after byte 2002: too many values; at most 1000 of a list or an object, and 50000 in all: too large"},
		`{"name": "a", "Hidden": "shown"}`: {"Hidden: unknown field; " + fields + ": unknown field"},
	} {
		var into part
		assert.Equal(t, want, problems(func(r Report) { reader.Read([]byte(text), &into, r) }), "%.60s", text)
	}
	partial := reader
	partial.Partial = true
	assert.Nil(t, partial.First([]byte(`{}`), &part{}))
	first := reader.First([]byte(`{"inner": {}}`), &part{})
	require.NotNil(t, first)
	assert.Equal(t, "name: missing", first.What())
}

func TestCheck(t *testing.T) {
	none := func(string) bool { return false }
	large := int64(1) << 40 // more than an int of 32 bits can hold: 0 there, and nothing to refuse
	value := part{Name: " ", Number: int(large), Lists: []string{"a\n", ""}, Inner: &part{Name: "a", Zero: "b"}}
	want := []string{
		"name: nothing but blanks; non-blank text: missing field",
		"number: 1099511627776; a whole number of everyday size: out of range",
		`lists[0]: text with a character that doesn't print: \n; plain text of at most 10 bytes: no plain text`,
		"lists[1]: nothing but blanks; non-blank text: missing field",
		`inner.zero: ; : "b" isn't loud`,
	}
	if strconv.IntSize == 32 {
		want = slices.Delete(want, 1, 2)
	}
	assert.Equal(t, want, problems(func(r Report) { reader.Check(value, none, r) }))
	assert.Empty(t, problems(func(r Report) { reader.Check(value, func(string) bool { return true }, r) }), "all known before")
	assert.Empty(t, problems(func(r Report) { reader.Check(part{Name: "a"}, none, r) }))
}

func TestOver(t *testing.T) {
	parse := func(path, text string) Node {
		n, ok := reader.Parse([]byte(text), path, func(path, problem, _ string, _ error) { t.Fatal(path, problem) })
		require.True(t, ok)
		return n
	}
	under := parse("card", `{"a": {"x": 1, "y": [1, 2]}, "b": "old"}`)
	over := parse("job", `{"a": {"y": [3]}, "c": null}`)
	merged := over.Over(under)
	from := merged.Move()
	assert.JSONEq(t, `{"a": {"x": 1, "y": [3]}, "b": "old", "c": null}`, string(merged.JSON()))
	assert.Equal(t, "card.a.x", from.Of("a.x"))
	assert.Equal(t, "job.a.y[0]", from.Of("a.y[0]"))
	assert.Equal(t, "job.a.z", from.Of("a.z"), "of neither: the object is the upper one's too")
	assert.Equal(t, "job.d", from.Of("d"))
	var nulls []string
	merged.Nulls(func(path string) { nulls = append(nulls, path) })
	assert.Equal(t, []string{"c"}, nulls)
	assert.JSONEq(t, `{"a": {"x": 1, "y": [1, 2]}, "b": "old"}`, string(under.JSON()), "as it was")

	list := parse("", `{"A": {"n": 1}, "B": 2}`).Listed(func(key string, value Node) Node {
		if value.IsObject() {
			return value.With("id", NewText(value.Path(), key))
		}
		return value
	})
	assert.JSONEq(t, `[{"n": 1, "id": "A"}, 2]`, string(list.JSON()))
}
