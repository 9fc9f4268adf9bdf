package waste

import (
	"cmp"
	"maps"
	"math/big"
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/units"
)

// Notice is something to do, to ask or to look into, or that a posting was replaced: a code, and what it is
// about. No words are in it; whoever prints it has a sentence for each code and each language. Its fields are
// filled in as far as they have to do with it.
//
// To do: "do.ship" a drum by a day, "do.move" by a day what is more than the satellite area may hold, "do.weigh" a drum,
// "do.weigh-estimates" of a period whose category they leave open, "do.determine" what a stream is,
// "do.reduce" what is on site, which may be more than the limit.
//
// To ask the site: "ask.mixed", whether the streams in a drum may be in it together; "ask.weights-differ", whether the
// scale is right or what was entered.
//
// To look into: "doubt.conflict", two entries for a line; "doubt.withdrawn-with-lines";
// "doubt.corrects-nothing", a posting of a revision above 0 without what it corrects; "doubt.before-its-day", a posting put down
// before the day it speaks of, and "doubt.clocks", one put down before what it corrects: a clock was wrong;
// of drums "doubt.never-opened", "doubt.before-opening", "doubt.after-closing", "doubt.no-tare", "doubt.below-tare",
// "doubt.overfull", "doubt.overweight", "doubt.shipped-undetermined", and
// "doubt.opened-twice" and so on for each event.
//
// Of [Ledger.Changes]: "change.replaced" by a higher revision, "change.dropped" by a higher revision that hasn't
// the line, "change.withdrawn", "change.conflict", outdone by another of the same revision.
type Notice struct {
	Code    string                         `json:"code"`
	By      Date                           `json:"by,omitzero"` // the last day
	Drum    string                         `json:"drum,omitempty"`
	Stream  Stream                         `json:"stream,omitzero"`
	Mass    drain.Estimate[units.MassUnit] `json:"mass,omitzero"`
	Entered drain.Estimate[units.MassUnit] `json:"entered,omitzero"` // what Mass differs from
	Limit   units.Mass                     `json:"limit,omitzero"`
	About   *Posting                       `json:"about,omitempty"`
	Other   *Posting                       `json:"other,omitempty"` // what took its place, or what it doesn't agree with
}

// String is the code and what it is about, for logs.
func (n Notice) String() string {
	text := n.Code
	if n.Drum != "" {
		text += " " + n.Drum
	}
	if n.Stream != 0 {
		text += " " + n.Stream.String()
	}
	if n.Mass.From != 0 {
		text += " " + n.Mass.String()
	}
	if n.By != (Date{}) {
		text += " by " + n.By.String()
	}
	if n.About != nil {
		text += ": " + n.About.String()
	}
	if n.Other != nil {
		text += "; " + n.Other.String()
	}
	return text
}

// Changes are the postings that don't count, and what took the place of each, by job and line and then by
// drum.
func (l *Ledger) Changes() []Notice {
	var all []Notice
	for _, name := range slices.Sorted(maps.Keys(l.jobs)) {
		all = append(all, l.changesOf(l.jobs[name])...)
	}
	for _, label := range slices.Sorted(maps.Keys(l.drums)) {
		events := l.drums[label]
		first := 0
		for n := 1; n < len(events); n++ {
			if !sameEvent(events[first], events[n]) {
				first = n
				continue
			}
			code := "change.replaced"
			if events[first].Drum.Revision == events[n].Drum.Revision {
				code = "change.conflict"
			} else if events[first].Drum.Withdrawn {
				code = "change.withdrawn"
			}
			about, other := events[n].own(), events[first].own()
			all = append(all, Notice{Code: code, Drum: label, About: &about, Other: &other})
		}
	}
	return all
}

func (l *Ledger) changesOf(j *job) (all []Notice) {
	counts := slices.Collect(l.counted(j))
	if len(counts) == len(j.lines) {
		return nil
	}
	for _, i := range j.lines {
		k := l.at(i)
		at, ok := slices.BinarySearchFunc(counts, k.line, func(c int32, line int16) int { return cmp.Compare(l.at(c).line, line) })
		if ok && counts[at] == i {
			continue
		}
		about := l.posting(i)
		notice := Notice{About: &about}
		switch {
		case len(counts) == 0:
			w := j.withdrawals[len(j.withdrawals)-1].own()
			notice.Code, notice.Other = "change.withdrawn", &w
		case ok && l.at(counts[at]).revision == k.revision:
			winner := l.posting(counts[at])
			notice.Code, notice.Other = "change.conflict", &winner
		case ok:
			winner := l.posting(counts[at])
			notice.Code, notice.Other = "change.replaced", &winner
		default:
			winner := l.posting(counts[0])
			notice.Code, notice.Other = "change.dropped", &winner
		}
		all = append(all, notice)
	}
	return all
}

// early reports whether a posting was put down before the day it speaks of, wherever on earth that day was.
func early(p Posting, day Date) bool {
	put, _ := DateIn(p.At, p.At.Location()) // no posting is of a year that has no dates
	return put.DaysUntil(day) > 1
}

