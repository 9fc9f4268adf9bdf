package torque

import (
	"strings"

	"example.com/snugturn/units"
)

// Rules, bases and what comes of them are written in words, in texts as in JSON, so that a record
// can be read without this package.

// named is what the text methods below need of a type.
type named interface {
	~uint8
	String() string
}

// textOf is the name of v, which has to be one of the values from from to below count.
func textOf[T named](v T, from, count int, what string) ([]byte, error) {
	if int(v) < from || int(v) >= count {
		return nil, units.NewParseError(what, v.String(), 0, "no "+what+" to write", oneOf[T](from, count), units.ErrSyntax)
	}
	return []byte(v.String()), nil
}

// setFrom finds the value of a name; on an error *v stays as it was.
func setFrom[T named](v *T, text []byte, from, count int, what string) error {
	for i := from; i < count; i++ {
		if T(i).String() == string(text) {
			*v = T(i)
			return nil
		}
	}
	return units.NewParseError(what, clip(text), 0, "unknown", oneOf[T](from, count), units.ErrSyntax)
}

func oneOf[T named](from, count int) string {
	var names []string
	for i := from; i < count; i++ {
		names = append(names, `"`+T(i).String()+`"`)
	}
	return strings.Join(names, ", ")
}

// MarshalText writes the rule in words. Errors: *units.ParseError for none.
func (r Rule) MarshalText() ([]byte, error) { return textOf(r, 1, len(ruleNames), "decision rule") }

// UnmarshalText reads what MarshalText writes. Errors: *units.ParseError.
func (r *Rule) UnmarshalText(text []byte) error {
	return setFrom(r, text, 1, len(ruleNames), "decision rule")
}

// MarshalText writes the verdict in words. Errors: *units.ParseError for none.
func (v Verdict) MarshalText() ([]byte, error) { return textOf(v, 1, len(verdictNames), "verdict") }

// UnmarshalText reads what MarshalText writes. Errors: *units.ParseError.
func (v *Verdict) UnmarshalText(text []byte) error {
	return setFrom(v, text, 1, len(verdictNames), "verdict")
}

// MarshalText writes the basis in words. Errors: *units.ParseError for none of the constants.
func (b Basis) MarshalText() ([]byte, error) {
	return textOf(b, 0, len(basisNames), "basis of a deviation")
}

// UnmarshalText reads what MarshalText writes. Errors: *units.ParseError.
func (b *Basis) UnmarshalText(text []byte) error {
	return setFrom(b, text, 0, len(basisNames), "basis of a deviation")
}

// MarshalText names the rule by its source. Errors: *units.ParseError for none.
func (r RunningRule) MarshalText() ([]byte, error) {
	return textOf(r, 1, int(AddFromAThird)+1, "running torque rule")
}

// UnmarshalText reads what MarshalText writes. Errors: *units.ParseError.
func (r *RunningRule) UnmarshalText(text []byte) error {
	return setFrom(r, text, 1, int(AddFromAThird)+1, "running torque rule")
}

// MarshalText writes the outcome in words. Errors: *units.ParseError for none.
func (o Outcome) MarshalText() ([]byte, error) { return textOf(o, 1, len(outcomes), "outcome") }

// UnmarshalText reads what MarshalText writes. Errors: *units.ParseError.
func (o *Outcome) UnmarshalText(text []byte) error {
	return setFrom(o, text, 1, len(outcomes), "outcome")
}

var seenNames = [...]string{"not observed", "yes", "no"}

// String is "yes", "no" or "not observed".
func (s Seen) String() string {
	if int(s) < len(seenNames) {
		return seenNames[s]
	}
	return "unknown observation"
}

// MarshalText writes the observation in words. Errors: *units.ParseError for none of the constants.
func (s Seen) MarshalText() ([]byte, error) { return textOf(s, 0, len(seenNames), "observation") }

// UnmarshalText reads what MarshalText writes. Errors: *units.ParseError.
func (s *Seen) UnmarshalText(text []byte) error {
	return setFrom(s, text, 0, len(seenNames), "observation")
}
