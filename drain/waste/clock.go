package waste

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/units"
)

// Clock is a number of days that runs from a date. The day it starts is counted as the first, so
// that whoever counts otherwise gains a day and never loses one. Nothing here reads a calendar on
// the wall: today is an argument.
type Clock struct {
	Container string `json:"container,omitempty"` // the ID of the one it runs for, where [RuleSet.Due] found it
	What      string `json:"what"`
	Start     Date   `json:"start"`
	Days      int    `json:"days"`
	Last      Date   `json:"last"` // the last day within the rule; today.DaysUntil(Last) is what is left
	Source    Source `json:"source"`
	Caveat    string `json:"caveat"`
}

// String is the clock with its source, and the [Caveat].
func (c Clock) String() string {
	var of string
	if c.Container != "" {
		of = c.Container + ": "
	}
	return fmt.Sprintf("%s%s: %d days from %s, last day %s (%s)\n%s", of, c.What, c.Days, c.Start, c.Last, c.Source, Caveat)
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

// MoveBy is the clock of a satellite area that passed its limit: consecutive calendar days,
// weekends and holidays among them, from the day it was passed.
//
// Errors: *Error: ErrNotCovered where the set has no such rule, units.ErrRange for a date that is
// none. As [RuleSet.Check].
func (r RuleSet) MoveBy(passed Date) (Clock, error) {
	if err := r.Check(); err != nil {
		return Clock{}, err
	}
	if r.Satellite.Days == 0 {
		return Clock{}, refuse("clock", "satellite", "", r.Name+" has no rule for it", "a set that has", ErrNotCovered)
	}
	return newClock("satellite area over "+r.Satellite.Limit.String(), passed, r.Satellite.Days, r.Satellite.Source)
}

// Holding is what is on site against the limit of a category.
type Holding struct {
	Within  drain.Answer // Undecided: the estimate lies on both sides, so weigh or take the worse
	Limit   units.Mass
	Exactly bool // whether exactly the limit is still within
	Source  Source
	Caveat  string
}

// String is the answer, the limit and its source, and the [Caveat].
func (h Holding) String() string {
	word := "less than"
	if h.Exactly {
		word = "at most"
	}
	return fmt.Sprintf("%s %s on site: %s (%s)\n%s", word, h.Limit, h.Within, h.Source, Caveat)
}

// OnSite judges the mass on site against a category's limit, exactly: Yes, it is within, when even the
// high end is; No when even the low end isn't.
//
// Errors: *Error: ErrNotCovered for a category the set doesn't have or sets no limit for,
// units.ErrRange below zero; *drain.InputError for an estimate that isn't one. As [RuleSet.Check].
func (r RuleSet) OnSite(category string, held drain.Estimate[units.MassUnit]) (Holding, error) {
	if err := cmp.Or(r.Check(), check("on site", "mass", held)); err != nil {
		return Holding{}, err
	}
	c, err := r.Category(category)
	if err != nil {
		return Holding{}, err
	}
	if c.OnSite.Sign() == 0 {
		return Holding{}, refuse("on site", "category", c.Name, r.Name+" sets no limit for it", "a category with one", ErrNotCovered)
	}
	within := func(m units.Mass) bool {
		order := m.Compare(c.OnSite)
		return order < 0 || order == 0 && c.OnSiteIn
	}
	h := Holding{Within: drain.Undecided, Limit: c.OnSite, Exactly: c.OnSiteIn, Source: c.LimitFrom, Caveat: Caveat}
	switch {
	case within(held.High):
		h.Within = drain.Yes
	case !within(held.Low):
		h.Within = drain.No
	}
	return h, nil
}

// Due lists the containers whose time on site ends within the given days after today, or has
// ended, the most urgent first. Satellite containers and those whose clock hasn't started have none.
//
// Errors: as [RuleSet.OffSiteBy] and [Container.Check]; *Error (units.ErrRange) for a today that
// is no date.
func (r RuleSet) Due(category string, far bool, today Date, within int, containers []Container) ([]Clock, error) {
	if !today.valid() {
		return nil, refuse("due", "today", today.String(), "no day of the calendar", "a date", units.ErrRange)
	}
	if _, err := r.OffSiteBy(category, today, far); err != nil {
		return nil, err
	}
	var due []Clock
	for _, c := range containers {
		if err := c.Check(); err != nil {
			return nil, err
		}
		if c.Satellite || c.Started == (Date{}) {
			continue
		}
		clock, err := r.OffSiteBy(category, c.Started, far)
		if err != nil {
			return nil, err
		}
		if clock.Container = c.ID; today.DaysUntil(clock.Last) <= within {
			due = append(due, clock)
		}
	}
	slices.SortStableFunc(due, func(a, b Clock) int {
		if order := a.Last.Compare(b.Last); order != 0 {
			return order
		}
		return strings.Compare(a.Container, b.Container)
	})
	return due, nil
}
