package oracles

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"testing"

	"example.com/snugturn/service/sheet"
	"example.com/snugturn/turn"
)

// Pictures: arrows, ticks, labels and limits read back from the drawing of a turn. Source: oracle-drawn.
func TestPictures(t *testing.T) {
	words := sheet.English()
	hands, orders := []turn.Hand{turn.RightHand, turn.LeftHand}, []turn.Rotation{turn.Clockwise, turn.Counterclockwise}
	views := []turn.View{turn.FacingClosedEnd, turn.FromHeadSide}
	ask(t, "drawn.py", func(rng *rand.Rand) map[string]any {
		n := 2 + rng.IntN(7)
		var labels []string
		for i := range n {
			labels = append(labels, strconv.Itoa(i+1))
		}
		order, hand, view := one(rng, orders), one(rng, hands), one(rng, views)
		ring, err := turn.NewRing(labels, order)
		if err != nil {
			panic(err)
		}
		i, half := rng.IntN(n), n > 2 && rng.IntN(3) == 0
		from, err := ring.At(labels[i])
		if half {
			from, err = ring.Between(labels[i], labels[(i+1)%n], turn.Part{}, hand)
		}
		if err != nil {
			panic(err)
		}
		least := 6 + rng.IntN(40) // twenty-fourths of a turn
		most := least + rng.IntN(6)
		in, err := turn.NewInstruction(turn.MustOf(int64(least), 24), turn.MustOf(int64(most), 24), turn.GasketContact)
		if err != nil {
			panic(err)
		}
		svg, err := words.DrawTurn(ring, from, in, hand, view)
		if err != nil {
			panic(fmt.Sprint(err, labels, order, hand, view))
		}
		return map[string]any{"labels": labels, "order": order.String(), "hand": hand.String(), "view": view.String(), "at": i, "half": half,
			"least": least, "most": most, "svg": string(svg)}
	}, "most")
}
