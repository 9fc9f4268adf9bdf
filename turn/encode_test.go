package turn_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Whatever direction can be seen is written and read back; all others are refused.
func TestDirectionAsText(t *testing.T) {
	seen := 0
	for action := turn.Action(0); action <= turn.Loosening+1; action++ {
		for rotation := turn.Rotation(0); rotation <= turn.RightToLeft+1; rotation++ {
			for view := turn.View(0); view <= turn.BesideClosedEndUp.Mirrored()+1; view++ {
				d := turn.Direction{Action: action, Seen: rotation, View: view}
				text, err := d.MarshalText()
				if d.Hand() == 0 {
					require.ErrorIs(t, err, units.ErrSyntax, "%v", d)
					_, err = d.Value()
					require.ErrorIs(t, err, units.ErrSyntax, "%v", d)
					continue
				}
				seen++
				require.NoError(t, err)
				data, err := json.Marshal(d)
				require.NoError(t, err)
				assert.Equal(t, `"`+string(text)+`"`, string(data))
				var read, again turn.Direction
				require.NoError(t, json.Unmarshal(data, &read))
				require.NoError(t, again.Scan(text))
				assert.Equal(t, d, read)
				assert.Equal(t, d, again)
				assert.Equal(t, string(text), d.LogValue().String())
			}
		}
	}
	assert.Equal(t, 2*2*8, seen, "two actions, two rotations to be seen from each of eight views")
}

func TestDirectionRefusesTexts(t *testing.T) {
	for text, want := range map[string]error{
		"": units.ErrSyntax, "loosen": units.ErrSyntax, "clockwise, from the head side": units.ErrSyntax,
		"loosen clockwise": turn.ErrNoView, "loosen clockwise,": turn.ErrNoView, "loosen clockwise, from above": units.ErrSyntax,
		"loosen clockwise, from beside, closed end up": units.ErrSyntax, strings.Repeat("a", 1<<20): units.ErrRange,
	} {
		kept := turn.Direction{Action: turn.Loosening, Seen: turn.Clockwise, View: turn.FromHeadSide}
		before := kept
		assert.ErrorIs(t, kept.UnmarshalText([]byte(text)), want, plain.Cut(text))
		assert.ErrorIs(t, kept.Scan(text), want, plain.Cut(text))
		data, err := json.Marshal(text)
		require.NoError(t, err)
		assert.Error(t, kept.UnmarshalJSON(data), plain.Cut(text))
		assert.Error(t, kept.Scan(nil))
		assert.Error(t, kept.Scan(1))
		assert.Error(t, kept.UnmarshalJSON([]byte("null")))
		assert.Error(t, kept.UnmarshalJSON([]byte(`{"Action":"loosening"}`)))
		assert.Equal(t, before, kept)
	}
}

// Without the hand of the thread the views are told with the thread each is right for.
func TestViewsForADirectionWithoutOne(t *testing.T) {
	for hand, want := range map[turn.Hand][]string{
		turn.RightHand: {"from the head side (counterclockwise facing the closed end)"},
		turn.LeftHand:  {"facing the closed end (clockwise facing the closed end)"},
		0: {"facing the closed end (clockwise facing the closed end, for a left-hand thread)",
			"from the head side (counterclockwise facing the closed end, for a right-hand thread)"},
	} {
		_, err := turn.ParseDirection("loosen clockwise", hand)
		var parse *units.ParseError
		require.ErrorAs(t, err, &parse)
		assert.Equal(t, want, parse.Candidates, hand.String())
	}
}

func drawRing(t *rapid.T) turn.Ring {
	labels := rapid.SliceOfNDistinct(rapid.StringMatching(`[a-z0-9<&"\\]{1,6}`), 2, 24, rapid.ID).Draw(t, "labels")
	order := rapid.SampledFrom([]turn.Rotation{turn.Clockwise, turn.Counterclockwise}).Draw(t, "order")
	if rapid.Bool().Draw(t, "even") {
		ring, err := turn.NewRing(labels, order)
		require.NoError(t, err)
		return ring
	}
	places := rapid.SliceOfNDistinct(rapid.Int64Range(1, 719), len(labels), len(labels), rapid.ID).Draw(t, "half degrees")
	slices.Sort(places)
	marks := make([]turn.Mark, len(labels))
	for i, label := range labels {
		if marks[i].Label = label; i > 0 {
			marks[i].At = turn.MustOf(places[i], 720)
		}
	}
	ring, err := turn.NewRingAt(marks, order)
	require.NoError(t, err)
	return ring
}

// A ring comes back from JSON as it was, and two rings have the same JSON only if the same marks come to
// the index.
func TestRingAsJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring := drawRing(t)
		if rapid.Bool().Draw(t, "on head") {
			ring = ring.OnHead()
		}
		data, err := json.Marshal(ring)
		require.NoError(t, err)
		var read turn.Ring
		require.NoError(t, json.Unmarshal(data, &read))
		require.Equal(t, ring, read)
		require.Equal(t, ring.String(), read.String())
		start := turn.Position{Mark: ring.Labels()[0]}
		by := turn.MustOf(rapid.Int64Range(0, 720).Draw(t, "degrees"), 360)
		want, err := ring.Tighten(start, by, turn.RightHand)
		require.NoError(t, err)
		got, err := read.Tighten(start, by, turn.RightHand)
		require.NoError(t, err)
		require.Equal(t, want, got)

		indented, err := json.MarshalIndent(ring, "        ", "\t")
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(indented, &read))
		require.Equal(t, ring, read)
	})
}

