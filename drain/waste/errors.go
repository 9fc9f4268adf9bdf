package waste

import (
	"errors"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// What can be wrong besides the sentinels of package units, which are used where they fit:
// units.ErrSyntax for a text that can't be read, units.ErrRange for a value outside its limits,
// [drain.ErrMissing] for what wasn't given.
var (
	// ErrConflict: an entry was given before with other contents.
	ErrConflict = errors.New("conflict")
	// ErrNotCovered: the rule set says nothing about what was asked.
	ErrNotCovered = errors.New("no rule")
)

// Error says what was refused, in which part of it, why, and what would be accepted.
type Error struct {
	What    string // what was being made or read: "entry", "batch", "rule set"
	Field   string // which part of it: "mass", "containers[2]"
	Input   string // what was given, cut to 48 bytes; empty where nothing was
	Problem string
	Want    string // what would be accepted
	Err     error  // a sentinel of this package or of units
}

// Error writes one line, such as:
//
//	batch: quantity "55 US gal": more than the containers hold; want what is in them
func (e *Error) Error() string {
	text := e.What
	if e.Field != "" {
		text += ": " + e.Field
	}
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
func (e *Error) Unwrap() error { return e.Err }

func refuse(what, field, input, problem, want string, err error) *Error {
	return &Error{What: what, Field: field, Input: plain.Cut(input), Problem: problem, Want: want, Err: err}
}

// seen refuses a text that holds more than a reader sees: a line break, a character without width,
// one that turns the direction of writing.
func seen(what, field, text string) error {
	if hidden := plain.Hidden(text); hidden != "" {
		return refuse(what, field, text, "holds "+hidden+", which doesn't print", "one line of plain text", units.ErrSyntax)
	}
	return nil
}
