package turn_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParse(t *testing.T) {
	for text, want := range map[string][2]int64{
		"3/4": {3, 4}, "¾": {3, 4}, "¾ turn": {3, 4}, "3⁄4 turn": {3, 4}, "3∕4": {3, 4},
		"1 1/4 turns": {5, 4}, "1-1/4": {5, 4}, "1¼": {5, 4}, "1 ¼ turns": {5, 4}, "1 and 1/4 turns": {5, 4},
		"0.75 turn": {3, 4}, "270°": {3, 4}, "270 deg": {3, 4}, "270 degrees": {3, 4}, "270º": {3, 4},
		"three quarters of a turn": {3, 4}, "three-quarters turn": {3, 4}, "one full turn": {1, 1},
		"half a turn": {1, 2}, "a half turn": {1, 2}, "one and a half turns": {3, 2}, "a quarter-turn": {1, 4},
		"two thirds of a turn": {2, 3}, "1 turn": {1, 1}, "a turn": {1, 1}, "2 rev": {2, 1},
		"2 flats": {1, 3}, "1½ flats": {1, 4}, "1 flat": {1, 6}, "2 flats of a square": {1, 2},
		"3 flats of an octagon": {3, 8}, "1 flat of 12": {1, 12}, "half a flat": {1, 12},
		"112.5°": {5, 16}, "0 turns": {0, 1}, "100 turns": {100, 1}, "  3/4  ": {3, 4}, "Three Quarters": {3, 4}, "3 quarters of a turn": {3, 4}, "six flats": {1, 1}, "3 / 4 turn.": {3, 4},
	} {
		got, err := turn.Parse(text)
		if assert.NoError(t, err, text) {
			assert.Equal(t, turn.MustOf(want[0], want[1]), got, text)
		}
	}
}

// Number words are the numbers they say, as counts and below the stroke.
func TestNumberWords(t *testing.T) {
	for n, word := range strings.Fields("one two three four five six seven eight nine ten eleven twelve") {
		got, err := turn.Parse(word + " flats of 24")
		if assert.NoError(t, err, word) {
			assert.Equal(t, turn.MustOf(int64(n)+1, 24), got, word)
		}
	}
	for word, n := range map[string]int64{"half": 2, "third": 3, "quarter": 4, "fourth": 4, "fifth": 5, "sixth": 6, "eighth": 8, "tenth": 10, "twelfth": 12} {
		plural := word + "s"
		if word == "half" {
			plural = "halves"
		}
		for text, want := range map[string]turn.Turn{
			"an " + word + " of the turn": turn.MustOf(1, n), "one-" + word + " of one full turn": turn.MustOf(1, n),
			"one " + word + " of a turn": turn.MustOf(1, n), "a " + word + " turn": turn.MustOf(1, n), word + " turn": turn.MustOf(1, n),
			"seven " + plural + " of a turn": turn.MustOf(7, n), "11 " + plural + " turn": turn.MustOf(11, n),
		} {
			got, err := turn.Parse(text)
			if assert.NoError(t, err, text) {
				assert.Equal(t, want, got, text)
			}
		}
	}
	for word, n := range map[string]int64{"square": 4, "pentagon": 5, "hexagon": 6, "hex": 6, "octagon": 8, "dodecagon": 12, "3": 3, "24": 24} {
		got, err := turn.Parse("1 flat of " + word)
		if assert.NoError(t, err, word) {
			assert.Equal(t, turn.MustOf(1, n), got, word)
		}
	}
}

