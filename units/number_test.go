package units

import (
	"fmt"
	"math/big"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// math/big is the oracle here: every operation on the words is asked of it as well, with operands
// of everyday sizes and of the largest that pass the door.

// drawCoefficient has its bit length drawn first, so that all sizes are as likely as each other.
func drawCoefficient(t *rapid.T, label string) u128 {
	size := rapid.IntRange(0, 113).Draw(t, label+" bits")
	c := u128{rapid.Uint64().Draw(t, label+" high"), rapid.Uint64().Draw(t, label+" low")}
	switch {
	case size < 64:
		c = u128{0, c.lo & (1<<size - 1)}
	default:
		c.hi &= 1<<(size-64) - 1
	}
	if !c.less(pow10wide[maxDigits]) {
		c = pow10wide[maxDigits].minus(u128{0, 1})
	}
	return c
}

// drawNumber stays below 10^24, the bound of every kind's first unit.
func drawNumber(t *rapid.T, label string) number {
	coef := drawCoefficient(t, label)
	places := rapid.IntRange(max(0, coef.digits()-maxWhole), maxPlaces).Draw(t, label+" places")
	n := number{coef: coef, places: uint8(places)}
	return n.signed(rapid.Bool().Draw(t, label+" negative"))
}

// drawRatio is a pair of some table.
func drawRatio(t *rapid.T) ratio {
	all := allKinds()
	k := all[rapid.IntRange(0, len(all)-1).Draw(t, "kind")]
	return k.ratios[rapid.IntRange(0, len(k.ratios)-1).Draw(t, "pair")]
}

func drawMode(t *rapid.T) Rounding {
	return rapid.SampledFrom([]Rounding{ToNearestEven, ToPositiveInf, ToNegativeInf}).Draw(t, "mode")
}

func TestWordsAgreeWithBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := u128{rapid.Uint64().Draw(t, "a high"), rapid.Uint64().Draw(t, "a low")}
		b := u128{rapid.Uint64().Draw(t, "b high"), rapid.Uint64().Draw(t, "b low")}
		m := rapid.Uint64Min(1).Draw(t, "word")
		word := new(big.Int).SetUint64(m)

		require.Equal(t, a, u128of(a.big()))
		require.Equal(t, a.big().BitLen(), a.bitLen())
		require.Equal(t, a.big().Cmp(b.big()), a.cmp(b))
		require.Equal(t, a.big().Cmp(b.big()) < 0, a.less(b))
		if digits := a.digits(); !a.isZero() {
			require.Len(t, a.big().String(), digits)
		}

		sum, ok := a.plus(b)
		exact := new(big.Int).Add(a.big(), b.big())
		require.Equal(t, exact.BitLen() <= 128, ok)
		if ok {
			require.Zero(t, exact.Cmp(sum.big()))
		}
		if !a.less(b) {
			require.Zero(t, new(big.Int).Sub(a.big(), b.big()).Cmp(a.minus(b).big()))
		}

		product := a.times(m)
		require.Zero(t, new(big.Int).Mul(a.big(), word).Cmp(product.big()))
		require.Equal(t, product.big().BitLen(), product.bitLen())
		longer, ok := product.times(m)
		exact = new(big.Int).Mul(product.big(), word)
		require.Equal(t, exact.BitLen() <= 192, ok)
		if ok {
			require.Zero(t, exact.Cmp(longer.big()))
		}
		q, r := product.over(m)
		require.Equal(t, a, q.low128())
		require.Zero(t, r)

		narrow, rest := a.over(m)
		bigQ, bigR := new(big.Int).QuoRem(a.big(), word, new(big.Int))
		require.Zero(t, bigQ.Cmp(narrow.big()))
		require.Equal(t, bigR.Uint64(), rest)

		n := rapid.IntRange(0, 45).Draw(t, "tens")
		shifted, ok := a.shift10(n)
		exact = new(big.Int).Mul(a.big(), pow10big(n))
		require.Equal(t, exact.BitLen() <= 128, ok)
		if ok {
			require.Zero(t, exact.Cmp(shifted.big()))
		}
	})
}

func (a u192) big() *big.Int {
	n := new(big.Int).SetUint64(a.hi)
	return n.Lsh(n, 128).Or(n, a.low128().big())
}

func TestDigitsAtEveryPowerOfTen(t *testing.T) {
	assert.Zero(t, u128{}.digits())
	for n := 1; n < len(pow10wide); n++ {
		assert.Equal(t, n+1, pow10wide[n].digits(), "10^%d", n)
		assert.Equal(t, n, pow10wide[n].minus(u128{0, 1}).digits(), "10^%d - 1", n)
	}
}

func TestCompareAgreesWithBigOnBothPaths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, r := drawNumber(t, "a"), drawNumber(t, "b"), drawRatio(t)
		left := a.rat()
		want := left.Mul(left, r.rat()).Cmp(b.rat())
		require.Equal(t, want, a.cmpScaled(b, r))
		if a.sign() > 0 && b.sign() > 0 {
			require.Equal(t, want, cmpSlow(a, b, r))
			require.Equal(t, want, cmpMagnitudes(a, b, r))
		}
	})
}

func TestCompareWordsAgreesWithBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, r := rapid.Uint64().Draw(t, "a"), rapid.Uint64().Draw(t, "b"), drawRatio(t)
		shift := rapid.IntRange(1-len(pow10), len(pow10)-1).Draw(t, "shift")
		if rapid.Bool().Draw(t, "tie") {
			a, r, shift = b, ratio{num: r.den, den: r.den}, 0
			a += rapid.Uint64Range(0, 1).Draw(t, "off by")
		}
		left := u128{0, a}.times(r.num).big()
		right := u128{0, b}.times(r.den).big()
		tens := new(big.Int).SetUint64(pow10[max(shift, -shift)])
		if shift > 0 {
			left.Mul(left, tens)
		} else {
			right.Mul(right, tens)
		}
		require.Equal(t, left.Cmp(right), cmpWords(a, b, &r, shift))
	})
}

// Numbers that are nearly or exactly equal are where a comparison can go wrong.
func TestCompareNearTies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, r := drawNumber(t, "a"), drawRatio(t)
		b, exact := a.scaled(r)
		x := a.rat()
		x.Mul(x, r.rat())
		require.Equal(t, x.Cmp(b.rat()), a.cmpScaled(b, r))
		require.Equal(t, exact, a.cmpScaled(b, r) == 0)
	})
}

func TestRoundingAgreesOnBothPaths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, r, mode := drawNumber(t, "a"), drawRatio(t), drawMode(t)
		places := rapid.IntRange(-40, 70).Draw(t, "places")
		fast, fastExact := a.scaledTo(r, places, mode)
		slow, slowExact := a.scaledSlow(r, clampPlaces(places), mode)
		require.Equal(t, slow, fast)
		require.Equal(t, slowExact, fastExact)

		x := a.rat()
		x.Mul(x, r.rat())
		order := fast.rat().Cmp(x)
		require.Equal(t, fastExact, order == 0)
		switch mode {
		case ToPositiveInf:
			require.GreaterOrEqual(t, order, 0)
		case ToNegativeInf:
			require.LessOrEqual(t, order, 0)
		}
		gap := new(big.Rat).Sub(fast.rat(), x)
		unit := new(big.Rat).SetFrac(big.NewInt(1), pow10big(max(int(fast.places), 0)))
		if places < 0 {
			unit = new(big.Rat).SetInt(pow10big(-clampPlaces(places)))
		}
		if mode == ToNearestEven {
			gap.Add(gap, gap)
		}
		require.LessOrEqual(t, gap.Abs(gap).Cmp(unit), 0, "off by more than the last place allows")
	})
}

// In keeps 34 digits: no decimal of 34 digits and 60 places lies nearer.
func TestScaledIsTheNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, r := drawNumber(t, "a"), drawRatio(t)
		x := a.rat()
		x.Mul(x, r.rat())
		got, exact := a.scaled(r)
		want, wantExact := roundRat(x)
		require.Equal(t, want, got)
		require.Equal(t, wantExact, exact)
	})
}

func TestSumAgreesWithBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawNumber(t, "a"), drawNumber(t, "b")
		sum, exact := a.plus(b)
		x := a.rat()
		x.Add(x, b.rat())
		if exact {
			require.Zero(t, x.Cmp(sum.rat()))
			return
		}
		want, wantExact := roundRat(x)
		require.False(t, wantExact)
		require.Equal(t, want, sum)
	})
}

// A sum halfway between two numbers of 34 digits goes to the even one.
func TestSumsAtATieGoToEven(t *testing.T) {
	for _, c := range []struct{ last, next int64 }{{0, 0}, {1, 2}, {2, 2}, {3, 4}} {
		whole := new(big.Int).Add(pow10big(33), big.NewInt(c.last)) // 34 digits
		for _, sign := range []int64{1, -1} {
			x := new(big.Rat).SetInt(whole)
			x.Add(x, big.NewRat(1, 2)).Mul(x, big.NewRat(sign, 1))
			got, exact := roundRat(x)
			want := new(big.Int).Add(pow10big(33), big.NewInt(c.next))
			require.False(t, exact)
			require.Zero(t, want.Mul(want, big.NewInt(sign)).Cmp(got.bigInt()), "%s", x.FloatString(1))
		}
	}
}

