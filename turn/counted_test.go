package turn

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A turn that was counted is judged as one read off two marks whose passes were counted.
func TestJudgeCounted(t *testing.T) {
	ring, err := NewRing([]string{"line", "opposite"}, Clockwise)
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, most int64) Turn {
			parts := rapid.Int64Range(1, 360).Draw(t, name+" parts")
			return MustOf(rapid.Int64Range(0, most*parts).Draw(t, name), parts)
		}
		least, more, turned := draw("least", 2), draw("more", 1), draw("turned", 3)
		out := MustOf(rapid.Int64Range(0, 179).Draw(t, "out"), 360)
		most, err := least.Add(more)
		if err != nil {
			return
		}
		in, err := NewInstruction(least, most, GasketContact)
		if err != nil {
			return
		}
		from, _ := ring.At("line")
		to, err := ring.Tighten(from, turned, RightHand)
		require.NoError(t, err)
		want, err := ring.Judge(in, Reading{From: from, To: to, Eye: out, Passes: to.Passes, Counted: true}, RightHand)
		got, gotErr := in.Judge(turned, out)
		require.Equal(t, err == nil, gotErr == nil)
		assert.Equal(t, want, got)
	})
	in := MustParseInstruction("3/4 turn after gasket contact")
	for _, bad := range []struct{ turned, out string }{{"3/4", "1/2"}, {"99.99", "1/24"}} {
		_, err := in.Judge(MustParse(bad.turned+" turns"), MustParse(bad.out+" turn"))
		assert.Error(t, err, bad)
	}
	_, err = Instruction{}.Judge(MustOf(3, 4), MustOf(15, 360))
	assert.ErrorIs(t, err, ErrNoDatum)
}

// Position is the other way round of Place, and refuses what the ring hasn't.
func TestPositionOfPlace(t *testing.T) {
	ring, err := NewRing([]string{"A", "B", "C", "D", "E"}, Counterclockwise)
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		hand := rapid.SampledFrom([]Hand{RightHand, LeftHand}).Draw(t, "hand")
		from, _ := ring.At("A")
		p, err := ring.Tighten(from, MustOf(rapid.Int64Range(0, 3000).Draw(t, "turned"), 1000), hand)
		require.NoError(t, err)
		place, err := ring.Place(p, hand)
		require.NoError(t, err)
		again, err := ring.Position(place, hand)
		require.NoError(t, err)
		assert.Equal(t, []any{p.Mark, p.Past, p.Passes}, []any{again.Mark, again.Past, again.Passes})
	})
	for _, bad := range []Place{{}, {Mark: "F"}, {Mark: "A", Next: "C"}, {Mark: "A", Past: MustOf(1, 4)}} {
		_, err := ring.Position(bad, RightHand)
		assert.Error(t, err, bad)
	}
}
