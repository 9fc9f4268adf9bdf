package waste

import (
	"time"

	"example.com/snugturn/units"
)

// Period is what a rule set counts by. The zero Period is the calendar month.
type Period struct {
	Months int  `json:"months,omitempty"` // so many whole months from January on: 1, 2, 3, 4, 6 or 12; 0 for one, and where Days are given
	Days   int  `json:"days,omitempty"`   // or so many days each, 1 to 3,660
	From   Date `json:"from,omitzero"`    // a day on which such a period of days began
}

func (p Period) check() error {
	const what, field = "rule set", "period"
	switch days := p.Days != 0 || p.From != (Date{}); {
	case days && (p.Months != 0 || p.Days < 1 || p.Days > maxDays || !p.From.valid()):
		return refuse(what, field, "", "neither months nor days from a day", "1 to 3,660 days and the day one began, and no months", units.ErrRange)
	case p.Months < 0 || p.Months > 0 && 12%p.Months != 0:
		return refuse(what, field, "", "months that don't divide a year", "1, 2, 3, 4, 6 or 12", units.ErrRange)
	}
	return nil
}

// of is the period that a day is in, cut to the years 1 to 9999.
func (p Period) of(d Date) (first, last Date) {
	if p.Days > 0 {
		n := p.From.DaysUntil(d)
		if n %= p.Days; n < 0 {
			n += p.Days
		}
		first, last = d.AddDays(-n), d.AddDays(p.Days-1-n)
	} else {
		months := max(p.Months, 1)
		month := (int(d.Month)-1)/months*months + 1
		first = Date{d.Year, time.Month(month), 1}
		year, end, day := time.Date(d.Year, time.Month(month+months), 0, 0, 0, 0, 0, time.UTC).Date()
		last = Date{year, end, day}
	}
	if !first.valid() {
		first = Date{1, time.January, 1}
	}
	if !last.valid() {
		last = Date{9999, time.December, 31}
	}
	return first, last
}
