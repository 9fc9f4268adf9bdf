package enum

import (
	"strings"
	"testing"

	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type (
	shade uint8
	mood  uint8
)

var (
	shades = New[shade]("shade", "light grey", "dark-grey", "", "black, matt").Also(4, "jet black")
	moods  = FromZero[mood]("mood", "unknown", "calm")
)

func TestReadsOneFolding(t *testing.T) {
	for text, want := range map[string]shade{
		"light grey": 1, "Light-Grey": 1, " LIGHT\u00a0 grey ": 1, "light\u2011grey": 1, "dark grey": 2, "Dark-Grey": 2,
		"black, matt": 4, "BLACK, MATT": 4, "Jet-Black": 4,
	} {
		got, err := shades.Parse(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for _, text := range []string{"", " ", "-", "lightgrey", "light grey.", "1", "shade(1)", "black", strings.Repeat("x", 1<<20),
		strings.Repeat(" ", 128) + "light grey"} {
		kept := shade(2)
		err := shades.Read(&kept, []byte(text))
		var parse *units.ParseError
		require.ErrorAs(t, err, &parse, text)
		require.ErrorIs(t, err, units.ErrSyntax)
		assert.Equal(t, shade(2), kept)
		assert.Equal(t, `light grey, dark-grey or "black, matt"`, parse.Want)
		assert.Less(t, len(err.Error()), 300)
	}
}

func TestWritesConstantsAlone(t *testing.T) {
	for e := range 256 {
		e := shade(e)
		text, err := shades.Text(e)
		value, stored := shades.Value(e)
		if e == 1 || e == 2 || e == 4 {
			require.NoError(t, err)
			require.NoError(t, stored)
			assert.True(t, shades.Has(e))
			assert.Equal(t, shades.String(e), string(text))
			assert.Equal(t, shades.String(e), value)
			continue
		}
		require.ErrorIs(t, err, units.ErrRange)
		require.ErrorIs(t, stored, units.ErrRange)
		assert.False(t, shades.Has(e))
		assert.Nil(t, value)
	}
	assert.Equal(t, "shade(3)", shades.String(3))
	assert.Equal(t, "unknown", moods.String(0))
	assert.Equal(t, "mood(2)", moods.String(2))
	assert.Equal(t, "unknown or calm", moods.List())
	assert.Equal(t, []string{"light grey", "dark-grey", "black, matt"}, shades.All())
}

func TestColumnsAndJSONHoldText(t *testing.T) {
	var e shade
	require.NoError(t, shades.Scan(&e, "dark grey"))
	require.NoError(t, shades.Scan(&e, []byte("Dark-grey")))
	require.NoError(t, shades.ReadJSON(&e, []byte(` "dark\u002dgrey" `)))
	assert.Equal(t, shade(2), e)
	for _, column := range []any{nil, int64(1), 1.0, true, struct{}{}, "grey", []byte("grey"), strings.Repeat("x", 1<<20)} {
		require.ErrorIs(t, shades.Scan(&e, column), units.ErrSyntax, "%T", column)
	}
	for _, json := range []string{"", "null", "1", "true", "{}", `["dark grey"]`, `"dark grey`, `"grey"`, `"` + strings.Repeat("x", 1<<20)} {
		err := shades.ReadJSON(&e, []byte(json))
		require.ErrorIs(t, err, units.ErrSyntax, json)
		assert.Less(t, len(err.Error()), 300)
	}
	assert.Equal(t, shade(2), e, "it stays as it was")
	assert.EqualError(t, shades.Scan(&e, nil), `shade "": NULL is not accepted; use sql.Null; want light grey, dark-grey or "black, matt"`)
}
