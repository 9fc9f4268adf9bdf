package units

import "math/big"

// The slow path: the same questions answered by math/big, for operands whose products pass 192
// bits. Everyday sizes never come here; the tests drive both paths with the same operands.

func (a u128) big() *big.Int {
	if a.hi == 0 {
		return new(big.Int).SetUint64(a.lo)
	}
	n := new(big.Int).SetUint64(a.hi)
	n.Lsh(n, 64)
	return n.Or(n, new(big.Int).SetUint64(a.lo))
}

// u128of takes a non-negative integer below 2^128.
func u128of(n *big.Int) u128 {
	lo := new(big.Int).And(n, new(big.Int).SetUint64(1<<64-1))
	return u128{new(big.Int).Rsh(n, 64).Uint64(), lo.Uint64()}
}

func pow10big(n int) *big.Int {
	if n < len(pow10wide) {
		return pow10wide[n].big()
	}
	return new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(n)), nil)
}

// fraction is |a|·r·10^shift as a numerator and a denominator.
func (a number) fraction(r ratio, shift int) (num, den *big.Int) {
	num = a.coef.big()
	num.Mul(num, new(big.Int).SetUint64(r.num))
	den = new(big.Int).SetUint64(r.den)
	if shift += int(r.exp10) - int(a.places); shift >= 0 {
		num.Mul(num, pow10big(shift))
	} else {
		den.Mul(den, pow10big(-shift))
	}
	return num, den
}

func cmpSlow(a, b number, r ratio) int {
	num, den := a.fraction(r, int(b.places))
	return num.Cmp(den.Mul(den, b.coef.big()))
}

func (a number) scaledSlow(r ratio, places int, mode Rounding) (number, bool) {
	limit := pow10wide[maxDigits].big()
	for {
		num, den := a.fraction(r, places)
		q, rest := new(big.Int).QuoRem(num, den, new(big.Int))
		lost := remnantOfBig(rest, den)
		if mode.up(lost, q.Bit(0) == 1, a.neg) {
			q.Add(q, big.NewInt(1))
		}
		if q.Cmp(limit) < 0 {
			return fromRounded(u128of(q), places, a.neg), lost == nothing
		}
		places--
	}
}

func (a number) plusSlow(b number) (number, bool) {
	sum := a.rat()
	sum.Add(sum, b.rat())
	return roundRat(sum)
}

// roundRat is the nearest number to x: at most 34 digits and 60 places, half-even. Beyond that
// range it is the largest number of its sign.
func roundRat(x *big.Rat) (number, bool) {
	neg := x.Sign() < 0
	limit := pow10wide[maxDigits].big()
	num, den := new(big.Int).Abs(x.Num()), x.Denom()
	// Start where the quotient has 34 or 35 digits.
	places := min(maxPlaces, maxDigits-(num.BitLen()-den.BitLen())*1233>>12)
	for ; places >= 0; places-- {
		scaled := new(big.Int).Mul(num, pow10big(places))
		q, rest := scaled.QuoRem(scaled, den, new(big.Int))
		lost := remnantOfBig(rest, den)
		if ToNearestEven.up(lost, q.Bit(0) == 1, neg) {
			q.Add(q, big.NewInt(1))
		}
		if q.Cmp(limit) < 0 {
			return number{coef: u128of(q), places: uint8(places)}.signed(neg).trim(), lost == nothing
		}
	}
	return number{coef: pow10wide[maxDigits].minus(u128{0, 1})}.signed(neg), false
}

// rat is the factor as a fraction.
func (r ratio) rat() *big.Rat {
	num, den := new(big.Int).SetUint64(r.num), new(big.Int).SetUint64(r.den)
	if r.exp10 >= 0 {
		num.Mul(num, pow10big(int(r.exp10)))
	} else {
		den.Mul(den, pow10big(-int(r.exp10)))
	}
	return new(big.Rat).SetFrac(num, den)
}

// maxRatBits bounds the fractions that are rounded, so that refusing one stays cheap.
const maxRatBits = 1 << 14

// roundRatTo is x rounded once at the given places, which are lowered until 34 digits hold it;
// not ok where they don't.
func roundRatTo(x *big.Rat, places int, mode Rounding) (number, bool) {
	if x == nil || x.Num().BitLen() > maxRatBits || x.Denom().BitLen() > maxRatBits {
		return number{}, false
	}
	if places = clampPlaces(places); x.Sign() == 0 {
		return number{places: uint8(max(places, 0))}, true
	}
	whole := (x.Num().BitLen() - x.Denom().BitLen()) * 1233 >> 12
	if whole > maxDigits {
		return number{}, false
	}
	neg := x.Sign() < 0
	limit := pow10wide[maxDigits].big()
	for places = min(places, maxDigits-whole); ; places-- {
		num, den := new(big.Int).Abs(x.Num()), x.Denom()
		if places >= 0 {
			num.Mul(num, pow10big(places))
		} else {
			den = new(big.Int).Mul(den, pow10big(-places))
		}
		q, rest := num.QuoRem(num, den, new(big.Int))
		if mode.up(remnantOfBig(rest, den), q.Bit(0) == 1, neg) {
			q.Add(q, big.NewInt(1))
		}
		if q.Cmp(limit) < 0 {
			n := fromRounded(u128of(q), places, neg)
			return n, n.coef.less(pow10wide[maxDigits])
		}
	}
}

func remnantOfBig(rest, whole *big.Int) remnant {
	if rest.Sign() == 0 {
		return nothing
	}
	twice := new(big.Int).Lsh(rest, 1)
	return [...]remnant{belowHalf, half, aboveHalf}[1+twice.Cmp(whole)]
}
