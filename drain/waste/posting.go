package waste

import (
	"database/sql/driver"
	"encoding/json"
	"fmt"
	"log/slog"
	"strconv"
	"strings"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/encode"
	"example.com/snugturn/internal/misread"
	"example.com/snugturn/internal/strictjson"
	"example.com/snugturn/units"
)

// Posting is one line of a [Ledger]: what somebody put down, and when. It is an entry, a withdrawal or an
// event of a drum: exactly one of the three. Postings are added and never changed. What was wrong is put
// right by another posting, with a higher revision.
//
// Its JSON is one line of a file in the form that lasts: {"version":1,"at":…,"by":…,"entry":{…}}. What can't
// be read back isn't written.
type Posting struct {
	At  time.Time // when it was put down, by the clock of whoever did; decides nothing
	By  string    // who, at most 64 bytes
	Row int       // of the file it was read from, for whoever looks it up; 0 where there is none; no part of what is said

	Entry      *Entry
	Withdrawal *Withdrawal
	Drum       *DrumEvent
}

// Withdrawal is a revision of a job that has no lines: the service didn't take place.
type Withdrawal struct {
	Job      string `json:"job"`
	Revision int    `json:"revision"`
}

// DrumEvent is what happened to a drum, a box or a bag on a day. A label is used once: an emptied drum that
// is filled anew takes a new one.
type DrumEvent struct {
	Event     string                         `json:"event"`    // "opened", "weighed", "moved" out of the satellite area, "closed" or "shipped"
	Revision  int                            `json:"revision"` // from 0; of one drum and event, and of one day for a weighing, the highest counts
	Date      Date                           `json:"date"`
	Container Container                      `json:"container"`           // its label; when it is opened also all else that is known, but for Started
	Gross     drain.Estimate[units.MassUnit] `json:"gross,omitzero"`      // of a weighing: with what is in it
	Paper     string                         `json:"paper,omitempty"`     // of a shipping: the number of the paper it went with
	Withdrawn bool                           `json:"withdrawn,omitempty"` // it didn't happen: what lower revisions said no longer counts
}

const (
	opened  = "opened"
	weighed = "weighed"
	moved   = "moved"
	closed  = "closed"
	shipped = "shipped"
)

// version is that of the form of a posting.
const version = 1

// maxPosting is far more than any posting takes.
const maxPosting = 16 << 10

// check is what every posting has to hold.
func (p *Posting) check(known func(label string) bool) error {
	if err := p.checkStamp(known); err != nil {
		return err
	}
	given := 0
	for _, is := range [...]bool{p.Entry != nil, p.Withdrawal != nil, p.Drum != nil} {
		if is {
			given++
		}
	}
	switch {
	case given != 1:
		return refuse("posting", "", strconv.Itoa(given), "not one of entry, withdrawal and drum", "one of them", drain.ErrMissing)
	case p.Entry != nil:
		return p.Entry.check(known)
	case p.Withdrawal != nil:
		return checkJob(p.Withdrawal.Job, p.Withdrawal.Revision, known)
	}
	return p.Drum.check()
}

func (p *Posting) checkStamp(known func(string) bool) error {
	_, seconds := p.At.Zone()
	switch year := p.At.Year(); {
	case year < 1970 || year > 2200:
		return refuse("posting", "at", p.At.Format(time.RFC3339), "no time at which anything was put down", "a time from 1970 to 2200", units.ErrRange)
	case seconds%60 != 0:
		return refuse("posting", "at", p.At.Format(time.RFC3339), "in a zone that isn't whole minutes from UTC", "a zone such as -06:00", units.ErrRange)
	case p.Row < 0 || p.Row > maxRow:
		return refuse("posting", "row", strconv.Itoa(p.Row), "out of range", "zero or more", units.ErrRange)
	case known(p.By):
		return nil
	}
	return checkLabel("posting", "by", p.By)
}

const maxRow = 1<<31 - 1

