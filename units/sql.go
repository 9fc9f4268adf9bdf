package units

import (
	"database/sql/driver"
	"fmt"
)

// Value stores a quantity as its text, "145 in-lb".
//
// Errors: *ParseError (ErrUnknownUnit) where the unit is none of the kind's.
func (q Quantity[U]) Value() (driver.Value, error) { return valueOf(q) }

// Value stores a temperature as its text.
//
// Errors: *ParseError (ErrUnknownUnit) where the scale is none of the constants.
func (t Temperature) Value() (driver.Value, error) { return valueOf(t) }

func valueOf(q interface{ MarshalText() ([]byte, error) }) (driver.Value, error) {
	text, err := q.MarshalText()
	if err != nil {
		return nil, err
	}
	return string(text), nil
}

// Scan reads text from a database column. NULL is refused, for which sql.Null[units.Torque]
// serves, and so is a bare number, whose unit nobody knows. On an error q stays as it was.
//
// Errors: *ParseError.
func (q *Quantity[U]) Scan(source any) error {
	var none U
	return scan(none.kind(), source, q.UnmarshalText)
}

// Scan is [Quantity.Scan] for a temperature.
func (t *Temperature) Scan(source any) error { return scan(temperatureKind, source, t.UnmarshalText) }

func scan(k *kind, source any, read func([]byte) error) error {
	switch source := source.(type) {
	case string:
		return read([]byte(source[:min(len(source), maxText+1)]))
	case []byte:
		return read(source)
	case nil:
		return misread(k.name+" in a column", "", 0, "NULL is no quantity", "text such as \"30 "+k.rows[0].symbol+"\"", ErrNoUnit)
	default:
		return misread(k.name+" in a column", fmt.Sprint(source), 0, fmt.Sprintf("a %T without a unit", source),
			"text such as \"30 "+k.rows[0].symbol+"\"", ErrNoUnit)
	}
}
