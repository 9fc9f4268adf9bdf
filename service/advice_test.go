package service

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// A torque that fails says what to do next, and never to tighten on where the engine has run or the part
// dragged. Common practice, no source.
func TestTorqueThatFailsSaysWhatNext(t *testing.T) {
	for _, c := range []struct {
		name, value string
		edit        func(*AsDone, *StationDone)
		says        string
	}{
		{"low", "33 N·m", nil, "why.outside-whatever-U/below; why.unit-slip units=[ft-lb]; why.next/short"},
		{"low, cranked", "30 N·m", func(d *AsDone, _ *StationDone) { d.Cranks = []CrankDone{{Crank: 8e9}} }, "why.in-doubt/ran; why.not-turned-on"},
		{"low, dragged", "30 N·m", func(_ *AsDone, s *StationDone) { s.Dragged = ptr(true) }, "why.in-doubt/dragged; why.not-turned-on"},
		{"high", "60 N·m", nil, "why.outside-whatever-U/above; why.next/over"},
		{"guarded away", "40.5 N·m", func(_ *AsDone, s *StationDone) { s.Torque.Expanded = units.NewtonMetre.Of(1) }, "why.torque/rejected rule=guarded by U; why.next/guarded"},
	} {
		way := ways()["torque"]
		way.done.Dragged = ptr(false)
		way.done.Torque = &TorqueReading{Value: units.MustParseTorque(c.value), Tool: "W"}
		if c.edit != nil {
			c.edit(&AsDone{}, &way.done)
		}
		plan, done := oneStation(t, way.tighten, way.done)
		done.Stations[0].Leaks = LeakCheck{}
		if c.edit != nil {
			c.edit(&done, &done.Stations[0])
		}
		review, err := plan.reviewBy(done, rulesWith(t))
		require.NoError(t, err, c.name)
		l := lineOf(t, review, "stations[0].torque")
		assert.Equal(t, Fail, l.Verdict, c.name)
		assert.Contains(t, l.String(), c.says, c.name)
	}
}

// A turn that is short is short, whether the engine has run or not, and so is a stage of a sequence.
func TestShortFailsAlike(t *testing.T) {
	for _, cranks := range [][]CrankDone{nil, {{Crank: 8e9}}} {
		for name, short := range map[string]StationDone{
			"turn, counted":    {Turned: ptr(turn.MustOf(1, 10))},
			"sequence, in all": {Torque: ways()["sequence, in all"].done.Torque, Angle: &AngleDone{Total: ptr(turn.MustOf(1, 10))}},
		} {
			short.Dragged = ptr(false)
			plan, done := oneStation(t, ways()[name].tighten, short)
			done.Cranks = cranks
			review, err := plan.reviewBy(done, rulesWith(t))
			require.NoError(t, err)
			for _, l := range review.Lines {
				if l.Code == "turn" || l.Code == "angle" {
					assert.Equal(t, Fail, l.Verdict, "%s, %d cranks: %v", name, len(cranks), l)
				}
			}
		}
	}
}

// A gap that was seen open after the tightening fails, whatever the wrench showed.
func TestOpenGapFails(t *testing.T) {
	for _, name := range []string{"torque", "torque, or seated", "printed", "seat", "seat, turns", "seat, torque"} {
		way := ways()[name]
		way.done.Dragged, way.done.Seated = ptr(false), ptr(false)
		assert.Equal(t, Fail, judged(t, way.tighten, way.done, rulesWith(t), "seated").Verdict, name)
	}
}

// Fuel that was read at its flash point or above isn't as planned, and within 30 °F of it is in doubt.
// Source: 29-cfr-1910. The flash point of the job is 52 °C.
func TestHotFuelIsALine(t *testing.T) {
	for at, want := range map[string]Verdict{"60 °C": Fail, "52 °C": Fail, "51.9 °C": Undecided, "36 °C": Undecided, "95.6 °F": Undecided, "95.5 °F": Pass, "35.3 °C": Pass, "-5 °C": Pass} {
		review := reviewWith(t, `"from": "measured"}, "at": "60 °C"`, `"from": "measured"}, "at": "`+at+`"`)
		l := lineOf(t, review, "stations[0].out.at")
		assert.Equal(t, want, l.Verdict, at)
		assert.False(t, l.Needed, "what is caught can't be uncaught")
		assert.True(t, review.Complete)
		assert.False(t, review.AsPlanned)
	}
	done := doneWith(t)
	done.Stations[0].Out = nil
	review, err := benchPlan(t).reviewBy(done, rulesWith(t))
	require.NoError(t, err)
	assert.False(t, contains(review.Lines, "stations[0].out.at"), "its volume isn't recorded, and a line says so")
}

// Too many attempts, too long a crank and too short a rest are each not as planned, and each has advice of
// its own: what the sheet says at that point.
func TestCrankingAdvice(t *testing.T) {
	for cranks, says := range map[string][2]string{
		`[{"crank": "8 s"}, {"crank": "8 s", "rest": "2 min"}, {"crank": "8 s", "rest": "2 min"}]`: {"cranks", "why.crank/often; why.find-cause"},
		`[{"crank": "14 s"}]`: {"cranks[0].crank", "why.crank/long; why.find-cause"},
		`[{"crank": "8 s"}, {"crank": "8 s", "rest": "20 s"}]`: {"cranks[1].rest", "why.crank/rest; why.look-at-starter"},
	} {
		review := reviewWith(t, `[{"crank": "8 s"}]`, cranks)
		l := lineOf(t, review, says[0])
		assert.Equal(t, Fail, l.Verdict, cranks)
		assert.Contains(t, l.String(), says[1], cranks)
		assert.Contains(t, review.Departures(), l, cranks)
		assert.False(t, review.AsPlanned)
	}
}

// A tool that isn't listed: the line names those that are.
func TestToolsThatAreListed(t *testing.T) {
	review := coverReview(t, coverPlan(t), `"tool": "TW-9"`, `"tool": "TW-8"`)
	assert.Contains(t, lineOf(t, review, "stations[0].torque").String(), "why.not-listed/wrench tool=TW-8 tools=[TW-9]")
	plan := coverPlan(t)
	plan.Job.Shop.Gauges = []Gauge{{ID: "G-1", CalibratedUntil: plan.Job.Date}, {ID: "G-2", CalibratedUntil: plan.Job.Date}}
	assert.Equal(t, message("why.not-listed/gauge", "tool", "AG-1", "tools", []string{"G-1", "G-2"}), (&reviewer{plan: plan}).unfitGauge("AG-1"))
}