func (e *DrumEvent) check() error {
	const what = "drum"
	c := e.Container
	switch {
	case e.Revision < 0 || e.Revision > maxRevision:
		return refuse(what, "revision", strconv.Itoa(e.Revision), "out of range", "0 to 1,000,000", units.ErrRange)
	case !e.Date.valid():
		return refuse(what, "date", e.Date.String(), "no day of the calendar", "the day it happened", units.ErrRange)
	case c.ID == "":
		return refuse(what, "id", "", "none given", "the drum's label", drain.ErrMissing)
	case c.Started != Date{}:
		return refuse(what, "started", c.Started.String(), "is worked out from what happened", "the field omitted", units.ErrRange)
	}
	if err := c.check(); err != nil {
		return err
	}
	if e.Event != opened && !e.Container.bare() {
		return refuse(what, "container", c.ID, "described at another event than its opening", "the label alone", units.ErrRange)
	}
	if weigh := e.Event == weighed && !e.Withdrawn; weigh != given(e.Gross) {
		return refuse(what, "gross", e.Event, "missing from a weighing, or with something else", "the mass with what is in it, at a weighing", drain.ErrMissing)
	} else if weigh {
		if err := check(what, "gross", e.Gross); err != nil {
			return err
		}
	}
	if e.Paper != "" {
		if e.Event != shipped {
			return refuse(what, "paper", e.Paper, "isn't of a shipping", "the field omitted", units.ErrRange)
		}
		if err := checkLabel(what, "paper", e.Paper); err != nil {
			return err
		}
	}
	switch e.Event {
	case opened, weighed, moved, closed, shipped:
		return nil
	}
	return refuse(what, "event", e.Event, "unknown", "opened, weighed, moved, closed or shipped", units.ErrSyntax)
}

// bare reports whether a container is a label and nothing else.
func (c Container) bare() bool {
	return c.Kind == "" && c.Capacity.Sign() == 0 && c.FillLimit.Sign() == 0 && c.MostGross.Sign() == 0 && !given(c.Tare) && !c.Satellite
}

// postingFields are a posting as it is written.
type postingFields struct {
	Version    int         `json:"version"`
	At         stamp       `json:"at"`
	By         string      `json:"by"`
	Entry      *Entry      `json:"entry,omitempty"`
	Withdrawal *Withdrawal `json:"withdrawal,omitempty"`
	Drum       *DrumEvent  `json:"drum,omitempty"`
}

// stamp is a time as RFC 3339 writes it, read without a look at the machine's zone.
type stamp time.Time

func (s stamp) MarshalText() ([]byte, error) {
	return []byte(time.Time(s).Format(time.RFC3339Nano)), nil
}

func (s *stamp) UnmarshalText(text []byte) error {
	refused := refuse("time", "", string(text), "not as RFC 3339 has it", "a time such as 2026-03-04T16:30:00-06:00", units.ErrSyntax)
	date, rest, _ := strings.Cut(string(text[:min(len(text), 64)]), "T")
	day, err := ParseDate(date)
	if err != nil || len(rest) < len("16:30:00Z") || rest[2] != ':' || rest[5] != ':' {
		return refused
	}
	hour, minute, second := digits(rest[:2], 23), digits(rest[3:5], 59), digits(rest[6:8], 59)
	nanos, rest := 0, rest[8:]
	if rest[0] == '.' {
		end := 1
		for end < len(rest) && '0' <= rest[end] && rest[end] <= '9' {
			end++
		}
		if end == 1 {
			return refused
		}
		nanos, rest = digits((rest[1:end] + "000000000")[:max(9, end-1)], 999_999_999), rest[end:]
	}
	zone, ok := readZone(rest)
	if !ok || min(hour, minute, second, nanos) < 0 {
		return refused
	}
	*s = stamp(time.Date(day.Year, day.Month, day.Day, hour, minute, second, nanos, zone))
	return nil
}

// readZone reads "Z" or an offset from UTC, "-06:00".
func readZone(text string) (*time.Location, bool) {
	if text == "Z" {
		return time.UTC, true
	}
	if len(text) != len("-06:00") || text[0] != '-' && text[0] != '+' || text[3] != ':' {
		return nil, false
	}
	hours, minutes := digits(text[1:3], 23), digits(text[4:], 59)
	east := (hours*60 + minutes) * 60
	if text[0] == '-' {
		east = -east
	}
	return time.FixedZone("", east), min(hours, minutes) >= 0
}

