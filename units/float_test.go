package units

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestConvertFloat64sGivesTheNearest(t *testing.T) {
	ties := 0
	rapid.Check(t, func(t *rapid.T) {
		from := TorqueUnit(rapid.IntRange(0, len(torqueKind.rows)-1).Draw(t, "from"))
		to := TorqueUnit(rapid.IntRange(0, len(torqueKind.rows)-1).Draw(t, "to"))
		bits := rapid.IntRange(1, 53).Draw(t, "bits")
		x := float64(rapid.Uint64Range(0, 1<<bits).Draw(t, "digits")) * math.Pow(2, float64(rapid.IntRange(-500, 500).Draw(t, "exponent")))
		out := []float64{0}
		ConvertFloat64s(out, []float64{x}, from, to)
		exact := new(big.Rat).SetFloat64(x)
		exact.Mul(exact, Factor(from, to))
		want, _ := exact.Float64()
		if want != out[0] && isTie(exact, want) {
			ties++
			return
		}
		require.Equal(t, want, out[0])
	})
	t.Logf("exact ties that went the other way: %d", ties)
}

// isTie reports whether the exact value lies halfway between a double and a neighbour of it.
func isTie(exact *big.Rat, near float64) bool {
	for _, direction := range []float64{math.Inf(-1), math.Inf(+1)} {
		middle := new(big.Rat).SetFloat64(near)
		middle.Add(middle, new(big.Rat).SetFloat64(math.Nextafter(near, direction)))
		if middle.Quo(middle, big.NewRat(2, 1)).Cmp(exact) == 0 {
			return true
		}
	}
	return false
}

func TestConvertFloat64sEdges(t *testing.T) {
	src := []float64{math.Inf(1), math.Inf(-1), math.NaN(), 0, math.Copysign(0, -1), 145}
	for unit := range All[TorqueUnit]() {
		dst := make([]float64, len(src))
		ConvertFloat64s(dst, src, InchPound, unit)
		assert.Equal(t, src[:2], dst[:2])
		assert.True(t, math.IsNaN(dst[2]))
		assert.Zero(t, dst[3])
		assert.True(t, math.Signbit(dst[4]) && dst[4] == 0)
		assert.Equal(t, InchPound.Of(145).Float64(unit), dst[5])
	}
	// 220 to 310 in-lb: common practice, no source; the doubles are computed.
	same := []float64{220, 310}
	ConvertFloat64s(same, same, InchPound, NewtonMetre)
	assert.Equal(t, []float64{24.856662386075674, 35.025296998561177}, same)
	short := []float64{7, 7, 7}
	ConvertFloat64s(short, []float64{1}, FootPound, InchPound)
	assert.Equal(t, []float64{12, 7, 7}, short)
	ConvertFloat64s(short, []float64{1, 2}, TorqueUnit(99), InchPound)
	assert.True(t, math.IsNaN(short[0]) && math.IsNaN(short[1]) && short[2] == 7)
	ConvertFloat64s(nil, same, FootPound, InchPound)
}

// Eight are converted at a time, and what is left over one by one: a slice of any length comes out as
// its numbers do alone, in place as well, and nothing behind it is touched.
func TestConvertFloat64sOfAnyLength(t *testing.T) {
	for _, to := range []TorqueUnit{NewtonMetre, InchOunce} { // a factor of two doubles, and 16
		for n := range 27 {
			src, want := make([]float64, n), make([]float64, n)
			for i := range src {
				src[i] = 1.1 * float64(i+1)
				ConvertFloat64s(want[i:i+1], src[i:i+1], InchPound, to)
			}
			dst := append(make([]float64, n), 7)
			ConvertFloat64s(dst, src, InchPound, to)
			assert.Equal(t, append(want[:n:n], 7), dst, "%d", n)
			ConvertFloat64s(src, src, InchPound, to)
			assert.Equal(t, want, src, "%d in place", n)
		}
	}
}

// What is printed for the degree is 1.745 329 E-02 rad, and for the revolution 6.283 185 rad. Source: nist-sp811-b8.
