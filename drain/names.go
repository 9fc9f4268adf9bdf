package drain

import (
	"database/sql/driver"

	"example.com/snugturn/internal/enum"
)

// The words of the enumerations, in which they are written in text, JSON, gob and SQL, and the methods
// that do it. Words are read in any letter case, with hyphens or blanks.

var (
	provenances = enum.New[Provenance]("provenance", "weighed", "measured", "stated", "assumed")
	answers     = enum.New[Answer]("answer", "no", "yes", "undecided")
	guards      = enum.New[Guard]("guard", "clear", "caution", "stop")
)

// String is the word, "weighed"; "Provenance(0)" for a value that isn't one of the constants.
func (p Provenance) String() string { return provenances.String(p) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (p Provenance) MarshalText() ([]byte, error) { return provenances.Text(p) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); p stays as it was.
func (p *Provenance) UnmarshalText(text []byte) error { return provenances.Read(p, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (p *Provenance) UnmarshalJSON(data []byte) error { return provenances.ReadJSON(p, data) }

// MarshalBinary is MarshalText, for gob.
func (p Provenance) MarshalBinary() ([]byte, error) { return provenances.Text(p) }

// UnmarshalBinary is UnmarshalText, for gob.
func (p *Provenance) UnmarshalBinary(text []byte) error { return provenances.Read(p, text) }

// Value is the word, for a database column.
func (p Provenance) Value() (driver.Value, error) { return provenances.Value(p) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (p *Provenance) Scan(column any) error { return provenances.Scan(p, column) }

// String is the word, "undecided"; "Answer(0)" for a value that isn't one of the constants.
func (a Answer) String() string { return answers.String(a) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (a Answer) MarshalText() ([]byte, error) { return answers.Text(a) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); a stays as it was.
func (a *Answer) UnmarshalText(text []byte) error { return answers.Read(a, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (a *Answer) UnmarshalJSON(data []byte) error { return answers.ReadJSON(a, data) }

// MarshalBinary is MarshalText, for gob.
func (a Answer) MarshalBinary() ([]byte, error) { return answers.Text(a) }

// UnmarshalBinary is UnmarshalText, for gob.
func (a *Answer) UnmarshalBinary(text []byte) error { return answers.Read(a, text) }

// Value is the word, for a database column.
func (a Answer) Value() (driver.Value, error) { return answers.Value(a) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (a *Answer) Scan(column any) error { return answers.Scan(a, column) }

// String is the word, "caution"; "Guard(0)" for a value that isn't one of the constants.
func (g Guard) String() string { return guards.String(g) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (g Guard) MarshalText() ([]byte, error) { return guards.Text(g) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); g stays as it was.
func (g *Guard) UnmarshalText(text []byte) error { return guards.Read(g, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (g *Guard) UnmarshalJSON(data []byte) error { return guards.ReadJSON(g, data) }

// MarshalBinary is MarshalText, for gob.
func (g Guard) MarshalBinary() ([]byte, error) { return guards.Text(g) }

// UnmarshalBinary is UnmarshalText, for gob.
func (g *Guard) UnmarshalBinary(text []byte) error { return guards.Read(g, text) }

// Value is the word, for a database column.
func (g Guard) Value() (driver.Value, error) { return guards.Value(g) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (g *Guard) Scan(column any) error { return guards.Scan(g, column) }
