package drain

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/units"
	"github.com/shopspring/decimal"
)

// wideFixed is fixed in big.Int, the slow way: the same numbers, cut the same way.
type wideFixed struct{ n *big.Int }

func wideOf(a fixed) wideFixed { return wideFixed{a.big()} }

func (a wideFixed) add(b wideFixed) wideFixed { return wideFixed{new(big.Int).Add(a.n, b.n)} }

func (a wideFixed) mul(b wideFixed) wideFixed {
	n := new(big.Int).Mul(a.n, b.n)
	return wideFixed{n.Rsh(n, fractionBits)}
}

func (a wideFixed) div(b wideFixed) wideFixed {
	n := new(big.Int).Lsh(a.n, fractionBits)
	return wideFixed{n.Quo(n, b.n)}
}

func (a wideFixed) exp() wideFixed {
	const halvings = 8
	x := wideFixed{new(big.Int).Rsh(a.n, halvings)}
	one := new(big.Int).Lsh(big.NewInt(1), fractionBits)
	sum, term := wideFixed{one}, wideFixed{one}
	for n := int64(1); ; n++ {
		term = term.mul(x)
		if term.n.Quo(term.n, big.NewInt(n)).Sign() == 0 {
			break
		}
		sum = sum.add(term)
	}
	for range halvings {
		sum = sum.mul(sum)
	}
	return sum
}

// drawFixed is a number of so many bits at the most, among them those with words of zeros and of ones.
func drawFixed(rt *rapid.T, bits int, name string) fixed {
	word := rapid.OneOf(rapid.Uint64(), rapid.SampledFrom([]uint64{0, 1, 1 << 63, 1<<63 - 1, ^uint64(0), ^uint64(0) - 1}))
	var n words
	for i := range n {
		switch left := bits - 64*i; {
		case left >= 64:
			n[i] = word.Draw(rt, name)
		case left > 0:
			n[i] = word.Draw(rt, name) >> (64 - left)
		}
	}
	return n.signed(rapid.Bool().Draw(rt, name+" minus"))
}

// Every operation gives the bits that big.Int does, and so do the equations, which are made of nothing else.
func TestFixedIsWhatBigIntegersGive(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		bits := rapid.IntRange(1, 208)
		a, b := drawFixed(rt, bits.Draw(rt, "bits of a"), "a"), drawFixed(rt, bits.Draw(rt, "bits of b"), "b")
		wa, wb := wideOf(a), wideOf(b)
		same := func(name string, want wideFixed, got fixed) {
			require.Zero(rt, want.n.Cmp(wideOf(got).n), "%s: %v, %v: %v, not %v", name, wa.n, wb.n, wideOf(got).n, want.n)
		}
		require.Equal(rt, a, fixedRat(a.rat()))
		same("add", wa.add(wb), a.add(b))
		same("sub", wideFixed{new(big.Int).Sub(wa.n, wb.n)}, a.sub(b))
		same("neg", wideFixed{new(big.Int).Neg(wa.n)}, a.neg())
		require.Equal(rt, wa.n.Cmp(wb.n), a.cmp(b))
		require.Equal(rt, wa.n.CmpAbs(wb.n) < 0, a.within(b))
		if product := wa.mul(wb); product.n.BitLen() < 256 {
			same("mul", product, a.mul(b))
			same("mulWide", product, a.mulWide(b))
		}
		if wb.n.Sign() != 0 {
			if quotient := wa.div(wb); quotient.n.BitLen() <= 256 {
				same("div", quotient, a.div(b))
			}
		}
		x := drawFixed(rt, fractionBits, "x")
		same("exp", wideOf(x).exp(), x.exp())
		sum := wideFixed{new(big.Int)}
		for i := len(its90) - 1; i >= 0; i-- {
			sum = sum.mul(wideOf(x)).add(wideOf(its90[i]))
		}
		same("polynomial", sum, polynomial(x, its90...))
	})
	assert.Panics(t, func() { one.div(fixed{}) })
}

