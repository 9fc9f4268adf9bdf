package waste

import (
	"database/sql/driver"

	"example.com/snugturn/internal/clock"
	"example.com/snugturn/internal/encode"
	"example.com/snugturn/internal/misread"
)

// Zone says by which clocks a civil date is meant: "UTC", an offset such as "+01:00", or a name of
// the IANA time zone database such as "Europe/Vienna". It is kept as it was written. Only how it
// is written is judged (RFC 9557, 4.1; RFC 3339, 5.6): no zone database is read here, so that a
// place that doesn't exist passes, and nothing is converted by it. The zero Zone is none.
type Zone string

// UnmarshalText reads a zone. A word alone is refused but for UTC, although the database has some: an
// abbreviation such as CST is used on three continents. On an error z stays as it was.
//
// Errors: *units.ParseError (units.ErrSyntax, units.ErrRange, units.ErrAmbiguous).
func (z *Zone) UnmarshalText(text []byte) error {
	read := string(text[:min(len(text), 128)])
	err := clock.CheckZone(read)
	if err == nil {
		*z = Zone(read)
	}
	return err
}

// MarshalText writes the zone. Errors: *units.ParseError for what UnmarshalText doesn't read.
func (z Zone) MarshalText() ([]byte, error) {
	return []byte(z), clock.CheckZone(string(z))
}

var notZone = misread.NotText("zone", `text such as "Europe/Vienna" or "+01:00"`)

// UnmarshalJSON reads a string as UnmarshalText does; null and numbers are refused.
func (z *Zone) UnmarshalJSON(data []byte) error { return encode.JSON(data, z.UnmarshalText, notZone) }

// MarshalBinary is MarshalText, for gob.
func (z Zone) MarshalBinary() ([]byte, error) { return z.MarshalText() }

// UnmarshalBinary is UnmarshalText, for gob.
func (z *Zone) UnmarshalBinary(text []byte) error { return z.UnmarshalText(text) }

// Value is the text, for a database column.
func (z Zone) Value() (driver.Value, error) { return encode.Value(z.MarshalText()) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused. sql.Null serves
// columns that may be NULL.
func (z *Zone) Scan(column any) error { return encode.Scan(column, z.UnmarshalText, notZone) }
