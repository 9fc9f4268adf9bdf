package units

import (
	"cmp"
	"math/big"
	"math/bits"
	"strconv"

	"github.com/shopspring/decimal"
)

// The bounds of every magnitude. They keep any one input cheap: 34 digits take 113
// bits, and no accepted value can grow beyond them afterwards.
const (
	maxDigits = 34           // significant digits
	maxPlaces = 60           // digits after the point
	minPlaces = 1 - maxWhole // rounding to places left of the point stays within the bounds too
	maxText   = 128
	maxUnit   = 64 // bytes of a unit; the longest spelling has 37 characters
	maxWhole  = 24 // |value| < 10^24 of the kind's first unit, so that every unit of the kind has room
)

// number is ±coef·10^-places with coef < 10^34 and places <= 60. There is no negative zero.
type number struct {
	coef   u128
	places uint8
	neg    bool
}

func (a number) sign() int {
	switch {
	case a.coef.isZero():
		return 0
	case a.neg:
		return -1
	}
	return +1
}

// signed gives the number a sign, none to zero.
func (a number) signed(neg bool) number {
	a.neg = neg && !a.coef.isZero()
	return a
}

// trim drops trailing zeros after the point.
func (a number) trim() number {
	for a.places > 0 && a.coef.lo&1 == 0 {
		q, r := a.coef.over(10)
		if r != 0 {
			break
		}
		a.coef = q
		a.places--
	}
	return a
}

func (a number) cmp(b number) int {
	if a.places == b.places && !a.neg && !b.neg {
		return a.coef.cmp(b.coef)
	}
	return a.cmpScaled(b, ratio{num: 1, den: 1})
}

// cmpScaled compares a·r with b, exactly.
func (a number) cmpScaled(b number, r ratio) int {
	if sa, sb := a.sign(), b.sign(); sa != sb || sa == 0 {
		return cmp.Compare(sa, sb)
	}
	order := cmpMagnitudes(a, b, r)
	if a.neg {
		return -order
	}
	return order
}

// cmpWords is cmpMagnitudes of everyday sizes: a·num·10^shift against b·den, in 192 bits, where
// shift is from -19 to 19.
func cmpWords(a, b uint64, r *ratio, shift int) int {
	ahi, alo := bits.Mul64(a, r.num)
	bhi, blo := bits.Mul64(b, r.den)
	var atop, btop, carry uint64
	if shift > 0 {
		atop, ahi, alo = times10(ahi, alo, shift)
	} else if shift < 0 {
		btop, bhi, blo = times10(bhi, blo, -shift)
	}
	_, carry = bits.Sub64(alo, blo, 0)
	low := alo ^ blo
	diff, carry := bits.Sub64(ahi, bhi, carry)
	low |= diff
	diff, carry = bits.Sub64(atop, btop, carry)
	switch {
	case carry != 0:
		return -1
	case low|diff == 0:
		return 0
	}
	return +1
}

// times10 is (hi·2^64 + lo)·10^n, most significant word first.
func times10(hi, lo uint64, n int) (uint64, uint64, uint64) {
	p := pow10[n]
	mid, lo := bits.Mul64(lo, p)
	top, low := bits.Mul64(hi, p)
	mid, carry := bits.Add64(mid, low, 0)
	return top + carry, mid, lo
}

// cmpMagnitudes compares |a|·num/den·10^exp10 with |b| by multiplying crosswise.
func cmpMagnitudes(a, b number, r ratio) int {
	shift := int(b.places) - int(a.places) + int(r.exp10) // left·10^shift against right
	left, right := a.coef.times(r.num), b.coef.times(r.den)
	ok := false
	switch {
	case shift == 0:
		ok = true
	case 0 < shift && shift < len(pow10):
		left, ok = left.times(pow10[shift])
	case 0 > shift && -shift < len(pow10):
		right, ok = right.times(pow10[-shift])
	}
	if !ok {
		return cmpSlow(a, b, r)
	}
	return left.cmp(right)
}

// scaled is a·r to at most 34 significant digits and 60 places, half-even, with no zeros behind
// the last digit that counts, and whether nothing was lost.
func (a number) scaled(r ratio) (number, bool) {
	if a.coef.isZero() {
		return number{}, true
	}
	places := int(a.places) - int(r.exp10)
	if r.den == 1 && 0 <= places && places <= maxPlaces {
		if p := a.coef.times(r.num); p.hi == 0 && p.low128().less(pow10wide[maxDigits]) {
			return number{p.low128(), uint8(places), a.neg}.trim(), true
		}
	}
	// The quotient's digits are estimated from bit lengths: the estimate is right or one short.
	product := a.coef.times(r.num)
	whole := (product.bitLen() - bits.Len64(r.den)) * 1233 >> 12
	want := min(maxDigits-whole, maxPlaces-places)
	n, exact := a.scaledTo(r, places+want, ToNearestEven)
	return n.trim(), exact
}

// scaledTo is a·r rounded once at the given number of places, which is lowered until the result
// has no more than 34 digits; and whether nothing was lost. Places may be negative: -1 rounds to
// tens, and -23 is the end. No zeros are dropped.
func (a number) scaledTo(r ratio, places int, mode Rounding) (number, bool) {
	places = clampPlaces(places)
	for {
		q, lost, ok := a.quotient(r, places)
		if !ok {
			return a.scaledSlow(r, places, mode)
		}
		if q.less(pow10wide[maxDigits]) {
			up := mode.up(lost, q.lo&1 == 1, a.neg)
			if up {
				q, _ = q.plus(u128{0, 1}) // q < 10^34, far from overflow
			}
			if q.less(pow10wide[maxDigits]) {
				return fromRounded(q, places, a.neg), lost == nothing
			}
		}
		places -= max(q.digits()-maxDigits, 1)
	}
}

