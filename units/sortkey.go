package units

import (
	"fmt"
	"math/big"
	"strings"
)

// SortKey is a text whose bytes sort as quantities do, for a database column in a bytewise collation ("C"):
// where q.Less(r), the key of q is not behind that of r, and equal quantities have the same key in any unit.
// It holds the value in the first unit of its kind to 40 significant digits, cut off, so that two which
// differ beyond them may share a key. Nothing reads it back; store the quantity next to it.
//
// The form: "2" for a positive value, three digits of the decimal exponent plus 500, and the digits without
// trailing zeros; "1" for zero; "0" for a negative value, each digit behind it taken from 9, and "~". What isn't
// [Quantity.Valid] is "~", behind all others.
func (q Quantity[U]) SortKey() string { return sortKey(q.RatIn(0)) }

// SortKey is [Quantity.SortKey] for a temperature, by kelvins above absolute zero.
func (t Temperature) SortKey() string { return sortKey(t.RatIn(Kelvin)) }

func sortKey(x *big.Rat) string {
	switch {
	case x == nil:
		return "~"
	case x.Sign() == 0:
		return "1"
	}
	num, den := new(big.Int).Abs(x.Num()), x.Denom()
	shift := 40 - len(num.String()) + len(den.String()) // 40 or 41 digits before the point
	if ten := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(shift, -shift))), nil); shift > 0 {
		num.Mul(num, ten)
	} else {
		den = ten.Mul(ten, den)
	}
	digits := num.Quo(num, den).String()
	exponent := len(digits) - shift
	key := fmt.Sprintf("%03d%s", 500+exponent, strings.TrimRight(digits[:40], "0"))
	if x.Sign() > 0 {
		return "2" + key
	}
	return "0" + strings.Map(func(r rune) rune { return '0' + '9' - r }, key) + "~"
}
