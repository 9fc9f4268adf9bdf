package turn

import (
	"database/sql/driver"
	"encoding/json"
	"fmt"
	"log/slog"

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
func (in Instruction) Value() (driver.Value, error) {
	text, err := in.MarshalText()
	if err != nil {
		return nil, err
	}
	return string(text), nil
}

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
func (s Sequence) Value() (driver.Value, error) {
	text, err := s.MarshalText()
	if err != nil {
		return nil, err
	}
	return string(text), nil
}

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

func clipped(data []byte) string { return units.Cut(clip(data)) }

func scanned(what string, src any) ([]byte, error) {
	switch src := src.(type) {
	case string:
		return []byte(src[:min(len(src), maxText+1)]), nil
	case []byte:
		return src, nil
	}
	return nil, refuse(what, fmt.Sprintf("%T", src), "no text", "text such as \"3/4 turn\"", units.ErrSyntax)
}