// digits is a number of one to nine digits; -1 for anything else, and for more than a most.
func digits(text string, most int) (n int) {
	if len(text) > 9 {
		return -1
	}
	for _, c := range []byte(text) {
		if c < '0' || c > '9' {
			return -1
		}
		n = 10*n + int(c-'0')
	}
	if n > most {
		return -1
	}
	return n
}

func unknownLabel(string) bool { return false }

// MarshalJSON writes one line, without a line break.
//
// Errors: *Error, *drain.InputError: a posting that no ledger takes isn't written.
func (p Posting) MarshalJSON() ([]byte, error) {
	if err := p.check(unknownLabel); err != nil {
		return nil, err
	}
	return json.Marshal(postingFields{version, stamp(p.At), p.By, p.Entry, p.Withdrawal, p.Drum})
}

// UnmarshalJSON reads what MarshalJSON writes, strictly: each field once and none that isn't known, no null,
// no other version. On an error p stays as it was.
//
// Errors: *Error (units.ErrSyntax, units.ErrRange, drain.ErrMissing) and those of the values in it.
func (p *Posting) UnmarshalJSON(data []byte) error {
	const want = `an object with "version", "at", "by" and one of "entry", "withdrawal" and "drum"`
	fields := postingFields{}
	bad := (strictjson.Reader{Bytes: maxPosting, Text: 1024}).First(data, &fields)
	switch {
	case fields.Version > version: // whatever else is in it
		return refuse("posting", "version", strconv.Itoa(fields.Version), "written by a later version", "version 1", units.ErrRange)
	case bad != nil && bad.Problem == "":
		return fmt.Errorf("posting: %s: %w", bad.Path, bad.Cause)
	case bad != nil:
		if bad.Want == "" {
			bad.Want = want
		}
		return refuse("posting", bad.Path, "", bad.Problem, bad.Want, units.ErrSyntax)
	case fields.Version != version:
		return refuse("posting", "version", strconv.Itoa(fields.Version), "unknown", "version 1", units.ErrRange)
	}
	read := Posting{At: time.Time(fields.At), By: fields.By, Entry: fields.Entry, Withdrawal: fields.Withdrawal, Drum: fields.Drum}
	if err := read.check(unknownLabel); err != nil {
		return err
	}
	*p = read
	return nil
}

// MarshalBinary is MarshalJSON, for gob.
func (p Posting) MarshalBinary() ([]byte, error) { return p.MarshalJSON() }

// UnmarshalBinary is UnmarshalJSON, for gob.
func (p *Posting) UnmarshalBinary(data []byte) error { return p.UnmarshalJSON(data) }

// Value is the text of the JSON, for a database column.
func (p Posting) Value() (driver.Value, error) { return encode.Value(p.MarshalJSON()) }

// Scan reads a column's JSON as UnmarshalJSON does; NULL and all but text are refused.
func (p *Posting) Scan(column any) error {
	return encode.Scan(column, p.UnmarshalJSON, misread.NotText("posting", `an object {"version", "at", "by", …}`))
}

// LogValue is the text.
func (p Posting) LogValue() slog.Value { return slog.StringValue(p.String()) }

// String is one line for logs: "W-101 revision 0 line 1, 31.2 kg drained fuel (hazardous), by Ann at
// 2026-03-02T16:00:00Z".
func (p Posting) String() string {
	text := "nothing"
	switch {
	case p.Entry != nil:
		e := p.Entry
		text = fmt.Sprintf("%s revision %d line %d, %v %v (%v)", e.Job, e.Revision, e.Line, e.Mass.Best, e.Stream, e.Determination)
	case p.Withdrawal != nil:
		text = fmt.Sprintf("%s revision %d withdrawn", p.Withdrawal.Job, p.Withdrawal.Revision)
	case p.Drum != nil:
		text = fmt.Sprintf("%s %s on %v", p.Drum.Container.ID, p.Drum.Event, p.Drum.Date)
	}
	return text + ", by " + p.By + " at " + p.At.Format(time.RFC3339)
}
