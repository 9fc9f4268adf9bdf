// Package paper has what the papers of every jurisdiction share: rounding to what they print, and
// estimates as people read them.
package paper

import (
	"math/big"

	"example.com/snugturn/drain"
	"example.com/snugturn/units"
)

// TieRule says what happens to a quantity exactly between two numbers that can be printed: this way
// a tie never declares too little.
const TieRule = "a tie goes up"

// Most is the largest whole number a line takes: nobody's containers hold a billion of anything.
const Most = 999_999_999

// Nearest is floor(x + 1/2) for x of zero or more, whether x was a tie, and whether it fits a line.
func Nearest(x *big.Rat) (n int64, tie, ok bool) {
	double := new(big.Rat).Mul(x, big.NewRat(2, 1))
	tie = double.IsInt() && double.Num().Bit(0) == 1
	double.Add(double, big.NewRat(1, 1))
	q := new(big.Int).Quo(double.Num(), new(big.Int).Lsh(double.Denom(), 1))
	if !q.IsInt64() || q.Int64() > Most {
		return 0, tie, false
	}
	return q.Int64(), tie, true
}

// Show writes a quantity for reading: as it is up to three places, else rounded and marked so. What isn't 0 never prints
// as 0.
func Show[U units.Unit](q units.Quantity[U]) string {
	if q.Places() <= 3 {
		return q.String()
	}
	rounded := shorter(q, units.ToNearestEven)
	if rounded.Equal(q) {
		return rounded.String()
	}
	return "about " + rounded.String()
}

// shorter rounds to three places, or to as many as it takes not to be 0 where q isn't.
func shorter[U units.Unit](q units.Quantity[U], mode units.Rounding) units.Quantity[U] {
	places := 3
	for q.Sign() != 0 && places < q.Places() && q.Round(places, mode).Sign() == 0 {
		places++
	}
	return q.Round(places, mode)
}

// Spread writes an estimate for reading, low rounded down and high up.
func Spread[U units.Unit](e drain.Estimate[U]) string {
	if e.Low.Equal(e.High) {
		return Show(e.Best) + " (" + e.From.String() + ")"
	}
	low, high := e.Low, e.High
	if low.Places() > 3 {
		low = shorter(low, units.ToNegativeInf)
	}
	if high.Places() > 3 {
		high = shorter(high, units.ToPositiveInf)
	}
	return Show(e.Best) + " (" + low.String() + " to " + high.String() + ", " + e.From.String() + ")"
}
