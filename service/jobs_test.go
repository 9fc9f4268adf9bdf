package service

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Invented jobs of different shapes: bowl and canister; one cartridge under a cap in a metric
// country; three stations with a hand primer and a left-hand thread; a cover by torque then angle, and
// a cap that meets its stop.
func TestJobsOfOtherShapes(t *testing.T) {
	expected := map[string][]string{
		"two-stations": {"TW-7", "26 to 34 ft-lb", "counterclockwise", "I at the index at contact: turn until it is IV, and no further than I, once round", "US gal"},
		"cartridge":    {"22 to 28 N·m", "0,3 L", "hand primer", "return hose", "0,44 / 0,52 / 0,58 L, rounded from 0,51584772… L (assumed)", "at 22 °C", "planned for 2026-10-05 (Europe/Vienna)", "16,3 to 20,6 ft-lb", "air 1,2 kg/m³", "API MPMS 11.1-2004"},
		"three-stations": {"1.2 to 1.8 kgf·m", "right to left", "counterclockwise as seen facing the closed end",
			"no printed marks", "a full turn or more", "M22x1.5-LH"},
		"cover-and-cap": {"wrench TW-9: set 22.0 ft-lb", "first the snug torque: 29.5 ft-lb", "It may be 26.6 to 32.4 ft-lb", "draw one line",
			"turn 4 of 4: 30° further; from the line that is 165° in all", "turn with an angle gauge", "From where you stand, from the head side, it goes counterclockwise",
			"until the gap between cap and housing is closed all round", "5 1/2 turns are expected", "Never more than 18 ft-lb", "0 to 25 N·m, as stated"},
	}
	rulesText, err := os.ReadFile("testdata/rules.json")
	require.NoError(t, err)
	rules, err := ReadRules(rulesText)
	require.NoError(t, err)
	for name, words := range expected {
		text, err := os.ReadFile(filepath.Join("testdata", "jobs", name+".json"))
		require.NoError(t, err)
		job, err := ReadJob(text)
		require.NoError(t, err, name)
		plan, err := NewPlan(job)
		require.NoError(t, err, name)

		sheet := plan.Sheet()
		shown := sheet.Text()
		for _, w := range words {
			if w == "M22x1.5-LH" {
				assert.Equal(t, w, job.Stations[1].Tighten.Stud.String())
				continue
			}
			assert.True(t, strings.Contains(shown, w) || strings.Contains(flat(shown), w), "%s: %q in\n%s", name, w, shown)
		}
		assert.Equal(t, name != "cartridge", strings.Contains(shown, " lb"), "%s: pounds beside kilograms, unless the job asks for kilograms", name)
		page, err := sheet.HTML()
		require.NoError(t, err, name)
		wellFormed(t, page)
		data, err := sheet.JSON()
		require.NoError(t, err, name)
		assert.True(t, json.Valid(data), name)

		// Nothing written down: nothing passes, and the job stays open. The record reads back alike.
		done, err := ReadAsDone([]byte(`{"version": 1, "job": "` + job.ID + `", "revision": 1, "date": "2026-10-05", "by": "invented", "source": "invented", "stations": []}`))
		require.NoError(t, err, name)
		review, err := plan.Review(done, rules)
		require.NoError(t, err, name)
		for _, l := range review.Lines {
			assert.Equal(t, NotRecorded, l.Verdict, "%s: %v", name, l)
		}
		assert.NotEmpty(t, review.Open(), name)
		record, err := review.Record()
		require.NoError(t, err, name)
		read, err := ReadRecord(record)
		require.NoError(t, err, name)
		again, err := read.Review()
		require.NoError(t, err, name)
		rewritten, err := again.Record()
		require.NoError(t, err, name)
		assert.Equal(t, string(record), string(rewritten), name)
	}
}

func wellFormed(t *testing.T, page []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return
		} else if err != nil {
			t.Fatal(err)
		}
	}
}
