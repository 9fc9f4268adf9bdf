package waste_test

import (
	"encoding/json"
	"testing"

	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An invented state counts by 28 days, and another by half years: the calendar's own arithmetic.
func TestPeriods(t *testing.T) {
	for _, c := range []struct {
		period           waste.Period
		day, first, last string
	}{
		{waste.Period{}, "2026-02-10", "2026-02-01", "2026-02-28"},
		{waste.Period{}, "2028-02-29", "2028-02-01", "2028-02-29"},
		{waste.Period{Months: 1}, "2026-12-31", "2026-12-01", "2026-12-31"},
		{waste.Period{Months: 3}, "2026-03-31", "2026-01-01", "2026-03-31"},
		{waste.Period{Months: 6}, "2026-07-01", "2026-07-01", "2026-12-31"},
		{waste.Period{Months: 12}, "2026-07-01", "2026-01-01", "2026-12-31"},
		{waste.Period{Days: 28, From: waste.MustParseDate("2026-01-05")}, "2026-02-01", "2026-01-05", "2026-02-01"},
		{waste.Period{Days: 28, From: waste.MustParseDate("2026-01-05")}, "2026-02-02", "2026-02-02", "2026-03-01"},
		{waste.Period{Days: 28, From: waste.MustParseDate("2026-01-05")}, "2026-01-04", "2025-12-08", "2026-01-04"},
		{waste.Period{Days: 7, From: waste.MustParseDate("2026-01-05")}, "0001-01-01", "0001-01-01", "0001-01-07"},
		{waste.Period{Days: 3660, From: waste.MustParseDate("2026-01-05")}, "9999-12-31", "9992-07-02", "9999-12-31"},
	} {
		rules := must(usfederal.RuleSet().Derive("Invented State", waste.MustParseDate("2026-12-01")))
		rules.Period = c.period
		var l waste.Ledger
		s, err := l.Statement(waste.MustParseDate(c.day), rules)
		require.NoError(t, err)
		assert.Equal(t, c.first+" "+c.last, s.First.String()+" "+s.Last.String(), c.day)
		back := must(waste.ParseRuleSet(must(json.Marshal(rules))))
		assert.Equal(t, rules.Period, back.Period)
	}
	for _, p := range []waste.Period{{Months: 5}, {Months: -1}, {Months: 24}, {Days: 7}, {From: waste.MustParseDate("2026-01-05")},
		{Days: -7, From: waste.MustParseDate("2026-01-05")}, {Days: 3661, From: waste.MustParseDate("2026-01-05")}, {Days: 7, Months: 1, From: waste.MustParseDate("2026-01-05")}} {
		rules := usfederal.RuleSet()
		rules.Period = p
		refused(t, rules.Check(), units.ErrRange, "period")
	}
}

// The same year by 28 days and by months: nothing is lost between the periods, and 99 kg every 14 days are 198 kg
// in 28 days, and 198 kg or 297 kg in a month.
func TestAPeriodOfDaysCountsEverythingOnce(t *testing.T) {
	var l waste.Ledger
	for n := range 26 {
		e := entry("J1", 0, n+1, waste.DrainedFuel, waste.Hazardous, weighed("99 kg"))
		e.Date = waste.MustParseDate("2026-01-05").AddDays(14 * n)
		put(t, &l, e)
	}
	rules := must(usfederal.RuleSet().Derive("Invented State", waste.MustParseDate("2026-12-01")))
	rules.Period = waste.Period{Days: 28, From: waste.MustParseDate("2025-01-06")} // 13 periods before
	firsts, err := l.Periods(rules)
	require.NoError(t, err)
	assert.Len(t, firsts, 13)
	for _, first := range firsts {
		s, err := l.Statement(first, rules)
		require.NoError(t, err)
		assert.Equal(t, "198 kg", s.Hazardous.Best.String(), first.String())
		assert.Equal(t, "SQG", s.Lowest)
	}
}
