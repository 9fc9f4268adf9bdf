package service

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// Where the head has no index of its own, it is drawn there at contact against a mark that the job states: one
// answer, and a reading that begins at another mark is doubted. Stated next to a mark known before, or a mark
// that isn't there, it is refused.
func TestIndexDrawnAtContact(t *testing.T) {
	const known = `"atContact": "S"`
	plan := benchPlan(t, known, `"drawnAt": "E"`, "3/4 turn after", "1/2 to 3/4 turn after")
	p := plan.Stations[1].Turn
	assert.Equal(t, "E", p.DrawnAt)
	require.Len(t, p.Marks, 1)
	assert.Equal(t, turn.Position{Mark: "E"}, p.Marks[0].From)
	text := flat(plan.Text())
	assert.Contains(t, text, "draw a line on the head exactly at E: your index")
	assert.Contains(t, text, ">>> W and S Stop midway between them. - Never past S.")
	assert.NotContains(t, text, "touched ____")
	stop, err := plan.Stations[1].StopFrom(MarkSeen{Mark: "E"})
	require.NoError(t, err)
	assert.Equal(t, message("turn.stop-from", "aim", turn.Place{Mark: "W", Next: "S"}, "most", turn.Place{Mark: "S"}), stop)
	for edit, path := range map[string]string{
		known + `, "drawnAt": "E"`: "stations[1].tighten.marks.drawnAt",
		`"drawnAt": "Q"`:           "stations[1].tighten.marks.drawnAt",
	} {
		_, err := ReadJob(edited(t, bench, known, edit))
		var all JobErrors
		require.ErrorAs(t, err, &all, edit)
		assert.Equal(t, path, all[0].Path)
	}
	_, err = ReadJob(edited(t, bench, known, `"drawnAt": "Q"`))
	assert.ErrorIs(t, err, turn.ErrUnknownMark)
	_, err = plan.Stations[1].StopFrom(MarkSeen{Between: []string{"E", ""}}) // is no mark alone
	assert.ErrorIs(t, err, turn.ErrUnknownMark)
	_, err = plan.Stations[1].StopFrom(MarkSeen{Between: []string{"E", "W"}})
	assert.ErrorIs(t, err, turn.ErrUnknownMark)
	_, err = plan.Stations[0].StopFrom(MarkSeen{Mark: "E"})
	assert.ErrorIs(t, err, units.ErrSyntax)
}
