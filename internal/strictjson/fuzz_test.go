package strictjson

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzParse: both readers read a text alike, nothing is read that encoding/json calls invalid, and the canonical form
// is its own.
func FuzzParse(f *testing.F) {
	for _, text := range []string{`{"a":[1,-0.50,1e5,true,null,"\u00e4\ud83d"]}`, `{"a":1,"a":2}`, `[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]`, "{\"\xff\":\"\u2028\"}", `{"a":01}`, `{} x`, ``, `"`,
		`{"n":1e999999999}`} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 4096 || !sameRead(t, text) {
			return
		}
		require.True(t, json.Valid(text))
		root, _ := scan(text, "")
		canonical, err := root.Canonical()
		if err != nil { // a number that no double holds
			return
		}
		again, ok := scan(canonical, "")
		require.True(t, ok)
		once, err := again.Canonical()
		require.NoError(t, err)
		require.Equal(t, string(canonical), string(once))
	})
}
