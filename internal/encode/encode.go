// Package encode holds what every value that is written as text does alike in a database column and
// in JSON: text is read, and NULL, null, numbers and all else are refused.
package encode

import (
	"bytes"
	"database/sql/driver"
	"encoding/json"
	"fmt"
)

// most and mostColumn are more than any value's text may have, and its JSON; its reader says so itself.
const (
	most       = 1 << 10
	mostColumn = 1 << 18
)

// Value is a text, or JSON, for a database column.
func Value(text []byte, err error) (driver.Value, error) {
	if err != nil {
		return nil, err
	}
	return string(text), nil
}

// Scan hands the text of a database column to read, and of a JSON string, as a JSONB column gives it, what it
// holds. All else goes to refuse: as it was given, and what is wrong with it.
func Scan(src any, read func([]byte) error, refuse func(given, problem string) error) error {
	switch src := src.(type) {
	case string:
		return read(unquoted([]byte(src[:min(len(src), mostColumn)])))
	case []byte:
		return read(unquoted(src[:min(len(src), mostColumn)]))
	case nil:
		return refuse("", "NULL is not accepted; use sql.Null")
	case int64, float64, bool:
		return refuse(fmt.Sprint(src), fmt.Sprintf("not text but %T", src))
	}
	return refuse("", fmt.Sprintf("not text but %T", src))
}

// TextOrObject reads the text of a value, or the object that its JSON may be, for [Scan].
func TextOrObject(ofText, ofJSON func([]byte) error) func([]byte) error {
	return func(text []byte) error {
		if len(text) > 0 && text[0] == '{' {
			return ofJSON(text)
		}
		return ofText(text)
	}
}

// unquoted is the text that a JSON string holds; what is none stays as it is, for no value's text begins
// with a quotation mark.
func unquoted(src []byte) []byte {
	var text string
	if len(src) == 0 || src[0] != '"' || json.Unmarshal(src, &text) != nil {
		return src
	}
	return []byte(text)
}

// JSON hands the text of a JSON string to read. All else goes to refuse, as in [Scan].
func JSON(data []byte, read func([]byte) error, refuse func(given, problem string) error) error {
	if len(data) > 6*most { // a character takes six bytes at the most
		return refuse(string(data[:most]), "too long")
	}
	data = bytes.TrimSpace(data)
	var text string
	switch {
	case string(data) == "null":
		return refuse("null", "null is not accepted")
	case len(data) == 0 || data[0] != '"' || json.Unmarshal(data, &text) != nil:
		return refuse(string(data), "not a JSON string")
	}
	return read([]byte(text))
}
