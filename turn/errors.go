package turn

import (
	"fmt"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// What can be wrong, beside the sentinels of package units (ErrSyntax, ErrRange, ErrNoUnit,
// ErrAmbiguous), which errors of this package match where they apply.
var (
	// ErrNoDatum: the instruction doesn't say where its turn is counted from. It is ambiguous,
	// and matches units.ErrAmbiguous too.
	ErrNoDatum = fmt.Errorf("no datum: %w", units.ErrAmbiguous)
	// ErrNoView: clockwise, or counterclockwise, and nobody says seen from where. It is
	// ambiguous, and matches units.ErrAmbiguous too.
	ErrNoView = fmt.Errorf("no viewpoint: %w", units.ErrAmbiguous)
	// ErrLabels: the labels can't stand around one ring.
	ErrLabels = fmt.Errorf("labels: %w", units.ErrSyntax)
	// ErrUnknownMark: the ring has no such mark.
	ErrUnknownMark = fmt.Errorf("unknown mark: %w", units.ErrSyntax)
	// ErrUnknownName: the value, or the word for one, is none of the type's constants.
	ErrUnknownName = fmt.Errorf("unknown name: %w", units.ErrSyntax)
)

// ValueError tells that a value, on its own or beside the others, can't be used.
type ValueError struct {
	What    string // what was being made: "turn", "ring", "view"
	Value   string // the value, cut to 48 bytes
	Problem string // what is wrong with it
	Want    string // what would be accepted
	Err     error  // a sentinel of this package or of package units
}

// Error writes one line, such as:
//
//	ring "b": differs from "B" by its case alone; want labels that differ in more
func (e *ValueError) Error() string {
	text := e.What + " " + plain.Quote(e.Value) + ": " + e.Problem
	if e.Want != "" {
		text += "; want " + e.Want
	}
	return text
}

// Unwrap gives the sentinel.
func (e *ValueError) Unwrap() error { return e.Err }

func refuse(what, value, problem, want string, err error) *ValueError {
	return &ValueError{What: what, Value: plain.Cut(value), Problem: problem, Want: want, Err: err}
}
