// Package misread makes the errors of whatever reads texts.
package misread

import (
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// Error is what is wrong with a text at a byte of it, with the text cut short.
func Error(what, input string, offset int, problem, want string, err error) *units.ParseError {
	return &units.ParseError{What: what, Input: plain.Cut(input), Offset: offset, Problem: problem, Want: want, Err: err}
}

// NotText makes the error of something that isn't the text it should be.
func NotText(what, want string) func(given, problem string) error {
	return func(given, problem string) error { return Error(what, given, 0, problem, want, units.ErrSyntax) }
}
