// Package rational holds what several packages need to know of fractions.
package rational

import "math/big"

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
