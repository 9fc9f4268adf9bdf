package waste

import (
	"example.com/snugturn/drain"
	"example.com/snugturn/units"
)

// lastOf is the last of so many days. The day they start is counted as the first, so that whoever counts otherwise
// gains a day and never loses one. Nothing here reads a calendar on the wall: today is an argument.
func lastOf(days int, start Date) (Date, error) {
	if !start.valid() {
		return Date{}, refuse("clock", "start", start.String(), "no day of the calendar", "the date the time began", units.ErrRange)
	}
	last := start.AddDays(days - 1)
	if !last.valid() {
		return Date{}, refuse("clock", "start", start.String(), "too late for the calendar", "a date before the year 9990", units.ErrRange)
	}
	return last, nil
}

// OffSiteBy is the last day of a category's time on site, counted from the day accumulation began as the first. Far
// takes the longer time, where the set has one. Its source is the category's DaysFrom.
//
// Errors: *Error: ErrNotCovered for a category the set doesn't have or sets no days for (which may
// still be limited elsewhere), units.ErrRange for an invalid date. As [RuleSet.Check].
func (r RuleSet) OffSiteBy(category string, start Date, far bool) (Date, error) {
	if err := r.Check(); err != nil {
		return Date{}, err
	}
	c, err := r.Category(category)
	switch {
	case err != nil:
		return Date{}, err
	case far && c.FarDays == 0:
		return Date{}, refuse("clock", "far", c.Name, r.Name+" has no longer time for it", "the common one", ErrNotCovered)
	case far:
		return lastOf(c.FarDays, start)
	case c.Days == 0:
		return Date{}, refuse("clock", "category", c.Name, r.Name+" sets no days for it; a state may", "a category with a time on site", ErrNotCovered)
	}
	return lastOf(c.Days, start)
}

// onSite reports whether what is on site is within a category's limit, exactly and at its high end. Without a limit
// it is.
func (c Category) onSite(held drain.Estimate[units.MassUnit]) bool {
	order := held.High.Compare(c.OnSite)
	return c.OnSite.Sign() == 0 || order < 0 || order == 0 && c.OnSiteIn
}
