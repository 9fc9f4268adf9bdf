package torque

import (
	"database/sql/driver"

	"example.com/snugturn/internal/enum"
)

// The words of the enumerations, in which they are written in text, JSON, gob and SQL, and the methods
// that do it. Words are read in any letter case, with hyphens or blanks.

var (
	rules       = enum.New[Rule]("decision rule", "simple acceptance", "guarded by U", "guarded for 95 %", "non-binary")
	acceptances = enum.New[Acceptance]("acceptance", "accepted", "conditionally accepted",
		"conditionally rejected", "rejected", "inconclusive").
		Also(Accepted, "pass").Also(ConditionallyAccepted, "conditional pass").
		Also(ConditionallyRejected, "conditional fail").Also(Rejected, "fail")
	bases = enum.FromZero[DeviationBasis]("basis of a deviation", "of dial or reference", "of dial", "of reference",
		"of full scale", "absolute")
	agreements = enum.New[Agreement]("agreement", "agrees", "shares a third unit", "disagrees")
)

// String is the word, "guarded by U"; "Rule(0)" for a value that isn't one of the constants.
func (r Rule) String() string { return rules.String(r) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (r Rule) MarshalText() ([]byte, error) { return rules.Text(r) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); r stays as it was.
func (r *Rule) UnmarshalText(text []byte) error { return rules.Read(r, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (r *Rule) UnmarshalJSON(data []byte) error { return rules.ReadJSON(r, data) }

// MarshalBinary is MarshalText, for gob.
func (r Rule) MarshalBinary() ([]byte, error) { return rules.Text(r) }

// UnmarshalBinary is UnmarshalText, for gob.
func (r *Rule) UnmarshalBinary(text []byte) error { return rules.Read(r, text) }

// Value is the word, for a database column.
func (r Rule) Value() (driver.Value, error) { return rules.Value(r) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (r *Rule) Scan(column any) error { return rules.Scan(r, column) }

// String is the word, "conditionally accepted"; "Acceptance(0)" for a value that isn't one of the constants.
func (v Acceptance) String() string { return acceptances.String(v) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (v Acceptance) MarshalText() ([]byte, error) { return acceptances.Text(v) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); v stays as it was.
func (v *Acceptance) UnmarshalText(text []byte) error { return acceptances.Read(v, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (v *Acceptance) UnmarshalJSON(data []byte) error { return acceptances.ReadJSON(v, data) }

// MarshalBinary is MarshalText, for gob.
func (v Acceptance) MarshalBinary() ([]byte, error) { return acceptances.Text(v) }

// UnmarshalBinary is UnmarshalText, for gob.
func (v *Acceptance) UnmarshalBinary(text []byte) error { return acceptances.Read(v, text) }

// Value is the word, for a database column.
func (v Acceptance) Value() (driver.Value, error) { return acceptances.Value(v) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (v *Acceptance) Scan(column any) error { return acceptances.Scan(v, column) }

// String is the word, "of full scale"; "DeviationBasis(99)" for a value that isn't one of the constants.
func (b DeviationBasis) String() string { return bases.String(b) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (b DeviationBasis) MarshalText() ([]byte, error) { return bases.Text(b) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); b stays as it was.
func (b *DeviationBasis) UnmarshalText(text []byte) error { return bases.Read(b, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (b *DeviationBasis) UnmarshalJSON(data []byte) error { return bases.ReadJSON(b, data) }

// MarshalBinary is MarshalText, for gob.
func (b DeviationBasis) MarshalBinary() ([]byte, error) { return bases.Text(b) }

// UnmarshalBinary is UnmarshalText, for gob.
func (b *DeviationBasis) UnmarshalBinary(text []byte) error { return bases.Read(b, text) }

// Value is the word, for a database column.
func (b DeviationBasis) Value() (driver.Value, error) { return bases.Value(b) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (b *DeviationBasis) Scan(column any) error { return bases.Scan(b, column) }

// String is the word, "agrees"; "Agreement(0)" for a value that isn't one of the constants.
func (v Agreement) String() string { return agreements.String(v) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (v Agreement) MarshalText() ([]byte, error) { return agreements.Text(v) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); v stays as it was.
func (v *Agreement) UnmarshalText(text []byte) error { return agreements.Read(v, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (v *Agreement) UnmarshalJSON(data []byte) error { return agreements.ReadJSON(v, data) }

// MarshalBinary is MarshalText, for gob.
func (v Agreement) MarshalBinary() ([]byte, error) { return agreements.Text(v) }

// UnmarshalBinary is UnmarshalText, for gob.
func (v *Agreement) UnmarshalBinary(text []byte) error { return agreements.Read(v, text) }

// Value is the word, for a database column.
func (v Agreement) Value() (driver.Value, error) { return agreements.Value(v) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (v *Agreement) Scan(column any) error { return agreements.Scan(v, column) }
