package torque

import (
	"math"
	"math/big"
)

// The normal distribution, twice: as floats, good to 1e-8 and fast, and as a proven enclosure for
// the few cases that floats can't tell apart. Whatever is decided or printed is the same with the
// second alone.

// upperTail is 1-Φ(z).
func upperTail(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }

// normalBits is the scale of the integers in which the series below is summed: its terms reach
// e^72 < 2^104 before they fall.
const normalBits = 320

// farTail is the deviation beyond which only a bound is given: 1-Φ(12) < φ(12)/12 < 1e-32.
var (
	farTail      = big.NewRat(12, 1)
	farTailBound = tenth(32)
)

// encloseUpperTail encloses 1-Φ(z), to 1e-32 or better.
//
// Φ(z) - 1/2 = 1/√(2π) · Σ (-1)^n z^(2n+1) / (n!·2^n·(2n+1)), summed with every term rounded down
// for the lower bound and up for the upper; once the terms fall, the first one left out bounds
// what is missing.
func encloseUpperTail(z *big.Rat) interval {
	if z.Sign() < 0 {
		i := encloseUpperTail(new(big.Rat).Neg(z))
		return interval{new(big.Rat).Sub(one, i.hi), new(big.Rat).Sub(one, i.lo)}
	}
	if z.Cmp(farTail) > 0 {
		return interval{new(big.Rat), farTailBound}
	}
	lo, _ := normalSeries(scaleUp(z, false))
	_, hi := normalSeries(scaleUp(z, true))
	low := new(big.Rat).SetFrac(lo, normalUnit)
	high := new(big.Rat).SetFrac(hi, normalUnit)
	low.Mul(low, inverseRoot.lo)
	high.Mul(high, inverseRoot.hi)
	return interval{high.Sub(half, high), low.Sub(half, low)}
}

var normalUnit = new(big.Int).Lsh(big.NewInt(1), normalBits)

// inverseRoot encloses 1/√(2π).
var inverseRoot = func() interval {
	square := func(x *big.Rat, up bool) *big.Rat { // √(1/(2π)) of one bound of π
		x = new(big.Rat).Mul(x, revolution) // degree·360 = 2π
		n := new(big.Int).Lsh(x.Denom(), 2*normalBits)
		n.Quo(n, x.Num()).Sqrt(n)
		if up {
			n.Add(n, big.NewInt(2)) // one for the quotient, one for the root
		}
		return new(big.Rat).SetFrac(n, normalUnit)
	}
	return interval{square(degree.hi, false), square(degree.lo, true)}
}()

func scaleUp(x *big.Rat, up bool) *big.Int {
	return divide(new(big.Int).Lsh(x.Num(), normalBits), x.Denom(), up)
}

// normalSeries encloses the sum for 0 <= z <= 12, at the scale of normalBits.
func normalSeries(z *big.Int) (lo, hi *big.Int) {
	square := new(big.Int).Mul(z, z) // at 2·normalBits: exact
	lo, hi = new(big.Int).Set(z), new(big.Int).Set(z)
	termLo, termHi := new(big.Int).Set(z), new(big.Int).Set(z) // z^(2n+1)/(n!·2^n)
	for n := int64(1); ; n++ {
		divisor := new(big.Int).Lsh(big.NewInt(2*n), 2*normalBits)
		falling := square.Cmp(divisor) < 0
		termLo = divide(termLo.Mul(termLo, square), divisor, false)
		termHi = divide(termHi.Mul(termHi, square), divisor, true)
		odd := big.NewInt(2*n + 1)
		partLo := divide(new(big.Int).Set(termLo), odd, false)
		partHi := divide(new(big.Int).Set(termHi), odd, true)
		if falling && termHi.BitLen() <= 1 {
			return lo.Sub(lo, partHi), hi.Add(hi, partHi)
		}
		if n%2 == 1 {
			lo.Sub(lo, partHi)
			hi.Sub(hi, partLo)
		} else {
			lo.Add(lo, partLo)
			hi.Add(hi, partHi)
		}
	}
}
