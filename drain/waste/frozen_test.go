package waste

import (
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

var frozenCalls = frozen.Of(frozen.Calls{
	"ParseDate": ParseDate, "ParseRuleSet": ParseRuleSet,
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
