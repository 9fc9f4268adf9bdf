package usfederal

import (
	"database/sql/driver"

	"example.com/snugturn/internal/enum"
)

// The words of the enumerations are the codes themselves.
var (
	containerCodes = enum.New[ContainerCode]("container code", "DM", "DW", "DF", "TP", "TT",
		"TC", "DT", "CY", "CM", "CW", "CF", "BA", "HG")
	unitCodes = enum.New[UnitCode]("unit code", "K", "P", "L", "G", "M", "T", "N", "Y")
)

// String is the word, "DM"; "ContainerCode(0)" for a value that isn't one of the constants.
func (c ContainerCode) String() string { return containerCodes.String(c) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (c ContainerCode) MarshalText() ([]byte, error) { return containerCodes.Text(c) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); c stays as it was.
func (c *ContainerCode) UnmarshalText(text []byte) error { return containerCodes.Read(c, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (c *ContainerCode) UnmarshalJSON(data []byte) error { return containerCodes.ReadJSON(c, data) }

// MarshalBinary is MarshalText, for gob.
func (c ContainerCode) MarshalBinary() ([]byte, error) { return containerCodes.Text(c) }

// UnmarshalBinary is UnmarshalText, for gob.
func (c *ContainerCode) UnmarshalBinary(text []byte) error { return containerCodes.Read(c, text) }

// Value is the word, for a database column.
func (c ContainerCode) Value() (driver.Value, error) { return containerCodes.Value(c) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (c *ContainerCode) Scan(column any) error { return containerCodes.Scan(c, column) }

// String is the word, "K"; "UnitCode(0)" for a value that isn't one of the constants.
func (u UnitCode) String() string { return unitCodes.String(u) }

// MarshalText writes the word. Errors: *units.ParseError (units.ErrRange) for an unknown value.
func (u UnitCode) MarshalText() ([]byte, error) { return unitCodes.Text(u) }

// UnmarshalText reads a word. Errors: *units.ParseError (units.ErrSyntax); u stays as it was.
func (u *UnitCode) UnmarshalText(text []byte) error { return unitCodes.Read(u, text) }

// UnmarshalJSON reads a string as UnmarshalText does; null is refused.
func (u *UnitCode) UnmarshalJSON(data []byte) error { return unitCodes.ReadJSON(u, data) }

// MarshalBinary is MarshalText, for gob.
func (u UnitCode) MarshalBinary() ([]byte, error) { return unitCodes.Text(u) }

// UnmarshalBinary is UnmarshalText, for gob.
func (u *UnitCode) UnmarshalBinary(text []byte) error { return unitCodes.Read(u, text) }

// Value is the word, for a database column.
func (u UnitCode) Value() (driver.Value, error) { return unitCodes.Value(u) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (u *UnitCode) Scan(column any) error { return unitCodes.Scan(u, column) }
