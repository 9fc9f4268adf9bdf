package turn

import (
	"math/big"

	"example.com/snugturn/units"
)

// pi is π cut off after 50 places (OEIS A000796): low by less than 1e-50.
func pi() *big.Rat {
	x, _ := new(big.Rat).SetString("3.14159265358979323846264338327950288419716939937510")
	return x
}

// arcPlaces is how many places an arc length has, in the unit of its diameter.
const arcPlaces = 9

// ArcLength is how far apart two paint marks stand, measured around a canister of the diameter
// with a tape: π·d·t, in the diameter's unit, rounded half-even to 9 places, fewer where those
// would take more than 34 digits.
//
// π is cut off after 50 places, so the arc is low before it is rounded, by less than 1e-50 of
// diameter times turn: it is never long by more than half its last place.
//
// Errors: *units.ParseError (units.ErrRange) for a diameter of zero or less, or for an arc beyond what a
// length can hold.
func ArcLength(diameter units.Length, t Turn) (units.Length, error) {
	if !diameter.Valid() || diameter.Sign() <= 0 {
		return units.Length{}, refuse("diameter", diameter.String(), "no diameter", "a length above zero", units.ErrRange)
	}
	unit := diameter.Unit()
	x := diameter.RatIn(unit)
	x.Mul(x, t.Rat())
	arc, err := units.FromRat(x.Mul(x, pi()), unit, arcPlaces, units.ToNearestEven)
	if err != nil {
		return units.Length{}, refuse("diameter", diameter.String(), "too large for its arc", "a length that a canister may have", units.ErrRange)
	}
	return arc, nil
}
