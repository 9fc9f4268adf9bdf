package waste

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"example.com/snugturn/drain"
	"example.com/snugturn/testdata/frozen"
	"example.com/snugturn/units"
)

// kilograms is an estimate of "10" or "9,10,12".
func estimateOf[U units.Unit](text string, unit U) (e drain.Estimate[U]) {
	if text == "" {
		return e
	}
	parts := strings.Split(text, ",")
	read := func(s string) units.Quantity[U] {
		d, _ := decimal.NewFromString(s)
		q, _ := units.New(d, unit)
		return q
	}
	if len(parts) == 3 {
		return drain.Estimate[U]{Low: read(parts[0]), Best: read(parts[1]), High: read(parts[2]), From: drain.Assumed}
	}
	return drain.Estimate[U]{Low: read(parts[0]), Best: read(parts[0]), High: read(parts[0]), From: drain.Weighed}
}

// posting reads one in short: "e|job|revision|line|date|stream|determination|kg|L|°C|drum|put down", "w|job|revision|put down"
// or "d|event|revision|date|drum|kind|capacity|fill limit|most gross|tare|satellite|gross|paper|withdrawn|put down".
func posting(text string) (p Posting) {
	f := append(strings.Split(text, "|"), make([]string, 20)...)
	number := func(i int) int { n, _ := strconv.Atoi(f[i]); return n }
	day := func(i int) Date { d, _ := ParseDate(f[i]); return d }
	at := func(i int, day Date) time.Time {
		if t, err := time.Parse(time.RFC3339, f[i]); err == nil {
			return t
		}
		return time.Date(max(day.Year, 2000), day.Month, day.Day, 12, 0, 0, 0, time.UTC)
	}
	p.By = "invented"
	switch f[0] {
	case "e":
		p.Entry = &Entry{Job: f[1], Revision: number(2), Line: number(3), Date: day(4), Stream: Stream(number(5)), Determination: Determination(number(6)),
			Mass: estimateOf(f[7], units.Kilogram), Volume: estimateOf(f[8], units.Litre), Container: f[10]}
		if f[9] != "" {
			p.Entry.VolumeAt, _ = units.ParseTemperature(f[9] + " °C")
		}
		p.At = at(11, p.Entry.Date)
	case "w":
		p.Withdrawal = &Withdrawal{f[1], number(2)}
		p.At = at(3, Date{2026, 3, 31})
	case "d":
		c := Container{ID: f[4], Kind: f[5], Tare: estimateOf(f[9], units.Kilogram), Satellite: f[10] == "1"}
		c.Capacity, c.FillLimit, c.MostGross = estimateOf(f[6], units.Litre).Best, estimateOf(f[7], units.Litre).Best, estimateOf(f[8], units.Kilogram).Best
		p.Drum = &DrumEvent{Event: f[1], Revision: number(2), Date: day(3), Container: c, Gross: estimateOf(f[11], units.Kilogram), Paper: f[12], Withdrawn: f[13] == "1"}
		p.At = at(14, p.Drum.Date)
	}
	return p
}

func ledgerOf(text string) (l Ledger, refused []string) {
	for i, line := range strings.Split(text, "; ") {
		p := posting(line)
		p.Row = i + 1
		if _, err := l.Add(p); err != nil {
			refused = append(refused, err.Error())
		}
	}
	return l, refused
}

