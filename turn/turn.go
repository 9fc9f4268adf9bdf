package turn

import (
	"cmp"
	"math/big"
	"strconv"

	"example.com/snugturn/units"
)

// The bounds of a Turn. They are far beyond any thread in a filter head, and they keep every
// product of two turns inside 64 bits.
const (
	maxTurns = 100       // revolutions
	maxDen   = 1_000_000 // parts of a revolution: a millionth is a three-thousandth of a degree
)

const wantTurn = "0 to 100 turns in parts no finer than a millionth"

// Turn is an exact fraction of a revolution, zero or more; it may exceed one. It is no angle
// modulo 360°: two turns tighten and no turn doesn't.
//
// The zero value is no turn at all. A Turn is kept in lowest terms, so == compares as
// [Turn.Compare] does.
type Turn struct {
	num int64
	fin int64 // the denominator less one, so that the zero value is 0/1
}

// Of is numerator/denominator of a revolution.
//
// Errors: *units.ParseError (units.ErrRange) for a denominator of zero, a negative turn, more than 100
// turns, or a fraction finer than a millionth in lowest terms.
func Of(numerator, denominator int64) (Turn, error) {
	bad := func(problem string) (Turn, error) {
		text := strconv.FormatInt(numerator, 10) + "/" + strconv.FormatInt(denominator, 10)
		return Turn{}, refuse("turn", text, problem, wantTurn, units.ErrRange)
	}
	switch {
	case denominator == 0:
		return bad("the denominator is zero")
	case numerator < 0 && denominator > 0, denominator < 0:
		return bad("negative: which way to turn is said by the action, not by a sign")
	}
	t, ok := lowest(numerator, denominator)
	switch {
	case !ok:
		return bad("finer than a millionth of a turn")
	case t.num > maxTurns*t.den():
		return bad("more than 100 turns")
	}
	return t, nil
}

// MustOf is Of for constants in a program; it panics on an error.
func MustOf(numerator, denominator int64) Turn {
	t, err := Of(numerator, denominator)
	if err != nil {
		panic(err)
	}
	return t
}

// lowest reduces num/den, den > 0, and reports whether the parts are coarse enough. The sign of
// num stays: places on a ring are counted both ways.
func lowest(num, den int64) (Turn, bool) {
	a, b := num, den
	for b != 0 {
		a, b = b, a%b
	}
	if a < 0 {
		a = -a
	}
	num, den = num/a, den/a
	return Turn{num: num, fin: den - 1}, den <= maxDen
}

func (t Turn) den() int64 { return t.fin + 1 }

// plus is t + sign·u, which may be negative, and whether the parts are coarse enough.
func (t Turn) plus(sign int64, u Turn) (Turn, bool) {
	return lowest(t.num*u.den()+sign*u.num*t.den(), t.den()*u.den())
}

// whole splits off the whole turns: toward zero, so that the rest has the sign of t.
func (t Turn) whole() (turns int64, rest Turn) {
	return t.num / t.den(), Turn{num: t.num % t.den(), fin: t.fin}.reduced()
}

// round is t modulo one turn, 0 <= round < 1.
func (t Turn) round() Turn {
	num := t.num % t.den()
	if num < 0 {
		num += t.den()
	}
	return Turn{num: num, fin: t.fin}.reduced()
}

// reduced brings 0/n to 0/1; every other remainder of a fraction in lowest terms is in lowest
// terms already.
func (t Turn) reduced() Turn {
	if t.num == 0 {
		return Turn{}
	}
	return t
}

// Rat is the turn as a fraction of a revolution.
func (t Turn) Rat() *big.Rat { return big.NewRat(t.num, t.den()) }

// Degrees is the turn as an angle: exact where it is a decimal number of degrees (3/4 turn is
// 270°), else rounded half-even to 30 places (1/7 turn). 360° make a revolution (SI Brochure, 9th
// edition, table 8, with the plane angle of a revolution, 2π rad).
func (t Turn) Degrees() units.Angle {
	x := t.Rat()
	x.Mul(x, big.NewRat(360, 1))
	places := places(x.Denom().Int64())
	angle, _ := units.FromRat(x, units.Degree, places, units.ToNearestEven) // 36000 and 30 places fit
	return angle
}

// places is the number of decimal places of a fraction in lowest terms with this denominator;
// 30 where they don't end.
func places(den int64) int {
	twos, fives := 0, 0
	for ; den%2 == 0; den /= 2 {
		twos++
	}
	for ; den%5 == 0; den /= 5 {
		fives++
	}
	if den != 1 {
		return 30
	}
	return max(twos, fives)
}

// Compare is -1, 0 or +1 as t is less than, equal to or greater than u, exactly.
func (t Turn) Compare(u Turn) int { return cmp.Compare(t.num*u.den(), u.num*t.den()) }

// Add is t + u.
//
// Errors: *units.ParseError (units.ErrRange) where the sum passes 100 turns, or needs parts finer than
// a millionth.
func (t Turn) Add(u Turn) (Turn, error) {
	sum, ok := t.plus(+1, u)
	return sum.bounded(ok, t.String()+" and "+u.String())
}

// Sub is t - u.
//
// Errors: *units.ParseError (units.ErrRange) where u is the larger, or where the difference needs parts
// finer than a millionth.
func (t Turn) Sub(u Turn) (Turn, error) {
	rest, ok := t.plus(-1, u)
	return rest.bounded(ok, t.String()+" less "+u.String())
}

func (t Turn) bounded(fine bool, text string) (Turn, error) {
	switch {
	case t.num < 0:
		return Turn{}, refuse("turn", text, "negative", wantTurn, units.ErrRange)
	case !fine:
		return Turn{}, refuse("turn", text, "finer than a millionth of a turn", wantTurn, units.ErrRange)
	case t.num > maxTurns*t.den():
		return Turn{}, refuse("turn", text, "more than 100 turns", wantTurn, units.ErrRange)
	}
	return t, nil
}

// String is the turn as a shop writes it: "3/4 turn", "1 1/4 turns", "1 turn", "0 turns".
// [Parse] reads it back.
func (t Turn) String() string { return string(t.append(nil)) }

func (t Turn) append(dst []byte) []byte {
	dst = t.appendNumber(dst)
	if t.num == 0 || t.num > t.den() {
		return append(dst, " turns"...)
	}
	return append(dst, " turn"...)
}

// appendNumber writes "3/4", "1 1/4" or "2".
func (t Turn) appendNumber(dst []byte) []byte {
	turns, rest := t.num/t.den(), t.num%t.den()
	if turns != 0 || rest == 0 {
		dst = strconv.AppendInt(dst, turns, 10)
	}
	if rest == 0 {
		return dst
	}
	if turns != 0 {
		dst = append(dst, ' ')
	}
	dst = strconv.AppendInt(dst, rest, 10)
	dst = append(dst, '/')
	return strconv.AppendInt(dst, t.den(), 10)
}

// AppendText appends what String writes; the error is always nil.
func (t Turn) AppendText(dst []byte) ([]byte, error) { return t.append(dst), nil }

// MarshalText is what String writes; the error is always nil. JSON gets it as a string: a bare
// number would lose the unit.
func (t Turn) MarshalText() ([]byte, error) { return t.append(nil), nil }

// UnmarshalText reads what [Parse] reads; on an error t stays as it was.
func (t *Turn) UnmarshalText(text []byte) error {
	parsed, err := Parse(clip(text))
	if err == nil {
		*t = parsed
	}
	return err
}

// clip makes a string of no more than a parser needs to refuse it.
func clip(text []byte) string { return string(text[:min(len(text), maxText+1)]) }
