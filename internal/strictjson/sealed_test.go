package strictjson

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// An object that is sealed is what it would be with the field in it from the start, first, last and between.
func TestSealedIsCanonical(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, err := Tree(rapid.MapOf(rapid.SampledFrom([]string{"a", "é", "\"", "k", "m", "ma", "z", "𝄞", "\uffff"}), rapid.IntRange(-3, 1<<30)).Draw(t, "object"))
		require.NoError(t, err)
		key := rapid.SampledFrom([]string{"b", "ma!", "zz", "A"}).Draw(t, "key")
		slow := n.With(key, NewText(key, "0af"))
		want, err := slow.Canonical()
		require.NoError(t, err)
		_, err = n.Canonical()
		require.NoError(t, err)
		fast := n.with(key, "0af")
		require.Equal(t, string(want), string(fast.JSON()))
		field, has := fast.Member(key)
		require.True(t, has)
		require.Equal(t, `"0af"`, string(field.JSON()))
		again, err := fast.Canonical()
		require.NoError(t, err)
		require.Equal(t, string(want), string(again))
	})
}
