package units

import (
	"errors"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/snugturn/internal/plain"
)

// What can be wrong with a text or a magnitude. Errors of this package, and of the packages
// built on it, match one of these under errors.Is.
var (
	// ErrSyntax: the text doesn't follow the grammar.
	ErrSyntax = errors.New("syntax")
	// ErrRange: the number is well formed but outside what a quantity can hold.
	ErrRange = errors.New("out of range")
	// ErrAmbiguous: the text has more than one reading; the error's Candidates name them.
	ErrAmbiguous = errors.New("ambiguous")
	// ErrNoUnit: a number stands alone.
	ErrNoUnit = errors.New("no unit")
	// ErrUnknownUnit: the unit is none of the kind's.
	ErrUnknownUnit = errors.New("unknown unit")
	// ErrOtherKind: the unit is a unit, but of another kind of quantity (joules for a torque).
	ErrOtherKind = errors.New("unit of another kind")
)

// ParseError tells what is wrong with a text, where, and what would be accepted.
type ParseError struct {
	What       string   // what was being read: "torque", "torque band", "turn"
	Input      string   // the text, cut to 48 bytes
	Offset     int      // byte of the text at which reading stopped
	Problem    string   // what is wrong there
	Want       string   // what would be accepted
	Candidates []string // with ErrAmbiguous: the possible readings
	Err        error    // one of the package's sentinels
}

// Error writes one line, such as:
//
//	torque "5 gal" at byte 2: "gal" is a unit of volume; want a unit such as N·m, in-lb, ft-lb
func (e *ParseError) Error() string {
	var b strings.Builder
	b.WriteString(e.What)
	b.WriteByte(' ')
	b.WriteString(plain.Quote(e.Input))
	if e.Offset > 0 {
		b.WriteString(" at byte ")
		b.WriteString(strconv.Itoa(e.Offset))
	}
	b.WriteString(": ")
	b.WriteString(e.Problem)
	if len(e.Candidates) > 0 {
		b.WriteString("; it could be ")
		b.WriteString(strings.Join(e.Candidates, " or "))
	}
	if e.Want != "" {
		b.WriteString("; want ")
		b.WriteString(e.Want)
	}
	return b.String()
}

// Unwrap gives the sentinel.
func (e *ParseError) Unwrap() error { return e.Err }

// misread is a ParseError with its input cut short.
func misread(what, input string, offset int, problem, want string, err error) *ParseError {
	return &ParseError{What: what, Input: plain.Cut(input), Offset: offset, Problem: problem, Want: want, Err: err}
}

// UnitError tells that a value of a unit type is none of its constants, such as TorqueUnit(99).
type UnitError struct {
	Unit    string // as it prints: "TorqueUnit(99)"
	Problem string
	Err     error
}

// Error writes one line, such as "TorqueUnit(99): no such unit of torque".
func (e *UnitError) Error() string { return e.Unit + ": " + e.Problem }

// Unwrap gives the sentinel, ErrUnknownUnit.
func (e *UnitError) Unwrap() error { return e.Err }

// MagnitudeError tells that a decimal can't be a magnitude.
type MagnitudeError struct {
	What     string // the kind: "torque"
	Unit     string // the unit's symbol
	Digits   string // what is known of the number without writing it out
	Problem  string // what is wrong with it
	Want     string // what would be accepted
	sentinel error
}

// Error writes one line.
func (e *MagnitudeError) Error() string {
	return e.What + " in " + e.Unit + ": " + e.Problem + " (" + e.Digits + "); want " + e.Want
}

// Unwrap gives the sentinel, ErrRange.
func (e *MagnitudeError) Unwrap() error { return e.sentinel }

// unknown is the error for a unit value that is none of the kind's.
func (k *kind) unknown(u uint8) *UnitError {
	return &UnitError{Unit: k.symbol(u), Problem: "no such unit of " + k.name, Err: ErrUnknownUnit}
}

func (k *kind) bounds() string {
	return "at most 34 digits, 60 places, and less than 10^24 " + k.rows[0].symbol
}

func (k *kind) tooLarge(u uint8, d decimal.Decimal) *MagnitudeError {
	e := &MagnitudeError{What: k.name, Unit: k.symbol(u), Want: k.bounds(), sentinel: ErrRange, Digits: digitsOf(d)}
	if e.Problem = "too many digits or too large"; d.Exponent() < -maxPlaces {
		e.Problem = "too many places"
	}
	return e
}

// digitsOf writes a decimal where that is cheap, and else what is known of it.
func digitsOf(d decimal.Decimal) string {
	if n, ok := fromDecimal(d); ok {
		return string(n.appendTo(nil))
	}
	return "an exponent of " + strconv.Itoa(int(d.Exponent()))
}
