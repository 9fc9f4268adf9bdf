package waste

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"iter"
	"maps"
	"slices"
	"strings"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/misread"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// Ledger is what the services of one site generated, and what became of the drums it went into. It is a set
// of postings: the same posting twice is one, and neither the order in which they come nor how they are
// grouped changes an answer. So ledgers of two vans are merged by adding the postings of the one to the
// other, any number of times, and a ledger that is written and read again is the same.
//
// Of a job only the highest revision counts, with all its lines and none of the earlier ones'. Of two entries
// for one job, revision and line that differ the higher mass counts; lines count before a withdrawal of the
// same revision. Where everything but who and when is the same, the earlier posting is kept.
//
// It holds every posting in memory, an entry in about 160 bytes with four of them to a job. The zero Ledger is empty and
// ready. It is not for several goroutines at once, not even to read.
type Ledger struct {
	jobs   map[string]*job
	drums  map[string][]Posting // of a drum, sorted: what counts comes first of its event
	pages  [][]kept
	size   int32
	texts  []string         // labels of containers, and who put down what; the first is empty
	ids    map[string]int32 // where they are in texts
	names  []*job           // by number
	last   *job             // that was looked for last: a job's entries come together
	absent string           // the job that was looked for and isn't there
	recent [2]int32         // texts that were looked up last: who put down, and the container
	volume map[int32]volumeAt
	days   []int32 // what counts, by day; nil until somebody asks, and after something new
}

// kept is an entry, and who put it down when, without a pointer: a million of them cost the collector
// nothing.
type kept struct {
	low, best, high units.Mass
	nanos           int64 // since 1970
	zone            int32 // minutes east of UTC
	row             int32
	date            int32 // rising with the calendar
	revision        int32
	job, by, in     int32
	line            int16
	stream          Stream
	determination   Determination
	from            drain.Provenance
	measured        bool
}

type volumeAt struct {
	volume drain.Estimate[units.VolumeUnit]
	at     units.Temperature
}

type job struct {
	name        string
	number      int32
	lines       []int32   // entries by revision and line, what counts first
	withdrawals []Posting // by revision
}

const (
	pageSize   = 1 << 10
	maxOfJob   = 10_000 // postings of one job, of one drum
	maxForLine = 64     // entries that differ for one line of one revision
)

func pack(d Date) int32 { return int32(d.Year)<<9 | int32(d.Month)<<5 | int32(d.Day) }

func unpack(d int32) Date { return Date{int(d >> 9), time.Month(d >> 5 & 15), int(d & 31)} }

func (l *Ledger) at(i int32) *kept { return &l.pages[i/pageSize][i%pageSize] }

// Add enters a posting, and reports whether the ledger has something that it hadn't: a posting to append to
// the file. Whatever isn't refused is kept, also what no longer counts or contradicts another: [Ledger.ToDo]
// and [Ledger.Changes] say so. The posting isn't kept hold of.
//
// Errors: *Error (drain.ErrMissing, units.ErrRange, units.ErrSyntax), *drain.InputError for what is no
// posting; *Error (ErrConflict) for the 65th entry that differs from all others for its line, and for more
// than 10,000 postings of one job or drum. On an error the ledger is unchanged.
func (l *Ledger) Add(p Posting) (bool, error) {
	if p.Entry != nil {
		l.find(p.Entry.Job)
	}
	if err := p.check(l.known); err != nil {
		return false, err
	}
	if l.jobs == nil {
		*l = Ledger{jobs: map[string]*job{}, drums: map[string][]Posting{}, texts: []string{""}, ids: map[string]int32{"": 0}, volume: map[int32]volumeAt{}}
	}
	l.days = nil
	switch {
	case p.Drum != nil:
		return l.addDrum(p)
	case p.Withdrawal != nil:
		return l.addWithdrawal(p)
	}
	return l.addEntry(&p)
}

// known reports whether a text was found to be a label before.
func (l *Ledger) known(label string) bool {
	if label == "" || label == l.absent || l.jobs == nil {
		return false
	}
	if l.last != nil && l.last.name == label || l.texts[l.recent[0]] == label || l.texts[l.recent[1]] == label {
		return true
	}
	_, ok := l.ids[label]
	return ok || l.jobs[label] != nil
}

// id is the one copy of a label, looked for first at one of two places.
func (l *Ledger) id(label string, place int) int32 {
	if l.texts[l.recent[place]] == label {
		return l.recent[place]
	}
	id, ok := l.ids[label]
	if !ok {
		label, id = strings.Clone(label), int32(len(l.texts)) // it may be part of a long line, which would be kept alive
		l.texts = append(l.texts, label)
		l.ids[label] = id
	}
	l.recent[place] = id
	return id
}