// The most a ring can hold fits in what is read.
func TestLargestRingAsJSON(t *testing.T) {
	marks := make([]turn.Mark, 360)
	for i := range marks {
		marks[i] = turn.Mark{Label: fmt.Sprintf("%s%03d", strings.Repeat("<", 29), i), At: turn.MustOf(int64(i)*2777, 1_000_000)}
	}
	ring, err := turn.NewRingAt(marks, turn.Counterclockwise)
	require.NoError(t, err)
	data, err := json.MarshalIndent(ring, "", "\t")
	require.NoError(t, err)
	var read turn.Ring
	require.NoError(t, json.Unmarshal(data, &read))
	assert.Equal(t, ring, read)
}

func TestRingRefusesJSON(t *testing.T) {
	for text, want := range map[string]error{
		``:                    units.ErrSyntax,
		`null`:                units.ErrSyntax,
		`"N, E, S clockwise"`: units.ErrSyntax,
		`["A","B"]`:           units.ErrSyntax,
		`{"labels":["A","B"],"order":"clockwise"`:                units.ErrSyntax,
		"{\"labels\":[\"A\xff\",\"B\"],\"order\":\"clockwise\"}": units.ErrSyntax,
		`{}`:                                units.ErrSyntax,
		`{"order":"clockwise"}`:             units.ErrSyntax,
		`{"labels":["A","B"]}`:              units.ErrSyntax,
		`{"labels":["A","B"],"order":null}`: units.ErrSyntax,
		`{"labels":["A","B"],"order":"left to right"}`:                                                units.ErrSyntax,
		`{"labels":["A","B"],"order":"up"}`:                                                           units.ErrSyntax,
		`{"labels":["A","B"],"order":1}`:                                                              units.ErrSyntax,
		`{"labels":"A","order":"clockwise"}`:                                                          units.ErrSyntax,
		`{"labels":["A",2],"order":"clockwise"}`:                                                      units.ErrSyntax,
		`{"labels":["A",null],"order":"clockwise"}`:                                                   units.ErrSyntax,
		`{"labels":[],"order":"clockwise"}`:                                                           units.ErrSyntax,
		`{"labels":["A"],"order":"clockwise"}`:                                                        units.ErrSyntax,
		`{"labels":["A","a"],"order":"clockwise"}`:                                                    units.ErrSyntax,
		`{"labels":["A","B"],"order":"clockwise","order":"clockwise"}`:                                units.ErrSyntax,
		`{"labels":["A","B"],"Order":"clockwise"}`:                                                    units.ErrSyntax,
		`{"labels":["A","B"],"order":"clockwise","index":"rib"}`:                                      units.ErrSyntax,
		`{"labels":["A","B"],"order":"clockwise","onHead":"yes"}`:                                     units.ErrSyntax,
		`{"labels":["A","B"],"marks":[],"order":"clockwise"}`:                                         units.ErrSyntax,
		`{"marks":[],"order":"clockwise"}`:                                                            units.ErrSyntax,
		`{"marks":["A","B"],"order":"clockwise"}`:                                                     units.ErrSyntax,
		`{"marks":[{"label":"A"},{"label":"B","at":"1/2"}],"order":"clockwise"}`:                      units.ErrSyntax,
		`{"marks":[{"at":"0 turns"},{"label":"B","at":"1/2"}],"order":"clockwise"}`:                   units.ErrSyntax,
		`{"marks":[{"label":"A","at":"0 turns"},{"label":"B","at":90}],"order":"clockwise"}`:          units.ErrSyntax,
		`{"marks":[{"label":"A","at":"0 turns"},{"label":"B","at":"90"}],"order":"clockwise"}`:        units.ErrNoUnit,
		`{"marks":[{"label":"A","at":"0 turns"},{"label":"B","at":"1 turn"}],"order":"clockwise"}`:    units.ErrSyntax,
		`{"marks":[{"label":"A","at":"1/4 turn"},{"label":"B","at":"1/2 turn"}],"order":"clockwise"}`: units.ErrSyntax,
		`{"labels":["` + strings.Repeat("A", 1<<20) + `","B"],"order":"clockwise"}`:                   units.ErrRange,
	} {
		kept, err := turn.NewRing([]string{"1", "2", "3"}, turn.Clockwise)
		require.NoError(t, err)
		err = kept.UnmarshalJSON([]byte(text))
		assert.ErrorIs(t, err, want, plain.Cut(text))
		var value *units.ParseError
		var parse *units.ParseError
		assert.True(t, errors.As(err, &value) || errors.As(err, &parse), "%s: %T", plain.Cut(text), err)
		assert.Less(t, len(fmt.Sprint(err)), 400)
		assert.Equal(t, "1, 2, 3 clockwise", kept.String())
	}
	_, err := json.Marshal(turn.Ring{})
	assert.ErrorIs(t, err, units.ErrSyntax)
	assert.Equal(t, "ring without marks", turn.Ring{}.LogValue().String())
}
