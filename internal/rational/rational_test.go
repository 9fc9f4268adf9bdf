package rational

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPlaces(t *testing.T) {
	for text, want := range map[string]int{"0": 0, "1200": 0, "5/8": 3, "-0.25": 2, "1e-60": 60, "1e-61": 60, "2/3": 60, "1e24": 0} {
		x, ok := new(big.Rat).SetString(text)
		require.True(t, ok)
		assert.Equal(t, want, Places(x), text)
	}
}

func TestVulgar(t *testing.T) {
	num, den := Vulgar('⅔')
	assert.Equal(t, [2]int64{2, 3}, [2]int64{num, den})
	num, den = Vulgar('2')
	assert.Equal(t, [2]int64{}, [2]int64{num, den})
	assert.Len(t, vulgar, 18)
}
