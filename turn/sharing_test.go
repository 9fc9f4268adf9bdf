package turn_test

import (
	"fmt"
	"sync"
	"testing"

	"example.com/snugturn/turn"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The race detector holds it: no method changes what goroutines share, and each gets the same answers.
func TestGoroutinesMayShare(t *testing.T) {
	ring := abcd(t)
	in := turn.MustParseInstruction("3/4 to 1 turn after gasket contact")
	thread := turn.MustParseThread("1-14 UNS")
	sequence, err := turn.ParseSequence("40 N·m then 45° + 45°")
	require.NoError(t, err)
	ask := func() string {
		from := turn.Position{Mark: "D"}
		window, err := ring.Window(from, in, turn.RightHand)
		until, noWords := ring.Place(window.Aim, turn.RightHand)
		judged, notJudged := ring.Judge(in, turn.Reading{From: from, To: window.Aim, Eye: turn.MustParse("15°")}, turn.RightHand)
		contact, noContact := thread.JudgeContact(in.Most(), in.Least(), in.Least(), units.Millimetre.Of(4))
		ringText, noText := ring.OnHead().MarshalJSON()
		return fmt.Sprint(err, until, noWords, judged, notJudged, contact, noContact, string(ringText), noText, ring.Labels(), sequence.Cumulative(), sequence.Stages())
	}
	want, answers := ask(), make([]string, 8)
	var all sync.WaitGroup
	for i := range answers {
		all.Add(1)
		go func() { defer all.Done(); answers[i] = ask() }()
	}
	all.Wait()
	for _, got := range answers {
		assert.Equal(t, want, got)
	}
}
