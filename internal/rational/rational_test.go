package rational

import (
	"math/big"
	"strings"
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

func TestRound(t *testing.T) {
	for _, c := range []struct {
		x      string
		places int
		want   string
	}{{"1/8", 2, "0.12"}, {"3/8", 2, "0.38"}, {"-1/8", 2, "-0.12"}, {"-3/8", 2, "-0.38"}, {"2/3", 3, "0.667"}, {"-2/3", 3, "-0.667"},
		{"5/2", 0, "2"}, {"7/2", -1, "4"}, {"1", 2, "1.00"}, {"1/3", 1e6, "0." + strings.Repeat("3", 60)}} {
		x, _ := new(big.Rat).SetString(c.x)
		assert.Equal(t, c.want, Round(x, c.places).StringFixed(max(0, int32(min(c.places, 60)))), c.x)
	}
}

func TestVulgar(t *testing.T) {
	num, den := Vulgar('⅔')
	assert.Equal(t, [2]int64{2, 3}, [2]int64{num, den})
	num, den = Vulgar('2')
	assert.Equal(t, [2]int64{}, [2]int64{num, den})
	assert.Len(t, vulgar, 18)
}
