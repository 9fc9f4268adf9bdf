package drain

import (
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/snugturn/internal/rational"
	"example.com/snugturn/units"
)

// Relative density 60/60 °F and API gravity are scales of density, but no units of it: the first is a
// quotient, the second isn't even proportional. Both are of the liquid at 60 °F, and of water of
// 999.016 kg/m³ there (API MPMS Chapter 11.1-2004, 11.1.5.1); tables made before that may have used
// 999.012.
func waterAtSixty() *big.Rat { return big.NewRat(999016, 1000) }

// relative is the density divided by that of water.
func relative(density units.Density) *big.Rat {
	x := density.RatIn(units.KilogramPerCubicMetre)
	return x.Quo(x, waterAtSixty())
}

// gravity is 141.5/(relative density) - 131.5, in degrees API (API MPMS Chapter 11.1-2004, 11.1.5.1).
func gravity(density units.Density) *big.Rat {
	x := relative(density)
	x.Quo(big.NewRat(1415, 10), x)
	return x.Sub(x, big.NewRat(1315, 10))
}

// densityOfAPIGravity is the density in kg/m³ at 60 °F of a liquid of so many degrees API, rounded once.
// It falls as the gravity rises: a least gravity gives the greatest density.
//
// Errors: *InputError (units.ErrRange) for -131.5 degrees and below, or too many digits.
func densityOfAPIGravity(degrees decimal.Decimal, places int, mode units.Rounding) (units.Density, error) {
	x, err := scaleValue("API gravity", degrees, big.NewRat(1315, 10), "more than -131.5")
	if err != nil {
		return units.Density{}, err
	}
	x.Quo(big.NewRat(1415, 10), x)
	return units.FromRat(x.Mul(x, waterAtSixty()), units.KilogramPerCubicMetre, places, mode)
}

// densityOfRelative is the density in kg/m³ at 60 °F of a liquid of a relative density 60/60 °F,
// rounded once.
//
// Errors: *InputError (units.ErrRange) for one that isn't above zero, or has too many digits.
func densityOfRelative(density decimal.Decimal, places int, mode units.Rounding) (units.Density, error) {
	x, err := scaleValue("relative density", density, new(big.Rat), "more than 0")
	if err != nil {
		return units.Density{}, err
	}
	return units.FromRat(x.Mul(x, waterAtSixty()), units.KilogramPerCubicMetre, places, mode)
}

// scaleValue is a number of a scale and what is added to it, which has to be above zero.
func scaleValue(what string, d decimal.Decimal, plus *big.Rat, want string) (*big.Rat, error) {
	q, err := units.New(d, units.Percent) // for its bounds: the size is looked at before the digits
	if err != nil {
		return nil, refuse(what, "", "too many digits or too large", want+", with at most 34 digits and 60 places", units.ErrRange)
	}
	x := q.RatIn(units.Percent)
	if x.Add(x, plus).Sign() <= 0 {
		return nil, refuse(what, strings.TrimSuffix(q.String(), " %"), "out of range", want, units.ErrRange)
	}
	return x, nil
}

// APIGravity is the fuel's gravity in °API at a number of places, half-even, from its density at
// 60 °F: 141.5/(relative density) - 131.5 (API MPMS Chapter 11.1-2004, 11.1.5.1).
//
// Errors: *InputError (ErrMissing) for the zero Fuel.
func (f Fuel) APIGravity(places int) (decimal.Decimal, error) {
	density, err := f.atSixty()
	if err != nil {
		return decimal.Decimal{}, err
	}
	return rational.Round(gravity(density), places), nil
}

// RelativeDensity is the fuel's density at 60 °F divided by that of water there, at a number of places,
// half-even.
//
// Errors: *InputError (ErrMissing) for the zero Fuel.
func (f Fuel) RelativeDensity(places int) (decimal.Decimal, error) {
	density, err := f.atSixty()
	if err != nil {
		return decimal.Decimal{}, err
	}
	return rational.Round(relative(density), places), nil
}

// atSixty is the density at 60 °F: as it was given where it was given there, else at 34 digits, of
// which the equations make 27 sure.
func (f Fuel) atSixty() (units.Density, error) {
	if err := f.check(sixty); err != nil {
		return units.Density{}, err
	}
	if f.at.Equal(sixty) {
		return f.density, nil
	}
	x := f.rho60.rat()
	return units.FromRat(x, units.KilogramPerCubicMetre, rational.Places(x), units.ToNearestEven)
}
