package torque

import (
	"math/big"

	"example.com/snugturn/internal/rational"
	"example.com/snugturn/units"
)

// Band is the torque a sheet allows: from Low to High, both limits included. 0 <= low <= high,
// and high is above zero. Each limit keeps the number and the unit it was written with.
//
// The zero Band has no limits: it contains nothing, prints as "invalid band" and refuses to be
// encoded. Bands are compared with [Band.Equal]; == does not compile.
type Band struct {
	_         [0]func()
	low, high units.Torque
}

const invalidBand = "invalid band"

// Between is the band from low to high, both included. The two may be in different units.
//
// Errors: *units.ParseError: ErrOrder, units.ErrRange (a limit below zero, or nothing above zero),
// units.ErrUnknownUnit.
func Between(low, high units.Torque) (Band, error) {
	bad := func(problem, want string, err error) (Band, error) {
		return Band{}, refuseBand(low, high, problem, want, err)
	}
	switch {
	case !low.Valid() || !high.Valid():
		return bad("a limit has no unit of torque", "units.InchPound and the like", units.ErrUnknownUnit)
	case low.Sign() < 0:
		return bad("a limit is below zero", "zero or more; a direction is not a sign", units.ErrRange)
	case high.Less(low):
		return bad("the low limit is above the high limit", "the lower limit first", ErrOrder)
	case high.Sign() == 0:
		return bad("both limits are zero", "a high limit above zero", units.ErrRange)
	}
	return Band{low: low, high: high}, nil
}

// PlusMinus is the band from nominal-tolerance to nominal+tolerance, in nominal's unit.
//
// Errors: as [Between]; units.ErrRange for a negative tolerance, or limits that no 34 digits hold (a
// tolerance in another unit may be the cause).
func PlusMinus(nominal, tolerance units.Torque) (Band, error) {
	return plusMinus(nominal, tolerance, tolerance)
}

// plusMinus has its own tolerance on each side.
func plusMinus(nominal, above, below units.Torque) (Band, error) {
	bad := func(t units.Torque, problem, want string, err error) (Band, error) {
		return Band{}, refuse("torque", nominal.String()+" ± "+t.String(), problem, want, err)
	}
	for _, t := range [...]units.Torque{above, below} {
		if !t.Valid() || !nominal.Valid() {
			return bad(t, "no unit of torque", "units.InchPound and the like", units.ErrUnknownUnit)
		}
		if t.Sign() < 0 {
			return bad(t, "the tolerance is below zero", "a tolerance of zero or more", units.ErrRange)
		}
	}
	low, exact := nominal.Sub(below)
	if !exact {
		return bad(below, "the limits have no exact value in "+nominal.Unit().String(), "the tolerance in the unit of the nominal value", units.ErrRange)
	}
	high, exact := nominal.Add(above)
	if !exact {
		return bad(above, "the limits have no exact value in "+nominal.Unit().String(), "the tolerance in the unit of the nominal value", units.ErrRange)
	}
	return Between(low, high)
}

// PlusMinusPercent is the band nominal·(1 ± percent): 30 N·m and 10 % give 27 to 33 N·m.
//
// Errors: as [Between]; units.ErrRange for a percentage below 0 or above 100 %, or limits that no 34 digits
// hold.
func PlusMinusPercent(nominal units.Torque, percent units.Share) (Band, error) {
	return plusMinusPercent(nominal, percent, percent)
}

func plusMinusPercent(nominal units.Torque, above, below units.Share) (Band, error) {
	var tolerance [2]units.Torque
	for i, p := range [...]units.Share{above, below} {
		x := fraction(p)
		bad := func(problem, want string) (Band, error) {
			return Band{}, refuse("torque", nominal.String()+" ± "+p.String(), problem, want, units.ErrRange)
		}
		if x == nil || x.Sign() < 0 || x.Cmp(one) > 0 {
			return bad("the percentage is out of range", "0 to 100 %")
		}
		if !nominal.Valid() {
			return Between(nominal, nominal)
		}
		t, exact := exactTorque(x.Mul(x, nominal.RatIn(nominal.Unit())), nominal.Unit())
		if !exact {
			return bad("the limits have more than 34 digits", "fewer digits")
		}
		tolerance[i] = t
	}
	return plusMinus(nominal, tolerance[0], tolerance[1])
}

var (
	one     = big.NewRat(1, 1)
	two     = big.NewRat(2, 1)
	half    = big.NewRat(1, 2)
	hundred = big.NewRat(100, 1)
)

// fraction is the share as a fraction of the whole, exactly; nil for one of no unit.
func fraction(s units.Share) *big.Rat { return s.Ratio(units.Percent.Of(100)) }

// exactTorque is x of the unit with no more places than x needs, and whether nothing was lost.
func exactTorque(x *big.Rat, unit units.TorqueUnit) (units.Torque, bool) {
	q, err := units.FromRat(x, unit, rational.Places(x), units.ToNearestEven)
	return q, err == nil && q.RatIn(unit).Cmp(x) == 0
}

// Valid reports whether the band has limits; the zero Band hasn't.
func (b Band) Valid() bool { return b.high.Sign() > 0 }

// Low is the low limit as written.
func (b Band) Low() units.Torque { return b.low }

// High is the high limit as written.
func (b Band) High() units.Torque { return b.high }

// Contains reports whether the reading lies in the band: low <= reading <= high, exactly and
// whatever the units. It allocates nothing.
func (b Band) Contains(reading units.Torque) bool {
	return b.low.Compare(reading) <= 0 && reading.Compare(b.high) <= 0 && b.Valid()
}

// Inward is the band in another unit at a number of places, with the low limit rounded up and the
// high limit rounded down, so that whatever the new band allows the old one allowed too
// (ANSI/IEEE 268: limits that may not be violated are rounded inward).
//
// Errors: *units.ParseError: ErrNothingLeft where no value with so few decimal places lies inside, units.ErrRange
// for the zero Band, units.ErrUnknownUnit.
func (b Band) Inward(unit units.TorqueUnit, places int) (Band, error) {
	if err := b.usable(); err != nil {
		return Band{}, err
	}
	if !unit.Of(0).Valid() {
		return Between(unit.Of(0), unit.Of(0))
	}
	low := b.low.RoundIn(unit, places, units.ToPositiveInf)
	high := b.high.RoundIn(unit, places, units.ToNegativeInf)
	if high.Less(low) || high.Sign() == 0 {
		return Band{}, refuse(bandWhat, b.String(), "rounded inward its limits cross, "+low.String()+" and "+high.String(), "more places", ErrNothingLeft)
	}
	return Band{low: low, high: high}, nil
}

// Equal reports whether the two bands allow the same torques, whatever the units; two zero Bands
// are equal.
func (b Band) Equal(c Band) bool { return b.low.Equal(c.low) && b.high.Equal(c.high) }

func (b Band) usable() error {
	if b.Valid() {
		return nil
	}
	return refuse(bandWhat, b.String(), "the zero Band has no limits", "a Band made by Between, ParseBand or the like", units.ErrRange)
}

// String is "145 to 190 in-lb", or "145 in-lb to 21 N·m" where the limits have their own units;
// [ParseBand] reads both back.
func (b Band) String() string {
	if !b.Valid() {
		return invalidBand
	}
	return string(b.append(nil))
}

func (b Band) append(dst []byte) []byte {
	low := b.low.String()
	if b.low.Unit() == b.high.Unit() {
		low = low[:len(low)-len(b.low.Unit().String())-1]
	}
	dst = append(dst, low...)
	dst = append(dst, " to "...)
	return append(dst, b.high.String()...)
}
