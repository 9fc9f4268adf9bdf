package service

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// ways is each way to tighten, with readings of it that leave nothing open; invented.
func ways() map[string]struct {
	tighten Tighten
	done    StationDone
} {
	band := torque.MustParseBand
	instruction := turn.MustParseInstruction
	sequence, _ := turn.ParseSequence("50 N·m then 60° + 30°")
	marks := &Marks{Labels: []string{"K", "L", "M", "N", "P"}, Order: turn.Clockwise, Index: "rib", View: turn.FromHeadSide}
	reading := func(value string) *TorqueReading {
		return &TorqueReading{Value: units.MustParseTorque(value), Tool: "W", Expanded: units.MustParseTorque("1 N·m")}
	}
	yes := ptr(true)
	gauge := func(a AngleDone) *AngleDone {
		a.Tool, a.Deviation = "G", turn.MustOf(1, 360)
		return &a
	}
	within := &TurnTolerance{Less: turn.MustOf(5, 360), More: turn.MustOf(5, 360)}
	return map[string]struct {
		tighten Tighten
		done    StationDone
	}{
		"torque":                {Tighten{Torque: band("40 to 50 N·m")}, StationDone{Torque: reading("45 N·m"), Seated: yes}},
		"torque, or seated":     {Tighten{Torque: band("40 to 50 N·m"), OrSeated: true}, StationDone{Torque: reading("30 N·m"), Seated: yes}},
		"seated, nothing read":  {Tighten{Torque: band("40 to 50 N·m"), OrSeated: true}, StationDone{Seated: yes}},
		"printed":               {Tighten{Printed: "40-50 N·m (29.5-36.9 ft-lb)"}, StationDone{Torque: reading("45 N·m"), Seated: yes}},
		"turn, marks":           {Tighten{Turn: instruction("2/5 turn after gasket contact"), Marks: marks}, StationDone{Marks: &MarksSeen{Before: MarkSeen{Mark: "K"}, After: MarkSeen{Mark: "N"}, Passes: ptr(0)}}},
		"turn, marks, a range":  {Tighten{Turn: instruction("1/5 to 3/5 turn after gasket contact"), Marks: marks}, StationDone{Marks: &MarksSeen{Before: MarkSeen{Mark: "K"}, After: MarkSeen{Mark: "N"}, Passes: ptr(0)}}},
		"turn, counted":         {Tighten{Turn: instruction("2/5 turn after gasket contact")}, StationDone{Turned: ptr(turn.MustOf(2, 5))}},
		"turn, counted at ring": {Tighten{Turn: instruction("2/5 turn after gasket contact"), Marks: marks}, StationDone{Turned: ptr(turn.MustOf(2, 5))}},
		"sequence, in all":      {Tighten{Sequence: sequence, Snug: band("45 to 55 N·m"), Within: within}, StationDone{Torque: reading("50 N·m"), Angle: gauge(AngleDone{Total: ptr(turn.MustOf(1, 4))})}},
		"sequence, by stages":   {Tighten{Sequence: sequence, Snug: band("45 to 55 N·m"), Within: within}, StationDone{Torque: reading("50 N·m"), Angle: gauge(AngleDone{Stages: []turn.Turn{turn.MustOf(1, 6), turn.MustOf(1, 12)}})}},
		"seat":                  {Tighten{Seat: &Seat{Gap: "under the cap"}}, StationDone{Seated: yes}},
		"seat, turns":           {Tighten{Seat: &Seat{Gap: "under the cap", StopTurns: turn.MustOf(4, 1)}}, StationDone{Seated: yes, StopTurns: ptr(turn.MustOf(4, 1))}},
		"seat, torque":          {Tighten{Seat: &Seat{Gap: "under the cap", Torque: band("max 30 N·m")}}, StationDone{Seated: yes, Torque: reading("20 N·m")}},
	}
}

// oneStation is a job of that one station, with nothing else to do, and its readings.
func oneStation(t testing.TB, tighten Tighten, done StationDone) (*Plan, AsDone) {
	t.Helper()
	job := benchPlan(t).Job
	if tighten.Thread == 0 {
		tighten.Thread = turn.RightHand
	}
	job.Stations = job.Stations[:1]
	job.Stations[0].Tighten = tighten
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	done.ID = job.Stations[0].ID
	done.Leaks = LeakCheck{Priming: ptr(false), Hot: ptr(false)}
	all := AsDone{Version: AsDoneVersion, Job: job.ID, Revision: job.Revision, Date: job.Date, By: "x", Source: "x", Stations: []StationDone{done}}
	for _, step := range job.Isolate {
		all.Restored = append(all.Restored, Restored{What: step.What, Restored: true})
	}
	return plan, all
}

// Whatever way a part is tightened: one that dragged isn't shown to be tight by anything that was read
// afterwards, however well it reads, and one of which nobody wrote whether it dragged leaves the job open.
// Common practice, no source.
func TestWhatDraggedIsNeverTight(t *testing.T) {
	tight := map[string]bool{"torque": true, "snug": true, "turn": true, "angle": true, "angle.stage": true, "seat": true}
	for name, way := range ways() {
		for _, rule := range []string{"guarded by U", "simple acceptance", "non-binary", "guarded for 95 %"} {
			rules := rulesWith(t, "guarded by U", rule)
			review := func(dragged *bool) (Review, []Line) {
				way.done.Dragged = dragged
				plan, done := oneStation(t, way.tighten, way.done)
				review, err := plan.reviewBy(done, rules)
				require.NoError(t, err, name)
				var lines []Line
				for _, l := range review.Lines {
					if tight[l.Code] {
						lines = append(lines, l)
					}
				}
				require.NotEmpty(t, lines, name)
				return review, lines
			}
			free, lines := review(ptr(false))
			assert.True(t, free.Complete, "%s, %s: %v", name, rule, free.Open())
			for _, l := range lines {
				assert.True(t, l.done(), "%s, %s: %v", name, rule, l)
			}
			bound, lines := review(ptr(true))
			assert.False(t, bound.Complete, name)
			for _, l := range lines {
				assert.False(t, l.done(), "%s, %s: %v", name, rule, l)
			}
			unknown, _ := review(nil)
			assert.False(t, unknown.Complete, name)
			require.Len(t, unknown.Open(), 1, name)
			assert.Equal(t, "run-up", unknown.Open()[0].Code, name)
		}
	}
}
