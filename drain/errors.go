package drain

import (
	"errors"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// What can be wrong with an input. Every error of this package about an input is an [*InputError]
// that matches one of these, or [units.ErrRange], under errors.Is. A result that a quantity has no
// room for is refused by package units, with an error that matches units.ErrRange too.
var (
	// ErrMissing: a zero value stands where something has to be said, or a unit is not one of its kind's.
	ErrMissing = errors.New("missing")
	// ErrOrder: low, best and high (or least and most) are not in that order.
	ErrOrder = errors.New("out of order")
	// ErrNegative: a volume, a mass, a length or a flow is below zero.
	ErrNegative = errors.New("negative")
	// ErrDensity: the density is outside the tables of the standard.
	ErrDensity = errors.New("density outside the tables")
	// ErrTemperature: the temperature is outside the tables of the standard.
	ErrTemperature = errors.New("temperature outside the tables")
	// ErrFull: there is no room for what should go in.
	ErrFull = errors.New("full")
)

// InputError says which input was refused, why, and what would be accepted.
type InputError struct {
	What    string // the input: "pump flow"
	Input   string // what was given, cut to 48 bytes; empty where nothing was
	Problem string
	Want    string // what would be accepted
	Err     error  // one of the sentinels
}

// Error writes one line, such as:
//
//	temperature of the fuel "200 °C": outside the tables; want -50 to 150 °C (API MPMS 11.1-2004)
func (e *InputError) Error() string {
	text := e.What
	if e.Input != "" {
		text += " " + plain.Quote(e.Input)
	}
	text += ": " + e.Problem
	if e.Want != "" {
		text += "; want " + e.Want
	}
	return text
}

// Unwrap gives the sentinel.
func (e *InputError) Unwrap() error { return e.Err }

func refuse(what, given, problem, want string, err error) *InputError {
	return &InputError{What: what, Input: plain.Cut(given), Problem: problem, Want: want, Err: err}
}

// checked refuses a quantity without a unit and one below zero.
func checked[U units.Unit](what string, q units.Quantity[U]) error {
	switch {
	case !q.Valid():
		return refuse(what, q.String(), "the unit is not one of its kind's", "one of the unit constants", ErrMissing)
	case q.Sign() < 0:
		return refuse(what, q.String(), "below zero", "zero or more", ErrNegative)
	}
	return nil
}

// positive also refuses zero.
func positive[U units.Unit](what string, q units.Quantity[U]) error {
	if err := checked(what, q); err != nil {
		return err
	}
	if q.Sign() == 0 {
		return refuse(what, q.String(), "zero, or not given", "more than zero", ErrMissing)
	}
	return nil
}
