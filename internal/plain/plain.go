// Package plain holds text to one visible line: what a person reads in an error, on a label or on a
// sheet is then all that is there. Terminals obey escapes, a line break forges a second line, and
// two names that look alike are one name to whoever reads them.
package plain

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible reports whether a character leaves a mark of its own, or is the space or another blank of
// Unicode's category Zs. A control character, one that turns the writing direction, one without
// width and one that merely looks like a blank isn't visible, nor is what replaces a byte that is
// no UTF-8.
func Visible(r rune) bool {
	return unicode.IsGraphic(r) && r != utf8.RuneError && !ignorable(r)
}

// ignorable are the characters that Unicode counts as letters, marks or symbols, although nothing of
// them is seen: those of DerivedCoreProperties.txt, Default_Ignorable_Code_Point, and the Braille
// pattern without a dot.
func ignorable(r rune) bool {
	return r > unicode.MaxLatin1 && (r == '\u2800' || unicode.Is(unicode.Other_Default_Ignorable_Code_Point, r) ||
		unicode.Is(unicode.Variation_Selector, r))
}

// Clean is a text with a question mark for each character that isn't visible. It keeps a reader's
// terminal or browser from being steered by what was made in Go and never read.
func Clean(text string) string {
	return strings.Map(func(r rune) rune {
		if Visible(r) {
			return r
		}
		return '?'
	}, text)
}

// Hidden is the first character of a text that isn't visible, as an escape such as \u200b; "" where
// there is none.
func Hidden(text string) string {
	for i, r := range text {
		if Visible(r) {
			continue
		}
		_, size := utf8.DecodeRuneInString(text[i:])
		quoted := strconv.QuoteToASCII(text[i : i+size])
		return quoted[1 : len(quoted)-1]
	}
	return ""
}

// Blank reports whether nothing of a text is seen.
func Blank(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool { return r == utf8.RuneError || Visible(r) && !unicode.IsSpace(r) })
}

// Cut shortens a text for quoting in an error: at most 48 bytes, whole runes, with "…" where
// something was left out. The result doesn't keep the long text alive.
func Cut(text string) string {
	const most = 48
	if len(text) <= most {
		return text
	}
	return cutAt(text, most)
}

// Limit is a text of so many bytes at the most, whole runes, with "…" where something was left out.
func Limit(text string, most int) string {
	if len(text) <= most {
		return text
	}
	return cutAt(text, most-len("…"))
}

func cutAt(text string, end int) string {
	for least := end - utf8.UTFMax; end > least && !utf8.RuneStart(text[end]); {
		end--
	}
	return strings.Clone(text[:end]) + "…"
}

// Quote is a text in quotation marks, cut short, as Go writes a string: what isn't visible, a blank
// other than the space, a quotation mark and a backslash are escapes.
func Quote(text string) string {
	quoted := strconv.Quote(Cut(text))
	if Hidden(quoted) == "" {
		return quoted
	}
	var b strings.Builder
	for _, r := range quoted {
		if Visible(r) {
			b.WriteRune(r)
		} else {
			b.WriteString(strings.Trim(strconv.QuoteRuneToASCII(r), "'"))
		}
	}
	return b.String()
}

// IsBlank reports whether a character is a blank within a line, from the hair space to the ideographic
// one. A line break isn't. It is for packages that read longer texts in the manner of this one.
func IsBlank(r rune) bool {
	switch r {
	case ' ', '\t', '\u00a0', '\u202f', '\u205f', '\u3000':
		return true
	}
	return '\u2000' <= r && r <= '\u200a'
}