// The rules and postings that edits are made to; everything in them is invented.
const (
	someRules = `{"name":"invented","asOf":"2026-01-01","categories":[
{"name":"S","title":"small","upTo":"100 kg","including":true,"source":SRC,"onSite":"1000 kg","onSiteSource":SRC},
{"name":"M","title":"middle","upTo":"1000 kg","source":SRC,"days":180,"farDays":270,"far":"far away","onSite":"6000 kg","onSiteIncluding":true,"daysSource":SRC,"onSiteSource":SRC},
{"name":"L","title":"large","upTo":"0 kg","open":true,"source":SRC,"days":90,"onSite":"0 kg","daysSource":SRC}],
"satellite":{"limit":"55 US gal","days":3,"source":SRC},"fill":{"by":"degree of filling","source":SRC},
"questions":[{"streams":["drained fuel"],"code":"D001","text":"Does it burn?","source":SRC}],
"candidates":[{"stream":"drained fuel","code":"13 07 01*","title":"fuel","source":SRC}],"notes":[{"text":"a note","source":SRC}]}`
	someEntry = `{"version":1,"at":"2026-03-04T16:30:00-06:00","by":"invented","entry":{"job":"W-1","revision":0,"line":1,"date":"2026-03-04",
"stream":"drained fuel","determination":"hazardous","mass":{"low":"1 kg","best":"2 kg","high":"3 kg","from":"measured"},"container":"D1"}}`
	someWithdrawal = `{"version":1,"at":"2026-03-04T16:30:00Z","by":"invented","withdrawal":{"job":"W-1","revision":1}}`
	someDrum       = `{"version":1,"at":"2026-03-04T16:30:00.5+05:45","by":"invented","drum":{"event":"opened","revision":0,"date":"2026-03-04","container":{"id":"D1"}}}`
)

// edited is one of these with edits, "/name=\"\"" or "/notes-", with semicolons between.
func edited(what, edits string) []byte {
	text := map[string]string{"rules": someRules, "entry": someEntry, "withdrawal": someWithdrawal, "drum": someDrum}[what]
	text = strings.ReplaceAll(text, "SRC", `{"cite":"invented","grade":"M"}`)
	for _, length := range []int{64, 65, 1000, 1001} { // a text of so many letters, to keep the table short
		edits = strings.ReplaceAll(edits, fmt.Sprintf("x%d", length), strings.Repeat("x", length))
	}
	return frozen.Edit([]byte(text), strings.Split(edits, "; "))
}

// rules are the rules with edits, not yet checked.
func rules(edits string) (RuleSet, error) {
	var r ruleSetFields
	err := json.Unmarshal(edited("rules", edits), &r)
	return RuleSet(r), err
}

