package waste

import (
	"cmp"
	"math/big"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/rational"
	"example.com/snugturn/units"
)

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
