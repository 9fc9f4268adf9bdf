package turn

import (
	"cmp"
	"database/sql/driver"
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"strconv"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/strictjson"
	"example.com/snugturn/units"
)

// Value stores a turn as text, "3/4 turn".
func (t Turn) Value() (driver.Value, error) { return t.String(), nil }

// Scan reads text that [Parse] reads; NULL and numbers are refused, the one since no turn is a
// turn, the other for want of a unit. sql.Null[Turn] serves columns that may be NULL. On an error
// t stays as it was.
func (t *Turn) Scan(src any) error {
	text, err := scanned("turn", src)
	if err != nil {
		return err
	}
	return t.UnmarshalText(text)
}

// LogValue is the text.
func (t Turn) LogValue() slog.Value { return slog.StringValue(t.String()) }

// Value stores an instruction as text, "3/4 to 1 turn after gasket contact".
//
// Errors: as [Instruction.AppendText].
func (in Instruction) Value() (driver.Value, error) { return stored(in) }

// Scan reads text that [ParseInstruction] reads; anything else is refused. On an error in stays
// as it was.
func (in *Instruction) Scan(src any) error {
	text, err := scanned("instruction", src)
	if err != nil {
		return err
	}
	return in.UnmarshalText(text)
}

// LogValue is the text.
func (in Instruction) LogValue() slog.Value { return slog.StringValue(in.String()) }

// Value stores a sequence as text, "40 N·m then 1/8 turn + 1/8 turn".
//
// Errors: as [Sequence.AppendText].
func (s Sequence) Value() (driver.Value, error) { return stored(s) }

// Scan reads text that [ParseSequence] reads; anything else is refused. On an error s stays as it
// was.
func (s *Sequence) Scan(src any) error {
	text, err := scanned("sequence", src)
	if err != nil {
		return err
	}
	return s.UnmarshalText(text)
}

// LogValue is the text.
func (s Sequence) LogValue() slog.Value { return slog.StringValue(s.String()) }

// AppendText appends what String writes.
//
// Errors: *ValueError (ErrUnknownName) for a direction that can't be seen so, the zero one among them.
func (d Direction) AppendText(dst []byte) ([]byte, error) {
	if err := d.check(); err != nil {
		return dst, err
	}
	return append(dst, d.String()...), nil
}

// MarshalText is AppendText into a new slice; it makes a direction a string in JSON.
func (d Direction) MarshalText() ([]byte, error) { return d.AppendText(nil) }

// UnmarshalText reads what [ParseDirection] reads, of a thread of either hand; on an error d stays as
// it was.
func (d *Direction) UnmarshalText(text []byte) error {
	parsed, err := ParseDirection(clip(text), 0)
	if err == nil {
		*d = parsed
	}
	return err
}

// Value stores a direction as text, "loosening clockwise, from the head side".
//
// Errors: as [Direction.AppendText].
func (d Direction) Value() (driver.Value, error) { return stored(d) }

// Scan reads text that [ParseDirection] reads; anything else is refused. On an error d stays as it
// was.
func (d *Direction) Scan(src any) error {
	text, err := scanned("direction", src)
	if err != nil {
		return err
	}
	return d.UnmarshalText(text)
}

// LogValue is the text.
func (d Direction) LogValue() slog.Value { return slog.StringValue(d.String()) }

// UnmarshalJSON reads a string that [ParseDirection] reads; null is refused. On an error d stays as
// it was.
func (d *Direction) UnmarshalJSON(data []byte) error {
	text, err := unquoted("direction", data)
	if err != nil {
		return err
	}
	return d.UnmarshalText([]byte(text))
}

// LogValue is the text.
func (r Ring) LogValue() slog.Value { return slog.StringValue(r.String()) }

const (
	maxRingJSON = maxMarks * (6*maxLabel + 256) // as many marks as a ring may have, escaped and indented
	wantRing    = `an object such as {"labels":["1","2","3"],"order":"clockwise"}`
)

// MarshalJSON writes the marks in clockwise order, {"labels":["1","2","3"],"order":"clockwise"}, or
// with their places where they don't stand evenly, {"marks":[{"label":"1","at":"0 turns"}, …],
// "order":"clockwise"}; with "onHead":true where they stand on the head.
//
// Errors: *ValueError (ErrLabels) for the zero Ring.
func (r Ring) MarshalJSON() ([]byte, error) {
	if len(r.marks) == 0 {
		return nil, refuse("ring", r.String(), "no marks to write", "a ring made by NewRing", ErrLabels)
	}
	object := struct {
		Labels []string `json:"labels,omitempty"`
		Marks  []Mark   `json:"marks,omitempty"`
		Order  Rotation `json:"order"`
		OnHead bool     `json:"onHead,omitempty"`
	}{Order: Clockwise, OnHead: r.onHead}
	if r.even() {
		object.Labels = r.Labels()
	} else {
		for _, m := range r.marks {
			object.Marks = append(object.Marks, Mark{Label: m.label, At: m.angle})
		}
	}
	return json.Marshal(object)
}

