package turn

import (
	"database/sql/driver"
	"encoding/json"
	"log/slog"

	"example.com/snugturn/internal/encode"
	"example.com/snugturn/internal/misread"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/strictjson"
	"example.com/snugturn/units"
)

// The types that are written as text, each in every encoding by its text.

var (
	notTurn        = misread.NotText("turn", `text such as "3/4 turn"`)
	notInstruction = misread.NotText("instruction", `text such as "3/4 turn after gasket contact"`)
	notSequence    = misread.NotText("sequence", `text such as "40 N·m then 1/8 turn + 1/8 turn"`)
	notPart        = misread.NotText("part of a gap", wantPart)
	notThread      = misread.NotText("thread", wantThread)
)

// UnmarshalJSON reads a string as UnmarshalText does; null and numbers are refused.
func (t *Turn) UnmarshalJSON(data []byte) error { return encode.JSON(data, t.UnmarshalText, notTurn) }

// MarshalBinary is MarshalText, for gob.
func (t Turn) MarshalBinary() ([]byte, error) { return t.MarshalText() }

// UnmarshalBinary is UnmarshalText, for gob.
func (t *Turn) UnmarshalBinary(text []byte) error { return t.UnmarshalText(text) }

// Value is the text, for a database column.
func (t Turn) Value() (driver.Value, error) { return encode.Value(t.MarshalText()) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused. sql.Null serves
// columns that may be NULL.
func (t *Turn) Scan(column any) error { return encode.Scan(column, t.UnmarshalText, notTurn) }

// LogValue is the text.
func (t Turn) LogValue() slog.Value { return slog.StringValue(t.String()) }

// UnmarshalJSON reads a string as UnmarshalText does; null and numbers are refused.
func (in *Instruction) UnmarshalJSON(data []byte) error {
	return encode.JSON(data, in.UnmarshalText, notInstruction)
}

// MarshalBinary is MarshalText, for gob.
func (in Instruction) MarshalBinary() ([]byte, error) { return in.MarshalText() }

// UnmarshalBinary is UnmarshalText, for gob.
func (in *Instruction) UnmarshalBinary(text []byte) error { return in.UnmarshalText(text) }

// Value is the text, for a database column.
func (in Instruction) Value() (driver.Value, error) { return encode.Value(in.MarshalText()) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused. sql.Null serves
// columns that may be NULL.
func (in *Instruction) Scan(column any) error {
	return encode.Scan(column, in.UnmarshalText, notInstruction)
}

// LogValue is the text.
func (in Instruction) LogValue() slog.Value { return slog.StringValue(in.String()) }

// UnmarshalJSON reads a string as UnmarshalText does; null and numbers are refused.
func (s *Sequence) UnmarshalJSON(data []byte) error {
	return encode.JSON(data, s.UnmarshalText, notSequence)
}

// MarshalBinary is MarshalText, for gob.
func (s Sequence) MarshalBinary() ([]byte, error) { return s.MarshalText() }

// UnmarshalBinary is UnmarshalText, for gob.
func (s *Sequence) UnmarshalBinary(text []byte) error { return s.UnmarshalText(text) }

// Value is the text, for a database column.
func (s Sequence) Value() (driver.Value, error) { return encode.Value(s.MarshalText()) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused. sql.Null serves
// columns that may be NULL.
func (s *Sequence) Scan(column any) error { return encode.Scan(column, s.UnmarshalText, notSequence) }

// LogValue is the text.
func (s Sequence) LogValue() slog.Value { return slog.StringValue(s.String()) }

// UnmarshalJSON reads a string as UnmarshalText does; null and numbers are refused.
func (s *Part) UnmarshalJSON(data []byte) error { return encode.JSON(data, s.UnmarshalText, notPart) }

// MarshalBinary is MarshalText, for gob.
func (s Part) MarshalBinary() ([]byte, error) { return s.MarshalText() }

// UnmarshalBinary is UnmarshalText, for gob.
func (s *Part) UnmarshalBinary(text []byte) error { return s.UnmarshalText(text) }

// Value is the text, for a database column.
func (s Part) Value() (driver.Value, error) { return encode.Value(s.MarshalText()) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused.
func (s *Part) Scan(column any) error { return encode.Scan(column, s.UnmarshalText, notPart) }

// UnmarshalJSON reads a string as UnmarshalText does; null and numbers are refused.
func (th *Thread) UnmarshalJSON(data []byte) error {
	return encode.JSON(data, th.UnmarshalText, notThread)
}

// MarshalBinary is MarshalText, for gob.
func (th Thread) MarshalBinary() ([]byte, error) { return th.MarshalText() }

// UnmarshalBinary is UnmarshalText, for gob.
func (th *Thread) UnmarshalBinary(text []byte) error { return th.UnmarshalText(text) }

// Value is the text, for a database column.
func (th Thread) Value() (driver.Value, error) { return encode.Value(th.MarshalText()) }

// Scan reads a column's text as UnmarshalText does; NULL and numbers are refused. sql.Null serves
// columns that may be NULL.
func (th *Thread) Scan(column any) error { return encode.Scan(column, th.UnmarshalText, notThread) }

// LogValue is the text.
func (th Thread) LogValue() slog.Value { return slog.StringValue(th.String()) }

// MarshalBinary is MarshalJSON, for gob.
func (r Ring) MarshalBinary() ([]byte, error) { return r.MarshalJSON() }

// UnmarshalBinary is UnmarshalJSON, for gob.
func (r *Ring) UnmarshalBinary(data []byte) error { return r.UnmarshalJSON(data) }

// Value is the text of the JSON, for a database column.
func (r Ring) Value() (driver.Value, error) {
	return encode.Value(r.MarshalJSON())
}

// Scan reads a column's JSON as UnmarshalJSON does; NULL and all but text are refused.
func (r *Ring) Scan(column any) error {
	return encode.Scan(column, r.UnmarshalJSON, misread.NotText("ring", wantRing))
}

// LogValue is the text.
func (r Ring) LogValue() slog.Value { return slog.StringValue(r.String()) }

const (
	maxRingJSON = maxMarks * (6*maxLabel + 256) // as many marks as a ring may have, escaped and indented
	wantRing    = `an object such as {"labels":["1","2","3"],"order":"clockwise"}`
)

// MarshalJSON writes the marks in clockwise order, {"labels":["1","2","3"],"order":"clockwise"}, or
// with their places where they are not evenly spaced, {"marks":[{"label":"1","at":"0 turns"}, …],
// "order":"clockwise"}; with "onHead":true where they are on the head.
//
// Errors: *units.ParseError (units.ErrSyntax) for the zero Ring.
func (r Ring) MarshalJSON() ([]byte, error) {
	if len(r.marks) == 0 {
		return nil, refuse("ring", r.String(), "no marks to write", "a ring made by NewRing", units.ErrSyntax)
	}
	object := ringFile{Order: Clockwise, OnHead: r.onHead}
	if r.even() {
		object.Labels = r.Labels()
	} else {
		for _, m := range r.marks {
			object.Marks = append(object.Marks, Mark{Label: m.label, At: m.angle})
		}
	}
	return json.Marshal(object)
}

// ringFile is the JSON of a ring.
type ringFile struct {
	Labels []string `json:"labels,omitempty"`
	Marks  []Mark   `json:"marks,omitempty"`
	Order  Rotation `json:"order"`
	OnHead bool     `json:"onHead,omitempty"`
}

// UnmarshalJSON reads the object that MarshalJSON writes, in either order; null, a key that isn't
// known and a key given twice are refused. On an error r stays as it was.
//
// Errors: *units.ParseError as [NewRing] and [NewRingAt], or units.ErrSyntax; *units.ParseError for the words
// and turns in it.
func (r *Ring) UnmarshalJSON(data []byte) error {
	var file ringFile
	bad := strictjson.Reader{Bytes: maxRingJSON, Text: maxRingJSON}.First(data, &file)
	switch {
	case bad == nil:
	case bad.Problem == "":
		return bad.Cause
	case bad.Cause == strictjson.ErrSize:
		return refuse("ring", clipped(data), bad.Problem, bad.Want, units.ErrRange)
	default:
		return refuse("ring", clipped(data), bad.What(), wantRing, units.ErrSyntax)
	}
	if (file.Labels == nil) == (file.Marks == nil) {
		return refuse("ring", clipped(data), "neither labels nor marks, or both", wantRing, units.ErrSyntax)
	}
	read, err := NewRingAt(file.Marks, file.Order)
	if file.Marks == nil {
		read, err = NewRing(file.Labels, file.Order)
	}
	if err != nil {
		return err
	}
	read.onHead = file.OnHead
	*r = read
	return nil
}

func clipped(data []byte) string { return plain.Cut(clip(data)) }
