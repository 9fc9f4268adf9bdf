package turn

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/units"
)

// What comes to the index next stands that far against the way of tightening where the marks turn,
// and that far ahead of the index where the index does: it is at the index after that much more.
func TestAround(t *testing.T) {
	irregular, err := NewRingAt([]Mark{{"A", Turn{}}, {"B", MustOf(1, 5)}, {"C", MustOf(1, 2)}}, Counterclockwise)
	require.NoError(t, err)
	even, err := NewRing([]string{"A", "B", "C", "D", "E"}, Clockwise)
	require.NoError(t, err)
	for _, ring := range []Ring{irregular, even, even.OnHead(), irregular.OnHead()} {
		for _, hand := range []Hand{RightHand, LeftHand} {
			for _, view := range []View{FacingClosedEnd, FromHeadSide, FacingClosedEnd.Mirrored()} {
				from := Position{Mark: "B", Past: MustOf(1, 20)}
				end, err := ring.Tighten(from, MustOf(3, 8), hand)
				require.NoError(t, err)
				marks, err := ring.Around(from, MustOf(3, 8), hand, view)
				require.NoError(t, err)
				var labels []string
				for _, m := range marks {
					labels = append(labels, m.Label)
					way, err := ring.Turned(end, Position{Mark: m.Label}, hand)
					require.NoError(t, err)
					if (Sense(hand, Tightening, view) == Clockwise) != ring.onHead {
						way, _ = Turn{}.plus(-1, way)
					}
					assert.Equal(t, way.round(), m.At, "%v %v %v %s", ring, hand, view, m.Label)
				}
				assert.Equal(t, ring.Labels(), labels)
			}
		}
	}
	for _, bad := range []struct {
		from Position
		hand Hand
		view View
	}{{Position{Mark: "Q"}, RightHand, FromHeadSide}, {Position{Mark: "A"}, 0, FromHeadSide}, {Position{Mark: "A"}, RightHand, BesideClosedEndUp}} {
		_, err := even.Around(bad.from, Turn{}, bad.hand, bad.view)
		assert.Error(t, err)
	}
	_, err = even.Around(Position{Mark: "A"}, Turn{}, RightHand, BesideClosedEndUp)
	assert.ErrorIs(t, err, units.ErrSyntax)
}
