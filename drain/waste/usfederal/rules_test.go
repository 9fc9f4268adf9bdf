package usfederal_test

import (
	"strings"
	"testing"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestThresholds(t *testing.T) {
	rules := usfederal.RuleSet()
	for _, c := range []struct{ mass, category, source string }{
		{"0 kg", "VSQG", "40 CFR 260.10, S"},
		{"99.999999999 kg", "VSQG", "40 CFR 260.10: 100 kg or less, S"},
		{"100 kg", "VSQG", "40 CFR 260.10: 100 kg or less, S"},
		{"100.000000001 kg", "SQG", "40 CFR 260.10: more than 100 kg, S"},
		{"999.999999999 kg", "SQG", "40 CFR 260.10: less than 1,000 kg, S"},
		{"1000 kg", "LQG", "40 CFR 260.10: 1,000 kg or more, S"},
		{"1 t", "LQG", "the same in tonnes"},
		{"220 lb", "VSQG", "1 lb = 0.45359237 kg: 99.79 kg, below the limit in kg, D"},
		{"220.4622621848 lb", "VSQG", "just below 100 kg, D"},
		{"220.4622621849 lb", "SQG", "just above 100 kg, D"},
		{"2200 lb", "SQG", "997.9 kg, D"},
		{"2204.63 lb", "LQG", "1000 kg = 2204.62 lb, D"},
	} {
		got, err := rules.CategoryOf(units.MustParseMass(c.mass))
		require.NoError(t, err)
		assert.Equal(t, c.category, got.Name, "%s: %s", c.mass, c.source)
	}
}

// The days are published; that the first day counts as day 1, so the last days and those left, is this
// package's own convention, the safer side (D).
func TestClocks(t *testing.T) {
	rules := usfederal.RuleSet()
	start := waste.MustParseDate("2026-01-01")
	for _, c := range []struct {
		category, last, source string
		far                    bool
		days                   int
	}{
		{"SQG", "2026-06-29", "180 days: 40 CFR 262.16(b), S", false, 180},
		{"SQG", "2026-09-27", "270 days for 200 miles or more: 40 CFR 262.16(c), S2", true, 270},
		{"LQG", "2026-03-31", "90 days: 40 CFR 262.17(a), M", false, 90},
	} {
		clock, err := rules.OffSiteBy(c.category, start, c.far)
		require.NoError(t, err)
		assert.Equal(t, c.days, clock.Days, c.source)
		assert.Equal(t, c.last, clock.Last.String(), "the first day counted as day 1, D")
		assert.Equal(t, c.days-1, start.DaysUntil(clock.Last))
		assert.Equal(t, -1, clock.Last.AddDays(1).DaysUntil(clock.Last))
	}
	// Three consecutive calendar days: 40 CFR 262.15(a)(6) as in Utah R315-262-15; EPA RO 14703 (S).
	// Over on a Friday, 2026-03-06, moved by Sunday: the Friday counted as the first (D).
	clock, err := rules.MoveBy(waste.MustParseDate("2026-03-06"))
	require.NoError(t, err)
	assert.Equal(t, "2026-03-08", clock.Last.String())
	assert.Equal(t, "55 US gal", rules.Satellite.Limit.String(), "40 CFR 262.15(a), S")
}

func TestOnSiteLimits(t *testing.T) {
	rules := usfederal.RuleSet()
	for _, c := range []struct {
		category, held string
		want           drain.Answer
		source         string
	}{
		{"VSQG", "999.9 kg", drain.Yes, "40 CFR 262.14(a)(4), M"},
		{"VSQG", "1000 kg", drain.No, "40 CFR 262.14(a)(4): 1,000 kg or more ends it, M"},
		{"SQG", "6000 kg", drain.Yes, "40 CFR 262.16(b)(1): never more than 6,000 kg, S"},
		{"SQG", "6000.001 kg", drain.No, "40 CFR 262.16(b)(1), S"},
		{"SQG", "13200 lb", drain.Yes, "the pounds in brackets are rounded down: 5987.4 kg, D"},
		{"SQG", "13228 lb", drain.No, "6000 kg = 13,227.7 lb, D"},
	} {
		got, err := rules.OnSite(c.category, weighed(c.held))
		require.NoError(t, err)
		assert.Equal(t, c.want, got.Within, "%s %s: %s", c.category, c.held, c.source)
	}
	got, err := rules.OnSite("SQG", mass(t, "5900 kg", "5990 kg", "6100 kg", drain.Assumed))
	require.NoError(t, err)
	assert.Equal(t, drain.Undecided, got.Within)
}

// The greater of a tenth of all containers and the largest is wanted (40 CFR 264.175(b)(3), S). The rule is
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
