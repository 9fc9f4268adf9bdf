package drain

import (
	"math/big"

	"example.com/snugturn/units"
	"github.com/shopspring/decimal"
)

// WaterAt60F is the density of water at 60 °F that API gravity and relative density are counted
// from: 999.016 kg/m³ (API MPMS 11.1-2004 §11.1.5.1). Older tables have 999.012.
func WaterAt60F() units.Density { return units.WaterAt60F() }

var water60 = units.WaterAt60F().RatIn(units.KilogramPerCubicMetre)

// RelativeDensity is the density at 60 °F of a product of this relative density 60/60 °F (specific
// gravity): as many times that of water.
//
// Errors: *InputError (units.ErrRange) for a number that isn't above zero or doesn't fit.
func RelativeDensity(ratio decimal.Decimal) (units.Density, error) {
	x, err := ratOf("relative density", ratio)
	if err != nil {
		return units.Density{}, err
	}
	if x.Sign() <= 0 {
		return units.Density{}, refuse("relative density", ratio.String(), "not above zero", "such as 0.85", units.ErrRange)
	}
	return fit(x.Mul(x, water60), units.KilogramPerCubicMetre, units.ToNearestEven)
}

// APIGravity is the density at 60 °F of a product of this many °API: 141.5/(°API + 131.5) times
// that of water at 60 °F (API MPMS 11.1-2004 §11.1.5.1), at 34 digits.
//
// Errors: *InputError (units.ErrRange) for -131.5 or less and for a number that doesn't fit.
func APIGravity(degrees decimal.Decimal) (units.Density, error) {
	x, err := ratOf("API gravity", degrees)
	if err != nil {
		return units.Density{}, err
	}
	if x.Add(x, big.NewRat(1315, 10)).Sign() <= 0 {
		return units.Density{}, refuse("API gravity", degrees.String(), "no density is as low", "such as 37, above -131.5", units.ErrRange)
	}
	return fit(x.Quo(new(big.Rat).Mul(big.NewRat(1415, 10), water60), x), units.KilogramPerCubicMetre, units.ToNearestEven)
}

// APIGravity is the fuel's gravity in °API at a number of places, half-even, from its density at
// 60 °F.
//
// Errors: *InputError (ErrMissing) for the zero Fuel.
func (f Fuel) APIGravity(places int) (decimal.Decimal, error) {
	if err := f.check(sixty); err != nil {
		return decimal.Decimal{}, err
	}
	x := new(big.Rat).Mul(big.NewRat(1415, 10), water60)
	x.Quo(x, f.densityAt(sixty).rat())
	return places34(x.Sub(x, big.NewRat(1315, 10)), places)
}

// RelativeDensity is the fuel's relative density 60/60 °F at a number of places, half-even.
//
// Errors: *InputError (ErrMissing) for the zero Fuel.
func (f Fuel) RelativeDensity(places int) (decimal.Decimal, error) {
	if err := f.check(sixty); err != nil {
		return decimal.Decimal{}, err
	}
	x := f.densityAt(sixty).rat()
	return places34(x.Quo(x, water60), places)
}

// places34 is a bare number rounded half-even.
func places34(x *big.Rat, places int) (decimal.Decimal, error) {
	q, err := units.FromRat(x, units.CubicMetre, places, units.ToNearestEven)
	return q.Magnitude(), err
}
