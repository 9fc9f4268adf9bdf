package units

import (
	"database/sql/driver"

	"example.com/snugturn/internal/encode"
)

// Value stores a quantity as its text, "145 in-lb".
//
// Errors: *ParseError (ErrUnknownUnit) where the unit is not one of the kind's.
func (q Quantity[U]) Value() (driver.Value, error) { return encode.Value(q.MarshalText()) }

// Value stores a temperature as its text.
//
// Errors: *ParseError (ErrUnknownUnit) where the scale is not one of the constants.
func (t Temperature) Value() (driver.Value, error) { return encode.Value(t.MarshalText()) }

// Scan reads text from a database column, or the string or object that a JSONB column gives. NULL is refused, for which sql.Null[units.Torque]
// serves, and so is a bare number, whose unit nobody knows. On an error q stays as it was.
//
// Errors: *ParseError.
func (q *Quantity[U]) Scan(source any) error {
	var none U
	return scan(none.kind(), source, encode.TextOrObject(q.UnmarshalText, q.UnmarshalJSON))
}

// Scan is [Quantity.Scan] for a temperature.
func (t *Temperature) Scan(source any) error {
	return scan(temperatureKind, source, encode.TextOrObject(t.UnmarshalText, t.UnmarshalJSON))
}

func scan(k *kind, source any, read func([]byte) error) error {
	return encode.Scan(source, read, func(given, problem string) error {
		return misread(k.name+" in a column", given, 0, problem, "text such as \"30 "+k.rows[0].symbol+"\"", ErrNoUnit)
	})
}
