package main

import (
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/units"
)

// page is the office in one language.
type page struct {
	Title, Invented string
	Sections        []section
}

type section struct {
	Code, Title string
	Rows        []row
}

// row is one line, with what a table of it has in columns of its own.
type row struct {
	Code string
	By   waste.Date
	Drum string
	Mass drain.Estimate[units.MassUnit]
	Text string
	More bool // belongs to the row before
}

// orNone are the rows, or where there are none one that says so.
func orNone(w words, rows []row, none string) []row {
	if len(rows) == 0 {
		return []row{{Code: none, Text: w.say(none)}}
	}
	return rows
}

// mostFirst are the lines of what to do first: with the title, what says that it is invented, the head, two lines
// on what is further down and a blank on either side they are twelve.
const mostFirst = 5

// mostRows are those of one section of a page that may have any number; a table has all of them.
const mostRows = 50

func (o *office) page(w words, all bool) page {
	p := page{Title: w.say("title", "on", o.On)}
	if o.Invented {
		p.Invented = w.say("invented")
	}
	var todo, doubts []row
	doubted := 0
	for _, n := range o.ToDo {
		if strings.HasPrefix(n.Code, "doubt.") {
			if doubted++; doubted <= mostRows || all {
				doubts = append(doubts, o.notice(w, n))
			}
		} else {
			todo = append(todo, o.notice(w, n))
		}
	}
	n := 0
	for left := mostFirst; n < len(todo); n++ {
		if left -= len(lines(todo[n])); left < 0 {
			break
		}
	}
	first, rest := slices.Clone(todo[:n]), todo[n:]
	if len(todo)+len(doubts) == 0 {
		first = []row{{Code: "do.none", Text: w.say("do.none")}}
	}
	if len(rest) > 0 {
		first = append(first, row{Code: "do.more", Text: w.say("do.more", "n", len(rest))})
	}
	if doubted > 0 {
		first = append(first, row{Code: "do.doubts", Text: w.say("do.doubts", "n", doubted)})
	}
	add := func(code string, rows []row, values ...any) {
		if len(rows) > 0 {
			p.Sections = append(p.Sections, section{code, w.say("head/"+code, values...), rows})
		}
	}
	add("todo", first)
	add("tier", o.tier(w))
	add("counted", o.counted(w), "period", span(w, o.Period))
	add("changes", o.changes(w, all))
	add("hold", o.hold(w))
	add("drums", o.drums(w))
	add("shipments", o.shipments(w))
	add("rest", rest)
	add("doubts", o.andMore(w, doubts, doubted))
	add("periods", o.periods(w))
	add("rules", o.ruled(w))
	return p
}

// span is a period in words.
func span(w words, s waste.Statement) string {
	if s.First.Month == s.Last.Month && s.First.Year == s.Last.Year && s.First.Day == 1 && s.Last.AddDays(1).Day == 1 {
		return w.say(w.variant("period.month", int(s.First.Month)), "year", s.First.Year)
	}
	return w.say("period.span", "first", s.First, "last", s.Last)
}

// notice is a row of something to do, to ask or to look into.
func (o *office) notice(w words, n waste.Notice) row {
	r := row{Code: n.Code, By: n.By, Drum: n.Drum, Mass: n.Mass}
	code := n.Code
	if n.By != (waste.Date{}) {
		if code = w.variant(n.Code, "by"); n.By.Compare(o.On) < 0 {
			code = w.variant(n.Code, "late")
		}
	}
	values := []any{"drum", n.Drum, "by", n.By, "stream", n.Stream, "mass", n.Mass, "entered", n.Entered, "limit", n.Limit, "period", span(w, o.Period)}
	if n.Code == "ask.mixed" {
		at := slices.IndexFunc(o.Drums, func(d waste.Drum) bool { return d.Container.ID == n.Drum })
		values = append(values, "streams", w.streams(o.Drums[at].Contents))
	}
	if n.About != nil {
		values = append(values, o.posting(w, *n.About, "")...)
	}
	if n.Other != nil {
		values = append(values, o.posting(w, *n.Other, "other")...)
	}
	r.Text = w.say(code, values...)
	if n.About != nil && n.About.Row > 0 && strings.HasPrefix(n.Code, "doubt.") {
		r.Text = w.say("doubt.at", "doubt", r.Text, "place", o.where(n.About.Row))
	}
	return r
}

