package drain

import (
	"encoding/binary"
	"math/big"
	"math/bits"
)

// Fixed-point numbers for the fuel equations: whole multiples of 2^-160, so that every machine
// writes the same bytes. A product or a quotient is cut to the multiple below it or nearer zero;
// the equations lose fewer than twenty bits by that, which leaves 40 decimal places.

const fractionBits = 160

// fixed is n·2^-160, or minus that. 256 bits hold whole parts below 2^96: a density of 10^24 kg/m³, and
// whatever the equations make of one in the tables.
type fixed struct {
	n     words
	minus bool // not of zero
}

// words is a whole number, the least significant 64 bits first.
type words [4]uint64

var one = fixedInt(1)

func fixedInt(i int64) fixed { return fixedRat(new(big.Rat).SetInt64(i)) }

// fixedRat is the multiple nearest zero of what x is.
func fixedRat(x *big.Rat) fixed {
	n := new(big.Int).Lsh(x.Num(), fractionBits)
	n.Quo(n, x.Denom())
	var bytes [32]byte
	n.FillBytes(bytes[:])
	a := fixed{minus: n.Sign() < 0}
	for i := range a.n {
		a.n[i] = binary.BigEndian.Uint64(bytes[24-8*i:])
	}
	return a
}

// fixedText is for the constants of the standards, written as they print them.
func fixedText(text string) fixed { return fixedRat(exact(text)) }

func (a words) plus(b words) words {
	var carry uint64
	for i := range a {
		a[i], carry = bits.Add64(a[i], b[i], carry)
	}
	return a
}

// without is a - b for a >= b.
func (a words) without(b words) words {
	var borrow uint64
	for i := range a {
		a[i], borrow = bits.Sub64(a[i], b[i], borrow)
	}
	return a
}

func (a words) less(b words) bool {
	var borrow uint64
	for i := range a {
		_, borrow = bits.Sub64(a[i], b[i], borrow)
	}
	return borrow == 1
}

// size is the number of words without the zeros in front.
func (a words) size() int {
	size := len(a)
	for size > 0 && a[size-1] == 0 {
		size--
	}
	return size
}

// over divides by one word in place, toward zero.
func over(n []uint64, by uint64) {
	var rest uint64
	for i := len(n) - 1; i >= 0; i-- {
		n[i], rest = bits.Div64(rest, n[i], by)
	}
}

func (a words) signed(neg bool) fixed { return fixed{a, neg && a != words{}} }

// floored is signed, and one further down where a part of one was cut off below zero.
func (a words) floored(neg, cut bool) fixed {
	if neg && cut {
		a = a.plus(words{1})
	}
	return a.signed(neg)
}

func (a fixed) neg() fixed { return a.n.signed(!a.minus) }

func (a fixed) add(b fixed) fixed {
	switch {
	case a.minus == b.minus:
		return a.n.plus(b.n).signed(a.minus)
	case a.n.less(b.n):
		return b.n.without(a.n).signed(b.minus)
	}
	return a.n.without(b.n).signed(a.minus)
}

func (a fixed) sub(b fixed) fixed { return a.add(b.neg()) }

func (a fixed) cmp(b fixed) int {
	switch d := a.sub(b); {
	case d.minus:
		return -1
	case d.n == words{}:
		return 0
	}
	return +1
}

// within reports whether a is nearer zero than a bound is.
func (a fixed) within(bound fixed) bool { return a.n.less(bound.n) }

// halved is a number cut to whole ones after it was halved so many times, fewer than 64.
func halved(a words, times uint) words {
	for i := range a {
		a[i] >>= times
		if i+1 < len(a) {
			a[i] |= a[i+1] << (64 - times)
		}
	}
	return a
}

// mulAdd is x·y + z + carry in two words.
func mulAdd(x, y, z, carry uint64) (hi, lo uint64) {
	hi, lo = bits.Mul64(x, y)
	lo, c := bits.Add64(lo, z, 0)
	hi += c
	lo, c = bits.Add64(lo, carry, 0)
	return hi + c, lo
}

// mul is the product, rounded down.
func (a fixed) mul(b fixed) fixed {
	if a.n[3]|b.n[3] != 0 {
		return a.mulWide(b)
	}
	x, y := &a.n, &b.n
	c, p0 := mulAdd(x[0], y[0], 0, 0)
	c, p1 := mulAdd(x[0], y[1], 0, c)
	p3, p2 := mulAdd(x[0], y[2], 0, c)
	c, p1 = mulAdd(x[1], y[0], p1, 0)
	c, p2 = mulAdd(x[1], y[1], p2, c)
	p4, p3 := mulAdd(x[1], y[2], p3, c)
	c, p2 = mulAdd(x[2], y[0], p2, 0)
	c, p3 = mulAdd(x[2], y[1], p3, c)
	p5, p4 := mulAdd(x[2], y[2], p4, c)
	n := words{p2>>32 | p3<<32, p3>>32 | p4<<32, p4>>32 | p5<<32, p5 >> 32}
	return n.floored(a.minus != b.minus, p0|p1|p2<<32 != 0)
}

