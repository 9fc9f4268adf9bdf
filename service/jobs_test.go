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

	"example.com/snugturn/internal/wrap"
)

// Invented jobs of different shapes: bowl and canister; one cartridge under a cap in a metric
// country; three stations with a hand primer and a left-hand thread; a cover by torque then angle, and
// a cap that meets its stop. The fuel's source is among what is printed (Source: api-11-1).
func TestJobsOfOtherShapes(t *testing.T) {
	expected := map[string][]string{
		"two-stations": {"TW-7", "26 to 34 ft-lb", "CLOCKWISE", "touched I: stop at IV and I; never past I again", "touched I and II: stop at I; never past I and II again", "US gal"},
		"cartridge":    {"22 to 28 N·m", "0,3 L", "hand primer", "return hose", "0,44 / 0,52 / 0,58 L, rounded from 0,51584772… L (assumed)", "at 22 °C", "planned for 2026-10-05 (Europe/Vienna)", "16,3 to 20,6 ft-lb", "air 1,2 kg/m³", "API MPMS 11.1-2004"},
		"three-stations": {"1.2 to 1.8 kgf·m", "TO THE LEFT", "counterclockwise as seen facing the closed end",
			"no printed marks", "a full turn or more", "M22x1.5-LH"},
		"cover-and-cap": {"wrench TW-9, set to 22.0 ft-lb", "SET 22.0 ft-lb", "Snug torque 29.5 ft-lb", "may be 26.6 to 32.4 ft-lb", "draw one line",
			">>> 30° [ ]", "in all 157° to 185°", "With an angle gauge", "COUNTERCLOCKWISE seen from the head side",
			"GAP CLOSED between cap and housing, all round, and no further", "expect 5 + 1/2 turns", "SET 16.5 ft-lb", "0 to 18 ft-lb is rounded inward", "0 to 25 N·m"},
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
		plan, err := NewPlan(job, Rules{})
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
		review, err := plan.reviewBy(done, rules)
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

// Whoever fills in every blank of the sheet leaves no line not recorded that keeps the job open, and
// is asked for nothing that the review refuses.
func TestSheetAsksForWhatTheReviewNeeds(t *testing.T) {
	asked := map[string][]string{"run-up": {"record.dragged"}, "torque": {"record.torque"}, "snug": {"record.snug"}, "angle": {"record.angle"},
		"angle.stage": {"record.angle"}, "seat": {"record.gap"}, "stop-turns": {"record.turns-to-stop"}, "contact": {"record.turns-to-contact"},
		"turn": {"record.marks", "record.turned"}, "isolation": {"record.restored"}}
	files, err := filepath.Glob("testdata/jobs/*.json")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range append(files, "../examples/servicesheet/demo.json") {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		job, err := ReadJob(text)
		require.NoError(t, err, file)
		plan, err := NewPlan(job, Rules{})
		require.NoError(t, err, file)
		blanks := map[string]bool{}
		for _, section := range plan.Sheet().Sections {
			for _, item := range section.Items {
				if item.Kind == "blank" {
					blanks[item.Code+" "+item.Values["station"]] = true
				}
			}
		}
		review, err := plan.reviewBy(AsDone{Version: AsDoneVersion, Job: job.ID, Revision: job.Revision, Date: job.Date, By: "invented", Source: "invented"}, rulesWith(t))
		require.NoError(t, err, file)
		for _, l := range review.Open() {
			codes, station := asked[l.Code], ""
			if _, after, found := strings.Cut(l.Where, "stations[id="); found {
				station, _, _ = strings.Cut(after, "]")
			}
			if strings.HasPrefix(l.Code, "leak.") {
				codes = []string{"record.leaks"}
			}
			found := 0
			for _, code := range codes {
				if blanks[code+" "+station] {
					found++
				}
			}
			assert.Equal(t, 1, found, "%s: %v, among %v", file, l, codes)
		}
		for _, s := range job.Stations {
			assert.True(t, blanks["record.leaks "+s.ID], "%s: %s", file, s.ID)
		}
	}
}

// Turns to contact are written down where a step tells to count them, and nowhere else.
func TestCountIsAskedWhereItIsMade(t *testing.T) {
	expected := []string{`"turn": "3/4`, `"contactTurns": "4 1/2 turns", "turn": "3/4`}
	for _, c := range []struct {
		edits   []string
		counted bool
	}{
		{nil, false},
		{expected, true},
		{append(expected, "after gasket contact", "after finger tight"), true},
	} {
		text := flat(benchPlan(t, c.edits...).Text())
		assert.Equal(t, c.counted, strings.Contains(text, "count turns from first thread to touch: expect 4 + 1/2 turns"), c.edits)
		assert.Equal(t, c.counted, strings.Contains(text, "expect 4 + 1/2 turns turns ______"), c.edits)
	}
}

// What a reader with a wrench in hand would do wrong for lack of a word.
func TestSheetLeavesNothingOut(t *testing.T) {
	text := flat(benchPlan(t).Text())
	for _, words := range []string{"Earthed lead off first, on last", "bowl on by hand", "head wiped", "old seals out: 1",
		"A LEAK? Stop the engine", "stopped __________"} {
		assert.Contains(t, text, words)
	}

	// Through an adapter no wrench reads the torque at the fastener.
	through := flat(benchPlan(t, `"torque": "150 to 230 in-lb"`, `"torque": "150 to 230 in-lb", "adapter": {"name": "claw", "lever": {"offset": "40 mm", "angle": "0°"}}`).Text())
	assert.Contains(t, through, "At the fastener: 16.95 to 25.98 N·m")
	assert.Contains(t, through, "At the fastener in ft-lb: 13 to 19 ft-lb")
	assert.NotContains(t, through, "On a wrench that reads")

	// A left-hand thread is told before anything is unscrewed, whatever way it is tightened.
	left := flat(benchPlan(t, `"thread": "right hand"`, `"thread": "left hand"`).Text())
	assert.Equal(t, 2, strings.Count(left, "LEFT-HAND THREAD: off clockwise, on counterclockwise, facing the closed end"))
	assert.Less(t, strings.Index(left, "LEFT-HAND"), strings.Index(left, "bowl off"))
	assert.NotContains(t, text, "LEFT-HAND")

	// Two ways to prime aren't both to be worked to their full count.
	both := flat(benchPlan(t, `"pump": {`, `"handPrimer": {"stroke": {"low": "20 mL", "best": "25 mL", "high": "30 mL", "from": "stated"}, "efficiency": "80 %"}, "pump": {`).Text())
	assert.Contains(t, both, "each fill all of it")
	assert.NotContains(t, text, "each fill all of it")
}

// 80 columns are those of the terminal: Han takes two, a mark on the character before it none.
// Source: unicode-uax11. Capitals change no name: 4 µm isn't 4 ΜM.
func TestTextKeepsItsColumns(t *testing.T) {
	for text, want := range map[string]int{"abc µm…": 7, "漢字": 4, "e\u0301": 1, "ＡＢ": 4, "한글": 4, "🔧": 2} {
		assert.Equal(t, want, wrap.Columns(text), text)
	}
	job := benchPlan(t).Job
	job.Machine, job.Stations[0].Name = strings.Repeat("漢", 160), "filter b, 4 µm, 30 mN·m"
	job.Stations[0].Element.Part = strings.Repeat("e\u0301", 160)
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	text := plan.Text()
	assert.Contains(t, text, "STATION 1: filter b, 4 µm, 30 mN·m\n")
	for line := range strings.Lines(text) {
		assert.LessOrEqual(t, wrap.Columns(strings.TrimSuffix(line, "\n")), 80, line)
	}
}

// What NewPlan and ReadJob didn't make is refused or printed as it is.
func TestZeroValuesDoNotPanic(t *testing.T) {
	assert.NotEmpty(t, (&Plan{}).Text())
	_, err := (&Plan{}).reviewBy(AsDone{}, Rules{})
	assert.Error(t, err)
	_, err = Review{}.Record()
	assert.Error(t, err)
	_, err = Record{}.Review()
	assert.Error(t, err)
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
