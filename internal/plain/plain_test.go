package plain

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// One of each kind that a reader doesn't see: by Default_Ignorable_Code_Point or the general category, and blanks that
// are letters or symbols. Source: unicode-ignorable.
var unseen = map[string]string{
	"\x1b": `\x1b`, "\n": `\n`, "\r": `\r`, "\t": `\t`, "\x00": `\x00`, "\x7f": `\x7f`, "\u0085": `\u0085`, // controls
	"\u2028": `\u2028`, "\u2029": `\u2029`, // line and paragraph separators
	"\u200b": `\u200b`, "\u200d": `\u200d`, "\u2060": `\u2060`, "\ufeff": `\ufeff`, "\u00ad": `\u00ad`, // no width
	"\u200e": `\u200e`, "\u202a": `\u202a`, "\u202e": `\u202e`, "\u2066": `\u2066`, "\u061c": `\u061c`, // direction
	"\u034f": `\u034f`, "\ufe0f": `\ufe0f`, "\U000e0100": `\U000e0100`, "\U000e0041": `\U000e0041`, // joiner, selectors, tag
	"\u115f": `\u115f`, "\u3164": `\u3164`, "\uffa0": `\uffa0`, "\u2800": `\u2800`, // look like blanks
	"\ue000": `\ue000`, "\U0010ffff": `\U0010ffff`, // private, no character
	"\xff": `\xff`, "\xc3": `\xc3`, "\ufffd": `\ufffd`, // no UTF-8, and what replaces it
}

func TestUnseen(t *testing.T) {
	for text, escape := range unseen {
		assert.Equal(t, escape, Hidden("W-1"+text+"x"), "%q", text)
		assert.Equal(t, `"W-1`+escape+`"`, Quote("W-1"+text))
	}
	for _, text := range []string{"", "W-1", "145–190 in-lb", "½ Öl, µ", "燃料　フィルター", "a\u00a0b", "زيت"} {
		assert.Empty(t, Hidden(text), "%q", text)
	}
}

func TestBlank(t *testing.T) {
	for _, text := range []string{"", " ", "\t\n", "\u00a0\u3000", "\u200b", "\u3164\u2800", " \u202e \ufe0f"} {
		assert.True(t, Blank(text), "%q", text)
	}
	for _, text := range []string{"0", " .", "\u3164x", "\xff", "\ufffd"} {
		assert.False(t, Blank(text), "%q", text)
	}
}

func TestQuote(t *testing.T) {
	assert.Equal(t, `"5 gal"`, Quote("5 gal"))
	assert.Equal(t, `"a\"b\\c"`, Quote(`a"b\c`))
	assert.Equal(t, `"`+strings.Repeat("é", 24)+`…"`, Quote(strings.Repeat("é", 40)))
	rapid.Check(t, func(t *rapid.T) {
		text := string(rapid.SliceOfN(rapid.Byte(), 0, 100).Draw(t, "bytes"))
		if rapid.Bool().Draw(t, "of runes") {
			text = rapid.StringN(0, 100, -1).Draw(t, "text")
		}
		quoted := Quote(text)
		assert.True(t, utf8.ValidString(quoted))
		assert.Empty(t, Hidden(quoted), "%q", text)
	})
}

func TestAlike(t *testing.T) {
	for _, c := range []struct {
		labels []string
		want   string
	}{
		{[]string{"N", "E", "S", "W"}, ""}, {[]string{"I", "II", "III", "IV"}, ""}, {[]string{"16", "19"}, ""},
		{[]string{"1", "2", "3", "4", "5", "6", "7", "8"}, ""},
		{[]string{"3", "6", "9", "12"}, "6 9"}, {[]string{"0", "A", "O"}, "0 O"}, {[]string{"1", "2", "I"}, "1 I"}, {[]string{"M", "N", "W"}, "M W"},
		{[]string{"A1", "AI"}, "A1 AI"},
	} {
		one, other := Alike(c.labels)
		assert.Equal(t, c.want, strings.TrimSpace(one+" "+other), c.labels)
	}
}

func TestLimit(t *testing.T) {
	assert.Equal(t, "12345", Limit("12345", 5))
	assert.Equal(t, "123…", Limit("1234567", 6))
	assert.Equal(t, "é…", Limit("ééééé", 6))
	assert.Len(t, Limit(strings.Repeat("燃", 400), 500), 3*165+len("…"))
}
