package wrap_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"example.com/snugturn/internal/wrap"
)

func TestLine(t *testing.T) {
	var text wrap.Text
	text.Rule()
	text.Line("   [ ] ", "drain it, then write down what came out: the water first, and the fuel, about 0.8 L")
	assert.Equal(t, strings.Repeat("=", 80)+"\n"+
		"   [ ] drain it, then write down what came out: the water first, and the fuel,\n"+
		"       about 0.8 L\n", text.String())
}

func TestLineBreaksAtItsLastColumn(t *testing.T) {
	for _, c := range []struct {
		first int
		want  string
	}{
		{76, strings.Repeat("a", 76) + " bcd\n"},
		{77, strings.Repeat("a", 77) + "\nbcd\n"},
		{81, strings.Repeat("a", 80) + "\na bcd\n"},
	} {
		var text wrap.Text
		text.Line("", strings.Repeat("a", c.first)+" bcd")
		assert.Equal(t, c.want, text.String())
	}
}

func TestColumns(t *testing.T) {
	for text, columns := range map[string]int{"": 0, "N·m": 3, "e\u0301": 1, "給油": 4, "Ｌ": 2} {
		assert.Equal(t, columns, wrap.Columns(text), "%q", text)
	}
}

func TestTogether(t *testing.T) {
	for words, want := range map[string]string{
		"set 20.5 N·m, once": "set 20.5~N·m, once",
		"1.5 US gal of it":   "1.5~US~gal of it",
		"20 / 60 / 150 mL":   "20~/~60~/~150~mL",
		"read it / tick it":  "read it / tick it",
		"turn it":            "turn it",
	} {
		assert.Equal(t, want, strings.ReplaceAll(wrap.Together(words), "\u00a0", "~"))
	}
}

// Whatever the words, no line is wider than a page, and none of what shows is lost.
func TestPropertyNothingLostNothingWider(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.StringOfN(rapid.RuneFrom([]rune("ab 0.N·m/L給e\u0301")), 0, 400, -1).Draw(t, "words")
		lead := rapid.SampledFrom([]string{"", "  - ", "      [ ] "}).Draw(t, "lead")
		var text wrap.Text
		text.Line(lead, words)
		for _, line := range strings.Split(text.String(), "\n") {
			assert.LessOrEqual(t, wrap.Columns(line), wrap.Width, "%q", line)
		}
		shows := func(text string) string {
			return strings.NewReplacer(" ", "", "\n", "", "\u00a0", "").Replace(text)
		}
		assert.Equal(t, shows(lead+words), shows(text.String()))
	})
}
