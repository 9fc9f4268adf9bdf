package sheet

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/service"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// The picture has each stage where a fraction of a circle says it stands, the other way round where
// it turns counterclockwise.
func TestStagesPicture(t *testing.T) {
	text := []byte(coverAndCap(t))
	rapid.Check(t, func(t *rapid.T) {
		job, err := service.ReadJob(text)
		require.NoError(t, err)
		tighten := &job.Stations[0].Tighten
		tighten.View = rapid.SampledFrom([]turn.View{0, turn.FacingClosedEnd, turn.FromHeadSide, turn.FromHeadSide.Mirrored(), turn.BesideClosedEndUp}).Draw(t, "view")
		tighten.Thread = rapid.SampledFrom([]turn.Hand{turn.RightHand, turn.LeftHand}).Draw(t, "hand")
		var stages []turn.Turn
		sum, want := int64(0), []int64{}
		for range rapid.IntRange(1, 6).Draw(t, "stages") {
			n := rapid.Int64Range(3, 400).Draw(t, "degrees")
			stages = append(stages, turn.MustOf(n, 360))
			sum += n
			want = append(want, sum)
		}
		s, err := turn.NewSequence(units.NewtonMetre.Of(40), stages...)
		require.NoError(t, err)
		tighten.Sequence = s
		plan, err := service.NewPlan(job, service.Rules{})
		require.NoError(t, err)
		p := English().printer(nil).stagesPicture(plan.Stations[0]).Stages
		require.Len(t, p.Stages, len(stages))
		for i, stage := range p.Stages {
			degrees := want[i] % 360
			if p.Sense == turn.Counterclockwise {
				degrees = (360 - degrees) % 360
			}
			require.Equal(t, turn.MustOf(degrees, 360), stage.At)
			require.Equal(t, turn.MustOf(want[i], 360), stage.Turned)
		}
		require.Equal(t, turn.Sense(tighten.Thread, turn.Tightening, p.View), p.Sense)
	})
}

// Every stage has its tick; numbers that would run into each other are left out, and never the last.
func TestStagesDrawn(t *testing.T) {
	for sequence, want := range map[string][]string{
		"40 N·m then 45° + 45° + 45° + 30°":                {"4", "3", "2", "1"},
		"40 N·m then 90° + 90° + 90° + 90° + 90°":          {"1 5", "4", "3", "2"},
		"40 N·m then 15°" + strings.Repeat(" + 15°", 11):   {"12", "9", "7", "5", "3", "1"},
		"40 N·m then 180°" + strings.Repeat(" + 180°", 11): {"2 4 6 8 10 12", "1 3 5 7 9 11"},
		"40 N·m then 350°":                                 {"1"},
	} {
		plan := coverPlan(t, "40 N·m then 45° + 45° + 45° + 30°", sequence)
		picture := English().printer(nil).stagesPicture(plan.Stations[0])
		var numbers []string
		ticks := map[string]bool{}
		for _, s := range English().draw(picture).Shapes {
			if s.Text != "" && strings.Trim(s.Text, " 0123456789") == "" {
				numbers = append(numbers, s.Text)
			}
			if s.Class == "line" && s.Path != "" {
				ticks[s.Path] = true
			}
		}
		assert.Equal(t, want, numbers, sequence)
		places := map[turn.Turn]bool{}
		for _, stage := range picture.Stages.Stages {
			places[stage.At] = true
		}
		assert.Len(t, ticks, len(places), sequence)
	}
}
