// Package clock reads how times and time zones are written. It knows no clock and no zone database.
package clock

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// The grammar of a time:
//
//	time   = part { [ blank ] [ "and" ] [ blank ] part }    hours before minutes before seconds
//	part   = digits [ "." digits ] [ blank ] unit           a point in the last part only
//	unit   = "h" | "hr" | "hrs" | "hour" | "hours" | "min" | "mins" | "minute" | "minutes" |
//	         "s" | "sec" | "secs" | "second" | "seconds"    in any letter case; a point may end a short one
//
// Behind hours there are fewer than 60 minutes, behind either fewer than 60 seconds. "m" may be a
// minute or a metre and 1:30 minutes or hours, and milliseconds are no time of a workshop.

var timeUnits = map[string]time.Duration{
	"h": time.Hour, "hr": time.Hour, "hrs": time.Hour, "hour": time.Hour, "hours": time.Hour,
	"min": time.Minute, "mins": time.Minute, "minute": time.Minute, "minutes": time.Minute,
	"s": time.Second, "sec": time.Second, "secs": time.Second, "second": time.Second, "seconds": time.Second,
}

// Want is a time that is read, for errors; Day is the longest.
const (
	Want = "a time such as 30 s, 2 min or 1 min 30 s"
	Day  = 24 * time.Hour
)

// Format is whole minutes and seconds, "2 min 30 s".
func Format(t time.Duration) string {
	if t < 0 {
		return "-" + Format(-max(t, -1<<63+1))
	}
	minutes, seconds := t/time.Minute, strconv.FormatInt(int64(t%time.Minute/time.Second), 10)
	if part := t % time.Second; part != 0 {
		seconds += "." + strings.TrimRight(fmt.Sprintf("%09d", part), "0")
	}
	switch {
	case minutes == 0:
		return seconds + " s"
	case seconds == "0":
		return fmt.Sprintf("%d min", minutes)
	}
	return fmt.Sprintf("%d min %s s", minutes, seconds)
}

const maxTimeText = 64

// Parse reads a time of at most a day.
//
// Errors: *units.ParseError (units.ErrSyntax, units.ErrRange, units.ErrAmbiguous, units.ErrNoUnit,
// units.ErrUnknownUnit).
func Parse(text string) (total time.Duration, err error) {
	bad := func(at int, problem string, err error, candidates ...string) (time.Duration, error) {
		return 0, badTime(text, at, problem, err, candidates...)
	}
	if len(text) > maxTimeText {
		return bad(maxTimeText, "longer than 64 bytes", units.ErrRange)
	}
	at, last, decimals := blanks(text, 0), time.Duration(0), false
	for at < len(text) || last == 0 {
		number := at
		digits, decimal, end := timeNumber(text, at)
		if digits == "" {
			return bad(at, "no number", units.ErrSyntax)
		}
		unit, after, err := timeUnit(text, end)
		switch {
		case err != nil:
			return 0, err
		case last != 0 && unit >= last:
			return bad(number, "hours, minutes and seconds out of their order", units.ErrSyntax)
		case decimals:
			return bad(number, "more behind a decimal", units.ErrSyntax)
		}
		part, ok := timeOf(digits, decimal, unit)
		if !ok || last != 0 && part >= last {
			return bad(number, "more than the larger unit holds, or than a day", units.ErrRange)
		}
		total, last, decimals = total+part, unit, decimal != ""
		at = blanks(text, after)
		if rest := text[at:]; len(rest) > 4 && strings.EqualFold(rest[:3], "and") && plain.IsBlank(rune(rest[3])) {
			at = blanks(text, at+3)
		}
	}
	if total > Day {
		return bad(0, "more than a day", units.ErrRange)
	}
	return total, nil
}

// timeUnit is the unit behind a number that ends there, and where what follows it begins.
func timeUnit(text string, end int) (unit time.Duration, after int, err error) {
	if end < len(text) && text[end] == ':' {
		return 0, 0, badTime(text, end, "not plain digits and a unit", units.ErrAmbiguous, "minutes and seconds", "hours and minutes")
	}
	if end < len(text) && text[end] == ',' {
		return 0, 0, badTime(text, end, "not plain digits and a unit", units.ErrAmbiguous, "a decimal comma", "a separator")
	}
	start := blanks(text, end)
	at := start
	for at < len(text) && (text[at]|0x20 >= 'a' && text[at]|0x20 <= 'z') {
		at++
	}
	word := strings.ToLower(text[start:at])
	unit, ok := timeUnits[word]
	switch {
	case word == "m":
		return 0, 0, badTime(text, start, `"m" is ambiguous`, units.ErrAmbiguous, "min", "the metre")
	case word == "" && start == len(text):
		return 0, 0, badTime(text, start, "no unit", units.ErrNoUnit)
	case !ok:
		return 0, 0, badTime(text, start, strconv.Quote(plain.Cut(text[start:max(at, min(start+1, len(text)))]))+" is no unit of time here", units.ErrUnknownUnit)
	}
	if at < len(text) && text[at] == '.' && len(word) <= 4 {
		at++
	}
	return unit, at, nil
}

func badTime(text string, at int, problem string, err error, candidates ...string) error {
	e := misread.Error("time", text, at, problem, Want, err)
	e.Candidates = candidates
	return e
}

// timeNumber reads "2" or "2.5" at a byte, and where it ends.
func timeNumber(text string, at int) (digits, decimal string, end int) {
	isDigit := func(i int) bool { return i < len(text) && '0' <= text[i] && text[i] <= '9' }
	for end = at; isDigit(end); end++ {
	}
	digits = text[at:end]
	if digits != "" && end < len(text) && text[end] == '.' && isDigit(end+1) {
		point := end
		for end++; isDigit(end); end++ {
		}
		decimal = text[point+1 : end]
	}
	return digits, decimal, end
}

// timeOf is digits.decimal units exactly; not ok where that is no number of nanoseconds, or above a day.
func timeOf(digits, decimal string, unit time.Duration) (time.Duration, bool) {
	whole, err := strconv.ParseInt(digits, 10, 64)
	if err != nil || whole > int64(Day/unit) || len(decimal) > 9 {
		return 0, false
	}
	part, _ := strconv.ParseInt((decimal + "000000000")[:9], 10, 64) // billionths of the unit
	return time.Duration(whole)*unit + time.Duration(part)*(unit/time.Second), true
}

func blanks(text string, at int) int {
	return len(text) - len(strings.TrimLeftFunc(text[at:], plain.IsBlank))
}
