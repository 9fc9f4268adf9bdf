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
