package units

import "math/bits"

// Wide integers, least significant word first in the arithmetic, most significant first in the
// names. Nothing here allocates; whoever needs more than 192 bits asks math/big (slow.go).

// u128 is hi·2^64 + lo.
type u128 struct{ hi, lo uint64 }

// u192 is hi·2^128 + mid·2^64 + lo.
type u192 struct{ hi, mid, lo uint64 }

// pow10 holds the powers of ten that fit 64 bits.
var pow10 = [20]uint64{
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9,
	1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19,
}

// pow10wide holds 10^0 to 10^38, all that fit 128 bits.
var pow10wide = func() (p [39]u128) {
	p[0] = u128{0, 1}
	for i := 1; i < len(p); i++ {
		p[i] = p[i-1].times(10).low128()
	}
	return p
}()

func (a u128) isZero() bool { return a.hi|a.lo == 0 }

func (a u128) less(b u128) bool { return a.hi < b.hi || a.hi == b.hi && a.lo < b.lo }

func (a u128) cmp(b u128) int {
	switch {
	case a == b:
		return 0
	case a.less(b):
		return -1
	}
	return +1
}

// plus adds and reports whether the sum still fits 128 bits.
func (a u128) plus(b u128) (sum u128, ok bool) {
	lo, carry := bits.Add64(a.lo, b.lo, 0)
	hi, carry := bits.Add64(a.hi, b.hi, carry)
	return u128{hi, lo}, carry == 0
}

// minus subtracts b, which is no larger than a.
func (a u128) minus(b u128) u128 {
	lo, borrow := bits.Sub64(a.lo, b.lo, 0)
	hi, _ := bits.Sub64(a.hi, b.hi, borrow)
	return u128{hi, lo}
}

// times multiplies by a word; the product always fits.
func (a u128) times(m uint64) u192 {
	midLow, lo := bits.Mul64(a.lo, m)
	if a.hi == 0 {
		return u192{0, midLow, lo}
	}
	hi, mid := bits.Mul64(a.hi, m)
	mid, carry := bits.Add64(mid, midLow, 0)
	return u192{hi + carry, mid, lo}
}

// over divides by a word.
func (a u128) over(d uint64) (quotient u128, remainder uint64) {
	if a.hi == 0 {
		return u128{0, a.lo / d}, a.lo % d
	}
	hi, r := a.hi/d, a.hi%d
	lo, r := bits.Div64(r, a.lo, d)
	return u128{hi, lo}, r
}

func (a u128) bitLen() int {
	if a.hi != 0 {
		return 64 + bits.Len64(a.hi)
	}
	return bits.Len64(a.lo)
}

// digits counts the decimal digits of a; zero has none.
func (a u128) digits() int {
	n := a.bitLen() * 1233 >> 12 // 1233/4096 is just below log10(2)
	if a.less(pow10wide[n]) {
		return n
	}
	return n + 1
}

// shift10 multiplies by 10^n and reports whether the product fits 128 bits.
func (a u128) shift10(n int) (u128, bool) {
	switch {
	case n == 0 || a.isZero():
		return a, true
	case n > 38:
		return u128{}, false
	case n > 19:
		a, ok := a.shift10(19)
		if !ok {
			return u128{}, false
		}
		return a.shift10(n - 19)
	}
	p := a.times(pow10[n])
	return p.low128(), p.hi == 0
}

func (a u192) low128() u128 { return u128{a.mid, a.lo} }

func (a u192) cmp(b u192) int {
	if a.hi != b.hi {
		if a.hi < b.hi {
			return -1
		}
		return +1
	}
	return a.low128().cmp(b.low128())
}

// times multiplies by a word and reports whether the product fits 192 bits.
func (a u192) times(m uint64) (u192, bool) {
	low := a.low128().times(m)
	over, hi := bits.Mul64(a.hi, m)
	hi, carry := bits.Add64(hi, low.hi, 0)
	return u192{hi, low.mid, low.lo}, over|carry == 0
}

// over divides by a word.
func (a u192) over(d uint64) (quotient u192, remainder uint64) {
	var hi uint64
	if a.hi != 0 {
		hi, remainder = a.hi/d, a.hi%d
	}
	mid, remainder := bits.Div64(remainder, a.mid, d)
	lo, remainder := bits.Div64(remainder, a.lo, d)
	return u192{hi, mid, lo}, remainder
}

func (a u192) bitLen() int {
	if a.hi != 0 {
		return 128 + bits.Len64(a.hi)
	}
	return a.low128().bitLen()
}