// mulWide is mul of numbers of any size.
func (a fixed) mulWide(b fixed) fixed {
	var p [8]uint64
	for i, x := range a.n {
		var carry uint64
		for j, y := range b.n {
			carry, p[i+j] = mulAdd(x, y, p[i+j], carry)
		}
		p[i+4] = carry
	}
	var n words
	for i := range n {
		n[i] = p[i+2]>>32 | p[i+3]<<32
	}
	return n.floored(a.minus != b.minus, p[0]|p[1]|p[2]<<32 != 0)
}

// div is the quotient, rounded toward zero: long division with words for digits (Knuth, The Art of
// Computer Programming, 4.3.1, algorithm D, from memory).
func (a fixed) div(b fixed) fixed {
	rest := [8]uint64{2: a.n[0] << 32, 6: a.n[3] >> 32}
	for i := 1; i < len(a.n); i++ {
		rest[i+2] = a.n[i]<<32 | a.n[i-1]>>32
	}
	size := b.n.size()
	if size < 2 {
		over(rest[:], b.n[0])
		return words(rest[:4]).signed(a.minus != b.minus)
	}
	shift := bits.LeadingZeros64(b.n[size-1]) // until the divisor's highest bit is set
	up := func(n []uint64) {
		for i := len(n) - 1; i > 0; i-- {
			n[i] = n[i]<<shift | n[i-1]>>(64-shift)
		}
		n[0] <<= shift
	}
	by := b.n
	up(by[:])
	up(rest[:])
	var n words
	for j := len(rest) - 1 - size; j >= 0; j-- {
		digit := digitOf(rest[j:j+size+1], by[:size])
		if j < len(n) {
			n[j] = digit
		}
	}
	return n.signed(a.minus != b.minus)
}

// digitOf is the next digit of a quotient; rest is left with what remains.
func digitOf(rest, by []uint64) uint64 {
	size := len(by)
	top, next := by[size-1], by[size-2]
	digit, left, c := ^uint64(0), rest[size-1]+top, uint64(0)
	small := left >= top // a word holds what is left
	if rest[size] < top {
		digit, left = bits.Div64(rest[size], rest[size-1], top)
		small = true
	}
	for small {
		hi, lo := bits.Mul64(digit, next)
		if hi < left || hi == left && lo <= rest[size-2] {
			break
		}
		digit--
		left, c = bits.Add64(left, top, 0)
		small = c == 0
	}
	var carry, borrow, lo uint64
	for i, y := range by {
		carry, lo = mulAdd(digit, y, 0, carry)
		rest[i], borrow = bits.Sub64(rest[i], lo, borrow)
	}
	if rest[size], borrow = bits.Sub64(rest[size], carry, borrow); borrow == 0 {
		return digit
	}
	c = 0 // one too many
	for i, y := range by {
		rest[i], c = bits.Add64(rest[i], y, c)
	}
	rest[size] += c
	return digit - 1
}

// big is n with its sign.
func (a fixed) big() *big.Int {
	var bytes [32]byte
	for i, word := range a.n {
		binary.BigEndian.PutUint64(bytes[24-8*i:], word)
	}
	n := new(big.Int).SetBytes(bytes[:])
	if a.minus {
		n.Neg(n)
	}
	return n
}

// rat is the number as an exact fraction.
func (a fixed) rat() *big.Rat {
	return new(big.Rat).SetFrac(a.big(), new(big.Int).Lsh(big.NewInt(1), fractionBits))
}

// exp is e^x for |x| < 1, to 2^-144: Taylor's series of x/2^8, squared eight times. Each squaring
// doubles the error of the twenty terms before it.
func (a fixed) exp() fixed {
	const halvings = 8
	x := halved(a.n, halvings).floored(a.minus, a.n[0]<<(64-halvings) != 0)
	sum, term := one, one
	for n := uint64(1); ; n++ {
		term = term.mul(x)
		if over(term.n[:], n); term.n == (words{}) {
			break
		}
		sum = sum.add(term)
	}
	for range halvings {
		sum = sum.mul(sum)
	}
	return sum
}

// polynomial is c[0] + c[1]·x + c[2]·x² + …
func polynomial(x fixed, c ...fixed) fixed {
	var sum fixed
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum.mul(x).add(c[i])
	}
	return sum
}
