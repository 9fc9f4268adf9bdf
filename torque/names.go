package torque

import (
	"database/sql/driver"

	"example.com/snugturn/internal/enum"
)

// The words of the enumerations, in which they are written in text, JSON, gob and SQL, and the methods
// that do it. Words are read in any letter case, with hyphens or blanks.

var (
	rules    = enum.New[Rule]("decision rule", "simple acceptance", "guarded by U", "guarded for 95 %", "four-way")
	verdicts = enum.New[Verdict]("verdict", "pass", "conditional pass", "conditional fail", "fail", "undecided")
	bases    = enum.FromZero[Basis]("basis of a deviation", "of dial or reference", "of dial", "of reference",
		"of full scale", "absolute")
	outcomeWords = enum.New[Outcome]("outcome", "in band", "seated", "not tight", "stopped, not shown to be seated",
		"above the band", "past its stop", "dragging while run up")
	observations  = enum.FromZero[Seen]("observation", "not observed", "yes", "no")
	printVerdicts = enum.New[PrintVerdict]("verdict on a print", "agrees", "shares a third unit", "disagrees")
)

// String is the word, "guarded by U"; "Rule(0)" for a value that is none of the constants.
func (r Rule) String() string { return rules.String(r) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for none of the constants.
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

// String is the word, "conditional pass"; "Verdict(0)" for a value that is none of the constants.
func (v Verdict) String() string { return verdicts.String(v) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for none of the constants.
func (v Verdict) MarshalText() ([]byte, error) { return verdicts.Text(v) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); v stays as it was.
func (v *Verdict) UnmarshalText(text []byte) error { return verdicts.Read(v, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (v *Verdict) UnmarshalJSON(data []byte) error { return verdicts.ReadJSON(v, data) }

// MarshalBinary is MarshalText, for gob.
func (v Verdict) MarshalBinary() ([]byte, error) { return verdicts.Text(v) }

// UnmarshalBinary is UnmarshalText, for gob.
func (v *Verdict) UnmarshalBinary(text []byte) error { return verdicts.Read(v, text) }

// Value is the word, for a database column.
func (v Verdict) Value() (driver.Value, error) { return verdicts.Value(v) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (v *Verdict) Scan(column any) error { return verdicts.Scan(v, column) }

// String is the word, "of full scale"; "Basis(99)" for a value that is none of the constants.
func (b Basis) String() string { return bases.String(b) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for none of the constants.
func (b Basis) MarshalText() ([]byte, error) { return bases.Text(b) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); b stays as it was.
func (b *Basis) UnmarshalText(text []byte) error { return bases.Read(b, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (b *Basis) UnmarshalJSON(data []byte) error { return bases.ReadJSON(b, data) }

// MarshalBinary is MarshalText, for gob.
func (b Basis) MarshalBinary() ([]byte, error) { return bases.Text(b) }

// UnmarshalBinary is UnmarshalText, for gob.
func (b *Basis) UnmarshalBinary(text []byte) error { return bases.Read(b, text) }

// Value is the word, for a database column.
func (b Basis) Value() (driver.Value, error) { return bases.Value(b) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (b *Basis) Scan(column any) error { return bases.Scan(b, column) }

// String is the word, "seated"; "Outcome(0)" for a value that is none of the constants.
func (o Outcome) String() string { return outcomeWords.String(o) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for none of the constants.
func (o Outcome) MarshalText() ([]byte, error) { return outcomeWords.Text(o) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); o stays as it was.
func (o *Outcome) UnmarshalText(text []byte) error { return outcomeWords.Read(o, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (o *Outcome) UnmarshalJSON(data []byte) error { return outcomeWords.ReadJSON(o, data) }

// MarshalBinary is MarshalText, for gob.
func (o Outcome) MarshalBinary() ([]byte, error) { return outcomeWords.Text(o) }

// UnmarshalBinary is UnmarshalText, for gob.
func (o *Outcome) UnmarshalBinary(text []byte) error { return outcomeWords.Read(o, text) }

// Value is the word, for a database column.
func (o Outcome) Value() (driver.Value, error) { return outcomeWords.Value(o) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (o *Outcome) Scan(column any) error { return outcomeWords.Scan(o, column) }

// String is the word, "not observed"; "Seen(99)" for a value that is none of the constants.
func (s Seen) String() string { return observations.String(s) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for none of the constants.
func (s Seen) MarshalText() ([]byte, error) { return observations.Text(s) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); s stays as it was.
func (s *Seen) UnmarshalText(text []byte) error { return observations.Read(s, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (s *Seen) UnmarshalJSON(data []byte) error { return observations.ReadJSON(s, data) }

// MarshalBinary is MarshalText, for gob.
func (s Seen) MarshalBinary() ([]byte, error) { return observations.Text(s) }

// UnmarshalBinary is UnmarshalText, for gob.
func (s *Seen) UnmarshalBinary(text []byte) error { return observations.Read(s, text) }

// Value is the word, for a database column.
func (s Seen) Value() (driver.Value, error) { return observations.Value(s) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (s *Seen) Scan(column any) error { return observations.Scan(s, column) }

// String is the word, "agrees"; "PrintVerdict(0)" for a value that is none of the constants.
func (v PrintVerdict) String() string { return printVerdicts.String(v) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for none of the constants.
func (v PrintVerdict) MarshalText() ([]byte, error) { return printVerdicts.Text(v) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); v stays as it was.
func (v *PrintVerdict) UnmarshalText(text []byte) error { return printVerdicts.Read(v, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (v *PrintVerdict) UnmarshalJSON(data []byte) error { return printVerdicts.ReadJSON(v, data) }

// MarshalBinary is MarshalText, for gob.
func (v PrintVerdict) MarshalBinary() ([]byte, error) { return printVerdicts.Text(v) }

// UnmarshalBinary is UnmarshalText, for gob.
func (v *PrintVerdict) UnmarshalBinary(text []byte) error { return printVerdicts.Read(v, text) }

// Value is the word, for a database column.
func (v PrintVerdict) Value() (driver.Value, error) { return printVerdicts.Value(v) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (v *PrintVerdict) Scan(column any) error { return printVerdicts.Scan(v, column) }