// Every way to name a datum is that datum: fingers do not bring a gasket to contact.
func TestDatumWords(t *testing.T) {
	for datum, phrases := range map[turn.Datum][]string{
		turn.GasketContact: {"gasket contact", "contact", "first contact", "the gasket contacts", "the gasket touches", "the gasket contacts the head",
			"the gasket touches the head", "seal contact", "the gasket makes contact", "contact of the gasket", "gasket contacts filter head",
			"the gasket touches the filter head", "gasket contact with the head", "gasket-to-head contact", "gasket contact with the filter head"},
		turn.FingerTight: {"finger tight", "finger-tight", "fingertight", "hand tight", "hand-tight", "handtight", "hand tightness", "finger tightness"},
		turn.Snug:        {"snug", "snug tight", "snug-tight", "snugtight", "snug tightness", "snugness"},
	} {
		for _, phrase := range phrases {
			in, err := turn.ParseInstruction("3/4 turn after " + phrase)
			if assert.NoError(t, err, phrase) {
				assert.Equal(t, datum, in.Datum(), phrase)
			}
		}
	}
}

// Every spelling of a hand, an action and a view is that one and not its opposite.
func TestOtherSpellings(t *testing.T) {
	for text, want := range map[string]turn.Hand{"right": turn.RightHand, "RH": turn.RightHand, "righthand": turn.RightHand, "right-hand": turn.RightHand,
		"left": turn.LeftHand, "LH": turn.LeftHand, "lefthand": turn.LeftHand, "left hand": turn.LeftHand} {
		var hand turn.Hand
		assert.NoError(t, hand.UnmarshalText([]byte(text)), text)
		assert.Equal(t, want, hand, text)
	}
	for text, want := range map[string]turn.Action{"tighten": turn.Tightening, "loosen": turn.Loosening} {
		var action turn.Action
		assert.NoError(t, action.UnmarshalText([]byte(text)), text)
		assert.Equal(t, want, action, text)
	}
	for text, want := range map[string]turn.Rotation{"cw": turn.Clockwise, "ccw": turn.Counterclockwise, "counter clockwise": turn.Counterclockwise,
		"anticlockwise": turn.Counterclockwise, "anti clockwise": turn.Counterclockwise} {
		var rotation turn.Rotation
		assert.NoError(t, rotation.UnmarshalText([]byte(text)), text)
		assert.Equal(t, want, rotation, text)
	}
	for text, want := range map[string]turn.View{"facing closed end": turn.FacingClosedEnd, "closed end": turn.FacingClosedEnd,
		"head side": turn.FromHeadSide, "from head side": turn.FromHeadSide} {
		var view turn.View
		assert.NoError(t, view.UnmarshalText([]byte(text)), text)
		assert.Equal(t, want, view, text)
	}
}

func TestParseRefuses(t *testing.T) {
	for text, want := range map[string]error{
		"": units.ErrSyntax, "turn": units.ErrSyntax, "0/0": units.ErrRange, "3/0 turn": units.ErrRange,
		"-3/4": units.ErrRange, "−3/4 turn": units.ErrRange, "1000 turns": units.ErrRange, "101 turns": units.ErrRange,
		"90": units.ErrNoUnit, "0.75": units.ErrNoUnit, "1": units.ErrNoUnit, "3/4 gal": units.ErrSyntax,
		"0-1/4 turn": units.ErrAmbiguous, "0-¼": units.ErrAmbiguous, "0-1/4 turn after contact": units.ErrAmbiguous,
		"5 gal": units.ErrUnknownUnit, "0,75 turn": units.ErrAmbiguous, "3/": units.ErrSyntax, "3/4/5": units.ErrSyntax,
		"1 5/4": units.ErrSyntax, "3/4 to 1 turn": units.ErrSyntax, "1.5/2": units.ErrSyntax, "3/1.5": units.ErrSyntax,
		"1.5 quarters of a turn": units.ErrUnknownUnit, "1.5 1/4 turns": units.ErrNoUnit, "1 and 2 turns": units.ErrUnknownUnit, "one and two turns": units.ErrSyntax,
		"3/4 of a gallon": units.ErrUnknownUnit, "3/4 a gallon": units.ErrUnknownUnit,
		"99999999999 turns": units.ErrRange, "1e3 turns": units.ErrUnknownUnit, "1/1000001": units.ErrRange,
		"3/4 turn clockwise": turn.ErrNoView, "\xff": units.ErrSyntax, "0.0000001 turn": units.ErrRange,
		"2 flats of a circle": units.ErrSyntax, strings.Repeat("9", 10<<20): units.ErrRange, "¾¾": units.ErrSyntax,
		"1 flat of 2": units.ErrSyntax, "3/4 turn turn": units.ErrSyntax, "1..5 turn": units.ErrSyntax,
	} {
		_, err := turn.Parse(text)
		var typed *units.ParseError
		if assert.ErrorAs(t, err, &typed, plain.Cut(text)) {
			assert.ErrorIs(t, err, want, "%v", err)
			assert.Less(t, len(err.Error()), 400)
		}
	}
	for _, f := range [][2]int64{{0, 0}, {1, 0}, {-1, 2}, {1, -2}, {-1, -2}, {1000, 1}, {1, 1_000_001}, {-1 << 63, 1}, {1 << 62, 1}, {1, -1 << 63}} {
		_, err := turn.Of(f[0], f[1])
		assert.ErrorIs(t, err, units.ErrRange, "%v", f)
	}
}

