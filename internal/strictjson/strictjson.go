// Package strictjson reads a JSON object without the leniency of encoding/json, which lets the second
// of two equal keys win, matches keys in any letter case, and takes null for nothing said.
package strictjson

import (
	"bytes"
	"encoding/json"
	"slices"
	"unicode/utf8"

	"example.com/snugturn/internal/plain"
)

// Object splits an object into its fields, or says what is wrong with it: text that isn't valid JSON
// or no object, a key that isn't known or is given twice, a null. Keys may be missing.
func Object(data []byte, known ...string) (fields map[string]json.RawMessage, problem string) {
	if !json.Valid(data) || !utf8.Valid(data) {
		return nil, "not valid JSON"
	}
	d := json.NewDecoder(bytes.NewReader(data))
	if brace, _ := d.Token(); brace != json.Delim('{') {
		return nil, "no JSON object"
	}
	fields = map[string]json.RawMessage{}
	for d.More() {
		token, _ := d.Token() // the JSON is valid: no error can come
		key, _ := token.(string)
		var value json.RawMessage
		_ = d.Decode(&value)
		switch {
		case !slices.Contains(known, key):
			return nil, "the key " + plain.Quote(key) + " is unknown"
		case fields[key] != nil:
			return nil, "the key " + plain.Quote(key) + " is given twice"
		case string(value) == "null":
			return nil, "the key " + plain.Quote(key) + " is null"
		}
		fields[key] = value
	}
	return fields, ""
}