// UnmarshalJSON reads the object that MarshalJSON writes, in either order; null, a key that isn't
// known and a key given twice are refused. On an error r stays as it was.
//
// Errors: *ValueError as [NewRing] and [NewRingAt], or units.ErrSyntax; *units.ParseError for the words
// and turns in it.
func (r *Ring) UnmarshalJSON(data []byte) error {
	fields, err := ringFields(data, "labels", "marks", "order", "onHead")
	if err != nil {
		return err
	}
	var order Rotation
	var onHead bool
	if err := cmp.Or(ringField(fields, "order", &order), ringField(fields, "onHead", &onHead)); err != nil {
		return err
	}
	if (fields["labels"] == nil) == (fields["marks"] == nil) {
		return refuse("ring", clipped(data), "neither labels nor marks, or both", wantRing, units.ErrSyntax)
	}
	read, err := marksOfJSON(fields, order)
	if err != nil {
		return err
	}
	read.onHead = onHead
	*r = read
	return nil
}

func marksOfJSON(fields map[string]json.RawMessage, order Rotation) (Ring, error) {
	if fields["labels"] != nil {
		var labels []string
		if err := ringField(fields, "labels", &labels); err != nil {
			return Ring{}, err
		}
		return NewRing(labels, order)
	}
	var list []json.RawMessage
	if err := ringField(fields, "marks", &list); err != nil {
		return Ring{}, err
	}
	marks := make([]Mark, len(list))
	for i, data := range list {
		fields, err := ringFields(data, "label", "at")
		if err == nil {
			err = cmp.Or(ringField(fields, "label", &marks[i].Label), ringField(fields, "at", &marks[i].At))
		}
		if err == nil && len(fields) < 2 {
			err = refuse("ring", clipped(data), "a mark without its label or its place", `such as {"label":"B","at":"1/4 turn"}`, units.ErrSyntax)
		}
		if err != nil {
			return Ring{}, err
		}
	}
	return NewRingAt(marks, order)
}

// ringFields splits an object of a ring's JSON.
func ringFields(data []byte, known ...string) (map[string]json.RawMessage, error) {
	if len(data) > maxRingJSON {
		return nil, refuse("ring", clipped(data), "too long", wantRing, units.ErrRange)
	}
	fields, problem := strictjson.Object(data, known...)
	if problem != "" {
		return nil, refuse("ring", clipped(data), problem, wantRing, units.ErrSyntax)
	}
	return fields, nil
}

// ringField reads a field, where it is there, into v.
func ringField(fields map[string]json.RawMessage, key string, v any) error {
	data, ok := fields[key]
	if !ok {
		return nil
	}
	err := json.Unmarshal(data, v)
	var other *json.UnmarshalTypeError
	if errors.As(err, &other) {
		return refuse("ring", clipped(data), "the key "+strconv.Quote(key)+" holds something else", wantRing, units.ErrSyntax)
	}
	return err
}

// UnmarshalJSON reads a string that [Parse] reads; null and a bare number are refused. On an error
// t stays as it was.
func (t *Turn) UnmarshalJSON(data []byte) error {
	text, err := unquoted("turn", data)
	if err != nil {
		return err
	}
	return t.UnmarshalText([]byte(text))
}

// UnmarshalJSON reads a string that [ParseInstruction] reads; null is refused. On an error in
// stays as it was.
func (in *Instruction) UnmarshalJSON(data []byte) error {
	text, err := unquoted("instruction", data)
	if err != nil {
		return err
	}
	return in.UnmarshalText([]byte(text))
}

// UnmarshalJSON reads a string that [ParseSequence] reads; null is refused. On an error s stays as
// it was.
func (s *Sequence) UnmarshalJSON(data []byte) error {
	text, err := unquoted("sequence", data)
	if err != nil {
		return err
	}
	return s.UnmarshalText([]byte(text))
}

// unquoted is the text of a JSON string; a string is at most six times as long as its text.
func unquoted(what string, data []byte) (text string, err error) {
	if len(data) > 6*maxText+2 {
		return "", refuse(what, clipped(data), "too long", `a string such as "3/4 turn"`, units.ErrRange)
	}
	if len(data) == 0 || data[0] != '"' || json.Unmarshal(data, &text) != nil {
		return "", refuse(what, clipped(data), "no JSON string", `a string such as "3/4 turn"`, units.ErrSyntax)
	}
	return text, nil
}

func clipped(data []byte) string { return plain.Cut(clip(data)) }

func stored(v encoding.TextMarshaler) (driver.Value, error) {
	text, err := v.MarshalText()
	if err != nil {
		return nil, err
	}
	return string(text), nil
}

func scanned(what string, src any) ([]byte, error) {
	switch src := src.(type) {
	case string:
		return []byte(src[:min(len(src), maxText+1)]), nil
	case []byte:
		return src, nil
	}
	return nil, refuse(what, fmt.Sprintf("%T", src), "no text", "text such as \"3/4 turn\"", units.ErrSyntax)
}