func TestTurnInDegrees(t *testing.T) {
	for text, want := range map[string]string{"3/4": "270°", "1/16": "22.5°", "0 turns": "0°", "1 1/4": "450°",
		"1/7": "51.428571428571428571428571428571°"} {
		assert.Equal(t, want, turn.MustParse(text).Degrees().String())
	}
}

func TestInstruction(t *testing.T) {
	for text, want := range map[string]string{
		"3/4 to 1 turn after gasket contact":                          "3/4 to 1 turn after gasket contact",
		"3/4-1 turn past contact":                                     "3/4 to 1 turn after gasket contact",
		"¾ – 1¼ turns after the gasket touches the head":              "3/4 to 1 1/4 turns after gasket contact",
		"3/4 turn after contact":                                      "3/4 turn after gasket contact",
		"After gasket contact, tighten a further 3/4 turn":            "3/4 turn after gasket contact",
		"2 flats from finger-tight":                                   "1/3 turn after finger tight",
		"1/2 turn after hand tight":                                   "1/2 turn after finger tight",
		"1-1/4 turns from snug tight":                                 "1 1/4 turns after snug",
		"Tighten 3/4 turn after the gasket touches the filter head.":  "3/4 turn after gasket contact",
		"1/2 - 3/4 turn beyond gasket-to-head contact":                "1/2 to 3/4 turn after gasket contact",
		"1-1/4-1-1/2 turns after contact":                             "1 1/4 to 1 1/2 turns after gasket contact",
		"1-2 turns from snug":                                         "1 to 2 turns after snug",
		"90° to 120° after snug":                                      "1/4 to 1/3 turn after snug",
		"3/4 to 3/4 turn after contact":                               "3/4 turn after gasket contact",
		"3/4 after contact":                                           "3/4 turn after gasket contact",
		"1/2 to 3/4 after contact":                                    "1/2 to 3/4 turn after gasket contact",
		"3/4 turn more after contact":                                 "3/4 turn after gasket contact",
		"3/4 turn further from snug":                                  "3/4 turn after snug",
		"tighten half to three quarters of a turn past first contact": "1/2 to 3/4 turn after gasket contact",
	} {
		in, err := turn.ParseInstruction(text)
		if assert.NoError(t, err, text) {
			assert.Equal(t, want, in.String(), text)
			assert.Equal(t, in, turn.MustParseInstruction(in.String()))
		}
	}
	for text, want := range map[string]error{
		"3/4 to 1 turn": turn.ErrNoDatum, "3/4 turn after lunch": turn.ErrNoDatum, "3/4 turn after": turn.ErrNoDatum,
		"3/4 turn clockwise after contact": turn.ErrNoView, "1 to 3/4 turn after contact": units.ErrRange,
		"0 turns after contact": units.ErrRange, "1/2 to 270° after contact": units.ErrAmbiguous,
		"3/4 to 1 after contact": units.ErrNoUnit, "after contact": units.ErrSyntax,
		"3/4 turn after contact please": turn.ErrNoDatum, strings.Repeat("a", 10<<20): units.ErrRange,
	} {
		_, err := turn.ParseInstruction(text)
		assert.ErrorIs(t, err, want, "%v: %v", plain.Cut(text), err)
	}
	_, err := turn.ParseInstruction("3/4 turn")
	assert.ErrorIs(t, err, units.ErrAmbiguous)
	assert.ErrorContains(t, err, "it could be gasket contact or finger tight or snug")
	_, err = turn.Instruction{}.MarshalText()
	assert.Error(t, err)
}

