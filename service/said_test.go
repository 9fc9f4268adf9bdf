package service

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/units"
)

// What is said of an entry, where, and what to write instead: rare cases that no file of the tables has.
func TestRareErrorsWhole(t *testing.T) {
	plan := benchPlan(t)
	job := func(edit func(*Job)) func() error {
		return func() error {
			j := benchPlan(t).Job
			edit(&j)
			return j.Check()
		}
	}
	review := func(edit func(*AsDone)) func() error {
		return func() error {
			done := doneWith(t)
			edit(&done)
			_, err := plan.reviewBy(done, rulesWith(t))
			return err
		}
	}
	for _, c := range []struct {
		name string
		do   func() error
		want string
	}{
		{"an ID of 64 bytes", job(func(j *Job) { j.ID = strings.Repeat("x", 64) }), ""},
		{"an ID of 65 bytes", job(func(j *Job) { j.ID = strings.Repeat("x", 65) }), "id: 65 bytes; want the shop's number for the job, of at most 64 bytes"},
		{"other clocks", func() error {
			plan := benchPlan(t, `"date": "2026-03-09",`, `"date": "2026-03-09", "zone": "-05:00",`)
			done := doneWith(t)
			done.Zone = "+05:00"
			_, err := plan.reviewBy(done, rulesWith(t))
			return err
		}, "zone: a day by other clocks than the job's: +05:00, not -05:00; want the day of the work by the clocks of the site, with its zone as the job has it or without"},
		{"a rest before the first attempt", review(func(a *AsDone) { a.Cranks[0].Rest = ptr(a.Cranks[0].Crank) }), "cranks[0].rest: a rest before the first attempt; want the field omitted"},
		{"a weight of nothing planned", review(func(a *AsDone) {
			a.Weights = append(a.Weights, Weight{Stream: a.Weights[0].Stream, Station: "9", Mass: a.Weights[0].Mass, Scale: a.Weights[0].Scale})
		}), "weights[2]: not in the plan: drained fuel 9; want stream, station and what of one of drained fuel, wet element 1, wet element 2"},
	} {
		err := c.do()
		if c.want == "" {
			assert.NoError(t, err, c.name)
			continue
		}
		if assert.Error(t, err, c.name) {
			assert.Equal(t, c.want, err.Error(), c.name)
		}
	}
}

// Each kind of unit goes to its own place, and the others keep what they have.
func TestPrintInEachKind(t *testing.T) {
	job := benchPlan(t).Job
	for _, unit := range []string{"ft-lb", "US qt", "oz", "in", "°F"} {
		require.NoError(t, job.PrintIn(unit), unit)
	}
	assert.Equal(t, "ft-lb", job.Shop.TorqueUnit.String())
	assert.Equal(t, "US qt", job.Preferences.Volume.String())
	assert.Equal(t, "oz", job.Preferences.Mass.String())
	assert.Equal(t, "in", job.Preferences.Length.String())
	assert.Equal(t, "°F", job.Preferences.Temperature.String())
}

// A stage is printed at the fewest places that change it by less than half a per cent, and never at more than six.
func TestNearest(t *testing.T) {
	for _, c := range []struct{ from, want string }{
		{"40 N·m", "29.5 ft-lb"},            // 29.5025
		{"9.95 N·m", "7.34 ft-lb"},          // 7.3388: 7.3 is 0.53 % off
		{"0.01 N·m", "0.0074 ft-lb"},        // 0.0073756
		{"0.0000002 N·m", "0.000000 ft-lb"}, // 0.00000015
	} {
		from, err := units.ParseTorque(c.from)
		require.NoError(t, err)
		assert.Equal(t, c.want, nearest(from, units.FootPound, nil).String(), c.from)
	}
}