// doubts are what can't be right in the entries.
func (l *Ledger) doubts() []Notice {
	var all []Notice
	for _, name := range slices.Sorted(maps.Keys(l.jobs)) {
		all = append(all, l.doubtsOf(l.jobs[name])...)
	}
	return all
}

func (l *Ledger) doubtsOf(j *job) (all []Notice) {
	say := func(code string, about Posting, other *Posting) {
		all = append(all, Notice{Code: code, About: &about, Other: other})
	}
	if p, revision := l.lowest(j); revision > 0 {
		say("doubt.corrects-nothing", p, nil)
	}
	if len(j.lines) == 0 {
		return all
	}
	all = append(all, l.clocks(j)...)
	top := l.at(j.lines[len(j.lines)-1]).revision
	winner := j.lines[0]
	for _, i := range j.lines {
		k := l.at(i)
		if p := l.posting(i); k.nanos < unpack(k.date).midnight().Unix()*1_000_000_000 && early(p, unpack(k.date)) {
			say("doubt.before-its-day", p, nil)
		}
		if l.ofLine(winner, k.revision, k.line) != 0 {
			winner = i
		} else if winner != i && k.revision == top {
			counts := l.posting(winner)
			say("doubt.conflict", l.posting(i), &counts)
		}
	}
	if n := len(j.withdrawals); n > 0 && j.withdrawals[n-1].Withdrawal.Revision == int(top) {
		line := l.posting(j.lines[len(j.lines)-1])
		say("doubt.withdrawn-with-lines", j.withdrawals[n-1].own(), &line)
	}
	return all
}

// lowest is what was put down of a job with the lowest revision, and that.
func (l *Ledger) lowest(j *job) (p Posting, revision int) {
	if len(j.lines) > 0 {
		p, revision = l.posting(j.lines[0]), int(l.at(j.lines[0]).revision)
	}
	if len(j.withdrawals) > 0 {
		if w := j.withdrawals[0]; len(j.lines) == 0 || w.Withdrawal.Revision < revision {
			p, revision = w.own(), w.Withdrawal.Revision
		}
	}
	return p, revision
}

// clocks finds a revision that was put down before a lower one.
func (l *Ledger) clocks(j *job) []Notice {
	latest := j.lines[0] // of the revisions before
	for n := 1; n < len(j.lines); n++ {
		k, last := l.at(j.lines[n]), l.at(latest)
		if k.revision > last.revision && k.nanos < last.nanos {
			about, other := l.posting(j.lines[n]), l.posting(latest)
			return []Notice{{Code: "doubt.clocks", About: &about, Other: &other}}
		}
		if k.nanos > last.nanos {
			latest = j.lines[n]
		}
	}
	if n := len(j.withdrawals); n > 0 {
		w, last := j.withdrawals[n-1].own(), l.posting(latest)
		if w.Withdrawal.Revision > last.Entry.Revision && w.At.Before(last.At) {
			return []Notice{{Code: "doubt.clocks", About: &w, Other: &last}}
		}
	}
	return nil
}

// ToDo is what the office has to do, ask and look into on a day: first what has a last day, the earliest
// first, then the rest by code. A drum's last day is that of the highest category of any period since it was opened, with
// all that is undetermined in it, and of the common time, not the longer one for a far way. Satellite areas
// are taken as one, and of what is in them liquids alone, since what solids fill isn't known.
//
// Errors: as [RuleSet.Check]; *Error (units.ErrRange) for a today that is no date, or totals past 10^24 kg.
func (l *Ledger) ToDo(rules RuleSet, today Date) ([]Notice, error) {
	if err := rules.Check(); err != nil {
		return nil, err
	}
	if !today.valid() {
		return nil, refuse("to do", "today", today.String(), "no day of the calendar", "a date", units.ErrRange)
	}
	o := office{rules: rules, today: today, highest: l.highest(rules), last: map[string]Date{}}
	drums := l.Drums()
	for i := range drums {
		o.drum(&drums[i])
	}
	if err := o.held(drums); err != nil {
		return nil, err
	}
	o.satellite(l, drums)
	if err := o.determine(l); err != nil {
		return nil, err
	}
	o.all = append(o.all, l.doubts()...)
	slices.SortStableFunc(o.all, func(a, b Notice) int {
		return cmp.Or(compareTruth(a.By == Date{}, b.By == Date{}), a.By.Compare(b.By), rank(a.Code)-rank(b.Code), strings.Compare(a.Drum, b.Drum))
	})
	return o.all, nil
}

// rank puts what is to do before what is to ask, and that before what is to look into.
func rank(code string) int {
	kind, _, _ := strings.Cut(code, ".")
	return slices.Index([]string{"do", "ask", "doubt"}, kind)
}

// office gathers what is to do.
type office struct {
	rules   RuleSet
	today   Date
	highest map[Date]int // the category of a period, by its first day
	last    map[string]Date
	all     []Notice
}