// posting are the values of one, their names behind a prefix.
func (o *office) posting(w words, p waste.Posting, prefix string) []any {
	about := map[string]string{"": "about", "other": "other"}[prefix]
	values := []any{prefix + "put", p.At.Format("2006-01-02"), prefix + "who", p.By}
	switch {
	case p.Entry != nil:
		e := p.Entry
		values = append(values, prefix+"job", e.Job, prefix+"line", e.Line, prefix+"revision", e.Revision, prefix+"date", e.Date, prefix+"what", e.Job,
			about, w.say("change.entry", "job", e.Job, "line", e.Line, "revision", e.Revision, "mass", e.Mass, "stream", e.Stream))
	case p.Withdrawal != nil:
		values = append(values, prefix+"job", p.Withdrawal.Job, prefix+"revision", p.Withdrawal.Revision, prefix+"what", p.Withdrawal.Job, about, p.Withdrawal.Job)
	case p.Drum != nil:
		e := p.Drum
		event := w.word("event", e.Event)
		values = append(values, prefix+"date", e.Date, prefix+"revision", e.Revision, prefix+"event", event, prefix+"what", e.Container.ID,
			about, w.say("change.event", "drum", e.Container.ID, "event", event, "date", e.Date))
	}
	return values
}

// tierOf writes a category out.
func (o *office) tierOf(w words, name string) string {
	c, err := o.rules.Category(name)
	if err != nil {
		return name
	}
	return w.say("tier.name", "title", c.Title, "name", c.Name)
}

func (o *office) tier(w words) []row {
	s := o.Period
	var rows []row
	switch values := []any{"period", span(w, s), "rules", s.Rules, "lowest", o.tierOf(w, s.Lowest), "highest", o.tierOf(w, s.Highest), "tier", o.tierOf(w, s.Lowest)}; {
	case s.Lowest == "":
		rows = []row{{Code: "tier.none", Text: w.say("tier.none", values...)}}
	case s.Lowest == s.Highest:
		rows = []row{{Code: "tier.one", Text: w.say("tier.one", values...)}}
	default:
		rows = []row{{Code: "tier.two", Text: w.say("tier.two", values...)}}
	}
	return append(rows,
		row{Code: "tier.counted", Mass: s.Hazardous, Text: w.say("tier.counted", "mass", total(w, s, waste.Hazardous))},
		row{Code: "tier.undetermined", Mass: s.Undetermined, Text: w.say("tier.undetermined", "mass", total(w, s, waste.Undetermined))},
		row{Code: "tier.other", Mass: s.NotCounted, Text: w.say("tier.other", "mass", total(w, s, waste.NotCounted))})
}

// total is that of a determination; that nothing was entered is something else than a mass of 0.
func total(w words, s waste.Statement, d waste.Determination) string {
	if !slices.ContainsFunc(s.Streams, func(t waste.StreamTotal) bool { return t.Determination == d }) {
		return w.say("tier.nothing")
	}
	return w.value(map[waste.Determination]drain.Estimate[units.MassUnit]{waste.Hazardous: s.Hazardous, waste.Undetermined: s.Undetermined, waste.NotCounted: s.NotCounted}[d])
}

func in(w words, labels []string) string {
	if len(labels) == 0 {
		return ""
	}
	return w.say("counted.in", "drums", labels)
}

func (o *office) counted(w words) []row {
	var rows []row
	for _, t := range o.Period.Streams {
		rows = append(rows, row{Code: "counted", Mass: t.Mass, Text: w.say("counted", "stream", t.Stream, "determination", t.Determination,
			"mass", t.Mass, "n", t.Entries, "in", in(w, t.Containers))})
	}
	rows = orNone(w, rows, "counted.nothing")
	return append(rows, row{Code: "read", Text: w.say("read", "n", o.Read, "again", o.Again)})
}

func (o *office) changes(w words, all bool) []row {
	var rows []row
	for _, c := range o.Changes {
		r := row{Code: c.Code, Drum: c.Drum}
		if c.About.Entry != nil {
			r.Mass = c.About.Entry.Mass
		}
		values := append(o.posting(w, *c.About, ""), o.posting(w, *c.Other, "other")...)
		r.Text = w.say(c.Code, append([]any{"revision", revisionOf(*c.Other)}, values...)...) // of the other
		rows = append(rows, r)
		if len(rows) == mostRows && !all {
			break
		}
	}
	rows = orNone(w, rows, "changes.none")
	return o.andMore(w, rows, len(o.Changes))
}

// andMore says how many rows of so many aren't there.
func (o *office) andMore(w words, rows []row, of int) []row {
	if n := of - len(rows); n > 0 {
		rows = append(rows, row{Code: "more", Text: w.say("more", "n", n)})
	}
	return rows
}

func revisionOf(p waste.Posting) int {
	switch {
	case p.Entry != nil:
		return p.Entry.Revision
	case p.Withdrawal != nil:
		return p.Withdrawal.Revision
	}
	return p.Drum.Revision
}

