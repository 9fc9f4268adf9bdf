package service

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
)

// The zone is next to the date wherever the sheet has it, and in the record as it was written.
func TestZoneIsPrinted(t *testing.T) {
	job, err := ReadJob([]byte(strings.Replace(bench, `"date": "2026-03-09"`, `"date": "2026-03-09", "zone": "Europe/Vienna"`, 1)))
	require.NoError(t, err)
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	sheet := plan.Sheet()
	assert.Contains(t, flat(sheet.Text()), "planned for 2026-03-09 (Europe/Vienna)")
	page, err := sheet.HTML()
	require.NoError(t, err)
	assert.Contains(t, string(page), "2026-03-09</time> (Europe/Vienna)")
	data, err := sheet.JSON()
	require.NoError(t, err)
	assert.Contains(t, string(data), `"zone": "Europe/Vienna"`)

	done := doneWith(t)
	done.Zone = "Europe/Vienna"
	review, err := plan.reviewBy(done, rulesWith(t))
	require.NoError(t, err)
	text, err := review.Record()
	require.NoError(t, err)
	record, err := ReadRecord(text)
	require.NoError(t, err)
	assert.Equal(t, waste.Zone("Europe/Vienna"), record.Job.Zone)
	assert.Equal(t, waste.Zone("Europe/Vienna"), record.Done.Zone)

	_, err = ReadJob([]byte(strings.Replace(bench, `"date": "2026-03-09"`, `"date": "2026-03-09", "zone": "CST"`, 1)))
	assert.ErrorIs(t, err, units.ErrAmbiguous)
	job.Zone, done.Zone = "CST", "here"
	assert.ErrorIs(t, job.Check(), units.ErrAmbiguous)
	assert.ErrorContains(t, job.Check(), "zone: ")
	assert.ErrorIs(t, done.Check(), units.ErrAmbiguous)
	assert.NotContains(t, benchPlan(t).Text(), "2026-03-09 (", "none where none is stated")
}

// A day without its hour belongs to the clocks it was read from. Readings whose day is meant by other
// clocks than the job's could count in another month, and aren't reviewed.
func TestDayOfTheSite(t *testing.T) {
	for _, c := range []struct {
		job, done waste.Zone
		same      bool
	}{
		{"", "", true}, {"", "+05:00", true}, {"Europe/Vienna", "", true}, {"Europe/Vienna", "Europe/Vienna", true},
		{"UTC", "+00:00", true}, {"+00:00", "UTC", true},
		{"Europe/Vienna", "+01:00", false}, {"+01:00", "+02:00", false}, {"UTC", "Etc/UTC", false}, {"+00:00", "Europe/London", false},
	} {
		plan, done := benchPlan(t), doneWith(t)
		plan.Job.Zone, done.Zone = c.job, c.done
		review, err := plan.reviewBy(done, rulesWith(t))
		if !c.same {
			assert.ErrorIs(t, err, errContradiction, "%s, %s", c.job, c.done)
			assert.ErrorContains(t, err, "zone: ", "%s, %s", c.job, c.done)
			continue
		}
		require.NoError(t, err, "%s, %s", c.job, c.done)
		assert.Equal(t, done.Date, review.Entries()[0].Date)
	}
}

// The last hour of a month and the first of the next, east and west of Greenwich: what the site's
// clocks say decides in which month a waste is counted, on 29 February too.
func TestLastHourOfTheMonth(t *testing.T) {
	for _, c := range []struct {
		instant string // by the site's clocks
		utc     string // the date that UTC has then
		month   time.Month
	}{
		{"2026-03-31T23:30:00+02:00", "2026-03-31", time.March}, {"2026-04-01T00:30:00+02:00", "2026-03-31", time.April},
		{"2026-03-31T23:30:00-05:00", "2026-04-01", time.March}, {"2026-04-01T00:30:00-05:00", "2026-04-01", time.April},
		{"2028-02-29T23:30:00-05:00", "2028-03-01", time.February}, {"2028-02-29T00:30:00+02:00", "2028-02-28", time.February},
		{"2028-03-01T00:30:00+02:00", "2028-02-29", time.March}, {"2027-03-01T00:30:00+02:00", "2027-02-28", time.March},
		{"2026-12-31T23:30:00-05:00", "2027-01-01", time.December}, {"2027-01-01T00:30:00+14:00", "2026-12-31", time.January},
	} {
		instant, err := time.Parse(time.RFC3339, c.instant)
		require.NoError(t, err)
		at, err := waste.DateIn(instant, instant.Location())
		require.NoError(t, err)
		utc, err := waste.DateIn(instant, time.UTC)
		require.NoError(t, err)
		require.Equal(t, c.utc, utc.String(), c.instant)
		assert.Equal(t, c.instant[:10], at.String())

		done := doneWith(t, `"2026-03-09"`, `"`+at.String()+`"`)
		done.Zone = waste.Zone(c.instant[len(c.instant)-6:])
		review, err := benchPlan(t).reviewBy(done, rulesWith(t))
		require.NoError(t, err, c.instant)
		var ledger waste.Ledger
		for _, e := range review.Entries() {
			_, err := ledger.Add(posted(e))
			require.NoError(t, err)
		}
		for month := time.January; month <= time.December; month++ {
			s, err := ledger.Statement(waste.Date{Year: at.Year, Month: month, Day: 1}, usfederal.RuleSet())
			require.NoError(t, err)
			assert.Equal(t, month == c.month, len(s.Streams) > 0, "%s in %v", c.instant, month)
			other, err := ledger.Statement(waste.Date{Year: at.Year - 1, Month: month, Day: 1}, usfederal.RuleSet())
			require.NoError(t, err)
			assert.Empty(t, other.Streams, "the year before")
		}
	}
}
