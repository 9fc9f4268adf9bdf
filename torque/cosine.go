package torque

import (
	"math/big"
)

// interval is a closed interval of rationals that is proven to hold a value: lo <= value <= hi.
type interval struct{ lo, hi *big.Rat }

func exactly(x *big.Rat) interval { return interval{x, x} }

// cosine encloses the cosine of an angle in degrees. At whole multiples of 60° and of 90° it is
// exact; at any other rational number of degrees the cosine is irrational (Niven's theorem), and
// the interval is narrower than 1e-55.
//
// Method: the angle is brought into 0 to 90° without rounding and multiplied by an enclosure of
// π/180; the Taylor series is summed in integers of 2^-192 with every term rounded down for the
// lower bound and up for the upper, and the first term left out is added to both sides, which is
// more than an alternating series of falling terms can still change.
func cosine(degrees *big.Rat) interval {
	d, negative := firstQuadrant(degrees)
	var c interval
	switch {
	case d.Sign() == 0:
		c = exactly(one)
	case d.Cmp(sixty) == 0:
		c = exactly(half)
	case d.Cmp(ninety) == 0:
		c = exactly(new(big.Rat))
	default:
		c = taylorCosine(d)
	}
	if negative {
		return interval{new(big.Rat).Neg(c.hi), new(big.Rat).Neg(c.lo)}
	}
	return c
}

var (
	sixty      = big.NewRat(60, 1)
	ninety     = big.NewRat(90, 1)
	straight   = big.NewRat(180, 1)
	revolution = big.NewRat(360, 1)
)

// firstQuadrant is the angle of 0 to 90° whose cosine is that of the given one, or its negative.
func firstQuadrant(degrees *big.Rat) (d *big.Rat, negative bool) {
	turns := new(big.Rat).Quo(degrees, revolution)
	whole := new(big.Int).Div(turns.Num(), turns.Denom()) // Euclidean: rounds down for a positive divisor
	d = turns.Sub(turns, new(big.Rat).SetInt(whole))
	d.Mul(d, revolution)
	if d.Cmp(straight) > 0 {
		d.Sub(revolution, d)
	}
	if d.Cmp(ninety) > 0 {
		return d.Sub(straight, d), true
	}
	return d, false
}

// fixedBits is the scale of the integers in which series are summed.
const fixedBits = 192

// The digits of π are those of the constant math.Pi (OEIS A000796), cut off, not rounded; a test
// holds them against Machin's formula.
const (
	piDigits = "3.14159265358979323846264338327950288419716939937510582097494459"
	piPlaces = 62
)

// degree encloses π/180.
var degree = func() interval {
	lo, _ := new(big.Rat).SetString(piDigits)
	last := new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(piPlaces), nil))
	hi := last.Add(lo, last)
	return interval{lo.Quo(lo, straight), hi.Quo(hi, straight)}
}()

// taylorCosine encloses the cosine of 0 < d < 90 degrees, where it falls as the angle grows.
func taylorCosine(d *big.Rat) interval {
	small := toFixed(new(big.Rat).Mul(d, degree.lo), false)
	large := toFixed(new(big.Rat).Mul(d, degree.hi), true)
	_, hi := cosineBounds(small)
	lo, _ := cosineBounds(large)
	return interval{fromFixed(lo), fromFixed(hi)}
}

// cosineBounds encloses cos(x·2^-fixedBits), for x of no more than π/2.
func cosineBounds(x *big.Int) (lo, hi *big.Int) {
	unit := new(big.Int).Lsh(big.NewInt(1), fixedBits)
	square := new(big.Int).Mul(x, x) // at 2·fixedBits: exact
	lo, hi = new(big.Int).Set(unit), new(big.Int).Set(unit)
	termLo, termHi := new(big.Int).Set(unit), new(big.Int).Set(unit)
	for n := int64(1); ; n++ {
		divisor := new(big.Int).Lsh(big.NewInt((2*n-1)*(2*n)), 2*fixedBits)
		termLo = divide(termLo.Mul(termLo, square), divisor, false)
		termHi = divide(termHi.Mul(termHi, square), divisor, true)
		if termHi.BitLen() <= 1 { // no more than one unit of the last place
			return lo.Sub(lo, termHi), hi.Add(hi, termHi)
		}
		if n%2 == 1 {
			lo.Sub(lo, termHi)
			hi.Sub(hi, termLo)
		} else {
			lo.Add(lo, termLo)
			hi.Add(hi, termHi)
		}
	}
}

// divide is a/b for a >= 0 and b > 0, rounded down or up. It changes a.
func divide(a, b *big.Int, up bool) *big.Int {
	rest := new(big.Int)
	a.QuoRem(a, b, rest)
	if up && rest.Sign() != 0 {
		a.Add(a, big.NewInt(1))
	}
	return a
}

func toFixed(x *big.Rat, up bool) *big.Int {
	return divide(new(big.Int).Lsh(x.Num(), fixedBits), x.Denom(), up)
}

func fromFixed(n *big.Int) *big.Rat {
	return new(big.Rat).SetFrac(n, new(big.Int).Lsh(big.NewInt(1), fixedBits))
}
