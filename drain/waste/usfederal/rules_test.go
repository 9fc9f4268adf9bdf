package usfederal_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The limits and which side the limit itself is on. Pounds are computed from 1 lb = 0.45359237 kg. Sources: 40-cfr-260, 24-fr-5348.
func TestThresholds(t *testing.T) {
	rules := usfederal.RuleSet()
	for _, c := range []struct{ mass, category, source string }{
		{"0 kg", "VSQG", "nothing"},
		{"99.999999999 kg", "VSQG", "100 kg or less"},
		{"100 kg", "VSQG", "100 kg or less"},
		{"100.000000001 kg", "SQG", "more than 100 kg"},
		{"999.999999999 kg", "SQG", "less than 1,000 kg"},
		{"1000 kg", "LQG", "1,000 kg or more"},
		{"1 t", "LQG", "the same in tonnes"},
		{"220 lb", "VSQG", "99.79 kg, below the limit in kg"},
		{"220.4622621848 lb", "VSQG", "just below 100 kg"},
		{"220.4622621849 lb", "SQG", "just above 100 kg"},
		{"2200 lb", "SQG", "997.9 kg"},
		{"2204.63 lb", "LQG", "1000 kg = 2204.62 lb"},
	} {
		got, err := rules.CategoryOf(units.MustParseMass(c.mass))
		require.NoError(t, err)
		assert.Equal(t, c.category, got.Name, "%s: %s", c.mass, c.source)
	}
}

// How many days there are is published. Sources: 40-cfr-262-15, 40-cfr-262-16, 40-cfr-262-17. That the
// first day counts as day 1, and so the last days and those left, is this package's own convention, the safer side.
func TestClocks(t *testing.T) {
	rules := usfederal.RuleSet()
	start := waste.MustParseDate("2026-01-01")
	for _, c := range []struct {
		category, last, source string
		far                    bool
		days                   int
	}{
		{"SQG", "2026-06-29", "180 days", false, 180},
		{"SQG", "2026-09-27", "270 days for 200 miles or more", true, 270},
		{"LQG", "2026-03-31", "90 days", false, 90},
	} {
		last, err := rules.OffSiteBy(c.category, start, c.far)
		require.NoError(t, err)
		assert.Equal(t, c.last, last.String(), "the first day counted as day 1")
		assert.Equal(t, c.days-1, start.DaysUntil(last), c.source)
	}
	// That the first of three days is that on which the limit is passed: package waste's TestSatelliteArea.
	assert.Equal(t, 3, rules.Satellite.Days, "consecutive calendar days")
	assert.Equal(t, "55 US gal", rules.Satellite.Limit.String())
}

// The limits of what is on site. Sources: 40-cfr-262-14, 40-cfr-262-16, 40-cfr-262-17. On site are the months before and, so that the category is that of the case, March: its own limit is never
// passed by any month.
func TestOnSiteLimits(t *testing.T) {
	for _, c := range []struct {
		before []string // a month each
		march  drain.Estimate[units.MassUnit]
		within bool
		source string
	}{
		{slices.Repeat([]string{"100 kg"}, 9), weighed("99.9 kg"), true, "VSQG, 999.9 kg"},
		{slices.Repeat([]string{"100 kg"}, 9), weighed("100 kg"), false, "VSQG, 1,000 kg or more ends it"},
		{slices.Repeat([]string{"900 kg"}, 6), weighed("600 kg"), true, "SQG, never more than 6,000 kg"},
		{slices.Repeat([]string{"900 kg"}, 6), weighed("600.001 kg"), false, "SQG, never more than 6,000 kg"},
		{slices.Repeat([]string{"2000 lb"}, 6), weighed("1200 lb"), true, "the pounds in brackets are rounded down: 13,200 lb are 5987.4 kg"},
		{slices.Repeat([]string{"2000 lb"}, 6), weighed("1228 lb"), false, "6000 kg = 13,227.7 lb"},
		{slices.Repeat([]string{"900 kg"}, 6), mass(t, "500 kg", "590 kg", "700 kg", drain.Assumed), false, "perhaps not"},
		{nil, weighed("50000 kg"), true, "LQG, no limit"},
	} {
		var l waste.Ledger
		put := func(m drain.Estimate[units.MassUnit], day waste.Date) {
			entry := waste.Entry{Job: day.String(), Line: 1, Date: day, Stream: waste.DrainedFuel, Determination: waste.Hazardous, Mass: m, Container: "D"}
			_, err := l.Add(waste.Posting{At: time.Date(2026, 3, 31, 12, 0, 0, 0, time.UTC), By: "Ann", Entry: &entry})
			require.NoError(t, err)
		}
		for n, m := range c.before {
			put(weighed(m), waste.Date{Year: 2025, Month: time.Month(n + 1), Day: 1})
		}
		put(c.march, waste.MustParseDate("2026-03-01"))
		todo, err := l.ToDo(usfederal.RuleSet(), waste.MustParseDate("2026-03-31"))
		require.NoError(t, err)
		within := !slices.ContainsFunc(todo, func(n waste.Notice) bool { return n.Code == "do.reduce" })
		assert.Equal(t, c.within, within, c.source)
	}
}

// The greater of a tenth of all containers and the largest is wanted. Source: 40-cfr-264. The rule is
// a note here that must not read as binding on generators by itself.
func TestContainmentIsOnlyANote(t *testing.T) {
	found := false
	for _, n := range usfederal.RuleSet().Notes {
		if strings.HasPrefix(n.Source.Cite, "40 CFR 264.175(b)(3)") {
			found = true
			assert.Contains(t, n.Text, "whichever is greater")
			assert.Contains(t, n.Text, "permitted facilities")
		}
	}
	assert.True(t, found)
}