// A tolerance widens an instruction on both sides; the low side ends at no turn at all.
func TestToleranceNeverReachesBelowZero(t *testing.T) {
	in := turn.MustParseInstruction("1/4 to 3/4 turn after contact")
	for _, c := range []struct{ less, more, want string }{
		{"0 turns", "0 turns", "1/4 to 3/4 turn after gasket contact"},
		{"1/8", "1/16", "1/8 to 13/16 turn after gasket contact"},
		{"1/4", "0 turns", "0 to 3/4 turn after gasket contact"},
		{"1/2", "1/4", "0 to 1 turn after gasket contact"},
		{"100 turns", "1/4", "0 to 1 turn after gasket contact"},
	} {
		got, err := in.Widen(turn.MustParse(c.less), turn.MustParse(c.more))
		if assert.NoError(t, err, "%v", c) {
			assert.Equal(t, c.want, got.String(), "%v", c)
		}
	}
}

func TestJSON(t *testing.T) {
	type record struct {
		Turn turn.Turn
		In   turn.Instruction
		View turn.View
		Hand turn.Hand
	}
	want := record{turn.MustParse("1 1/4"), turn.MustParseInstruction("3/4 to 1 turn after contact"), turn.BesideClosedEndUp.Mirrored(), turn.LeftHand}
	data, err := json.Marshal(want)
	require.NoError(t, err)
	var got record
	require.NoError(t, json.Unmarshal(data, &got))
	assert.Equal(t, want, got)
	assert.Error(t, json.Unmarshal([]byte(`{"Turn":0.75}`), &got))
	assert.Error(t, json.Unmarshal([]byte(`{"Hand":"both"}`), &got))
	for _, text := range []string{`null`, `0.75`, `{}`, `"0.75"`, `"` + strings.Repeat("a", 1<<20) + `"`, `"3/4 `} {
		turns, in := want.Turn, want.In
		assert.Error(t, turns.UnmarshalJSON([]byte(text)), text)
		assert.Error(t, in.UnmarshalJSON([]byte(text)), text)
		assert.Error(t, turns.Scan(nil))
		assert.Error(t, in.Scan(0.75))
		assert.Error(t, in.Scan(strings.Repeat("a", 1<<20)))
		assert.Equal(t, want.Turn, turns)
		assert.Equal(t, want.In, in)
	}
	assert.Equal(t, want, got)
}

// A right-hand thread moves away from who turns it clockwise. Source: asme-b1-7. How that looks from the head,
// from beside and in a mirror follows by geometry.
func TestSense(t *testing.T) {
	assert.Equal(t, turn.Clockwise, turn.Sense(turn.RightHand, turn.Tightening, turn.FacingClosedEnd))
	assert.Equal(t, turn.Counterclockwise, turn.Sense(turn.RightHand, turn.Tightening, turn.FromHeadSide))
	assert.Equal(t, turn.Counterclockwise, turn.Sense(turn.RightHand, turn.Loosening, turn.FacingClosedEnd))
	assert.Equal(t, turn.Clockwise, turn.Sense(turn.RightHand, turn.Loosening, turn.FromHeadSide))
	assert.Equal(t, turn.Counterclockwise, turn.Sense(turn.LeftHand, turn.Tightening, turn.FacingClosedEnd))
	assert.Equal(t, turn.LeftToRight, turn.Sense(turn.RightHand, turn.Tightening, turn.BesideClosedEndDown))
	assert.Equal(t, turn.RightToLeft, turn.Sense(turn.RightHand, turn.Tightening, turn.BesideClosedEndUp))
	assert.Equal(t, turn.RightToLeft, turn.Sense(turn.RightHand, turn.Tightening, turn.BesideClosedEndDown.Mirrored()))
	assert.Equal(t, turn.Rotation(0), turn.Sense(0, turn.Tightening, turn.FacingClosedEnd))
	assert.Equal(t, turn.Rotation(0), turn.Sense(turn.RightHand, turn.Tightening, 0))
}

