package waste

import (
	"database/sql/driver"
	"fmt"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/encode"
	"example.com/snugturn/internal/misread"
	"example.com/snugturn/units"
)

// Date is a civil date, as a drum's label or a job sheet bears it. It has no hour and no zone;
// [DateIn] makes one of an instant and the zone of the site. The zero Date is no date.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// ParseDate reads the extended form of ISO 8601, "2026-03-31", and nothing else.
//
// Errors: *Error (units.ErrSyntax) for another form, (units.ErrRange) for a day the calendar
// doesn't have.
func ParseDate(text string) (Date, error) {
	const want = "a date such as 2026-03-31"
	if len(text) != len("2026-03-31") || text[4] != '-' || text[7] != '-' {
		return Date{}, refuse("date", "", text, "not year-month-day", want, units.ErrSyntax)
	}
	part := func(from, to int) (n int, ok bool) {
		for _, c := range []byte(text[from:to]) {
			if c < '0' || c > '9' {
				return 0, false
			}
			n = 10*n + int(c-'0')
		}
		return n, true
	}
	year, ok1 := part(0, 4)
	month, ok2 := part(5, 7)
	day, ok3 := part(8, 10)
	if !ok1 || !ok2 || !ok3 {
		return Date{}, refuse("date", "", text, "something else than digits", want, units.ErrSyntax)
	}
	d := Date{year, time.Month(month), day}
	if !d.valid() {
		return Date{}, refuse("date", "", text, "no such day", want, units.ErrRange)
	}
	return d, nil
}

// MustParseDate is ParseDate for constants in a program; it panics on an error.
func MustParseDate(text string) Date {
	d, err := ParseDate(text)
	if err != nil {
		panic(err)
	}
	return d
}

// DateIn is the date an instant has in the zone of the site: half past midnight in one place is
// yesterday, perhaps last month, in another.
//
// Errors: *Error (drain.ErrMissing) without a zone, (units.ErrRange) outside the years 1 to 9999.
func DateIn(instant time.Time, zone *time.Location) (Date, error) {
	if zone == nil {
		return Date{}, refuse("date", "zone", "", "none given", "the zone of the site", drain.ErrMissing)
	}
	year, month, day := instant.In(zone).Date()
	d := Date{year, month, day}
	if !d.valid() {
		return Date{}, refuse("date", "", d.String(), "outside the years 1 to 9999", "a year of four digits", units.ErrRange)
	}
	return d, nil
}

// valid reports whether the calendar has the day, in the years 1 to 9999.
func (d Date) valid() bool {
	if d.Year < 1 || d.Year > 9999 || d.Month < 1 || d.Month > 12 || d.Day < 1 {
		return false
	}
	switch d.Month {
	case time.February:
		if leap := d.Year%4 == 0 && (d.Year%100 != 0 || d.Year%400 == 0); leap {
			return d.Day <= 29
		}
		return d.Day <= 28
	case time.April, time.June, time.September, time.November:
		return d.Day <= 30
	}
	return d.Day <= 31
}

// midnight is in UTC, where every day has 24 hours.
func (d Date) midnight() time.Time { return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC) }

// AddDays is the date n days later, or earlier for a negative n; the zero Date where d is invalid
// or the result would lie outside the years 1 to 9999.
func (d Date) AddDays(n int) Date {
	const most = 9999 * 366
	if !d.valid() || n > most || n < -most {
		return Date{}
	}
	year, month, day := d.midnight().AddDate(0, 0, n).Date()
	if sum := (Date{year, month, day}); sum.valid() {
		return sum
	}
	return Date{}
}

// AddMonths is the same day of the month n months later, or the month's last: 31 January and a month is 28 or
// 29 February. It is the zero Date where d is invalid or the result would lie outside the years 1 to 9999.
func (d Date) AddMonths(n int) Date {
	const most = 9999 * 12
	if !d.valid() || n > most || n < -most {
		return Date{}
	}
	first := time.Date(d.Year, d.Month+time.Month(n), 1, 0, 0, 0, 0, time.UTC)
	sum := Date{first.Year(), first.Month(), min(d.Day, first.AddDate(0, 1, -1).Day())}
	if !sum.valid() {
		return Date{}
	}
	return sum
}

// DaysUntil counts the midnights from d to e: 1 from today to tomorrow, negative where e is the
// earlier. Both must be valid; otherwise it is 0.
func (d Date) DaysUntil(e Date) int {
	if !d.valid() || !e.valid() {
		return 0
	}
	const day = 24 * 60 * 60
	return int((e.midnight().Unix() - d.midnight().Unix()) / day)
}

// Compare is -1, 0 or +1 as d comes before, is or comes after e.
func (d Date) Compare(e Date) int {
	switch {
	case d == e:
		return 0
	case d.Year < e.Year, d.Year == e.Year && d.Month < e.Month,
		d.Year == e.Year && d.Month == e.Month && d.Day < e.Day:
		return -1
	}
	return +1
}

// String is "2026-03-31"; "no date" for the zero Date.
func (d Date) String() string {
	if d == (Date{}) {
		return "no date"
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, int(d.Month), d.Day)
}

// MarshalText writes what [ParseDate] reads; the zero Date is an empty text.
//
// Errors: *Error (units.ErrRange) for a day the calendar doesn't have.
func (d Date) MarshalText() ([]byte, error) {
	if d == (Date{}) {
		return []byte{}, nil
	}
	if !d.valid() {
		return nil, refuse("date", "", d.String(), "no such day", "a day of the calendar", units.ErrRange)
	}
	return []byte(d.String()), nil
}

// UnmarshalText reads what MarshalText writes; on an error d stays as it was.
func (d *Date) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*d = Date{}
		return nil
	}
	parsed, err := ParseDate(string(text[:min(len(text), 64)]))
	if err == nil {
		*d = parsed
	}
	return err
}

var notDate = misread.NotText("date", `text such as "2026-03-31"`)

// UnmarshalJSON reads a string as UnmarshalText does; null and numbers are refused.
func (d *Date) UnmarshalJSON(data []byte) error { return encode.JSON(data, d.UnmarshalText, notDate) }

// MarshalBinary is MarshalText, for gob.
func (d Date) MarshalBinary() ([]byte, error) { return d.MarshalText() }

// UnmarshalBinary is UnmarshalText, for gob.
func (d *Date) UnmarshalBinary(text []byte) error { return d.UnmarshalText(text) }

// Value is the text, for a database column. The zero Date is refused: sql.Null serves.
//
// Errors: *Error (drain.ErrMissing) for the zero Date, and as MarshalText.
func (d Date) Value() (driver.Value, error) {
	if d == (Date{}) {
		return nil, refuse("date", "", "", "none given", "a day, or sql.Null", drain.ErrMissing)
	}
	return encode.Value(d.MarshalText())
}

// Scan reads a column of text as [ParseDate] does, or one of a database's own dates, of which the day
// is taken as it is there; NULL and numbers are refused. On an error d stays as it was.
func (d *Date) Scan(column any) error {
	if instant, ok := column.(time.Time); ok {
		day, err := DateIn(instant, instant.Location())
		if err == nil {
			*d = day
		}
		return err
	}
	return encode.Scan(column, func(text []byte) error {
		day, err := ParseDate(string(text))
		if err == nil {
			*d = day
		}
		return err
	}, notDate)
}
