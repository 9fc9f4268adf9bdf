package turn_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"example.com/snugturn/turn"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/units"
)

// elements reads a whole document and lists its elements, and the text in it.
func elements(t require.TestingT, data []byte) (names []string, text string) {
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return names, text
		}
		require.NoError(t, err)
		switch token := token.(type) {
		case xml.StartElement:
			names = append(names, token.Name.Local)
		case xml.CharData:
			text += string(token)
		}
	}
}

func TestPictureSaysItInWords(t *testing.T) {
	p := turn.Picture{Ring: abcd(t), From: turn.Position{Mark: "D"}, Instruction: turn.MustParseInstruction("3/4 to 1 turn after contact"),
		Hand: turn.RightHand, View: turn.FacingClosedEnd}
	data, err := p.SVG()
	require.NoError(t, err)
	names, text := elements(t, data)
	assert.Equal(t, []string{"svg", "title", "desc"}, names[:3])
	assert.Contains(t, text, "CLOCKWISE, seen facing the closed end (right-hand thread). The same turn seen from the head side is counterclockwise.")
	assert.Contains(t, text, "Start: D stands at the index. Done: stop midway between A and D; never past D, after the start came round once.")
	again, err := p.SVG()
	require.NoError(t, err)
	assert.Equal(t, data, again)
	// The window runs from A, a quarter clockwise, back to D at the top; the arrow turns by 7/8, to the
	// middle of it.
	assert.Contains(t, string(data), `<g transform="rotate(0)"><circle r="111" fill="none" stroke="black" stroke-width="12" transform="rotate(-90)" pathLength="360" stroke-dasharray="90 270"/>`)
	assert.Contains(t, string(data), `<g transform="rotate(315)"><path d="M-2 -154L16 -144L-2 -134Z"/>`)
	p.View = turn.FromHeadSide
	data, err = p.SVG()
	require.NoError(t, err)
	assert.Contains(t, string(data), "COUNTERCLOCKWISE, seen from the head side")
	assert.Contains(t, string(data), `<g transform="rotate(45)"><path d="M2 -154L-16 -144L2 -134Z"/>`)
}

func TestPictureEscapes(t *testing.T) {
	ring, err := turn.NewRing([]string{`</text><script>`, `" onload="x`, "&amp;", "]]>"}, turn.Clockwise)
	require.NoError(t, err)
	data, err := turn.Picture{Ring: ring, From: turn.Position{Mark: "&amp;"}, Instruction: turn.MustParseInstruction("1/4 turn after contact"),
		Hand: turn.RightHand, View: turn.FacingClosedEnd, Caption: "<script>\x00\u202e" + strings.Repeat("x", 1<<20)}.SVG()
	require.NoError(t, err)
	names, text := elements(t, data)
	assert.NotContains(t, names, "script")
	assert.Contains(t, text, `Done: stop at " onload="x.`)
	assert.Less(t, len(data), 20000)
}

func TestPictureRefuses(t *testing.T) {
	p := turn.Picture{Ring: abcd(t), From: turn.Position{Mark: "D"}, Instruction: turn.MustParseInstruction("3/4 turn after contact"), Hand: turn.RightHand}
	for _, view := range []turn.View{0, turn.BesideClosedEndDown, 99} {
		p.View = view
		_, err := p.SVG()
		assert.ErrorIs(t, err, units.ErrSyntax)
	}
	_, err := turn.Picture{}.SVG()
	assert.Error(t, err)
}

func TestPicturesAreWellFormed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		labels := rapid.SliceOfNDistinct(rapid.StringMatching(`[a-z<>&"'0-9]{1,9}`), 2, 40, rapid.ID[string]).Draw(t, "labels")
		ring, err := turn.NewRing(labels, rapid.SampledFrom([]turn.Rotation{turn.Clockwise, turn.Counterclockwise}).Draw(t, "order"))
		require.NoError(t, err)
		least := aTurn(t, "least")
		most, err := least.Add(turn.MustOf(rapid.Int64Range(1, 48).Draw(t, "more"), 16))
		require.NoError(t, err)
		in, err := turn.NewInstruction(least, most, turn.FingerTight)
		require.NoError(t, err)
		if rapid.Bool().Draw(t, "on the head") {
			ring = ring.OnHead()
		}
		view := rapid.SampledFrom([]turn.View{turn.FacingClosedEnd, turn.FromHeadSide, turn.FacingClosedEnd.Mirrored()}).Draw(t, "view")
		data, err := turn.Picture{Ring: ring, From: turn.Position{Mark: labels[0]}, Instruction: in, Hand: turn.LeftHand, View: view}.SVG()
		require.NoError(t, err)
		names, _ := elements(t, data)
		assert.Equal(t, "svg", names[0])
	})
}

func BenchmarkTighten(b *testing.B) {
	ring, err := turn.NewRing(strings.Fields("N E S W"), turn.Clockwise)
	require.NoError(b, err)
	from, t := turn.Position{Mark: "S"}, turn.MustParse("2/3")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ring.Tighten(from, t, turn.RightHand); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParseInstruction(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := turn.ParseInstruction("3/4 to 1 turn after gasket contact"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRefuseLongText(b *testing.B) {
	text := strings.Repeat("9", 10<<20)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := turn.Parse(text); err == nil {
			b.Fatal("accepted")
		}
	}
}