// strays are errors about what no text can say: units and enumerations that are none, a column of a number, too many.
func strays(what string) error {
	kilogram := drain.MustExactly(units.Kilogram.Of(1), drain.Weighed)
	stray, litres := units.MassUnit(99).Of(1), units.VolumeUnit(99).Of(1)
	set, _ := rules("")
	batch := Batch{Description: "invented", Stream: DrainedFuel, Mass: kilogram, Containers: []Container{{ID: "D1"}}}
	entry := Entry{Job: "W-1", Line: 1, Date: Date{2026, 3, 4}, Stream: DrainedFuel, Mass: kilogram}
	many := func(texts int) []Remark {
		return slices.Repeat([]Remark{{"a note", Source{"invented", "M"}}}, texts)
	}
	return map[string]func() error{
		"batch's stream":     func() error { batch.Stream = 99; return batch.Check() },
		"batch's capacity":   func() error { batch.Containers[0].Capacity = litres; return batch.Check() },
		"batch's fill limit": func() error { batch.Containers[0].FillLimit = litres; return batch.Check() },
		"batch's mark":       func() error { batch.Containers[0].MostGross = stray; return batch.Check() },
		"batch's mass":       func() error { batch.Mass.Best = stray; return batch.Check() },
		"net": func() error {
			_, err := Container{ID: "D1", Tare: kilogram}.Net(drain.Estimate[units.MassUnit]{})
			return err
		},
		"entry's stream":        func() error { entry.Stream = 99; return entry.Check() },
		"entry's determination": func() error { entry.Determination = 9; return entry.Check() },
		"question's stream":     func() error { set.Questions[0].Streams = []Stream{0}; return set.Check() },
		"candidate's stream":    func() error { set.Candidates[0].Stream = 99; return set.Check() },
		"limit":                 func() error { set.Categories[0].UpTo = stray; return set.Check() },
		"limit on site":         func() error { set.Categories[0].OnSite = stray; return set.Check() },
		"area's limit":          func() error { set.Satellite.Limit = litres; return set.Check() },
		"a thousand notes":      func() error { set.Notes = many(1000); return set.Check() },
		"more notes":            func() error { set.Notes = many(1001); return set.Check() },
		"asked":                 func() error { _, err := set.Ask(99); return err },
		"category's mass":       func() error { _, err := set.CategoryOf(stray); return err },
		"no zone":               func() error { _, err := DateIn(time.Unix(0, 0), nil); return err },
		"year 10000":            func() error { _, err := DateIn(time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC), time.UTC); return err },
		"date's column":         func() error { return new(Date).Scan(7) },
		"zone's column":         func() error { return new(Zone).Scan(7) },
		"posting's column":      func() error { return new(Posting).Scan(7) },
		"no date's column":      func() error { _, err := Date{}.Value(); return err },
		"zone by seconds": func() error {
			return new(Ledger).add(Posting{At: time.Date(2026, 3, 4, 0, 0, 0, 0, time.FixedZone("", 30)), By: "invented", Entry: &entry})
		},
		"row below zero": func() error { return new(Ledger).add(Posting{At: day(2026), By: "invented", Row: -1, Entry: &entry}) },
		"1969":           func() error { return new(Ledger).add(Posting{At: day(1969), By: "invented", Entry: &entry}) },
		"1970":           func() error { return new(Ledger).add(Posting{At: day(1970), By: "invented", Entry: &entry}) },
		"2200":           func() error { return new(Ledger).add(Posting{At: day(2200), By: "invented", Entry: &entry}) },
		"2201":           func() error { return new(Ledger).add(Posting{At: day(2201), By: "invented", Entry: &entry}) },
		"nothing":        func() error { return new(Ledger).add(Posting{At: day(2026), By: "invented"}) },
		"two": func() error {
			return new(Ledger).add(Posting{At: day(2026), By: "invented", Entry: &entry, Withdrawal: &Withdrawal{"W-1", 1}})
		},
		"65 for a line": func() error { return several(65, 0) }, "10001 of a job": func() error { return several(10_001, 1) },
		"mass high alone":   func() error { batch.Mass = alone[units.MassUnit](2, kilogram.High); return batch.Check() },
		"mass low alone":    func() error { batch.Mass = alone[units.MassUnit](0, kilogram.Low); return batch.Check() },
		"mass best alone":   func() error { batch.Mass = alone[units.MassUnit](1, kilogram.Best); return batch.Check() },
		"volume high alone": func() error { batch.Volume = alone(2, units.Litre.Of(1)); return batch.Check() },
		"tare high alone": func() error {
			batch.Containers[0].Kind, batch.Containers[0].Tare = "DM", alone(2, kilogram.High)
			return batch.Check()
		},
		"nobody after somebody": func() error { return second(Posting{At: day(2026), Entry: &entry}) },
		"nobody with a new job": func() error { entry.Job = "W-2"; return second(Posting{At: day(2026), Entry: &entry}) },
		"no job after one":      func() error { return second(Posting{At: day(2026), By: "invented", Withdrawal: &Withdrawal{"", 0}}) },
		"label after one": func() error {
			entry.Container = " D2"
			return second(Posting{At: day(2026), By: "invented", Entry: &entry})
		},
		"drum's label after one": func() error { return second(Posting{At: day(2026), By: " invented", Entry: &entry}) },
		"label with a new job": func() error {
			entry.Job, entry.Container = "W-2", " D2"
			return second(Posting{At: day(2026), By: "invented", Entry: &entry})
		},
		"hash of a limit in no unit": func() error {
			set.Satellite = Satellite{Limit: units.VolumeUnit(99).Of(0)}
			_, err := set.Hash()
			return err
		},
		"more mass than capacity": func() error {
			batch.Mass, batch.Containers[0].Capacity = estimateOf("900,950,990", units.Kilogram), units.Litre.Of(208)
			return batch.Check()
		},
		"mass alone with a volume": func() error {
			entry.Mass, entry.Volume, entry.VolumeAt = alone(2, kilogram.High), estimateOf("1", units.Litre), units.Celsius.Of(20)
			return entry.Check()
		},
		"date of a time": func() error {
			err := entry.Date.Scan(time.Date(2026, 3, 5, 23, 0, 0, 0, time.FixedZone("", -6*60*60)))
			return fmt.Errorf("%v, %v", entry.Date, err)
		},
		"date of no year": func() error {
			err := entry.Date.Scan(time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC))
			return fmt.Errorf("%v, %v", entry.Date, err)
		},
		"date of nonsense": func() error { err := entry.Date.Scan("nonsense"); return fmt.Errorf("%v, %v", entry.Date, err) },
		"greatest row":     func() error { return second(Posting{At: day(2026), By: "invented", Row: 1<<31 - 1, Entry: &entry}) },
		"row too far": func() error {
			row := 1<<31 - 1
			row++ // below zero where an int has 32 bits
			err := second(Posting{At: day(2026), By: "invented", Row: row, Entry: &entry})
			return errors.Unwrap(err)
		},
		"16 KiB":      func() error { return new(Posting).UnmarshalJSON(fmt.Appendf(nil, "%-16384s", edited("entry", ""))) },
		"over 16 KiB": func() error { return new(Posting).UnmarshalJSON(fmt.Appendf(nil, "%-16385s", edited("entry", ""))) },
		"rules of 1 MiB": func() error {
			_, err := ParseRuleSet(fmt.Appendf(nil, "%-1048576s", edited("rules", "")))
			return err
		},
		"rules over 1 MiB": func() error {
			_, err := ParseRuleSet(fmt.Appendf(nil, "%-1048577s", edited("rules", "")))
			return err
		},
		"high beyond capacity": func() error {
			batch.Mass, batch.Containers[0].Capacity = estimateOf("90,100,300", units.Kilogram), units.Litre.Of(208)
			return batch.Check()
		},
		"month 13": func() error { set.AsOf = Date{2026, 13, 1}; return set.Check() },
		"nobody":   func() error { return new(Ledger).add(Posting{At: day(2026), Entry: &entry}) },
	}[what]()
}

