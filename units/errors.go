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
	// ErrUnknownUnit: the unit is not one of the kind's.
	ErrUnknownUnit = errors.New("unknown unit")
	// ErrOtherKind: the unit is a unit, but of another kind of quantity (joules for a torque).
	ErrOtherKind = errors.New("unit of another kind")
)

// ParseError says what is wrong with a text, where, and what would be accepted; or with a number, a unit or a
// code that was handed over, which it quotes as a text.
type ParseError struct {
	What       string   // what was being read: "torque", "torque band", "torque in N·m"
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

// unknown is the error for a unit value that is not one of the kind's.
func (k *kind) unknown(u uint8) *ParseError {
	return &ParseError{What: "unit of " + k.name, Input: k.symbol(u), Problem: "unknown value", Want: k.some(), Err: ErrUnknownUnit}
}

func (k *kind) bounds() string {
	return "at most 34 digits, 60 places, and less than 10^24 " + k.rows[0].symbol
}

// unfit is the error for a number that can't be one of unit u, from what is known of its digits.
func (k *kind) unfit(u uint8, digits, problem, want string) *ParseError {
	return &ParseError{What: k.name + " in " + k.symbol(u), Input: plain.Cut(digits), Problem: problem, Want: want, Err: ErrRange}
}

func (k *kind) tooLarge(u uint8, d decimal.Decimal) *ParseError {
	problem := "too many digits or too large"
	if d.Exponent() < -maxPlaces {
		problem = "too many places"
	}
	return k.unfit(u, digitsOf(d), problem, k.bounds())
}

// digitsOf writes a decimal where that is cheap, and else what is known of it.
func digitsOf(d decimal.Decimal) string {
	if n, ok := fromDecimal(d); ok {
		return string(n.appendTo(nil))
	}
	return "…e" + strconv.Itoa(int(d.Exponent()))
}
