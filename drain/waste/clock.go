package waste

import (
	"fmt"

	"example.com/snugturn/drain"
	"example.com/snugturn/units"
)

// Clock is a number of days that runs from a date. The day it starts is counted as the first, so
// that whoever counts otherwise gains a day and never loses one. Nothing here reads a calendar on
// the wall: today is an argument.
type Clock struct {
	What   string `json:"what"`
	Start  Date   `json:"start"`
	Days   int    `json:"days"`
	Last   Date   `json:"last"` // the last day within the rule; today.DaysUntil(Last) is what is left
	Source Source `json:"source"`
	Caveat string `json:"caveat"`
}

// String is the clock with its source, and the [Caveat].
func (c Clock) String() string {
	return fmt.Sprintf("%s: %d days from %s, last day %s (%s)\n%s", c.What, c.Days, c.Start, c.Last, c.Source, Caveat)
}

func newClock(what string, start Date, days int, source Source) (Clock, error) {
	if !start.valid() {
		return Clock{}, refuse("clock", "start", start.String(), "no day of the calendar", "the date the time began", units.ErrRange)
	}
	last := start.AddDays(days - 1)
	if !last.valid() {
		return Clock{}, refuse("clock", "start", start.String(), "too late for the calendar", "a date before the year 9990", units.ErrRange)
	}
	return Clock{What: what, Start: start, Days: days, Last: last, Source: source, Caveat: Caveat}, nil
}

// OffSiteBy is the clock of a category's time on site, from the day accumulation began. Far takes
// the longer time, where the set has one.
//
// Errors: *Error: ErrNotCovered for a category the set doesn't have or sets no days for (which may
// still be limited elsewhere), units.ErrRange for a date that is none. As [RuleSet.Check].
func (r RuleSet) OffSiteBy(category string, start Date, far bool) (Clock, error) {
	if err := r.Check(); err != nil {
		return Clock{}, err
	}
	c, err := r.Category(category)
	if err != nil {
		return Clock{}, err
	}
	days, what := c.Days, c.Name+" on site"
	if far {
		if c.FarDays == 0 {
			return Clock{}, refuse("clock", "far", c.Name, r.Name+" has no longer time for it", "the common one", ErrNotCovered)
		}
		days, what = c.FarDays, what+", "+c.Far
	}
	if days == 0 {
		return Clock{}, refuse("clock", "category", c.Name, r.Name+" sets no days for it; a state may", "a category with a time on site", ErrNotCovered)
	}
	return newClock(what, start, days, c.DaysFrom)
}

// moveBy is the clock of a satellite area that passed its limit: consecutive calendar days,
// weekends and holidays among them, from the day it was passed.
func (r RuleSet) moveBy(passed Date) (Clock, error) {
	return newClock("satellite area over "+r.Satellite.Limit.String(), passed, r.Satellite.Days, r.Satellite.Source)
}

// onSite judges the mass on site against a category's limit, exactly: Yes, it is within, when even the
// high end is; No when even the low end isn't. Without a limit it is.
func (c Category) onSite(held drain.Estimate[units.MassUnit]) drain.Answer {
	within := func(m units.Mass) bool {
		order := m.Compare(c.OnSite)
		return order < 0 || order == 0 && c.OnSiteIn
	}
	switch {
	case c.OnSite.Sign() == 0 || within(held.High):
		return drain.Yes
	case !within(held.Low):
		return drain.No
	}
	return drain.Undecided
}
