package service

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"example.com/snugturn/units"
)

// Message is something said, as a code and what goes with it: no words of a language are in it but those of
// the job. Package sheet has the sentences, one catalogue a language.
type Message struct {
	Code string `json:"code"` // the same in every language: "fuel.above-flash-point"; see [Codes], more may be added
	// Variant says which of the sentences of Code fits, "" for the one of that name.
	Variant string `json:"variant,omitempty"`
	Values  Values `json:"values,omitempty"`
}

// message is one; code may have a variant behind a slash, list is names and values in turn.
func message(code string, list ...any) Message {
	m := Message{Values: values(list)}
	m.Code, m.Variant, _ = strings.Cut(code, "/")
	return m
}

// variantOf is the variant that a word of another package has, "finger-tight".
func variantOf(word fmt.Stringer) string {
	return strings.ReplaceAll(strings.TrimSuffix(word.String(), " %"), " ", "-")
}

// String is the code and its values, "why.click wrench=W-1 until=2026-03-01", for logs; package sheet puts
// it into words.
func (m Message) String() string {
	text := m.Code
	if m.Variant != "" {
		text += "/" + m.Variant
	}
	for _, v := range m.Values {
		text += fmt.Sprintf(" %s=%v", v.Name, v.Value)
	}
	return text
}

// Value is what is in a sentence under a name: a quantity, a band, a turn, a date, a number, a
// range such as a [drain.Estimate] of volumes, a list of texts, a text of the job, a [Message] of its own, or a [Word].
type Value struct {
	Name  string
	Value any
	Round units.Rounding // the way it may be rounded for print, so that it stays true
	// Computed says that it was worked out and not stated, so that it may have any number of digits.
	Computed bool
}

// Values are values by name, in the order in which a sentence has them.
type Values []Value

// Get is the value of a name, nil where there is none.
func (v Values) Get(name string) any {
	for _, value := range v {
		if value.Name == name {
			return value.Value
		}
	}
	return nil
}

// Word is the code of a word, "suction-air"; package sheet has what each language calls it.
type Word string

func down(v any) Value       { return Value{Value: v, Round: units.ToNegativeInf} }
func up(v any) Value         { return Value{Value: v, Round: units.ToPositiveInf} }
func computed(v Value) Value { v.Computed = true; return v }

// values makes them of names and values in turn.
func values(list []any) Values {
	if len(list) == 0 {
		return nil
	}
	all := make(Values, 0, len(list)/2)
	for i := 0; i+1 < len(list); i += 2 {
		v, ok := list[i+1].(Value)
		if !ok {
			v.Value = list[i+1]
		}
		if texts, ok := v.Value.([]string); ok {
			v.Value = slices.Clone(texts) // which may be the plan's
		}
		v.Name = list[i].(string)
		all = append(all, v)
	}
	return all
}

// MarshalJSON writes an object of the values by name, each as its own type writes it: a torque is
// "30 N·m", an estimate an object of its figures.
func (v Values) MarshalJSON() ([]byte, error) {
	all := make(map[string]any, len(v))
	for _, value := range v {
		all[value.Name] = value.Value
	}
	return json.Marshal(all)
}

// UnmarshalJSON reads such an object, in the order in which the text has it. What a value was isn't in it: texts
// stay texts, numbers are a [json.Number].
func (v *Values) UnmarshalJSON(data []byte) error {
	read := json.NewDecoder(bytes.NewReader(data))
	read.UseNumber()
	if open, err := read.Token(); err != nil || open != json.Delim('{') {
		return fmt.Errorf("values: an object by name, not %v", open)
	}
	var all Values
	for read.More() {
		name, err := read.Token()
		if err != nil {
			return err
		}
		var value any
		if err := read.Decode(&value); err != nil {
			return err
		}
		all = append(all, Value{Name: name.(string), Value: value})
	}
	*v = all
	return nil
}
