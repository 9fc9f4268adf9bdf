package service

import (
	"sync"
	"testing"

	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Whatever a review of nothing calls not recorded is wanted, at the place where it is looked for:
// readings written there are not missed any more.
func TestWantsAreWhatAReviewMisses(t *testing.T) {
	assert.Empty(t, benchPlan(t).Wants(), "no rules, nothing judged")
	for name, job := range map[string]Job{"bench": benchPlan(t).Job, "cover and cap": coverPlan(t).Job} {
		plan, err := NewPlan(job, rulesWith(t))
		require.NoError(t, err)
		wants := plan.Wants()
		require.NotEmpty(t, wants, name)
		done := AsDone{Version: AsDoneVersion, Job: job.ID, Revision: job.Revision, Date: job.Date, By: "x", Source: "x"}
		for _, s := range job.Stations {
			done.Stations = append(done.Stations, StationDone{ID: s.ID})
		}
		review, err := plan.Review(done)
		require.NoError(t, err)
		for i, want := range wants {
			assert.Equal(t, NotRecorded, want.Verdict, want.Where)
			assert.NotEmpty(t, want.Want.Code, want.Where)
			assert.Equal(t, review.Lines[i], want)
		}
		if extra := review.Lines[len(wants):]; len(extra) > 0 {
			assert.Len(t, extra, 1)
			assert.Equal(t, "month.category", extra[0].Code)
		}
		no := false
		done.Stations[0].Dragged = &no
		again, err := plan.Review(done)
		require.NoError(t, err)
		assert.Equal(t, "run-up", wants[0].Code)
		assert.Equal(t, Pass, lineOf(t, again, wants[0].Where).Verdict)
	}
}

// One plan, one set of rules, one ring and one band serve many goroutines: the race detector watches,
// and every answer is the same.
func TestSharedByGoroutines(t *testing.T) {
	plan, err := NewPlan(benchPlan(t).Job, rulesWith(t))
	require.NoError(t, err)
	done := doneWith(t)
	ring, err := turn.NewRing([]string{"K", "L", "M", "N", "P"}, turn.Clockwise)
	require.NoError(t, err)
	band, aim := torque.MustParseBand("30 to 40 N·m"), turn.MustOf(3, 4)
	answer := func() string {
		review, err := plan.Review(done)
		if err != nil {
			return err.Error()
		}
		record, err := review.Record()
		if err != nil {
			return err.Error()
		}
		at, _ := ring.At("L")
		to, _ := ring.Tighten(at, aim, turn.RightHand)
		words, _ := ring.Place(to, turn.RightHand)
		inward, _ := band.Inward(units.FootPound, 0)
		return plan.Text() + string(record) + words.String() + inward.String() + plan.Wants()[0].String()
	}
	want := answer()
	require.Contains(t, want, "K")
	got := make([]string, 8)
	var all sync.WaitGroup
	for i := range got {
		all.Add(1)
		go func() {
			defer all.Done()
			got[i] = answer()
		}()
	}
	all.Wait()
	for _, g := range got {
		assert.Equal(t, want, g)
	}
}
