package torque

import (
	"math/big"

	"example.com/snugturn/units"
)

// RunningRule says what the running torque (prevailing torque, drag) of a self-locking fastener
// does to its band. The rules are for such fasteners and nothing else: a filter bowl that drags
// while it is run up is cross-threaded or its seal is rolled, and its band stays what it is. The
// zero RunningRule is none; no rule is a default. It isn't stored: in JSON it is a number.
type RunningRule uint8

// The rules.
const (
	_ RunningRule = iota
	// AddAlways adds the running torque to both limits: AC 43.13-1B, 7-40 (9/8/98).
	AddAlways
	// AddFromAThird ignores a running torque below a third of the specification and adds one of a
	// third or more: TB 43-0218, §7c; measured one turn from seating. The text doesn't say a third
	// of which limit: between a third of the low and a third of the high one it leaves the matter
	// open, and so does the rule.
	AddFromAThird
)

// String names the rule by its source: "TB 43-0218 §7c".
func (r RunningRule) String() string {
	switch r {
	case AddAlways:
		return "AC 43.13-1B 7-40"
	case AddFromAThird:
		return "TB 43-0218 §7c"
	}
	return "no running torque rule"
}

// RunningError tells why a running torque gives no band.
type RunningError struct {
	Band    Band
	Running units.Torque
	Rule    RunningRule
	Problem string
	Want    string
	Err     error
}

// Error writes one line.
func (e *RunningError) Error() string {
	return "running torque " + e.Running.String() + " with torque band " + e.Band.String() + ", " + e.Rule.String() + ": " +
		e.Problem + "; want " + e.Want
}

// Unwrap gives the sentinel.
func (e *RunningError) Unwrap() error { return e.Err }

// WithRunning is the band for a self-locking fastener whose running torque was measured, and
// whether it was added. Under [AddFromAThird] 50 to 70 in-lb and 30 in-lb give 80 to 100 in-lb.
//
// Errors: *RunningError, matching ErrOpen where the rule's text leaves the matter open,
// ErrNoRule, units.ErrRange (below zero, or sums with no exact value in a limit's unit),
// units.ErrUnknownUnit; *BandError (ErrNoBand).
func (b Band) WithRunning(running units.Torque, rule RunningRule) (Band, bool, error) {
	if err := b.usable(); err != nil {
		return Band{}, false, err
	}
	refuse := func(problem, want string, err error) (Band, bool, error) {
		return Band{}, false, &RunningError{Band: b, Running: running, Rule: rule, Problem: problem, Want: want, Err: err}
	}
	switch {
	case !running.Valid():
		return refuse("no unit of torque", "units.InchPound and the like", units.ErrUnknownUnit)
	case running.Sign() < 0:
		return refuse("the running torque is below zero", "zero or more", units.ErrRange)
	case rule != AddAlways && rule != AddFromAThird:
		return refuse("no rule was chosen", "AddAlways or AddFromAThird, as the work is governed by the one or the other text", ErrNoRule)
	}
	if rule == AddFromAThird {
		unit := units.NewtonMetre
		thrice := running.RatIn(unit)
		thrice.Mul(thrice, big.NewRat(3, 1))
		switch {
		case thrice.Cmp(b.low.RatIn(unit)) < 0:
			return b, false, nil
		case thrice.Cmp(b.high.RatIn(unit)) < 0:
			return refuse("it lies between a third of the low and a third of the high limit, where the text leaves open whether it is added",
				"a decision by whoever answers for the work", ErrOpen)
		}
	}
	low, exactLow := b.low.Add(running)
	high, exactHigh := b.high.Add(running)
	if !exactLow || !exactHigh {
		return refuse("the sum has no exact value in the band's unit", "the running torque in the band's unit", units.ErrRange)
	}
	sum, err := Between(low, high)
	return sum, err == nil, err
}