// highest is the category of every period in which something arose, if all that is undetermined turns out
// hazardous and the high ends are true.
func (l *Ledger) highest(rules RuleSet) map[Date]int {
	totals := map[Date]*sum[units.MassUnit]{}
	day, total := int32(-1), (*sum[units.MassUnit])(nil)
	for _, i := range l.byDay() {
		k := l.at(i)
		if k.determination == NotCounted {
			continue
		}
		if k.date != day {
			day = k.date
			first, _ := rules.Period.of(unpack(day))
			if total = totals[first]; total == nil {
				total = &sum[units.MassUnit]{}
				totals[first] = total
			}
		}
		total.add(k.high)
	}
	all := make(map[Date]int, len(totals))
	for first, total := range totals {
		all[first] = rules.category(total.rat())
	}
	return all
}

// lastDay is the last day on which a drum may be on site; the zero Date where the rules set none.
func (o *office) lastDay(started Date) Date {
	if len(o.rules.Categories) == 0 {
		return Date{}
	}
	category := 0
	for first, n := range o.highest {
		if _, last := o.rules.Period.of(first); last.Compare(started) >= 0 && first.Compare(o.today) <= 0 {
			category = max(category, n)
		}
	}
	last, _ := o.rules.OffSiteBy(o.rules.Categories[category].Name, started, false) // else no days are set, or no time runs
	return last
}

func (o *office) drum(d *Drum) {
	o.all = append(o.all, d.Notices...)
	if !d.onSite() {
		for _, t := range d.Contents {
			if t.Determination == Undetermined {
				o.all = append(o.all, Notice{Code: "doubt.shipped-undetermined", Drum: d.Container.ID, Stream: t.Stream, Mass: t.Mass})
			}
		}
		return
	}
	by := Date{}
	if d.holds(Hazardous) || d.holds(Undetermined) || len(d.Contents) == 0 {
		by = o.lastDay(d.Container.Started)
	}
	if o.last[d.Container.ID] = by; by != (Date{}) {
		o.all = append(o.all, Notice{Code: "do.ship", Drum: d.Container.ID, By: by})
	}
	if d.Closed != (Date{}) && d.Mass.From != drain.Weighed && d.Weighed.Compare(d.LastFill) < 0 {
		o.all = append(o.all, Notice{Code: "do.weigh", Drum: d.Container.ID, By: by, Mass: d.Mass})
	}
}

// held is what is on site against the limit of the category of the day.
func (o *office) held(drums []Drum) error {
	if len(o.rules.Categories) == 0 {
		return nil
	}
	var masses []drain.Estimate[units.MassUnit]
	for i := range drums {
		if d := &drums[i]; d.onSite() && (d.holds(Hazardous) || d.holds(Undetermined)) {
			masses = append(masses, d.Mass)
		}
	}
	total, err := drain.Sum(units.Kilogram, masses...)
	if err != nil {
		return err
	}
	first, _ := o.rules.Period.of(o.today)
	if c := o.rules.Categories[o.highest[first]]; !c.onSite(total) {
		o.all = append(o.all, Notice{Code: "do.reduce", Mass: total, Limit: c.OnSite})
	}
	return nil
}

// satellite says by when what is over the limit of the area has to be moved.
func (o *office) satellite(l *Ledger, drums []Drum) {
	if o.rules.Satellite.Days == 0 {
		return
	}
	area := map[int32]bool{}
	for i := range drums {
		if d := &drums[i]; d.Container.Satellite && d.onSite() {
			area[l.ids[d.Container.ID]] = true
		}
	}
	if len(area) == 0 {
		return
	}
	inside, limit := new(big.Rat), o.rules.Satellite.Limit.RatIn(units.Litre)
	for _, i := range l.byDay() {
		if !area[l.at(i).in] {
			continue
		}
		if inside.Add(inside, l.mostLitres(i)); inside.Cmp(limit) > 0 {
			last, _ := lastOf(o.rules.Satellite.Days, unpack(l.at(i).date)) // weekends and holidays are days too
			o.all = append(o.all, Notice{Code: "do.move", By: last})
			return
		}
	}
}

// determine asks for each stream of which something that counts is undetermined, by the day on which the first
// of it has to leave.
func (o *office) determine(l *Ledger) error {
	var totals [OtherWaste + 1]sums
	var by [OtherWaste + 1]Date
	for _, i := range l.byDay() {
		k := l.at(i)
		if k.determination != Undetermined {
			continue
		}
		totals[k.stream].add(k.mass())
		if last := o.last[l.texts[k.in]]; last != (Date{}) && (by[k.stream] == Date{} || last.Compare(by[k.stream]) < 0) {
			by[k.stream] = last
		}
	}
	for stream := range totals {
		if totals[stream].entries == 0 {
			continue
		}
		mass, err := totals[stream].exact().estimate()
		if err != nil {
			return err
		}
		o.all = append(o.all, Notice{Code: "do.determine", Stream: Stream(stream), Mass: mass, By: by[stream]})
	}
	return nil
}
