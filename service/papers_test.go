package service

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/units"
)

// What the rules need is asked for, on the sheet and in the review, and nothing else is; what is written down
// without being needed is kept in the record and makes no line.
func TestPapersThatTheRulesNeed(t *testing.T) {
	filled := func() AsDone {
		done := doneWith(t)
		done.CheckedBy, done.Meter = "another", Meter{Hours: ptr(4512)}
		done.Stations[0].Fitted, done.Stations[1].Fitted = Fitted{"element", "B-1"}, Fitted{"canister", "B-2"}
		return done
	}
	lines := []string{"meter", "checkedBy", "stations[0].fitted.part", "stations[0].fitted.batch", "stations[1].fitted.part", "stations[1].fitted.batch"}
	all := rulesWith(t, `"eye"`, `"needs": {"meter": true, "part": true, "batch": true, "checkedBy": true}, "eye"`)
	for _, where := range lines {
		review, err := benchPlan(t).reviewBy(filled(), all)
		require.NoError(t, err)
		assert.True(t, review.Complete, "%v", review.Open())
		assert.Equal(t, Pass, lineOf(t, review, where).Verdict)

		review, err = benchPlan(t).reviewBy(doneWith(t), all)
		require.NoError(t, err)
		assert.False(t, review.Complete)
		assert.Equal(t, NotRecorded, lineOf(t, review, where).Verdict)

		review, err = benchPlan(t).reviewBy(filled(), rulesWith(t))
		require.NoError(t, err)
		assert.False(t, contains(review.Lines, where), where)
		text, err := review.Record()
		require.NoError(t, err)
		for _, kept := range []string{`"meter":{"hours":4512}`, `"checkedBy":"another"`, `"fitted":{"batch":"B-1","part":"element"}`} {
			assert.Contains(t, string(text), kept)
		}
	}
	plan, err := NewPlan(benchPlan(t).Job, all)
	require.NoError(t, err)
	for _, asked := range []string{"record.meter", "record.checked", "record.fitted"} {
		assert.True(t, asks(plan, asked), asked)
		assert.False(t, asks(benchPlan(t), asked), asked)
	}
}

func asks(p *Plan, code string) bool {
	for _, section := range p.Steps() {
		for _, step := range section.Steps {
			if step.Code == code || step.Code+"/"+step.Variant == code {
				return true
			}
		}
	}
	return false
}

// Another part than the job's keeps the job open, whether the number is asked for or not, and who did the
// work doesn't check it.
func TestPapersThatDoNotFit(t *testing.T) {
	done := doneWith(t)
	done.Stations[0].Fitted.Part = "cannister"
	review, err := benchPlan(t).reviewBy(done, rulesWith(t))
	require.NoError(t, err)
	l := lineOf(t, review, "stations[0].fitted.part")
	assert.Equal(t, Undecided, l.Verdict)
	assert.Equal(t, "why.other-part", l.Reasons[0].Code)
	assert.Equal(t, []string{theJob}, l.Sources)
	assert.False(t, review.Complete)

	plan := benchPlan(t, `"part": "element"`, `"part": "E-7 element, 10 µm"`)
	for part, want := range map[string]Verdict{"E-7": Pass, "E-7 element, 10 µm": Pass, "E-70": Undecided, "E": Undecided} {
		done.Stations[0].Fitted.Part = part
		review, err := plan.reviewBy(done, rulesWith(t, `"eye"`, `"needs": {"part": true}, "eye"`))
		require.NoError(t, err)
		assert.Equal(t, want, lineOf(t, review, "stations[0].fitted.part").Verdict, part)
	}

	done.CheckedBy = done.By
	review, err = benchPlan(t).reviewBy(done, rulesWith(t, `"eye"`, `"needs": {"checkedBy": true}, "eye"`))
	require.NoError(t, err)
	assert.Equal(t, Undecided, lineOf(t, review, "checkedBy").Verdict)
}

func TestPapersThatCannotBe(t *testing.T) {
	done := doneWith(t)
	done.Meter = Meter{Hours: ptr(-1), Distance: units.MustParseLength("-1 km")}
	assert.Equal(t, []string{"meter.hours", "meter.distance"}, pathsOf(t, done.Check()))
	assert.Equal(t, "found.meter hours=4512 distance=81200 m", Meter{Hours: ptr(4512), Distance: units.Metre.Of(81200)}.message().String())
	assert.Zero(t, Meter{}.message())
	_, err := ReadRules([]byte(edited(t, benchRules, `"eye"`, `"needs": {"metre": true}, "eye"`)))
	assert.Equal(t, []string{"needs.metre"}, pathsOf(t, err))
}
