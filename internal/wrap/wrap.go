// Package wrap lays words out in lines of a terminal or a line printer.
package wrap

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// Width is how many columns a line has.
const Width = 80

// Text is lines of [Width] columns, wrapped.
type Text struct{ strings.Builder }

// Rule writes a double rule.
func (t *Text) Rule() { t.WriteString(strings.Repeat("=", Width) + "\n") }

// Line writes words behind a lead such as "   [ ] ", wrapped with the following lines indented
// as far as the lead. A word longer than a line is cut.
func (t *Text) Line(lead, words string) {
	indent := Columns(lead)
	t.WriteString(lead)
	used := indent
	for _, word := range strings.FieldsFunc(Together(plain.Clean(words)), func(r rune) bool { return r == ' ' }) {
		n := Columns(word)
		switch {
		case used == indent:
		case used+1+n > Width:
			used = t.wrap(indent)
		default:
			t.WriteByte(' ')
			used++
		}
		for _, r := range word {
			n := width(r)
			if used+n > Width {
				used = t.wrap(indent)
			}
			if r == noBreak {
				r = ' '
			}
			t.WriteRune(r)
			used += n
		}
	}
	t.WriteByte('\n')
}

func (t *Text) wrap(indent int) int {
	t.WriteString("\n" + strings.Repeat(" ", indent))
	return indent
}

// Columns is how many of a terminal a text takes.
func Columns(text string) (n int) {
	for _, r := range text {
		n += width(r)
	}
	return n
}

// width is two columns for what Unicode Standard Annex 11 calls wide, none for marks that stand on
// the character before them, and one for all else.
func width(r rune) int {
	switch {
	case r < 0x300:
		return 1
	case unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	case unicode.Is(twoColumns, r):
		return 2
	}
	return 1
}

// twoColumns are the blocks of wide and fullwidth characters, from memory (M): Hangul, Han, Kana and
// what is among them, fullwidth forms, and pictures.
var twoColumns = &unicode.RangeTable{
	R16: []unicode.Range16{{Lo: 0x1100, Hi: 0x115F, Stride: 1}, {Lo: 0x2E80, Hi: 0x303E, Stride: 1}, {Lo: 0x3041, Hi: 0xA4CF, Stride: 1},
		{Lo: 0xAC00, Hi: 0xD7A3, Stride: 1}, {Lo: 0xF900, Hi: 0xFAFF, Stride: 1}, {Lo: 0xFE30, Hi: 0xFE6F, Stride: 1},
		{Lo: 0xFF00, Hi: 0xFF60, Stride: 1}, {Lo: 0xFFE0, Hi: 0xFFE6, Stride: 1}},
	R32: []unicode.Range32{{Lo: 0x1F300, Hi: 0x1F64F, Stride: 1}, {Lo: 0x1F680, Hi: 0x1F6FF, Stride: 1}, {Lo: 0x1F900, Hi: 0x1F9FF, Stride: 1},
		{Lo: 0x20000, Hi: 0x3FFFD, Stride: 1}},
}

const noBreak = '\u00a0'

// Together puts a no-break space where a line must not end: before a unit, in "low / best /
// high", and in "5 + 1/2".
func Together(words string) string {
	tokens := strings.Split(words, " ")
	var b strings.Builder
	b.WriteString(tokens[0])
	bound := false // to the number before it
	for i, token := range tokens[1:] {
		before := tokens[i]
		number := endsInDigit(before)
		bound = (number || bound) && unitWords[strings.TrimRight(token, ".,;:)")] ||
			number && joins(token) || joins(before) && i > 0 && endsInDigit(tokens[i-1])
		if bound {
			b.WriteRune(noBreak)
		} else {
			b.WriteByte(' ')
		}
		b.WriteString(token)
	}
	return b.String()
}

// joins reports whether a word joins two numbers: "1 / 2 / 3", "5 + 1/2".
func joins(word string) bool { return word == "/" || word == "+" }

func endsInDigit(word string) bool {
	last, _ := utf8.DecodeLastRuneInString(word)
	return '0' <= last && last <= '9' || last == '…'
}

// unitWords are what follows a number on the same line.
var unitWords = func() map[string]bool {
	words := map[string]bool{"%": true, "s": true, "min": true, "h": true, "turn": true, "turns": true}
	addSymbols[units.TorqueUnit](words)
	addSymbols[units.LengthUnit](words)
	addSymbols[units.VolumeUnit](words)
	addSymbols[units.MassUnit](words)
	addSymbols[units.DensityUnit](words)
	addSymbols[units.FlowUnit](words)
	addSymbols[units.PressureUnit](words)
	words["°C"], words["°F"] = true, true
	return words
}()

func addSymbols[U units.Unit](words map[string]bool) {
	for u := range units.All[U]() {
		for _, word := range strings.Fields(u.String()) {
			words[word] = true
		}
	}
}