func TestRoundRatTo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, r, mode := drawNumber(t, "a"), drawRatio(t), drawMode(t)
		places := rapid.IntRange(-40, 70).Draw(t, "places")
		x := a.rat()
		x.Mul(x, r.rat())
		want, _ := a.scaledTo(r, places, mode)
		got, ok := roundRatTo(x, places, mode)
		if !ok {
			limit := new(big.Rat).SetInt(pow10big(maxDigits - 1))
			require.Positive(t, x.Abs(x).Cmp(limit), "refused although it is small")
			return
		}
		require.Equal(t, want, got)
	})
	for name, x := range map[string]*big.Rat{
		"nil":              nil,
		"10^34":            new(big.Rat).SetInt(pow10big(34)),
		"10^400":           new(big.Rat).SetInt(pow10big(400)),
		"a long numerator": new(big.Rat).SetInt(new(big.Int).Lsh(big.NewInt(1), maxRatBits+1)),
		"a long denominator": new(big.Rat).SetFrac(big.NewInt(1),
			new(big.Int).Lsh(big.NewInt(1), maxRatBits+1)),
	} {
		_, ok := roundRatTo(x, 2, ToNearestEven)
		assert.False(t, ok, name)
	}
}

func TestPrintedDigits(t *testing.T) {
	for _, c := range []struct {
		n    number
		want string
	}{
		{number{}, "0"},
		{number{places: 3}, "0.000"},
		{number{coef: u128{0, 5}, places: 3}, "0.005"},
		{number{coef: u128{0, 1250}, places: 2, neg: true}, "-12.50"},
		{number{coef: u128{0, 1<<64 - 1}}, "18446744073709551615"},
		{number{coef: pow10wide[33]}, "1000000000000000000000000000000000"},
		{number{coef: pow10wide[34].minus(u128{0, 1}), places: 34}, "0." + "9999999999999999999999999999999999"},
		{number{coef: u128{0, 1}, places: 60}, "0." + fmt.Sprintf("%059d", 0) + "1"},
	} {
		assert.Equal(t, c.want, string(c.n.appendTo(nil)))
	}
	rapid.Check(t, func(t *rapid.T) {
		n := drawNumber(t, "n")
		text := string(n.appendTo(nil))
		require.Equal(t, n.rat().FloatString(int(n.places)), text)
		back, end, problem := scanNumber(text, 0)
		require.Nil(t, problem)
		require.Equal(t, len(text), end)
		require.Equal(t, n, back)
	})
}

func TestDecimalThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNumber(t, "n")
		back, ok := fromDecimal(n.decimal())
		require.True(t, ok)
		require.Equal(t, n, back)
	})
	for name, d := range map[string]decimal.Decimal{
		"35 digits":                   decimal.RequireFromString("12345678901234567890123456789012345"),
		"61 places":                   decimal.New(1, -61),
		"an exponent of 35":           decimal.New(1, 35),
		"an exponent of 100 million":  decimal.New(1, 1e8),
		"an exponent of -100 million": decimal.New(1, -1e8),
		"34 digits, shifted":          decimal.New(10, 33),
	} {
		_, ok := fromDecimal(d)
		assert.False(t, ok, name)
	}
	n, ok := fromDecimal(decimal.New(12, 3))
	require.True(t, ok)
	assert.Equal(t, "12000", string(n.appendTo(nil)))
}

func TestFloat64IsTheNearest(t *testing.T) {
	for places := range maxPlaces + 1 { // and at every place the doubles on both sides of what a double holds
		for _, coef := range []uint64{1, 3, 1<<53 - 1, 1 << 53, 1<<53 + 1} {
			n := number{coef: u128{0, coef}, places: uint8(places)}
			want, _ := n.rat().Float64()
			assert.Equal(t, want, n.float64(), "%d at %d places", coef, places)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		n := drawNumber(t, "n")
		want, _ := n.rat().Float64()
		require.Equal(t, want, n.float64())
	})
}

// RatIn reduces one fraction; by two and their product it is the same.
func TestRatInIsTheProductOfTwoFractions(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		digits := decimal.New(rapid.Int64().Draw(rt, "digits"), -rapid.Int32Range(0, 40).Draw(rt, "places"))
		from := TorqueUnit(rapid.IntRange(0, len(torqueKind.rows)-1).Draw(rt, "from"))
		to := TorqueUnit(rapid.IntRange(0, len(torqueKind.rows)-1).Draw(rt, "to"))
		q, err := New(digits, from)
		require.NoError(rt, err)
		factor, ok := torqueKind.ratio(uint8(from), uint8(to))
		require.True(rt, ok)
		want := factor.rat()
		require.Zero(rt, want.Mul(want, q.num().rat()).Cmp(q.RatIn(to)), "%v in %v", q, to)
	})
}

// Where degrees and the distance to absolute zero add up to a number, no two fractions are added.
func TestAbsoluteIsTheSumOfFractions(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		scale := rapid.SampledFrom([]TemperatureScale{Celsius, Fahrenheit, Kelvin}).Draw(rt, "scale")
		degrees := number{coef: drawCoefficient(rt, "degrees"), places: uint8(rapid.IntRange(0, maxPlaces).Draw(rt, "places"))}
		zero, size := scale.offset()
		want := zero.rat()
		want.Add(want, degrees.rat())
		want.Mul(want, Factor(size, KelvinDifference))
		require.Zero(rt, want.Cmp(temperature(degrees, scale).absolute()), "%v", degrees)
	})
}
