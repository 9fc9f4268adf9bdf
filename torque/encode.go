package torque

import (
	"database/sql/driver"
	"log/slog"

	"example.com/snugturn/internal/encode"
	"example.com/snugturn/internal/misread"
)

// AppendText appends what String writes.
//
// Errors: *units.ParseError (units.ErrRange) for the zero Band.
func (b Band) AppendText(dst []byte) ([]byte, error) {
	if err := b.usable(); err != nil {
		return dst, err
	}
	return b.append(dst), nil
}

// MarshalText is [Band.AppendText] into a new slice; it makes a band a string in JSON.
func (b Band) MarshalText() ([]byte, error) { return b.AppendText(nil) }

// UnmarshalText reads what [ParseBand] reads; on an error b stays as it was.
func (b *Band) UnmarshalText(text []byte) error {
	parsed, err := ParseBand(clip(text))
	if err == nil {
		*b = parsed
	}
	return err
}

// clip makes a string of no more than a parser needs to refuse it.
func clip(text []byte) string { return string(text[:min(len(text), maxText+1)]) }

var notBand = misread.NotText(bandWhat, wantBand)

// UnmarshalJSON reads a string as UnmarshalText does; null and numbers are refused.
func (b *Band) UnmarshalJSON(data []byte) error { return encode.JSON(data, b.UnmarshalText, notBand) }

// MarshalBinary is MarshalText, for gob.
func (b Band) MarshalBinary() ([]byte, error) { return b.MarshalText() }

// UnmarshalBinary is UnmarshalText, for gob.
func (b *Band) UnmarshalBinary(text []byte) error { return b.UnmarshalText(text) }

// Value is the text, for a database column.
func (b Band) Value() (driver.Value, error) { return encode.Value(b.MarshalText()) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused. sql.Null serves
// columns that may be NULL.
func (b *Band) Scan(column any) error { return encode.Scan(column, b.UnmarshalText, notBand) }

// LogValue is the text.
func (b Band) LogValue() slog.Value { return slog.StringValue(b.String()) }