// hold is what is to be determined, of all periods, with the questions on it.
func (o *office) hold(w words) []row {
	var rows []row
	for _, n := range o.ToDo {
		if n.Code != "do.determine" {
			continue
		}
		var labels []string
		for _, d := range o.Drums {
			if slices.ContainsFunc(d.Contents, func(t waste.StreamTotal) bool { return t.Stream == n.Stream && t.Determination == waste.Undetermined }) {
				labels = append(labels, d.Container.ID)
			}
		}
		rows = append(rows, row{Code: "hold", By: n.By, Mass: n.Mass, Text: w.say("hold", "stream", n.Stream, "mass", n.Mass, "in", in(w, labels))})
		for _, text := range o.questions(n.Stream) {
			rows = append(rows, row{Code: "hold.question", Text: w.say("hold.question", "text", text), More: true})
		}
	}
	return orNone(w, rows, "hold.none")
}

// questions are those of the rules on a stream; the rules were checked with the statement.
func (o *office) questions(s waste.Stream) (texts []string) {
	asked, _ := o.rules.Ask(s)
	for _, q := range asked.Questions {
		texts = append(texts, q.Text)
	}
	return texts
}

func (o *office) drums(w words) []row {
	var rows []row
	for _, d := range o.Drums {
		if d.Shipped != (waste.Date{}) {
			continue
		}
		contents := w.streams(d.Contents)
		if contents == "" {
			contents = w.say("drum.empty")
		}
		days := d.Days(o.On)
		values := []any{"drum", d.Container.ID, "contents", contents, "mass", d.Mass, "opened", d.Opened, "days", days}
		if d.Room.From != 0 {
			values = append(values, "room", w.say("drum.room", "room", d.Room))
		}
		r := row{Code: "drum", Drum: d.Container.ID, Mass: d.Mass}
		for _, n := range o.ToDo {
			if n.Code == "do.ship" && n.Drum == d.Container.ID {
				r.By = n.By
				values = append(values, "last", w.say("drum.last", "last", n.By))
			}
		}
		switch {
		case d.Closed != (waste.Date{}):
			values = append(values, "state", w.say("drum.closed"))
		case d.Container.Satellite:
			values = append(values, "state", w.say("drum.satellite"))
		}
		code := w.variant("drum", days)
		if d.Opened == (waste.Date{}) {
			code = "drum/unopened"
		}
		r.Text = w.say(code, values...)
		rows = append(rows, r)
	}
	return orNone(w, rows, "drums.none")
}

func (o *office) shipments(w words) []row {
	var rows []row
	for _, s := range o.Shipments {
		code := "shipment"
		if s.Paper == "" {
			code = "shipment/none"
		}
		rows = append(rows, row{Code: "shipment", By: s.Date, Text: w.say(code, "date", s.Date, "paper", s.Paper)})
		line := func(n, containers int, quantity any, stream waste.Stream, mass drain.Estimate[units.MassUnit]) {
			rows = append(rows, row{Code: "ship.line", Drum: s.drums[n], Mass: mass, More: true, Text: w.say("ship.line", "n", containers, "kind", w.word("kind", s.kinds[n]),
				"quantity", quantity, "unit", w.word("unit", s.unit), "stream", stream, "drums", s.drums[n], "mass", mass)})
		}
		for n, l := range s.Form {
			line(n, l.Containers, l.Quantity, l.Stream, l.Mass)
		}
		for n, l := range s.Notes {
			line(n, l.Containers, l.Kilograms.Magnitude(), l.Stream, l.Mass)
		}
		for _, a := range s.NotOnIt {
			rows = append(rows, row{Code: a.Code, Drum: strings.Join(a.Drums, ", "), Mass: a.Mass, More: true,
				Text: w.say(a.Code, "drums", a.Drums, "stream", a.Stream, "mass", a.Mass, "unit", w.word("unit", s.unit))})
		}
	}
	return orNone(w, rows, "shipments.none")
}

func (o *office) periods(w words) []row {
	var rows []row
	for _, s := range o.Periods {
		code := "period"
		switch {
		case s.Lowest == "":
			code = "period/none"
		case s.Lowest != s.Highest:
			code = "period/two"
		}
		rows = append(rows, row{Code: "period", Mass: s.Hazardous, Text: w.say(code, "period", span(w, s), "lowest", s.Lowest, "highest", s.Highest, "mass", total(w, s, waste.Hazardous))})
	}
	return rows
}

func (o *office) ruled(w words) []row {
	rows := []row{{Code: "rules", Text: w.say("rules", "rules", o.Period.Rules, "asof", o.Period.RulesAsOf)}}
	for _, n := range o.Period.Notes {
		rows = append(rows, row{Code: "rules.note", Text: w.say("rules.note", "text", n.Text+" ("+n.Source.Cite+", "+w.word("grade", n.Source.Grade)+")")})
	}
	return append(rows, row{Code: "hash", Text: o.Period.RulesHash}, row{Code: "caveat", Text: w.say("caveat")})
}
