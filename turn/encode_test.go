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
