package drain

import (
	"example.com/snugturn/units"
)

// Answer is what can be said of an estimate against a limit. The zero Answer is none.
type Answer uint8

// The answers. Undecided: low and high fall on different sides.
const (
	No Answer = iota + 1
	Yes
	Undecided
)

// Above says whether an estimate is above a limit; one that just reaches it isn't.
//
// Errors: as [Estimate.Check]; *InputError (ErrMissing) for a limit whose unit is none of its kind's.
func Above[U units.Unit](e Estimate[U], limit units.Quantity[U]) (Answer, error) {
	if err := e.Check(); err != nil {
		return 0, err
	}
	if !limit.Valid() {
		return 0, refuse("limit", limit.String(), "the unit is none of its kind's", "one of the unit constants", ErrMissing)
	}
	return above(e.Low, e.High, limit), nil
}

// above is the answer for a figure between low and high.
func above[U units.Unit](low, high, limit units.Quantity[U]) Answer {
	switch {
	case limit.Less(low):
		return Yes
	case limit.Less(high):
		return Undecided
	}
	return No
}
