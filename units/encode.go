package units

import (
	"bytes"
	"encoding/json"
	"unicode/utf8"

	"example.com/snugturn/internal/strictjson"
)

// AppendText appends the canonical text, "145 in-lb", which [Parse] reads back to the same
// quantity with the same places.
//
// Errors: *ParseError (ErrUnknownUnit) where the unit is not one of the kind's.
func (q Quantity[U]) AppendText(dst []byte) ([]byte, error) {
	if !q.Valid() {
		return dst, q.unit.kind().unknown(uint8(q.unit))
	}
	return q.append(dst), nil
}

// MarshalText is [Quantity.AppendText] into a new slice.
func (q Quantity[U]) MarshalText() ([]byte, error) { return q.AppendText(nil) }

// UnmarshalText reads what [Parse] reads; on an error q stays as it was.
func (q *Quantity[U]) UnmarshalText(text []byte) error {
	parsed, err := Parse[U](clip(text))
	if err == nil {
		*q = parsed
	}
	return err
}

// MarshalBinary is [Quantity.MarshalText]: the binary form, which gob uses, is the text too.
func (q Quantity[U]) MarshalBinary() ([]byte, error) { return q.AppendText(nil) }

// UnmarshalBinary is [Quantity.UnmarshalText].
func (q *Quantity[U]) UnmarshalBinary(data []byte) error { return q.UnmarshalText(data) }

// clip makes a string of no more than a parser needs to refuse it.
func clip(text []byte) string { return string(text[:min(len(text), maxText+1)]) }

// MarshalJSON writes an object of two strings, {"value":"145","unit":"in-lb"}: a bare number
// would lose the unit, and its places.
//
// Errors: *ParseError (ErrUnknownUnit) where the unit is not one of the kind's.
func (q Quantity[U]) MarshalJSON() ([]byte, error) {
	if !q.Valid() {
		return nil, q.unit.kind().unknown(uint8(q.unit))
	}
	return appendJSON(q.num(), q.unit.String()), nil
}

func appendJSON(n number, symbol string) []byte {
	dst := append(make([]byte, 0, 64), `{"value":"`...)
	dst = append(n.appendTo(dst), `","unit":"`...)
	dst = append(dst, symbol...) // no symbol has a character that JSON escapes; a test says so
	return append(dst, `"}`...)
}

// UnmarshalJSON reads the object that MarshalJSON writes, or a string such as "145 in-lb"; a bare
// number, null, an unknown key and a key given twice are refused, and so is an object whose value
// isn't a number alone or whose unit isn't a unit alone. On an error q stays as it was.
func (q *Quantity[U]) UnmarshalJSON(data []byte) error {
	var none U
	k := none.kind()
	text, err := k.textOfJSON(data)
	if err != nil {
		return err
	}
	parsed, err := Parse[U](text)
	if err == nil {
		*q = parsed
	}
	return err
}

// textOfJSON reduces the two accepted forms to the text grammar.
func (k *kind) textOfJSON(data []byte) (string, error) {
	refuse := func(problem string) (string, error) {
		s := k.rows[0].symbol
		return "", misread(k.name+" in JSON", clip(data), 0, problem,
			`a string "30 `+s+`" or an object {"value":"30","unit":"`+s+`"}`, ErrSyntax)
	}
	switch {
	case len(data) > 8*maxText:
		return refuse("too long")
	case !utf8.Valid(data):
		return refuse("not valid UTF-8")
	}
	data = bytes.TrimSpace(data)
	if len(data) == 0 {
		return refuse("nothing there")
	}
	switch data[0] {
	case '"':
		var text string
		if json.Unmarshal(data, &text) != nil {
			return refuse("not a JSON string")
		}
		return text, nil
	case '{':
	case 'n':
		return refuse("null is not accepted")
	default:
		return refuse("a number without its unit, or something else that is neither string nor object")
	}
	value, unit, problem := fieldsOfJSON(data)
	if problem != "" {
		return refuse(problem)
	}
	// Joined without a look, "145 in-" and "lb" would pass, and so would "1" and "½ in".
	text := value + " " + unit
	_, end, bad := scanNumber(text, skipBlank(text, 0))
	switch {
	case bad != nil: // what parses the text says it better
	case end > len(value):
		return refuse("the unit starts with a number")
	case skipBlank(value, end) < len(value):
		return refuse("the value is more than a number")
	}
	return text, nil
}

// fieldsOfJSON reads an object of a value and a unit, or says what is wrong with it.
func fieldsOfJSON(data []byte) (value, unit, problem string) {
	fields, problem := strictjson.Object(data, "value", "unit")
	if problem == "" && len(fields) < 2 {
		problem = "the value or the unit is missing"
	}
	if problem != "" {
		return "", "", problem
	}
	value, ofText := fields["value"].Text()
	unit, too := fields["unit"].Text()
	switch {
	case !ofText:
		return "", "", "the value is not a string"
	case !too:
		return "", "", "the unit is not a string"
	}
	return value, unit, ""
}
