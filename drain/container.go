package drain

import (
	"cmp"
	"math/big"

	"example.com/snugturn/units"
)

// Filling is a pan, a can or a drum, with how full it may be and what is in it.
type Filling struct {
	Limit  units.Volume               // how far it may be filled: see [FillLimit], [FullAt55]
	Inside Estimate[units.VolumeUnit] // Exactly(units.Litre.Of(0), Measured) for an empty one
}

func (c Filling) check() error {
	return cmp.Or(positive("fill limit", c.Limit), checkEstimate("contents", c.Inside))
}

// Left is the room up to the limit. Where contents may be beyond the limit, low is zero.
//
// Errors: *InputError, ErrFull where the contents are beyond the limit by their best figure,
// ErrMissing for a limit of zero; as [Estimate.Check].
func (c Filling) Left() (Estimate[units.VolumeUnit], error) {
	if err := c.check(); err != nil {
		return volumes{}, err
	}
	limit := volumes{c.Limit, c.Limit, c.Limit, c.Inside.From}
	left, err := less("room left", limit, c.Inside)
	if err != nil {
		return volumes{}, refuse("contents", c.Inside.Best.String(), "beyond the fill limit", "at most "+c.Limit.String(), ErrFull)
	}
	return left, nil
}

// Takes says whether what is coming surely goes in up to the limit.
//
// Errors: *InputError (ErrMissing, ErrNegative); as [Estimate.Check].
func (c Filling) Takes(coming Estimate[units.VolumeUnit]) (Answer, error) {
	if err := cmp.Or(c.check(), checkEstimate("volume coming", coming)); err != nil {
		return 0, err
	}
	all, err := c.Inside.Add(coming)
	if err != nil {
		return 0, err
	}
	switch above(all.Low, all.High, c.Limit) {
	case No:
		return Yes, nil
	case Yes:
		return No, nil
	}
	return Undecided, nil
}

// Services is how many more services of a volume go in before the limit, rounded down: the least
// with the smallest room and the largest service, the most the other way round.
//
// Errors: as [Filling.Left]; *InputError, ErrMissing for a service whose low is zero, units.ErrRange
// for more than a million services.
func (c Filling) Services(each Estimate[units.VolumeUnit]) (least, best, most int, err error) {
	left, err := c.Left()
	if err != nil {
		return 0, 0, 0, err
	}
	if err := cmp.Or(checkEstimate("volume of a service", each), positive("volume of a service", each.Low)); err != nil {
		return 0, 0, 0, err
	}
	room, part := ends(left, units.CubicMetre), ends(each, units.CubicMetre)
	counts := [3]int{}
	for i := range counts {
		n := new(big.Rat).Quo(room[i], part[2-i])
		floor := new(big.Int).Quo(n.Num(), n.Denom())
		if floor.Cmp(big.NewInt(maxCount)) > 0 {
			return 0, 0, 0, refuse("volume of a service", each.String(), "goes in more than a million times",
				"the volumes in the units they were given in", units.ErrRange)
		}
		counts[i] = int(floor.Int64())
	}
	return counts[0], counts[1], counts[2], nil
}

var (
	fifty     = units.Celsius.Of(50)
	fiftyFive = units.Celsius.Of(55)
)

// limitPlaces is how finely a fill limit is given, always rounded down.
const limitPlaces = 6

// FullAt55 is the volume at which a container filled at a temperature is liquid-full at 55 °C, the
// temperature of ADR 4.1.1.4 and 49 CFR 173.24a(d) (the latter from memory), in the capacity's unit,
// rounded down at six places. It leaves nothing over: fill to less. That the drum grows too isn't
// counted, which is the inward side.
//
// Errors: *InputError, ErrMissing for a capacity of zero; as [Fuel.DensityAt].
func FullAt55(f Fuel, capacity units.Volume, filledAt units.Temperature) (units.Volume, error) {
	if err := cmp.Or(positive("capacity", capacity), f.check(filledAt)); err != nil {
		return units.Volume{}, err
	}
	x := capacity.RatIn(capacity.Unit())
	if filledAt.Less(fiftyFive) {
		x.Mul(x, f.factor(VolumeAt{fiftyFive, filledAt}).rat())
	}
	return units.FromRat(x, capacity.Unit(), limitPlaces, units.ToNegativeInf)
}

// FillLimit is the most that ADR 4.1.1.4 (b) lets a container hold when it is filled at a
// temperature: 98/(1 + α·(50 - tF)) per cent of its capacity, with α = (d15 - d50)/(35·d50), in the
// capacity's unit, rounded down at six places (ADR 2013). Above 50 °C the temperature counts as 50 °C,
// which is the inward side.
//
// Errors: as [FullAt55].
func FillLimit(f Fuel, capacity units.Volume, filledAt units.Temperature) (units.Volume, error) {
	if err := cmp.Or(positive("capacity", capacity), f.check(filledAt)); err != nil {
		return units.Volume{}, err
	}
	d15, d50 := f.densityAt(fifteen).rat(), f.densityAt(fifty).rat()
	alpha := new(big.Rat).Sub(d15, d50)
	alpha.Quo(alpha, product(big.NewRat(35, 1), d50))
	rise := larger(new(big.Rat), new(big.Rat).Sub(big.NewRat(50, 1), filledAt.RatIn(units.Celsius)))
	under := alpha.Mul(alpha, rise)
	under.Add(under, big.NewRat(1, 1))
	x := product(big.NewRat(98, 100), capacity.RatIn(capacity.Unit()))
	return units.FromRat(x.Quo(x, under), capacity.Unit(), limitPlaces, units.ToNegativeInf)
}
