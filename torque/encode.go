package torque

import (
	"database/sql/driver"
	"encoding/json"
	"fmt"
	"log/slog"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/units"
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

// UnmarshalJSON reads a string that [ParseBand] reads; null and a bare number are refused. On an
// error b stays as it was.
func (b *Band) UnmarshalJSON(data []byte) error {
	var text string
	if len(data) > 6*maxText+2 { // a string is at most six times as long as its text
		return misread.Error(bandWhat, clip(data), 0, "too long", wantBand, units.ErrRange)
	}
	if len(data) == 0 || data[0] != '"' || json.Unmarshal(data, &text) != nil {
		return misread.Error(bandWhat, clip(data), 0, "no JSON string", wantBand, units.ErrSyntax)
	}
	return b.UnmarshalText([]byte(text))
}

// Value stores a band as text, "145 to 190 in-lb".
//
// Errors: as [Band.AppendText].
func (b Band) Value() (driver.Value, error) {
	text, err := b.MarshalText()
	if err != nil {
		return nil, err
	}
	return string(text), nil
}

// Scan reads text that [ParseBand] reads; NULL and numbers are refused, the one since no band is a
// band, the other for want of a unit. sql.Null[Band] serves columns that may be NULL. On an error b
// stays as it was.
//
// Errors: *units.ParseError.
func (b *Band) Scan(src any) error {
	switch src := src.(type) {
	case string:
		return b.UnmarshalText([]byte(src[:min(len(src), maxText+1)]))
	case []byte:
		return b.UnmarshalText(src)
	}
	return misread.Error(bandWhat, fmt.Sprintf("%T", src), 0, "no text", wantBand, units.ErrSyntax)
}

// LogValue is the text.
func (b Band) LogValue() slog.Value { return slog.StringValue(b.String()) }
