package turn

import (
	"fmt"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/units"
)

// What a caller may want to do something about; all else matches the sentinels of package units. The
// errors are *units.ParseError, of values too that were read from no text.
var (
	// ErrNoDatum: the instruction doesn't say where its turn is counted from. It is ambiguous,
	// and matches units.ErrAmbiguous too.
	ErrNoDatum = fmt.Errorf("no datum: %w", units.ErrAmbiguous)
	// ErrNoView: clockwise, or counterclockwise, and nobody says seen from where. It is
	// ambiguous, and matches units.ErrAmbiguous too.
	ErrNoView = fmt.Errorf("no viewpoint: %w", units.ErrAmbiguous)
	// ErrUnknownMark: the ring has no such mark.
	ErrUnknownMark = fmt.Errorf("unknown mark: %w", units.ErrSyntax)
)

func refuse(what, value, problem, want string, err error) *units.ParseError {
	return misread.Error(what, value, 0, problem, want, err)
}
