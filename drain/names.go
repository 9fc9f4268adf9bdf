package drain

import (
	"strings"

	"example.com/snugturn/units"
)

// named is a small type whose values from 1 on have a word each. The words stand in texts and in
// JSON, so that a record can be read without this package.
type named interface {
	~uint8
	String() string
}

// words are those of the values from 1 to last.
func words[T named](last T) []string {
	all := make([]string, last)
	for v := T(1); v <= last; v++ {
		all[v-1] = v.String()
	}
	return all
}

// oneOf lists the words: "no, yes or undecided".
func oneOf[T named](last T) string {
	all := words(last)
	return strings.Join(all[:len(all)-1], ", ") + " or " + all[len(all)-1]
}

// textOf is the body of every MarshalText.
func textOf[T named](what string, v, last T) ([]byte, error) {
	if v == 0 || v > last {
		return nil, refuse(what, v.String(), "says nothing", oneOf(last), ErrMissing)
	}
	return []byte(v.String()), nil
}

// setFrom is the body of every UnmarshalText: on an error *v stays as it was.
func setFrom[T named](what string, v *T, last T, text []byte) error {
	for i, word := range words(last) {
		if string(text) == word {
			*v = T(i + 1)
			return nil
		}
	}
	return refuse(what, string(text[:min(len(text), 64)]), "not known", oneOf(last), units.ErrSyntax)
}

// MarshalText writes the word.
//
// Errors: *InputError (ErrMissing) where p is none of the constants.
func (p Provenance) MarshalText() ([]byte, error) { return textOf("provenance", p, Assumed) }

// UnmarshalText reads the word; on an error p stays as it was.
//
// Errors: *InputError (units.ErrSyntax) for any other text.
func (p *Provenance) UnmarshalText(text []byte) error {
	return setFrom("provenance", p, Assumed, text)
}

// MarshalText writes the word.
//
// Errors: *InputError (ErrMissing) where a is none of the constants.
func (a Answer) MarshalText() ([]byte, error) { return textOf("answer", a, Undecided) }

// UnmarshalText reads the word; on an error a stays as it was.
//
// Errors: *InputError (units.ErrSyntax) for any other text.
func (a *Answer) UnmarshalText(text []byte) error { return setFrom("answer", a, Undecided, text) }

// MarshalText writes the word.
//
// Errors: *InputError (ErrMissing) where g is none of the constants.
func (g Guard) MarshalText() ([]byte, error) { return textOf("guard", g, Stop) }

// UnmarshalText reads the word; on an error g stays as it was.
//
// Errors: *InputError (units.ErrSyntax) for any other text.
func (g *Guard) UnmarshalText(text []byte) error { return setFrom("guard", g, Stop, text) }

// MarshalText writes the group's name.
//
// Errors: *InputError (ErrMissing) where g is none of the constants.
func (g Group) MarshalText() ([]byte, error) { return textOf("group of products", g, FuelOil) }

// UnmarshalText reads the group's name; on an error g stays as it was.
//
// Errors: *InputError (units.ErrSyntax) for any other text.
func (g *Group) UnmarshalText(text []byte) error {
	return setFrom("group of products", g, FuelOil, text)
}

// MarshalText writes the authors and the year.
//
// Errors: *InputError (ErrMissing) where e is none of the constants.
func (e WaterEquation) MarshalText() ([]byte, error) { return textOf("water equation", e, Kell) }

// UnmarshalText reads the authors and the year; on an error e stays as it was.
//
// Errors: *InputError (units.ErrSyntax) for any other text.
func (e *WaterEquation) UnmarshalText(text []byte) error {
	return setFrom("water equation", e, Kell, text)
}
