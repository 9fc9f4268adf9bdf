// Package rational holds what several packages need to know of fractions.
package rational

import (
	"math/big"

	"github.com/shopspring/decimal"
)

// mostPlaces are those that a quantity of package units has at the most.
const mostPlaces = 60

// Places are the places that x takes as a decimal, or as many as a quantity has where it is none, or
// one of more; none for nil.
func Places(x *big.Rat) int {
	if x == nil {
		return 0
	}
	n, ends := x.FloatPrec()
	if !ends {
		return mostPlaces
	}
	return min(n, mostPlaces)
}

// Round is x at a number of places, from 0 to 60, half-even.
func Round(x *big.Rat, places int) decimal.Decimal {
	places = min(max(places, 0), mostPlaces)
	shift := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
	num, rest := new(big.Int).Mul(x.Num(), shift), new(big.Int)
	num.DivMod(num, x.Denom(), rest) // rounded down; the rest isn't below zero
	if half := rest.Lsh(rest, 1).Cmp(x.Denom()); half > 0 || half == 0 && num.Bit(0) == 1 {
		num.Add(num, big.NewInt(1))
	}
	return decimal.NewFromBigInt(num, int32(-places))
}

// vulgar are the characters that are whole fractions.
var vulgar = map[rune][2]int64{
	'½': {1, 2}, '⅓': {1, 3}, '⅔': {2, 3}, '¼': {1, 4}, '¾': {3, 4},
	'⅕': {1, 5}, '⅖': {2, 5}, '⅗': {3, 5}, '⅘': {4, 5}, '⅙': {1, 6}, '⅚': {5, 6},
	'⅐': {1, 7}, '⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8}, '⅑': {1, 9}, '⅒': {1, 10},
}

// Vulgar is the fraction that one character stands for: 3 and 4 for ¾; 0 and 0 for any that stands
// for none.
func Vulgar(r rune) (num, den int64) {
	f := vulgar[r]
	return f[0], f[1]
}
