package service

import (
	"database/sql/driver"

	"example.com/snugturn/internal/enum"
)

// The words of the enumerations, in which they are written in text, JSON, gob and SQL, and the methods
// that do it. Words are read in any letter case, with hyphens or blanks.

var (
	kinds        = enum.New[Kind]("kind of filter", "screw-on bowl", "spin-on canister", "drop-in element", "in-line")
	sides        = enum.New[Side]("side", "suction", "pressure")
	adapterKinds = enum.New[AdapterKind]("kind of adapter", "strap wrench", "chain wrench")
	fills        = enum.New[Fit]("fill", "dry", "prefill")
	verdicts     = enum.New[Verdict]("verdict", "pass", "seated", "undecided", "not recorded", "fail", "unchanged")
	bases        = enum.New[Basis]("basis", "mass", "scale, corrected", "volume", "partly planned", "planned", "not stated")
	levels       = enum.New[Level]("level", "NOTE", "CAUTION", "WARNING", "STOP")
)

// String is the word, "screw-on bowl"; "Kind(0)" for a value that isn't one of the constants.
func (k Kind) String() string { return kinds.String(k) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (k Kind) MarshalText() ([]byte, error) { return kinds.Text(k) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); k stays as it was.
func (k *Kind) UnmarshalText(text []byte) error { return kinds.Read(k, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (k *Kind) UnmarshalJSON(data []byte) error { return kinds.ReadJSON(k, data) }

// MarshalBinary is MarshalText, for gob.
func (k Kind) MarshalBinary() ([]byte, error) { return kinds.Text(k) }

// UnmarshalBinary is UnmarshalText, for gob.
func (k *Kind) UnmarshalBinary(text []byte) error { return kinds.Read(k, text) }

// Value is the word, for a database column.
func (k Kind) Value() (driver.Value, error) { return kinds.Value(k) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (k *Kind) Scan(column any) error { return kinds.Scan(k, column) }

// String is the word, "suction"; "Side(0)" for a value that isn't one of the constants.
func (s Side) String() string { return sides.String(s) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (s Side) MarshalText() ([]byte, error) { return sides.Text(s) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); s stays as it was.
func (s *Side) UnmarshalText(text []byte) error { return sides.Read(s, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (s *Side) UnmarshalJSON(data []byte) error { return sides.ReadJSON(s, data) }

// MarshalBinary is MarshalText, for gob.
func (s Side) MarshalBinary() ([]byte, error) { return sides.Text(s) }

// UnmarshalBinary is UnmarshalText, for gob.
func (s *Side) UnmarshalBinary(text []byte) error { return sides.Read(s, text) }

// Value is the word, for a database column.
func (s Side) Value() (driver.Value, error) { return sides.Value(s) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (s *Side) Scan(column any) error { return sides.Scan(s, column) }

// String is the word, "strap wrench"; "AdapterKind(0)" for a value that isn't one of the constants.
func (k AdapterKind) String() string { return adapterKinds.String(k) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (k AdapterKind) MarshalText() ([]byte, error) { return adapterKinds.Text(k) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); k stays as it was.
func (k *AdapterKind) UnmarshalText(text []byte) error { return adapterKinds.Read(k, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (k *AdapterKind) UnmarshalJSON(data []byte) error { return adapterKinds.ReadJSON(k, data) }

// MarshalBinary is MarshalText, for gob.
func (k AdapterKind) MarshalBinary() ([]byte, error) { return adapterKinds.Text(k) }

// UnmarshalBinary is UnmarshalText, for gob.
func (k *AdapterKind) UnmarshalBinary(text []byte) error { return adapterKinds.Read(k, text) }

// Value is the word, for a database column.
func (k AdapterKind) Value() (driver.Value, error) { return adapterKinds.Value(k) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (k *AdapterKind) Scan(column any) error { return adapterKinds.Scan(k, column) }

// String is the word, "prefill"; "Fill(0)" for a value that isn't one of the constants.
func (f Fit) String() string { return fills.String(f) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (f Fit) MarshalText() ([]byte, error) { return fills.Text(f) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); f stays as it was.
func (f *Fit) UnmarshalText(text []byte) error { return fills.Read(f, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (f *Fit) UnmarshalJSON(data []byte) error { return fills.ReadJSON(f, data) }

// MarshalBinary is MarshalText, for gob.
func (f Fit) MarshalBinary() ([]byte, error) { return fills.Text(f) }

// UnmarshalBinary is UnmarshalText, for gob.
func (f *Fit) UnmarshalBinary(text []byte) error { return fills.Read(f, text) }

// Value is the word, for a database column.
func (f Fit) Value() (driver.Value, error) { return fills.Value(f) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (f *Fit) Scan(column any) error { return fills.Scan(f, column) }

// String is the word, "not recorded"; "Verdict(0)" for a value that isn't one of the constants.
func (v Verdict) String() string { return verdicts.String(v) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
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

// String is the word, "scale, corrected"; "Basis(0)" for a value that isn't one of the constants.
func (b Basis) String() string { return bases.String(b) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
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

// String is the word, "CAUTION"; "Level(0)" for a value that isn't one of the constants.
func (l Level) String() string { return levels.String(l) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (l Level) MarshalText() ([]byte, error) { return levels.Text(l) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); l stays as it was.
func (l *Level) UnmarshalText(text []byte) error { return levels.Read(l, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (l *Level) UnmarshalJSON(data []byte) error { return levels.ReadJSON(l, data) }

// MarshalBinary is MarshalText, for gob.
func (l Level) MarshalBinary() ([]byte, error) { return levels.Text(l) }

// UnmarshalBinary is UnmarshalText, for gob.
func (l *Level) UnmarshalBinary(text []byte) error { return levels.Read(l, text) }

// Value is the word, for a database column.
func (l Level) Value() (driver.Value, error) { return levels.Value(l) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (l *Level) Scan(column any) error { return levels.Scan(l, column) }
