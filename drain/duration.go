package drain

import (
	"database/sql/driver"
	"strings"
	"time"

	"example.com/snugturn/internal/clock"
	"example.com/snugturn/internal/encode"
	"example.com/snugturn/internal/misread"
	"example.com/snugturn/units"
)

// Duration is a time as a workshop writes it: "30 s", "2.5 min", "1 min 30 s", "2 hrs".
type Duration time.Duration

// String is whole minutes and seconds, "2 min 30 s".
func (d Duration) String() string { return clock.Format(time.Duration(d)) }

// UnmarshalText reads a time of at most a day; on an error (*units.ParseError) d stays as it was. In
// words, "1 min and 30 secs" and "2 hrs" are read too; "1:30", "2,5 min" and "5 m" can mean two things.
// Where it is no time at all, as for how long a pump runs, zero is refused by whoever checks the job.
func (d *Duration) UnmarshalText(text []byte) error {
	t, err := clock.Parse(string(text[:min(len(text), 128)]))
	if err == nil {
		*d = Duration(t)
	}
	return err
}

// MarshalText writes what UnmarshalText reads. Errors: *units.ParseError (units.ErrRange) for a time
// below zero or of more than a day.
func (d Duration) MarshalText() ([]byte, error) {
	if d < 0 || time.Duration(d) > clock.Day {
		return nil, misread.Error("time", d.String(), 0, "below zero, or more than a day", clock.Want, units.ErrRange)
	}
	return []byte(strings.ReplaceAll(d.String(), " ", "")), nil
}

var notTime = misread.NotText("time", clock.Want)

// UnmarshalJSON reads a string as UnmarshalText does; null and numbers are refused.
func (d *Duration) UnmarshalJSON(data []byte) error {
	return encode.JSON(data, d.UnmarshalText, notTime)
}

// MarshalBinary is MarshalText, for gob.
func (d Duration) MarshalBinary() ([]byte, error) { return d.MarshalText() }

// UnmarshalBinary is UnmarshalText, for gob.
func (d *Duration) UnmarshalBinary(text []byte) error { return d.UnmarshalText(text) }

// Value is the text, for a database column.
func (d Duration) Value() (driver.Value, error) { return encode.Value(d.MarshalText()) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused. sql.Null serves
// columns that may be NULL.
func (d *Duration) Scan(column any) error { return encode.Scan(column, d.UnmarshalText, notTime) }