// alone is an estimate of which only one of three values is given.
func alone[U units.Unit](which int, q units.Quantity[U]) (e drain.Estimate[U]) {
	*[]*units.Quantity[U]{&e.Low, &e.Best, &e.High}[which] = q
	return e
}

// second adds a posting to a ledger that has one.
func second(p Posting) error {
	l, _ := ledgerOf("e|W-1|0|1|2026-03-04|1|1|1|||D1")
	return l.add(p)
}

// several adds so many entries that differ to one job, each with a line or a revision that much higher.
func several(n, step int) (err error) {
	var l Ledger
	for i := range n {
		m := drain.MustExactly(units.Kilogram.Of(int64(i+1)), drain.Weighed)
		err = cmp.Or(err, l.add(Posting{At: day(2026), By: "invented", Entry: &Entry{Job: "W-1", Revision: i * step, Line: 1, Date: Date{2026, 3, 4}, Stream: DrainedFuel, Mass: m}}))
	}
	return err
}

// site is all that is made of a ledger, under the rules with edits, on a day.
func site(text, edits string, today Date) (said []string, err error) {
	l, said := ledgerOf(text)
	for p := range l.Postings() {
		said = append(said, fmt.Sprint(p, " row ", p.Row))
	}
	for e := range l.Entries() {
		said = append(said, fmt.Sprint("counts ", e.Job, e.Line, e.Mass, e.Volume.Best, e.VolumeAt, e.Container))
	}
	for _, n := range l.Changes() {
		said = append(said, n.String())
	}
	for _, d := range l.Drums() {
		said = append(said, fmt.Sprint(d.Container, d.Opened, d.Weighed, d.Closed, d.Shipped, d.Paper, d.LastFill, d.Contents, d.Mass, d.Volume, d.Room, d.Days(today)))
	}
	r, err := rules(edits)
	notices, err1 := l.ToDo(r, today)
	for _, n := range notices {
		said = append(said, fmt.Sprint(n, n.Entered.Best, n.Limit))
	}
	month, err2 := l.Statement(today, r)
	firsts, err3 := l.Periods(r)
	return append(said, month.String(), fmt.Sprint(firsts)), cmp.Or(err, err1, err2, err3)
}

