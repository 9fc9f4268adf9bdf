package drain

import (
	"github.com/shopspring/decimal"

	"example.com/snugturn/internal/rational"
	"example.com/snugturn/units"
)

// APIGravity is the fuel's gravity in °API at a number of places, half-even, from its density at
// 60 °F: see [units.APIGravity].
//
// Errors: *InputError (ErrMissing) for the zero Fuel.
func (f Fuel) APIGravity(places int) (decimal.Decimal, error) {
	density, err := f.atSixty()
	if err != nil {
		return decimal.Decimal{}, err
	}
	return units.APIGravity(density, places, units.ToNearestEven)
}

// RelativeDensity is the fuel's relative density 60/60 °F at a number of places, half-even: see
// [units.RelativeDensity].
//
// Errors: *InputError (ErrMissing) for the zero Fuel.
func (f Fuel) RelativeDensity(places int) (decimal.Decimal, error) {
	density, err := f.atSixty()
	if err != nil {
		return decimal.Decimal{}, err
	}
	return units.RelativeDensity(density, places, units.ToNearestEven)
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
