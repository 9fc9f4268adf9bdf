package strictjson

import (
	"bytes"
	"encoding/json"
)

// Canonical is JSON with sorted keys, no blanks, no escapes that JSON doesn't need, and an empty list
// where Go has none.
func Canonical(v any) ([]byte, error) {
	text, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	var tree any
	if err := d.Decode(&tree); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	if err := e.Encode(listed(tree)); err != nil { // maps come out sorted
		return nil, err
	}
	return bytes.TrimSuffix(out.Bytes(), []byte("\n")), nil
}

// listed puts an empty list where a list of Go was nil: no other null is ever written.
func listed(tree any) any {
	switch t := tree.(type) {
	case nil:
		return []any{}
	case []any:
		for i := range t {
			t[i] = listed(t[i])
		}
	case map[string]any:
		for key := range t {
			t[key] = listed(t[key])
		}
	}
	return tree
}