func clampPlaces(places int) int { return min(max(places, minPlaces), maxPlaces) }

// fromRounded makes a number of ±q·10^-places, where places may be negative.
func fromRounded(q u128, places int, neg bool) number {
	if places >= 0 {
		return number{coef: q, places: uint8(places)}.signed(neg)
	}
	q, _ = q.shift10(-places) // bounded: it stood left of the point before
	return number{coef: q}.signed(neg)
}

// quotient is floor(|a|·r·10^places) and what was cut off; not ok means that the fast path's
// words don't hold it.
func (a number) quotient(r ratio, places int) (q u128, lost remnant, ok bool) {
	product := a.coef.times(r.num)
	den := r.den
	shift := places - int(a.places) + int(r.exp10)
	if shift >= 0 {
		for ; shift > 0; shift -= 19 {
			if product, ok = product.times(pow10[min(shift, 19)]); !ok {
				return u128{}, nothing, false
			}
		}
	} else {
		if -shift >= len(pow10) {
			return u128{}, nothing, false
		}
		over, low := bits.Mul64(den, pow10[-shift])
		if over != 0 {
			return u128{}, nothing, false
		}
		den = low
	}
	wide, rest := product.over(den)
	return wide.low128(), remnantOf(rest, den), wide.hi == 0
}

// remnant is the part a rounding has to judge, against half of the last place kept.
type remnant uint8

const (
	nothing remnant = iota
	belowHalf
	half
	aboveHalf
)

func remnantOf(rest, whole uint64) remnant {
	switch {
	case rest == 0:
		return nothing
	case rest < whole-rest:
		return belowHalf
	case rest == whole-rest:
		return half
	}
	return aboveHalf
}

// up reports whether the magnitude grows by one in the last place.
func (mode Rounding) up(lost remnant, odd, neg bool) bool {
	switch mode {
	case ToPositiveInf:
		return lost != nothing && !neg
	case ToNegativeInf:
		return lost != nothing && neg
	}
	return lost == aboveHalf || lost == half && odd
}

// plus adds; where the exact sum has no room, it is rounded half-even and not exact.
func (a number) plus(b number) (sum number, exact bool) {
	if a.places < b.places {
		a, b = b, a
	}
	bCoef, ok := b.coef.shift10(int(a.places) - int(b.places))
	if !ok {
		return a.plusSlow(b)
	}
	sum = number{places: a.places}
	switch {
	case a.neg == b.neg:
		if sum.coef, ok = a.coef.plus(bCoef); !ok {
			return a.plusSlow(b)
		}
		sum = sum.signed(a.neg)
	case a.coef.less(bCoef):
		sum.coef = bCoef.minus(a.coef)
		sum = sum.signed(b.neg)
	default:
		sum.coef = a.coef.minus(bCoef)
		sum = sum.signed(a.neg)
	}
	if !sum.coef.less(pow10wide[maxDigits]) {
		return a.plusSlow(b)
	}
	return sum, true
}

// appendTo writes plain digits, all places as they are.
func (a number) appendTo(dst []byte) []byte {
	if a.neg {
		dst = append(dst, '-')
	}
	if a.coef.hi == 0 && a.places == 0 {
		return strconv.AppendUint(dst, a.coef.lo, 10)
	}
	var buf [maxPlaces + maxDigits]byte
	i := len(buf)
	for c, written := a.coef, 0; !c.isZero() || written <= int(a.places); {
		var digit uint64
		c, digit = c.over(10)
		if written == int(a.places) && written > 0 {
			i--
			buf[i] = '.'
		}
		i--
		buf[i] = '0' + byte(digit)
		written++
	}
	return append(dst, buf[i:]...)
}

func (a number) decimal() decimal.Decimal {
	if a.coef.hi == 0 && a.coef.lo < 1<<63 {
		coef := int64(a.coef.lo)
		if a.neg {
			coef = -coef
		}
		return decimal.New(coef, -int32(a.places))
	}
	return decimal.NewFromBigInt(a.bigInt(), -int32(a.places))
}

func (a number) bigInt() *big.Int {
	n := a.coef.big()
	if a.neg {
		n.Neg(n)
	}
	return n
}

func (a number) rat() *big.Rat {
	return new(big.Rat).SetFrac(a.bigInt(), pow10big(int(a.places)))
}

// float64 is the nearest double.
func (a number) float64() float64 {
	if a.coef.hi == 0 && a.coef.lo < 1<<53 && a.places <= 22 {
		f := float64(a.coef.lo) / pow10exact[a.places] // both exact: one rounding
		if a.neg {
			return -f
		}
		return f
	}
	f, _ := a.rat().Float64()
	return f
}

// pow10exact holds the powers of ten a double holds exactly.
var pow10exact = [23]float64{
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// fromDecimal admits a decimal: exponent first, then size, so that a decimal built to be costly
// is refused for the price of three comparisons.
func fromDecimal(d decimal.Decimal) (number, bool) {
	exp := d.Exponent()
	if exp < -maxPlaces || exp > maxDigits {
		return number{}, false
	}
	limit := pow10wide[maxDigits].big()
	if d.Cmp(decimal.NewFromBigInt(limit, exp)) >= 0 || d.Cmp(decimal.NewFromBigInt(limit.Neg(limit), exp)) <= 0 {
		return number{}, false
	}
	coef := d.Coefficient()
	neg := coef.Sign() < 0
	c := u128of(coef.Abs(coef))
	if exp > 0 {
		var ok bool
		if c, ok = c.shift10(int(exp)); !ok || !c.less(pow10wide[maxDigits]) {
			return number{}, false
		}
		exp = 0
	}
	return number{coef: c, places: uint8(-exp)}.signed(neg), true
}
