package drain

import (
	"example.com/snugturn/units"
)

// Grade is a grade of fuel with the least flash point its specification allows. A batch may flash
// higher, and one that was mixed with petrol far lower: the safety data sheet and the manufacturer's
// instructions go before these.
type Grade struct {
	Name       string
	LeastFlash units.Temperature
	Source     string
	AsOf       string // the copy that was read
}

// Grades are the grades known here. A local specification may set others.
//
//   - No. 1-D: 38 °C, ASTM D975 as used by Maryland COMAR 03.03.05.02
//   - No. 2-D: 52 °C, the same; Maryland allows 43 °C from November to April
//   - EN 590: above 55 °C (EN ISO 2719), from a secondary copy
func Grades() []Grade {
	const maryland = "ASTM D975 as used by Maryland COMAR 03.03.05.02"
	return []Grade{
		{"No. 1-D", units.Celsius.Of(38), maryland, "undated copy"},
		{"No. 2-D", units.Celsius.Of(52), maryland, "undated copy"},
		{"No. 2-D, Maryland November to April", units.Celsius.Of(43), maryland, "undated copy"},
		{"EN 590", units.Celsius.Of(55), "EN 590, flash point by EN ISO 2719, secondary copy", "undated copy"},
	}
}

// Guard says whether fuel may be caught. The zero Guard says nothing.
type Guard uint8

// The guards. Clear means only that the catch is colder than the least flash point by more than
// the margin: vapour, sparks and hot surfaces are still the mechanic's to see.
const (
	FlashClear   Guard = iota + 1 // colder than the least flash point by more than the margin
	FlashCaution                  // within the margin
	FlashStop                     // at the least flash point or above: let it cool
)

// FlashFinding is a guard with what it rests on.
type FlashFinding struct {
	Guard      Guard
	LeastFlash units.Temperature
	CaughtAt   units.Temperature
	Margin     units.TemperatureDifference
	Below      units.TemperatureDifference // by how much the catch is colder than the least flash point
}

// FlashGuard holds the temperature at which fuel is caught against the least flash point of its
// grade. The margin is the caller's: how far a thermometer, a batch and a hot pan may stray isn't
// known here. Everything is compared exactly.
//
// Errors: *InputError, ErrMissing for a margin of zero, for the zero Temperature and for a scale that
// is not one of the constants, ErrNegative for a margin below zero.
func FlashGuard(leastFlash, caughtAt units.Temperature, margin units.TemperatureDifference) (FlashFinding, error) {
	if err := positive("flash margin", margin); err != nil {
		return FlashFinding{}, err
	}
	for _, t := range [...]struct {
		what string
		units.Temperature
	}{{"least flash point", leastFlash}, {"temperature of the catch", caughtAt}} {
		if !t.Valid() {
			return FlashFinding{}, refuse(t.what, t.String(), "not a temperature", "one in °C, °F or K", ErrMissing)
		}
	}
	below, _ := leastFlash.Sub(caughtAt)
	f := FlashFinding{LeastFlash: leastFlash, CaughtAt: caughtAt, Margin: margin, Below: below, Guard: FlashCaution}
	room := leastFlash.RatIn(units.Kelvin)
	room.Sub(room, caughtAt.RatIn(units.Kelvin))
	switch {
	case room.Sign() <= 0:
		f.Guard = FlashStop
	case room.Cmp(margin.RatIn(units.KelvinDifference)) > 0:
		f.Guard = FlashClear
	}
	return f, nil
}

// String is one line for a sheet: "caution: caught at 45 °C, 7 °C below the least flash point of 52 °C".
func (f FlashFinding) String() string {
	head := f.Guard.String() + ": caught at " + f.CaughtAt.String() + ", "
	switch f.Below.Sign() {
	case 0:
		return head + "at the least flash point"
	case -1:
		return head + f.Below.Abs().String() + " above the least flash point of " + f.LeastFlash.String()
	}
	return head + f.Below.String() + " below the least flash point of " + f.LeastFlash.String()
}
