package waste

import (
	"database/sql/driver"

	"example.com/snugturn/internal/enum"
)

// The words of the enumerations, in which they are written in text, JSON, gob and SQL, and the methods
// that do it. Words are read in any letter case, with hyphens or blanks.

var (
	streams = enum.New[Stream]("stream", "drained fuel", "fuel-water mix", "wet element", "drained element", "gaskets",
		"absorbents", "spent cleaner", "other waste")
	determinations = enum.FromZero[Determination]("determination", "undetermined", "hazardous", "not counted")
)

// String is the word, "drained fuel"; "Stream(0)" for a value that isn't one of the constants.
func (s Stream) String() string { return streams.String(s) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (s Stream) MarshalText() ([]byte, error) { return streams.Text(s) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); s stays as it was.
func (s *Stream) UnmarshalText(text []byte) error { return streams.Read(s, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (s *Stream) UnmarshalJSON(data []byte) error { return streams.ReadJSON(s, data) }

// MarshalBinary is MarshalText, for gob.
func (s Stream) MarshalBinary() ([]byte, error) { return streams.Text(s) }

// UnmarshalBinary is UnmarshalText, for gob.
func (s *Stream) UnmarshalBinary(text []byte) error { return streams.Read(s, text) }

// Value is the word, for a database column.
func (s Stream) Value() (driver.Value, error) { return streams.Value(s) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (s *Stream) Scan(column any) error { return streams.Scan(s, column) }

// String is the word, "not counted"; "Determination(99)" for a value that isn't one of the constants.
func (d Determination) String() string { return determinations.String(d) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (d Determination) MarshalText() ([]byte, error) { return determinations.Text(d) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); d stays as it was.
func (d *Determination) UnmarshalText(text []byte) error { return determinations.Read(d, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (d *Determination) UnmarshalJSON(data []byte) error { return determinations.ReadJSON(d, data) }

// MarshalBinary is MarshalText, for gob.
func (d Determination) MarshalBinary() ([]byte, error) { return determinations.Text(d) }

// UnmarshalBinary is UnmarshalText, for gob.
func (d *Determination) UnmarshalBinary(text []byte) error { return determinations.Read(d, text) }

// Value is the word, for a database column.
func (d Determination) Value() (driver.Value, error) { return determinations.Value(d) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (d *Determination) Scan(column any) error { return determinations.Scan(d, column) }