// D at the index at contact and 3/4 turn: common practice, no source; the order follows from the geometry.
func TestRing(t *testing.T) {
	labels := strings.Fields("A B C D")
	three := turn.MustParse("3/4")
	for _, c := range []struct {
		order turn.Rotation
		hand  turn.Hand
		want  string
	}{
		{turn.Clockwise, turn.RightHand, "A"}, {turn.Counterclockwise, turn.RightHand, "C"},
		{turn.Clockwise, turn.LeftHand, "C"}, {turn.Counterclockwise, turn.LeftHand, "A"},
	} {
		ring, err := turn.NewRing(labels, c.order)
		require.NoError(t, err)
		got, err := ring.Tighten(turn.Position{Mark: "D"}, three, c.hand)
		require.NoError(t, err)
		assert.Equal(t, c.want, got.String())
		back, err := ring.Loosen(got, three, c.hand)
		require.NoError(t, err)
		assert.Equal(t, turn.Position{Mark: "D"}, back)
		turned, err := ring.Turned(turn.Position{Mark: "D"}, got, c.hand)
		require.NoError(t, err)
		assert.Equal(t, three, turned)
	}
	ring, _ := turn.NewRing(labels, turn.Clockwise)
	got, err := ring.OnHead().Tighten(turn.Position{Mark: "D"}, three, turn.RightHand)
	require.NoError(t, err)
	assert.Equal(t, "C", got.Mark)
	got, err = ring.Tighten(turn.Position{Mark: "D"}, turn.MustParse("2 1/8"), turn.RightHand)
	require.NoError(t, err)
	assert.Equal(t, "1/8 turn past D, after the start came round twice", got.String())
}

func TestRingRefuses(t *testing.T) {
	many := make([]string, 10000)
	for _, c := range []struct {
		labels []string
		says   string
	}{
		{nil, "0 labels"}, {[]string{"A"}, "1 labels"}, {many, "10000 labels"}, {[]string{"A", "A"}, "twice"},
		{[]string{"B", "b"}, "case alone"}, {[]string{"A", ""}, "empty"}, {[]string{"A", "А"}, "Cyrillic"},
		{[]string{"A", "Β"}, "Greek"}, {[]string{"А", "B"}, "Latin"}, {[]string{"K", "\u212a"}, "case alone"},
		{[]string{"A", "\u202eB"}, "doesn't print"}, {[]string{"A", "B\n"}, "blanks"}, {[]string{"A", "e\u0301"}, "accent"},
		{[]string{"A", "\xff"}, "UTF-8"}, {[]string{"A", strings.Repeat("B", 10<<20)}, "longer"},
	} {
		_, err := turn.NewRing(c.labels, turn.Clockwise)
		var typed *units.ParseError
		if assert.ErrorAs(t, err, &typed) {
			assert.ErrorIs(t, err, units.ErrSyntax)
			assert.ErrorContains(t, err, c.says)
		}
	}
	_, err := turn.NewRing([]string{"A", "B"}, 0)
	assert.ErrorIs(t, err, units.ErrSyntax)
	_, err = turn.NewRing([]string{"A", "B"}, turn.LeftToRight)
	assert.ErrorIs(t, err, units.ErrSyntax)
	ring, err := turn.NewRing([]string{"A", "B"}, turn.Clockwise)
	require.NoError(t, err)
	_, err = ring.At("E")
	assert.ErrorIs(t, err, turn.ErrUnknownMark)
	assert.EqualError(t, err, `ring "E": no such mark; want A, B`)
	_, err = ring.Tighten(turn.Position{Mark: "A"}, turn.MustParse("1/2"), 0)
	assert.ErrorIs(t, err, units.ErrSyntax)
	_, err = turn.Ring{}.At("A")
	assert.ErrorIs(t, err, turn.ErrUnknownMark)
	for _, passes := range []int{101, -101, math.MaxInt, math.MinInt} {
		_, err = ring.Tighten(turn.Position{Mark: "A", Passes: passes}, turn.MustParse("1/3"), turn.RightHand)
		assert.ErrorIs(t, err, units.ErrRange, passes)
	}
}