// find looks for a job once, for all that then ask for it.
func (l *Ledger) find(name string) {
	if l.last == nil || l.last.name != name {
		l.last, l.absent = l.jobs[name], ""
		if l.last == nil {
			l.absent = name
		}
	}
}

// job is that of a name, if need be a new one.
func (l *Ledger) job(name string) *job {
	if l.find(name); l.last == nil {
		l.last, l.absent = &job{name: strings.Clone(name), number: int32(len(l.names)), lines: make([]int32, 0, 4)}, ""
		l.jobs[l.last.name] = l.last
		l.names = append(l.names, l.last)
	}
	return l.last
}

func tooMany(field, name string, most int) error {
	return refuse("posting", field, name, fmt.Sprintf("has more than %d that differ", most), "one, and corrections of it", ErrConflict)
}

func (l *Ledger) addEntry(p *Posting) (bool, error) {
	e := p.Entry
	_, zone := p.At.Zone()
	j := l.job(e.Job)
	if len(j.lines) >= maxOfJob {
		return false, tooMany("job", e.Job, maxOfJob)
	}
	k := kept{low: e.Mass.Low, best: e.Mass.Best, high: e.Mass.High, from: e.Mass.From, nanos: p.At.UnixNano(), zone: int32(zone / 60), row: int32(p.Row),
		date: pack(e.Date), revision: int32(e.Revision), line: int16(e.Line), stream: e.Stream, determination: e.Determination,
		job: j.number, by: l.id(p.By, 0), in: l.id(e.Container, 1), measured: given(e.Volume)}
	more := volumeAt{e.Volume, e.VolumeAt}
	at, end := len(j.lines), len(j.lines)
	if end > 0 && l.ofLine(j.lines[end-1], k.revision, k.line) >= 0 { // else it is the last
		at, _ = slices.BinarySearchFunc(j.lines, k, func(i int32, k kept) int { return l.ofLine(i, k.revision, k.line) })
		for end = at; end < len(j.lines) && l.ofLine(j.lines[end], k.revision, k.line) == 0; end++ {
		}
	}
	first := at
	for ; at < end; at++ {
		order := l.compare(&k, more, j.lines[at])
		if order == 0 {
			return l.earlier(j.lines[at], k, more), nil
		}
		if order < 0 {
			break
		}
	}
	if end-first >= maxForLine {
		return false, tooMany("job", e.Job, maxForLine)
	}
	if l.size%pageSize == 0 {
		l.pages = append(l.pages, make([]kept, pageSize))
	}
	*l.at(l.size) = k
	if k.measured {
		l.volume[l.size] = more
	}
	j.lines = slices.Insert(j.lines, at, l.size)
	l.size++
	return true, nil
}

// ofLine is how an entry's revision and line come to those given.
func (l *Ledger) ofLine(i, revision int32, line int16) int {
	k := l.at(i)
	return cmp.Or(cmp.Compare(k.revision, revision), cmp.Compare(k.line, line))
}

// compare orders two entries for one line by what they say, not by who said it when: what counts comes
// first, the higher mass, then what was determined to be hazardous. 0 means that they say the same.
func (l *Ledger) compare(k *kept, more volumeAt, i int32) int {
	o := l.at(i)
	order := cmp.Or(o.best.Compare(k.best), o.high.Compare(k.high), o.low.Compare(k.low),
		cmp.Compare(firmness(k.determination), firmness(o.determination)), cmp.Compare(k.stream, o.stream), cmp.Compare(k.date, o.date), cmp.Compare(k.from, o.from))
	if order == 0 && k.in != o.in {
		order = strings.Compare(l.texts[k.in], l.texts[o.in])
	}
	if order == 0 && (k.measured || o.measured) {
		order = more.compare(l.volume[i])
	}
	return order
}

// compare puts first what is larger, and what isn't known last.
func (v volumeAt) compare(w volumeAt) int {
	one, other := v.volume, w.volume
	return cmp.Or(other.Best.Compare(one.Best), other.High.Compare(one.High), other.Low.Compare(one.Low), cmp.Compare(other.From, one.From), w.at.Compare(v.at))
}

// firmness puts what counts first.
func firmness(d Determination) int { return [...]int{Undetermined: 1, Hazardous: 0, NotCounted: 2}[d] }

// earlier puts an entry in the place of another that says the same, if it was put down earlier, and reports
// whether it did. Of two at one time the name decides, then how the mass is written.
func (l *Ledger) earlier(i int32, k kept, more volumeAt) bool {
	o := l.at(i)
	order := cmp.Or(cmp.Compare(k.nanos, o.nanos), cmp.Compare(k.zone, o.zone), strings.Compare(l.texts[k.by], l.texts[o.by]))
	if order == 0 {
		order = strings.Compare(k.mass().String()+more.volume.String()+more.at.String(), o.mass().String()+l.volume[i].volume.String()+l.volume[i].at.String())
	}
	if order >= 0 {
		return false
	}
	*o = k
	if k.measured {
		l.volume[i] = more
	}
	return true
}

