package units

import (
	"math/big"

	"github.com/shopspring/decimal"
)

// Relative density 60/60 °F and API gravity are scales of density, but no units of it: the first
// is a quotient, the second isn't even proportional. Both are of the liquid at 60 °F.

// WaterAt60F is the density of water at 60 °F that both scales are defined with: 999.016 kg/m³,
// API MPMS Chapter 11.1-2004, 11.1.5.1. Tables made before that may have used 999.012.
func WaterAt60F() Density { return MustParseDensity("999.016 kg/m³") }

// RelativeDensity is the density at 60 °F divided by that of water at 60 °F, rounded once.
//
// Errors: *MagnitudeError (ErrRange) for a density that isn't above zero, or an invalid one.
func RelativeDensity(density Density, places int, mode Rounding) (decimal.Decimal, error) {
	x, err := relative(density)
	if err != nil {
		return decimal.Decimal{}, err
	}
	return roundedDecimal("relative density", x, places, mode)
}

// DensityOfRelative is the density in kg/m³ at 60 °F of a liquid of a relative density 60/60 °F,
// rounded once.
//
// Errors: *MagnitudeError (ErrRange) for one that isn't above zero, or has too many digits.
func DensityOfRelative(relative decimal.Decimal, places int, mode Rounding) (Density, error) {
	n, ok := fromDecimal(relative)
	if !ok || n.sign() <= 0 {
		return Density{}, offScale("relative density", relative, ok, "more than 0")
	}
	x := n.rat()
	return FromRat(x.Mul(x, waterRat()), KilogramPerCubicMetre, places, mode)
}

// APIGravity is 141.5/(relative density 60/60 °F) - 131.5, in degrees API, rounded once (API MPMS
// Chapter 11.1-2004, 11.1.5.1). It falls as the density rises: a least density gives the greatest
// gravity.
//
// Errors: *MagnitudeError (ErrRange) for a density that isn't above zero, or an invalid one.
func APIGravity(density Density, places int, mode Rounding) (decimal.Decimal, error) {
	x, err := relative(density)
	if err != nil {
		return decimal.Decimal{}, err
	}
	x.Quo(big.NewRat(1415, 10), x)
	return roundedDecimal("API gravity", x.Sub(x, big.NewRat(1315, 10)), places, mode)
}

// DensityOfAPIGravity is the density in kg/m³ at 60 °F of a liquid of so many degrees API, rounded
// once.
//
// Errors: *MagnitudeError (ErrRange) for -131.5 degrees and below, or too many digits.
func DensityOfAPIGravity(degrees decimal.Decimal, places int, mode Rounding) (Density, error) {
	n, ok := fromDecimal(degrees)
	x := n.rat()
	if x.Add(x, big.NewRat(1315, 10)); !ok || x.Sign() <= 0 {
		return Density{}, offScale("API gravity", degrees, ok, "more than -131.5")
	}
	x.Quo(big.NewRat(1415, 10), x)
	return FromRat(x.Mul(x, waterRat()), KilogramPerCubicMetre, places, mode)
}

func waterRat() *big.Rat { return WaterAt60F().RatIn(KilogramPerCubicMetre) }

func relative(density Density) (*big.Rat, error) {
	if !density.Valid() || density.Sign() <= 0 {
		return nil, &MagnitudeError{What: "density", Unit: density.unit.String(), Digits: string(density.num().appendTo(nil)),
			Problem: "not above zero", Want: "a density of a liquid", sentinel: ErrRange}
	}
	x := density.RatIn(KilogramPerCubicMetre)
	return x.Quo(x, waterRat()), nil
}

func roundedDecimal(what string, x *big.Rat, places int, mode Rounding) (decimal.Decimal, error) {
	n, ok := roundRatTo(x, places, mode)
	if !ok {
		return decimal.Decimal{}, &MagnitudeError{What: what, Unit: "its scale", Digits: "a fraction",
			Problem: "too large", Want: "less than 10^34", sentinel: ErrRange}
	}
	return n.decimal(), nil
}

// offScale refuses a number for its size, or, where it is no number here, for its digits.
func offScale(what string, d decimal.Decimal, isNumber bool, want string) *MagnitudeError {
	e := &MagnitudeError{What: what, Unit: "its scale", Digits: digitsOf(d),
		Problem: "out of range", Want: want, sentinel: ErrRange}
	if !isNumber {
		e.Problem, e.Want = "too many digits", want+", in at most 34 digits and 60 places"
	}
	return e
}
