package waste

import (
	"cmp"
	"math/big"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste/internal/paper"
	"example.com/snugturn/internal/rational"
	"example.com/snugturn/units"
)

// Wet is the mass of something that holds liquid: dry + retained × density, low with low and high
// with high, as firm as the weakest of the three. The density is the liquid's at the temperature
// at which the retained volume was measured. What 34 digits don't hold is rounded outward.
//
// [drain.WetMass] does it for a [drain.Fuel], whose density it works out at that temperature and takes
// for known: neither its spread nor where it comes from is in the result.
//
// Errors: *Error (units.ErrRange) for anything below zero or a result too large; *drain.InputError
// for an estimate that isn't one.
func Wet(dry drain.Estimate[units.MassUnit], retained drain.Estimate[units.VolumeUnit], density drain.Estimate[units.DensityUnit]) (drain.Estimate[units.MassUnit], error) {
	if err := cmp.Or(check("wet mass", "dry mass", dry), check("wet mass", "retained volume", retained),
		check("wet mass", "density", density)); err != nil {
		return drain.Estimate[units.MassUnit]{}, err
	}
	wet := func(m units.Mass, v units.Volume, d units.Density) *big.Rat {
		x := v.RatIn(units.CubicMetre)
		x.Mul(x, d.RatIn(units.KilogramPerCubicMetre))
		return x.Add(x, m.RatIn(units.Kilogram))
	}
	return kilograms(
		wet(dry.Low, retained.Low, density.Low),
		wet(dry.Best, retained.Best, density.Best),
		wet(dry.High, retained.High, density.High),
		drain.Weakest(dry.From, drain.Weakest(retained.From, density.From)))
}

// Settled is one figure out of two.
type Settled struct {
	Mass      drain.Estimate[units.MassUnit]
	Disagrees bool   // the two leave each other no common value: look for a slip before going on
	Note      string // what was put in whose place
}

// Settle puts a weighed mass in the place of an estimated one, and says so. The estimate only
// serves to find slips: a drum read in pounds and written down in kilograms.
//
// Errors: *Error (ErrMissing) where weighed wasn't weighed, (units.ErrRange) below zero;
// *drain.InputError for an estimate that isn't one.
func Settle(estimated, weighed drain.Estimate[units.MassUnit]) (Settled, error) {
	if err := cmp.Or(check("mass", "estimated", estimated), check("mass", "weighed", weighed)); err != nil {
		return Settled{}, err
	}
	if weighed.From != drain.Weighed {
		return Settled{}, refuse("mass", "weighed", weighed.String(), "was not weighed", "the reading of a scale", ErrMissing)
	}
	s := Settled{Mass: weighed, Note: "weighed " + paper.Show(weighed.Best) + " stands in place of the estimate " + paper.Spread(estimated)}
	if weighed.High.Less(estimated.Low) || estimated.High.Less(weighed.Low) {
		s.Disagrees = true
		s.Note += "; the two don't agree: check the scale's unit, the tare and what was in it"
	}
	return s, nil
}

// check refuses what is no estimate, or reaches below zero.
func check[U units.Unit](what, field string, e drain.Estimate[U]) error {
	if err := e.Check(); err != nil {
		return err
	}
	if e.Low.Sign() < 0 {
		return refuse(what, field, e.Low.String(), "below zero", "zero or more", units.ErrRange)
	}
	return nil
}

// kilograms makes an estimate of exact values.
func kilograms(low, best, high *big.Rat, from drain.Provenance) (drain.Estimate[units.MassUnit], error) {
	l, err1 := units.FromRat(low, units.Kilogram, rational.Places(low), units.ToNegativeInf)
	b, err2 := units.FromRat(best, units.Kilogram, rational.Places(best), units.ToNearestEven)
	h, err3 := units.FromRat(high, units.Kilogram, rational.Places(high), units.ToPositiveInf)
	if err := cmp.Or(err1, err2, err3); err != nil {
		return drain.Estimate[units.MassUnit]{}, refuse("mass", "", "", "too large", "less than 10^24 kg", units.ErrRange)
	}
	return drain.NewEstimate(l, b, h, from)
}