func (k *kept) mass() drain.Estimate[units.MassUnit] {
	return drain.Estimate[units.MassUnit]{Low: k.low, Best: k.best, High: k.high, From: k.from}
}

// entry is what is kept as it was given.
func (l *Ledger) entry(i int32) Entry {
	k := l.at(i)
	return Entry{Job: l.names[k.job].name, Revision: int(k.revision), Line: int(k.line), Date: unpack(k.date), Stream: k.stream,
		Determination: k.determination, Mass: k.mass(), Volume: l.volume[i].volume, VolumeAt: l.volume[i].at, Container: l.texts[k.in]}
}

func (l *Ledger) posting(i int32) Posting {
	k, e := l.at(i), l.entry(i)
	at := time.Date(1970, 1, 1, 0, 0, 0, 0, time.UTC).Add(time.Duration(k.nanos))
	if k.zone != 0 {
		at = at.In(time.FixedZone("", int(k.zone)*60))
	}
	return Posting{At: at, By: l.texts[k.by], Row: int(k.row), Entry: &e}
}

func (l *Ledger) addWithdrawal(p Posting) (bool, error) {
	w := *p.Withdrawal
	j := l.job(w.Job)
	if len(j.withdrawals) >= maxOfJob {
		return false, tooMany("job", w.Job, maxOfJob)
	}
	w.Job = j.name
	p.Withdrawal, p.By = &w, l.texts[l.id(p.By, 0)]
	at, found := slices.BinarySearchFunc(j.withdrawals, w.Revision, func(q Posting, n int) int { return q.Withdrawal.Revision - n })
	if !found {
		j.withdrawals = slices.Insert(j.withdrawals, at, p)
		return true, nil
	}
	return replaceLater(&j.withdrawals[at], p), nil
}

// replaceLater puts a posting in the place of one that says the same, if it was put down earlier.
func replaceLater(kept *Posting, p Posting) bool {
	_, one := p.At.Zone()
	_, other := kept.At.Zone()
	if cmp.Or(p.At.Compare(kept.At), cmp.Compare(one, other), strings.Compare(p.By, kept.By)) >= 0 {
		return false
	}
	*kept = p
	return true
}

func (l *Ledger) addDrum(p Posting) (bool, error) {
	e := *p.Drum
	e.Container.ID, e.Container.Kind, e.Paper, e.Event = l.texts[l.id(e.Container.ID, 1)], strings.Clone(e.Container.Kind), strings.Clone(e.Paper), strings.Clone(e.Event)
	p.Drum, p.By = &e, l.texts[l.id(p.By, 0)]
	all := l.drums[e.Container.ID]
	at, found := slices.BinarySearchFunc(all, p, compareEvents)
	if found {
		return replaceLater(&all[at], p), nil
	}
	if len(all) >= maxOfJob {
		return false, tooMany("drum", e.Container.ID, maxOfJob)
	}
	l.drums[e.Container.ID] = slices.Insert(all, at, p)
	return true, nil
}

// order is that of what happens to a drum.
var order = []string{opened, weighed, moved, closed, shipped}

// compareEvents orders what happened to one drum by event, for a weighing also by day, and puts first what
// counts: the highest revision,
// of these what happened before what didn't, the earliest day and the heaviest. 0 means that both say the same.
func compareEvents(p, q Posting) int {
	one, other := p.Drum, q.Drum
	result := cmp.Compare(slices.Index(order, one.Event), slices.Index(order, other.Event))
	if result == 0 && one.Event == weighed {
		result = one.Date.Compare(other.Date)
	}
	return cmp.Or(result, cmp.Compare(other.Revision, one.Revision), compareTruth(one.Withdrawn, other.Withdrawn), one.Date.Compare(other.Date), other.Gross.Best.Compare(one.Gross.Best),
		strings.Compare(one.rest(), other.rest()))
}

// compareTruth puts what is false first.
func compareTruth(one, other bool) int {
	switch {
	case one == other:
		return 0
	case other:
		return -1
	}
	return 1
}

// rest is all that is said, for comparing.
func (e *DrumEvent) rest() string {
	text, _ := json.Marshal(e) // what was checked can be written
	return string(text)
}

