// Package enum is what every enumeration of this module does alike: a value is an unsigned integer
// in Go, and its word wherever it is written: in texts, in JSON, in gob, in a database column. So a
// record can be read without this module, and constants may be added or moved.
package enum

import (
	"database/sql/driver"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.com/snugturn/internal/encode"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

const maxText = 128

// Words are the words of an enumeration. Reading takes them in any letter case, with hyphens or
// blanks between their parts.
type Words[E ~uint8] struct {
	what  string
	words []string     // by value, "" where none is
	index map[string]E // by folded word
}

// New makes the words of an enumeration whose zero value is invalid: the first is that of 1. An empty
// word leaves its value invalid.
func New[E ~uint8](what string, words ...string) *Words[E] {
	return FromZero[E](what, append([]string{""}, words...)...)
}

// FromZero is [New] for an enumeration whose zero value has a word of its own.
func FromZero[E ~uint8](what string, words ...string) *Words[E] {
	w := &Words[E]{what, words, make(map[string]E, len(words))}
	for e, word := range words {
		if word != "" {
			w.index[fold(word)] = E(e)
		}
	}
	return w
}

// Also adds further spellings that are read, and never written. It returns w.
func (w *Words[E]) Also(e E, spellings ...string) *Words[E] {
	for _, s := range spellings {
		w.index[fold(s)] = e
	}
	return w
}

// fold is the one folding: small letters, and one blank for any hyphens and blanks.
func fold(text string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return r == '-' || r == '\u2010' || r == '\u2011' || unicode.IsSpace(r)
	}), " ")
}

// Has reports whether e is one of the constants.
func (w *Words[E]) Has(e E) bool { return int(e) < len(w.words) && w.words[e] != "" }

// String is the word, or "Hand(0)" for a value that isn't one of the constants.
func (w *Words[E]) String(e E) string {
	if w.Has(e) {
		return w.words[e]
	}
	return reflect.TypeFor[E]().Name() + "(" + strconv.Itoa(int(e)) + ")"
}

// All are the words, in the order of the constants.
func (w *Words[E]) All() []string {
	return slices.DeleteFunc(slices.Clone(w.words), func(word string) bool { return word == "" })
}

// List is all the words: "pass, fail or undecided".
func (w *Words[E]) List() string {
	list := w.All()
	for i, word := range list {
		if strings.Contains(word, ",") {
			list[i] = strconv.Quote(word)
		}
	}
	last := len(list) - 1
	if last == 0 {
		return list[0]
	}
	return strings.Join(list[:last], ", ") + " or " + list[last]
}

func (w *Words[E]) refuse(given, problem string, err error) error {
	return &units.ParseError{What: w.what, Input: plain.Cut(given), Problem: problem, Want: w.List(), Err: err}
}

// Parse finds the value of a word.
//
// Errors: *units.ParseError (units.ErrSyntax).
func (w *Words[E]) Parse(text string) (E, error) {
	if len(text) <= maxText {
		if e, ok := w.index[fold(text)]; ok {
			return e, nil
		}
	}
	return 0, w.refuse(text, "unknown", units.ErrSyntax)
}

// Text is the body of MarshalText and MarshalBinary.
//
// Errors: *units.ParseError (units.ErrRange) for a value that isn't one of the constants.
func (w *Words[E]) Text(e E) ([]byte, error) {
	if !w.Has(e) {
		return nil, w.refuse(w.String(e), "unknown value", units.ErrRange)
	}
	return []byte(w.words[e]), nil
}

// Read is the body of UnmarshalText and UnmarshalBinary; on an error, as of [Words.Parse], *e stays
// as it was.
func (w *Words[E]) Read(e *E, text []byte) error {
	read, err := w.Parse(string(text[:min(len(text), maxText+1)]))
	if err == nil {
		*e = read
	}
	return err
}

// ReadJSON is the body of UnmarshalJSON: [Words.Read] of a string; null and numbers are refused.
func (w *Words[E]) ReadJSON(e *E, data []byte) error {
	return encode.JSON(data, w.reader(e), w.refuser)
}

// Value is the body of Value, for database columns: the word.
func (w *Words[E]) Value(e E) (driver.Value, error) {
	return encode.Value(w.Text(e))
}

// Scan is the body of Scan: [Words.Read] of a column's text; NULL and numbers are refused.
func (w *Words[E]) Scan(e *E, src any) error { return encode.Scan(src, w.reader(e), w.refuser) }

func (w *Words[E]) reader(e *E) func([]byte) error {
	return func(text []byte) error { return w.Read(e, text) }
}

func (w *Words[E]) refuser(given, problem string) error {
	return w.refuse(given, problem, units.ErrSyntax)
}