// What would be finer than a millionth of a turn, or more than 100 turns, is refused wherever it
// comes up, and so is a mark the ring doesn't have.
func TestBounds(t *testing.T) {
	fine, finer := turn.MustOf(1, 999_983), turn.MustOf(1, 999_979) // two primes
	hundred := turn.MustParse("100 turns")
	_, err := fine.Add(finer)
	assert.ErrorIs(t, err, units.ErrRange)
	_, err = hundred.Add(fine)
	assert.ErrorIs(t, err, units.ErrRange)
	_, err = finer.Sub(hundred)
	assert.ErrorIs(t, err, units.ErrRange)

	ring, err := turn.NewRing([]string{"1", "2", "3", "4", "5", "6", "7", "8", "9", "10"}, turn.Clockwise)
	require.NoError(t, err)
	for _, from := range []turn.Position{{Mark: "2", Past: fine}, {Mark: "X"}} {
		in := turn.MustParseInstruction("1/3 turn after contact")
		_, err = ring.Tighten(from, finer, turn.RightHand)
		assert.Error(t, err)
		_, err = ring.Passing(from, finer, turn.RightHand)
		assert.Error(t, err)
		_, err = ring.Turned(from, turn.Position{Mark: "1"}, turn.RightHand)
		assert.Error(t, err)
		_, err = ring.Turned(turn.Position{Mark: "1"}, from, turn.RightHand)
		assert.Error(t, err)
		_, err = ring.Place(from, turn.RightHand)
		assert.Error(t, err)
		_, err = ring.Window(from, in, turn.RightHand)
		assert.Error(t, err)
		_, err = ring.Judge(in, turn.Reading{From: from, To: from}, turn.RightHand)
		assert.Error(t, err)
	}
	_, err = ring.Between("X", "1", turn.Part{}, turn.RightHand)
	assert.ErrorIs(t, err, turn.ErrUnknownMark)
	_, err = ring.Between("1", "X", turn.Part{}, turn.RightHand)
	assert.ErrorIs(t, err, turn.ErrUnknownMark)
	_, err = ring.Judge(turn.Instruction{}, turn.Reading{}, turn.RightHand)
	assert.ErrorIs(t, err, turn.ErrNoDatum)
	_, err = turn.MustParseInstruction("1 turn after contact").Widen(fine, hundred)
	assert.ErrorIs(t, err, units.ErrRange)
	_, err = turn.MustParseInstruction("1/7 turn after contact").Widen(fine, fine)
	assert.ErrorIs(t, err, units.ErrRange)
	_, err = turn.NewInstruction(hundred, fine, turn.Snug)
	assert.ErrorIs(t, err, units.ErrRange)
	_, err = turn.Instruction{}.Value()
	assert.ErrorIs(t, err, turn.ErrNoDatum)
	_, err = turn.Thread{}.MarshalText()
	assert.ErrorIs(t, err, units.ErrSyntax)
	assert.Panics(t, func() { turn.MustOf(1, 0) })
	assert.Panics(t, func() { turn.MustParse("") })
	assert.Panics(t, func() { turn.MustParseInstruction("") })
	assert.Panics(t, func() { turn.MustParseThread("") })
}