// Postings are all that was put down, in one order whatever the order in which it came: jobs by their number,
// their entries and withdrawals, then the drums by their label. Written line by line they are the ledger.
func (l *Ledger) Postings() iter.Seq[Posting] {
	return func(yield func(Posting) bool) {
		for _, name := range slices.Sorted(maps.Keys(l.jobs)) {
			j := l.jobs[name]
			for _, i := range j.lines {
				if !yield(l.posting(i)) {
					return
				}
			}
			for _, p := range j.withdrawals {
				if !yield(p.own()) {
					return
				}
			}
		}
		for _, label := range slices.Sorted(maps.Keys(l.drums)) {
			for _, p := range l.drums[label] {
				if !yield(p.own()) {
					return
				}
			}
		}
	}
}

// own is a posting that shares nothing with the ledger.
func (p Posting) own() Posting {
	if p.Withdrawal != nil {
		w := *p.Withdrawal
		p.Withdrawal = &w
	}
	if p.Drum != nil {
		e := *p.Drum
		p.Drum = &e
	}
	return p
}

// counted are the entries of a job that count: those of its highest revision, the first for each line;
// none where it was withdrawn.
func (l *Ledger) counted(j *job) iter.Seq[int32] {
	return func(yield func(int32) bool) {
		if len(j.lines) == 0 {
			return
		}
		top := l.at(j.lines[len(j.lines)-1]).revision
		if n := len(j.withdrawals); n > 0 && j.withdrawals[n-1].Withdrawal.Revision > int(top) {
			return
		}
		start := len(j.lines) - 1
		for start > 0 && l.at(j.lines[start-1]).revision == top {
			start--
		}
		for n, line := start, int16(0); n < len(j.lines); n++ {
			if k := l.at(j.lines[n]); k.line != line {
				line = k.line
				if !yield(j.lines[n]) {
					return
				}
			}
		}
	}
}

// byDay are all entries that count, the earliest day first.
func (l *Ledger) byDay() []int32 {
	if l.days == nil {
		keys := make([]uint64, 0, l.size)
		for _, j := range l.names {
			for i := range l.counted(j) {
				keys = append(keys, uint64(l.at(i).date)<<32|uint64(i))
			}
		}
		slices.Sort(keys)
		l.days = make([]int32, len(keys))
		for n, key := range keys {
			l.days[n] = int32(key)
		}
	}
	return l.days
}

// between are the entries that count of some days.
func (l *Ledger) between(first, last Date) []int32 {
	all := l.byDay()
	start, _ := slices.BinarySearchFunc(all, pack(first), func(i, day int32) int { return cmp.Compare(l.at(i).date, day) })
	end, _ := slices.BinarySearchFunc(all, pack(last)+1, func(i, day int32) int { return cmp.Compare(l.at(i).date, day) })
	return all[start:end]
}

// Entries are those that count, by job and line.
func (l *Ledger) Entries() iter.Seq[Entry] {
	return func(yield func(Entry) bool) {
		for _, name := range slices.Sorted(maps.Keys(l.jobs)) {
			for i := range l.counted(l.jobs[name]) {
				if !yield(l.entry(i)) {
					return
				}
			}
		}
	}
}

// MarshalText writes the postings in their order, each as a line of JSON. An empty ledger is no line. JSON has it as
// a string; to write a ledger to a file, write its [Ledger.Postings] a line each.
//
// Errors: none for what [Ledger.Add] took.
func (l Ledger) MarshalText() ([]byte, error) {
	var b bytes.Buffer
	for p := range l.Postings() {
		line, err := p.MarshalJSON()
		if err != nil {
			return nil, err
		}
		b.Write(line)
		b.WriteByte('\n')
	}
	return b.Bytes(), nil
}

// UnmarshalText reads lines of postings in any order, as they are appended to a file or to one another. On an
// error l stays as it was.
//
// Errors: *Error with the line, wrapping what is wrong with it.
func (l *Ledger) UnmarshalText(text []byte) error {
	var read Ledger
	row := 0
	for line := range bytes.Lines(text) {
		row++
		var p Posting
		err := p.UnmarshalJSON(line)
		if err == nil {
			p.Row = row
			_, err = read.Add(p)
		}
		if err != nil {
			return fmt.Errorf("ledger: line %d: %w", row, err)
		}
	}
	*l = read
	return nil
}

// MarshalBinary is MarshalText, for gob.
func (l Ledger) MarshalBinary() ([]byte, error) { return l.MarshalText() }

// UnmarshalBinary is UnmarshalText, for gob.
func (l *Ledger) UnmarshalBinary(text []byte) error { return l.UnmarshalText(text) }

// UnmarshalJSON reads a string as UnmarshalText does; null and all else are refused.
func (l *Ledger) UnmarshalJSON(data []byte) error {
	var text *string
	if err := json.Unmarshal(data, &text); err != nil || text == nil {
		return misread.NotText("ledger", "a string of lines, each a posting")(plain.Cut(string(data[:min(len(data), 64)])), "not a JSON string")
	}
	return l.UnmarshalText([]byte(*text))
}
