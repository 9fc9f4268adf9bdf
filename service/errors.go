package service

import (
	"errors"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/strictjson"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// What a caller may do something about, where a job file, readings, rules or a record are refused. What
// else is wrong has its [JobError.Code], and matches the sentinels of the value's own package
// (units.ErrNoUnit, units.ErrAmbiguous, units.ErrRange, ...).
var (
	// ErrJSON: the text is not well-formed JSON.
	ErrJSON = strictjson.ErrJSON
	// ErrNewerVersion: the file was written for a later form than this one.
	ErrNewerVersion = errors.New("newer version")
	// ErrSize: more text, or more values, than any such file has.
	ErrSize = strictjson.ErrSize
)

// Causes that have no more than a code.
var (
	errUnknownField   = strictjson.ErrUnknown
	errDuplicateField = strictjson.ErrTwice
	errMissingField   = strictjson.ErrMissing // or what it has to say left empty
	errType           = strictjson.ErrType
	errContradiction  = errors.New("contradiction") // fields that are each well formed, and can't both be so
)

// JobError is one thing that is wrong with a job, or with the readings, the rules or the record of
// one, and where.
type JobError struct {
	Path    string // "stations[1].tighten.turn"; "" for the file as a whole
	Problem string // what is wrong there
	Want    string // what would be accepted
	Err     error  // the cause: a sentinel of this package, or the error of the value's own; see Code
}

// Error is one line: the path, the problem, and what would be accepted.
func (e *JobError) Error() string {
	line := e.Problem
	if e.Path != "" {
		line = e.Path + ": " + line
	}
	if e.Want != "" {
		line += "; want " + e.Want
	}
	return line
}

// Unwrap gives the cause.
func (e *JobError) Unwrap() error { return e.Err }

// Code is a word for the cause, the same in every language and release, for programs that show errors
// in words of their own: "missing-field", "no-unit", "out-of-range"; "refused" where the cause has
// none. The values next to it are in Path and, with errors.As, in the typed error that Err holds.
func (e *JobError) Code() string {
	for _, c := range errorCodes {
		if errors.Is(e.Err, c.err) {
			return c.code
		}
	}
	return "refused"
}

// errorCodes have the closer cause before the wider one that it matches too.
var errorCodes = []struct {
	err  error
	code string
}{
	{ErrJSON, "not-json"}, {errUnknownField, "unknown-field"}, {errDuplicateField, "duplicate-field"}, {errMissingField, "missing-field"},
	{errType, "wrong-type"}, {ErrNewerVersion, "newer-version"}, {ErrSize, "too-large"}, {errContradiction, "contradiction"},
	{ErrAltered, "altered"},
	{torque.ErrTwoUnits, "two-units"}, {torque.ErrNoTolerance, "no-tolerance"}, {torque.ErrNothingLeft, "nothing-left"},
	{turn.ErrNoDatum, "no-datum"}, {turn.ErrNoView, "no-view"}, {turn.ErrUnknownMark, "unknown-mark"},
	{drain.ErrOrder, "out-of-order"}, {torque.ErrOrder, "out-of-order"}, {drain.ErrNegative, "negative"},
	{drain.ErrDensity, "out-of-range"}, {drain.ErrTemperature, "out-of-range"}, {drain.ErrMissing, "missing-value"},
	{units.ErrNoUnit, "no-unit"}, {units.ErrUnknownUnit, "unknown-unit"}, {units.ErrOtherKind, "other-kind"},
	{units.ErrAmbiguous, "ambiguous"}, {units.ErrRange, "out-of-range"}, {units.ErrSyntax, "syntax"},
}

// JobErrors is everything that is wrong with one of them, in the order in which it was found.
type JobErrors []*JobError

// Error is a line for each.
func (e JobErrors) Error() string {
	lines := make([]string, len(e))
	for i, one := range e {
		lines[i] = one.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap lets errors.Is and errors.As look at each.
func (e JobErrors) Unwrap() []error {
	each := make([]error, len(e))
	for i, one := range e {
		each[i] = one
	}
	return each
}

// any is the errors, or nil where there are none.
func (e JobErrors) any() error {
	if len(e) == 0 {
		return nil
	}
	return e
}

func (e *JobErrors) add(path, problem, want string, cause error) {
	*e = append(*e, &JobError{Path: path, Problem: problem, Want: want, Err: cause})
}

// when records what is bad, unless something is known to be wrong there.
func (e *JobErrors) when(bad bool, path, problem, want string, cause error) {
	if bad && !e.faulty(path) {
		e.add(path, problem, want, cause)
	}
}

// once records what is in a list for the second time, by the name that it has to have of its own.
func (e *JobErrors) once(seen map[string]bool, name, path, want string) {
	e.when(seen[name], path, plain.Quote(name)+" is given twice", want, errContradiction)
	seen[name] = true
}

// value records an error of another package, which says for itself what would be accepted.
func (e *JobErrors) value(path string, err error) {
	if err != nil {
		e.add(path, err.Error(), "", err)
	}
}

// text records what is wrong with a text. Where the torque of a job is printed in two units, the
// field for that is named: package torque names a function.
func (e *JobErrors) text(path string, err error) {
	var parse *units.ParseError
	if !errors.Is(err, torque.ErrTwoUnits) || !errors.As(err, &parse) {
		e.value(path, err)
		return
	}
	problem := *parse
	problem.Want = ""
	e.add(path, problem.Error(), `one unit; put a limit printed in two units in "printed" instead of "torque"`, err)
}

// faulty reports whether something at the path, below it or above it is already known to be wrong,
// so that a check of its meaning would only repeat that.
func (e JobErrors) faulty(path string) bool {
	for _, one := range e {
		if strictjson.Within(one.Path, path) || one.Path != "" && strictjson.Within(path, one.Path) {
			return true
		}
	}
	return false
}
