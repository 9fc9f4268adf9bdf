package catalogue

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/units"
)

// Forms of words go with whole numbers as they do in these languages. Source: unicode-cldr.
func TestPlurals(t *testing.T) {
	for rule, want := range map[string]map[int64]int{
		"none":         {0: 0, 1: 0, 2: 0, 5: 0},
		"one-other":    {0: 1, 1: 0, 2: 1, 11: 1, 21: 1, 101: 1},
		"one-few-many": {0: 2, 1: 0, 2: 1, 4: 1, 5: 2, 11: 2, 12: 2, 14: 2, 21: 0, 22: 1, 111: 2, 112: 2, 121: 0},
	} {
		for n, form := range want {
			assert.Equal(t, form, plurals[rule].form(n), "%s %d", rule, n)
		}
	}
	assert.Len(t, plurals, 3)
}

// say fills a sentence with values by name, each with the form that it is asked for in.
func say(t *testing.T, sentence string, values map[string]any) string {
	t.Helper()
	all, err := Load([]string{"language: en\nplural: one-other\n\n# a remark\nx/y: " + sentence + "\n"})
	require.NoError(t, err)
	return all[0].Say("x/y", func(name, form string) (string, bool) {
		v, found := values[name]
		return strings.TrimSuffix(fmt.Sprint(v, ":", form), ":"), found
	})
}

// Common practice, no source: values are put in once, forms are asked for by their name, and what is numbered repeats.
func TestSay(t *testing.T) {
	values := map[string]any{"n": 1, "mark-1": "A", "at-1": "{n}", "mark-2": "D", "at-2": 5, "mark-4": "not in turn"}
	for sentence, want := range map[string]string{
		"plain":                          "plain",
		"{n} {none} {n}":                 "1  1",
		"{at-1}, as it is":               "{n}, as it is",
		"{n/bare}":                       "1:bare",
		"marks[ {mark-#} at {at-#};] .":  "marks A at {n}; D at 5; .",
		"none[ {other-#}] {mark-2}":      "none D",
		"a brace that nothing closes {n": "a brace that nothing closes 1",
	} {
		assert.Equal(t, want, say(t, sentence, values), sentence)
	}
	for n, want := range map[string]string{"1": "bolt", "0": "bolts", "12": "bolts", "2 to 3": "bolts"} {
		all, err := Load([]string{"language: en\nplural: one-other\nx: {n|bolt|bolts}\n"})
		require.NoError(t, err)
		assert.Equal(t, want, all[0].Say("x", func(_, form string) (string, bool) { assert.Equal(t, Count, form); return n, true }))
	}
}

func TestRefusals(t *testing.T) {
	const head = "language: en\nplural: one-other\n"
	for _, wrong := range []string{"", "language: en\nplural: some\n", head + "no colon\n", head + "a: b\na: c\n", head + "a: {n|one}\n",
		head + "a: [ {n}]\n", head + "a: []\n", head + strings.Repeat("x", maxLine+1), strings.Repeat("#\n", maxBytes)} {
		all, err := Load([]string{wrong})
		assert.Empty(t, all)
		require.ErrorIs(t, err, units.ErrSyntax)
		assert.Less(t, len(err.Error()), 300)
	}
	all, err := Load([]string{head + "a: {n}\n", "language: es\nplural: none\na: {m}\n", "language: ja\nplural: none\na: {n} {n|x}\n"})
	require.ErrorIs(t, err, units.ErrSyntax)
	assert.Equal(t, []string{"en", "ja"}, Tags(all))
	at, found := Find("ja", Tags(all), err)
	require.NoError(t, found)
	assert.Equal(t, 1, at)
	_, found = Find("es", Tags(all), err)
	assert.Equal(t, err, found, "why it isn't there")
	_, found = Find("fr", Tags(all), nil)
	assert.ErrorContains(t, found, "en or ja")
	_, err = all[0].With([]string{head + "a: b\n"})
	assert.ErrorContains(t, err, "other values")
	more, err := all[0].With([]string{head + "a: the {n}\nb: new\n"})
	require.NoError(t, err)
	assert.Equal(t, map[string]string{"a": "the {n}", "b": "new"}, more.Sentences)
	assert.Equal(t, map[string]string{"a": "{n}"}, all[0].Sentences)
}