// A quotient's digit that is guessed two too high, or one and seen only in the end, a word that is borrowed from or
// overflows: rare by chance, and common among words of zeros, of ones and of one bit.
func TestFixedOfHardWords(t *testing.T) {
	hard := []uint64{0, 0, 1, 2, 3, 1 << 31, 1 << 32, 1<<32 - 1, 1 << 61, 1 << 62, 1 << 63, 1<<63 - 1, 1<<63 + 1, ^uint64(0), ^uint64(0) - 1}
	source := rand.New(rand.NewPCG(1, 2))
	draw := func() (n words) {
		for i := range 1 + source.IntN(len(n)) {
			n[i] = hard[source.IntN(len(hard))]
		}
		return n
	}
	same := func(name string, want wideFixed, got, a, b fixed) {
		if want.n.BitLen() <= 256 {
			require.Zero(t, want.n.Cmp(wideOf(got).n), "%s of %x and %x: %x, not %x", name, a.n, b.n, wideOf(got).n, want.n)
		}
	}
	for range 8_000 {
		a, b := draw().signed(source.IntN(2) == 0), draw().signed(source.IntN(2) == 0)
		wa, wb := wideOf(a), wideOf(b)
		same("sum", wa.add(wb), a.add(b), a, b)
		same("product", wa.mul(wb), a.mul(b), a, b)
		same("wide product", wa.mul(wb), a.mulWide(b), a, b)
		if b.n != (words{}) {
			same("quotient", wa.div(wb), a.div(b), a, b)
		}
	}
}

// A mass rounded in whole numbers is the one that fractions give, and what air lifts by one fraction what it
// is by four.
func TestMassIsWhatFractionsGive(t *testing.T) {
	modes := []units.Rounding{units.ToNearestEven, units.ToNegativeInf, units.ToPositiveInf}
	volume := rapid.Custom(func(rt *rapid.T) units.Volume {
		digits := decimal.New(rapid.Int64Range(0, 1<<62).Draw(rt, "digits"), -rapid.Int32Range(0, 24).Draw(rt, "places"))
		v, err := units.New(digits, rapid.SampledFrom([]units.VolumeUnit{units.Litre, units.CubicMetre, units.USGallon, units.Millilitre}).Draw(rt, "unit"))
		require.NoError(rt, err)
		return v
	})
	rapid.Check(t, func(rt *rapid.T) {
		density := drawFixed(rt, 171, "density")
		density.minus = false
		if rapid.Bool().Draw(rt, "few digits") { // and so ties
			density = fixedRat(big.NewRat(rapid.Int64Range(1, 2000).Draw(rt, "kg/m³"), 1<<rapid.IntRange(0, 12).Draw(rt, "halved")))
		}
		v, mode := volume.Draw(rt, "volume"), rapid.SampledFrom(modes).Draw(rt, "mode")
		want, wantErr := massInFractions(density, v.RatIn(units.CubicMetre), mode)
		got, err := massOf(density, v, mode)
		require.Equal(rt, wantErr, err)
		require.Equal(rt, want, got, "%v %v", v, mode)

		rho := units.KilogramPerCubicMetre.Of(rapid.Int64Range(2, 20000).Draw(rt, "of what is weighed"))
		lift, err := buoyancy(units.Kilogram.Of(1), rho)
		require.NoError(rt, err)
		r := rho.RatIn(units.KilogramPerCubicMetre)
		four := new(big.Rat).Mul(new(big.Rat).Sub(r, air), weights)
		four.Quo(four, new(big.Rat).Mul(new(big.Rat).Sub(weights, air), r))
		require.Zero(rt, four.Cmp(lift), "%v", rho)
	})
}

// What weighs no more than thousand is lighter than the heaviest fuel wherever it is weighed.
func TestHeaviestIsAboveThousand(t *testing.T) {
	for c := int64(-50); c <= 150; c++ {
		factor, _ := groups[fuelOil].ctl(heaviest, tStar(units.Celsius.Of(c)))
		assert.Positive(t, heaviest.mul(factor).cmp(thousand), "%d °C", c)
	}
}