func day(year int) time.Time { return time.Date(year, 6, 1, 12, 0, 0, 0, time.UTC) }

func (l *Ledger) add(p Posting) error { _, err := l.Add(p); return err }

var frozenCalls = frozen.Of(frozen.Calls{
	"ParseDate": ParseDate, "ParseRuleSet": ParseRuleSet, "Stray": strays,
	"Rules":  func(edits string) error { r, err := rules(edits); return cmp.Or(err, r.Check()) },
	"Strict": func(edits string) error { _, err := ParseRuleSet(edited("rules", edits)); return err },
	"Ask": func(edits string, s Stream) (string, error) {
		r, _ := rules(edits)
		a, err := r.Ask(s)
		return a.String(), err
	},
	"OffSite": func(edits, category string, start Date, far string) (Date, error) {
		r, _ := rules(edits)
		return r.OffSiteBy(category, start, far != "")
	},
	"Category": func(edits string, m units.Mass) (Category, error) { r, _ := rules(edits); return r.CategoryOf(m) },
	"PeriodOf": func(edits string, d Date) []Date { r, _ := rules(edits); a, b := r.Period.of(d); return []Date{a, b} },
	"Read": func(what, edits string) (p Posting, err error) {
		err = p.UnmarshalJSON(edited(what, edits))
		return p, err
	},
	"Time": func(text string) (string, error) {
		var s stamp
		err := s.UnmarshalText([]byte(text))
		return time.Time(s).Format(time.RFC3339Nano), err
	},
	"Office": func(text, edits string, day Date) (said []string, err error) {
		l, _ := ledgerOf(text)
		r, _ := rules(edits)
		notices, err := l.ToDo(r, day)
		for _, n := range notices {
			said = append(said, fmt.Sprint(n, n.Entered.Best, n.Limit))
		}
		return said, err
	},
	"Site":   site,
	"Lines":  func(text string) error { return new(Ledger).UnmarshalText([]byte(text)) },
	"String": func(text string) error { return new(Ledger).UnmarshalJSON([]byte(text)) },
	"Month": func(text, edits string, day Date) (string, error) {
		l, _ := ledgerOf(text)
		r, _ := rules(edits)
		s, err := l.Statement(day, r)
		return s.String(), err
	},
	"Ledger":  ledgerOf,
	"Changes": func(text string) []Notice { l, _ := ledgerOf(text); return l.Changes() },
	"Drums":   func(text string) []Drum { l, _ := ledgerOf(text); return l.Drums() },
	"Periods": func(text string, r RuleSet) ([]Date, error) { l, _ := ledgerOf(text); return l.Periods(r) },
	"Statement": func(text string, day Date, r RuleSet) (string, error) {
		l, _ := ledgerOf(text)
		s, err := l.Statement(day, r)
		return s.String(), err
	},
	"StatementData": func(text string, day Date, r RuleSet) (Statement, error) {
		l, _ := ledgerOf(text)
		return l.Statement(day, r)
	},
	"ToDo": func(text string, r RuleSet, day Date) ([]string, error) {
		l, _ := ledgerOf(text)
		notices, err := l.ToDo(r, day)
		var said []string
		for _, n := range notices {
			said = append(said, n.String())
		}
		return said, err
	},
	"FillRule.LimitOf": func(l FillRule, d units.Density, at units.Temperature, capacity units.Volume, filled units.Temperature) (units.Volume, error) {
		f, err := drain.FuelAt(d, at)
		if err != nil {
			return units.Volume{}, err
		}
		return l.Limit(f, capacity, filled)
	},
}, Batch{}, Container{}, Date{}, Determination(0), Drum{}, Entry{}, Notice{}, Posting{}, RuleSet{}, Stream(0), Zone(""))

func TestFrozen(t *testing.T) { frozen.Test(t, "testdata/frozen.txt", frozenCalls) }
