package service

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/units"
)

// RFC 9557, 4.1, for names and RFC 3339, 5.6, for offsets (S2: seen as other documents quote them).
func TestZones(t *testing.T) {
	for _, good := range []string{"UTC", "+00:00", "+01:00", "-03:30", "+14:00", "-23:59", "Europe/Vienna",
		"America/Argentina/Buenos_Aires", "America/Port-au-Prince", "Etc/GMT+5", "Etc/UTC", "_x/.y"} {
		zone, err := ParseZone(good)
		require.NoError(t, err, good)
		assert.Equal(t, good, string(zone), "as written")
	}
	for bad, want := range map[string]error{
		"": units.ErrSyntax, "Z": units.ErrAmbiguous, "CST": units.ErrAmbiguous, "utc": units.ErrAmbiguous,
		"+1:00": units.ErrSyntax, "+0100": units.ErrSyntax, "+01.00": units.ErrSyntax, "+a1:00": units.ErrSyntax,
		"+24:00": units.ErrRange, "+01:60": units.ErrRange, "-00:00": units.ErrSyntax, "+01:00:00": units.ErrSyntax,
		"Europe/": units.ErrSyntax, "/Vienna": units.ErrSyntax, "Europe//Vienna": units.ErrSyntax, "../etc": units.ErrSyntax,
		"Europe/..": units.ErrSyntax, "Europe/Vienna ": units.ErrSyntax, "Europe/2": units.ErrSyntax, "Europe/-x": units.ErrSyntax,
		"Europe/Zürich": units.ErrSyntax, "a/\x00": units.ErrSyntax, strings.Repeat("a/", 40) + "b": units.ErrRange,
	} {
		zone := Zone("before")
		var parse *units.ParseError
		err := zone.UnmarshalText([]byte(bad))
		require.ErrorAs(t, err, &parse, bad)
		assert.ErrorIs(t, err, want, bad)
		assert.Equal(t, Zone("before"), zone)
		assert.Less(t, len(err.Error()), 250)
	}
}

// The zone stands beside the date wherever the sheet has it, and in the record as it was written.
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
	done.Zone = "+01:00"
	review, err := plan.reviewBy(done, rulesWith(t))
	require.NoError(t, err)
	text, err := review.Record()
	require.NoError(t, err)
	record, err := ReadRecord(text)
	require.NoError(t, err)
	assert.Equal(t, Zone("Europe/Vienna"), record.Job.Zone)
	assert.Equal(t, Zone("+01:00"), record.Done.Zone)

	_, err = ReadJob([]byte(strings.Replace(bench, `"date": "2026-03-09"`, `"date": "2026-03-09", "zone": "CST"`, 1)))
	assert.ErrorIs(t, err, units.ErrAmbiguous)
	job.Zone, done.Zone = "CST", "here"
	assert.ErrorIs(t, job.Check(), units.ErrAmbiguous)
	assert.ErrorContains(t, job.Check(), "zone: ")
	assert.ErrorIs(t, done.Check(), units.ErrAmbiguous)
	assert.NotContains(t, benchPlan(t).Text(), "2026-03-09 (", "none where none is stated")
}
