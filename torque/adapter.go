package torque

import (
	"math/big"

	"example.com/snugturn/internal/rational"
	"example.com/snugturn/units"
)

// Adapter is what is between the drive of a wrench and the fastener: a crowfoot, a bowl
// wrench. The zero value is none. An extension in line with the drive changes no lever and is no
// adapter either.
type Adapter struct {
	// Offset is the distance from the drive to the fastener; negative where the adapter points
	// back toward the grip when Angle is zero.
	Offset units.Length `json:"offset"`
	// Angle lies between the wrench, from grip to drive, and the adapter, from drive to fastener:
	// zero makes the lever longer by Offset, 90° leaves it as it is, 180° makes it shorter.
	Angle units.Angle `json:"angle"`
	// OffsetTolerance is how far Offset may be wrong either way; zero where that needs no thought.
	OffsetTolerance units.Length `json:"offsetTolerance,omitzero"`
}

// lever is how many times the drive's torque arrives at the fastener, (L + E·cos θ)/L: as stated,
// and with everything the tolerances of the lengths allow.
type lever struct{ stated, possible interval }

// straightLever is that of a wrench without an adapter.
func straightLever() lever { return lever{exactly(one), exactly(one)} }

// newLever works out the factor. The length of the wrench isn't needed where the adapter leaves
// the lever as it is.
func newLever(length, tolerance units.Length, a Adapter) (lever, error) {
	bad := func(problem, want string, err error) (lever, error) {
		known := length.String()
		if length.Sign() == 0 {
			known = "unknown length"
		}
		return lever{}, refuse("lever", known+", adapter of "+a.Offset.String()+" at "+a.Angle.String(), problem, want, err)
	}
	for _, q := range [...]units.Length{length, tolerance, a.Offset, a.OffsetTolerance} {
		if !q.Valid() {
			return bad("a length has no unit", "units.Millimetre and the like", units.ErrUnknownUnit)
		}
	}
	switch {
	case !a.Angle.Valid():
		return bad("the angle has no unit", "units.Degree and the like", units.ErrUnknownUnit)
	case length.Sign() < 0 || tolerance.Sign() < 0 || a.OffsetTolerance.Sign() < 0:
		return bad("a length or a tolerance is below zero", "zero or more; only the adapter's offset has a sign", units.ErrRange)
	case a.Offset.Sign() == 0 && a.OffsetTolerance.Sign() == 0:
		return straightLever(), nil
	}
	cos := cosine(a.Angle.RatIn(units.Degree))
	if cos.lo.Sign() == 0 && cos.hi.Sign() == 0 {
		return straightLever(), nil
	}
	if length.Sign() == 0 {
		return bad("the lever can't be worked out", "the distance from the middle of the grip to the drive; strap and chain wrenches have none that holds still", units.ErrRange)
	}
	mm := units.Millimetre
	l, e := length.RatIn(mm), a.Offset.RatIn(mm)
	k := lever{stated: factor(exactly(l), exactly(e), cos)}
	if tolerance.Less(length) {
		k.possible = factor(around(l, tolerance.RatIn(mm)), around(e, a.OffsetTolerance.RatIn(mm)), cos)
	}
	if k.possible.lo == nil || k.possible.lo.Sign() <= 0 {
		return bad("the lever vanishes: the fastener is at the hand or behind it", "a longer wrench or a shorter adapter", units.ErrRange)
	}
	return k, nil
}

func around(x, tolerance *big.Rat) interval {
	return interval{new(big.Rat).Sub(x, tolerance), new(big.Rat).Add(x, tolerance)}
}

// factor encloses 1 + e·cos/l for l above zero. The product is monotone in each of the three, so
// its extremes lie at corners.
func factor(l, e, cos interval) interval {
	var f interval
	for _, x := range [...]*big.Rat{l.lo, l.hi} {
		for _, y := range [...]*big.Rat{e.lo, e.hi} {
			for _, c := range [...]*big.Rat{cos.lo, cos.hi} {
				k := new(big.Rat).Mul(y, c)
				k.Quo(k, x).Add(k, one)
				if f.lo == nil || k.Cmp(f.lo) < 0 {
					f.lo = k
				}
				if f.hi == nil || k.Cmp(f.hi) > 0 {
					f.hi = k
				}
			}
		}
	}
	return f
}

// Indicated is what a wrench of the given length (middle of the grip to drive) has to indicate
// for a wanted torque at the fastener: S = T·L/(L + E·cos θ), in wanted's unit.
//
// The formula is in AC 43.13-1B, Fig. 7-2 (its figures seen in a copy) and, with the angle, in TM 9-254,
// Fig. 4-6. It holds while the hand pulls where L was measured to. At angles that are whole
// multiples of 60° or 90° it is worked in fractions, elsewhere with a cosine known to 55 places;
// the result is rounded once, to nearest, to what 34 digits hold: 117.39… goes on for 34.
//
// Errors: *units.ParseError: units.ErrRange where the lever vanishes or isn't known, where wanted is
// below zero or the result is out of range; units.ErrUnknownUnit.
func Indicated(wanted units.Torque, length units.Length, a Adapter) (units.Torque, error) {
	k, err := newLever(length, units.Length{}, a)
	if err != nil {
		return units.Torque{}, err
	}
	return scaledTorque(wanted, new(big.Rat).Inv(midpoint(k.stated)))
}

// Delivered is the torque at the fastener when a wrench of the given length indicates one: the
// inverse of [Indicated], with the same errors.
func Delivered(indicated units.Torque, length units.Length, a Adapter) (units.Torque, error) {
	k, err := newLever(length, units.Length{}, a)
	if err != nil {
		return units.Torque{}, err
	}
	return scaledTorque(indicated, midpoint(k.stated))
}

func midpoint(i interval) *big.Rat {
	x := new(big.Rat).Add(i.lo, i.hi)
	return x.Mul(x, half)
}

// scaledTorque is q·x in q's unit, to at most 34 digits.
func scaledTorque(q units.Torque, x *big.Rat) (units.Torque, error) {
	switch {
	case !q.Valid():
		return units.Torque{}, noUnit(q)
	case q.Sign() < 0:
		return units.Torque{}, refuse("torque", q.String(), "below zero", "zero or more; a direction is not a sign", units.ErrRange)
	}
	x = new(big.Rat).Mul(x, q.RatIn(q.Unit()))
	return units.FromRat(x, q.Unit(), rational.Places(x), units.ToNearestEven)
}
