package waste

import (
	"cmp"
	"fmt"
	"maps"
	"math/big"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste/internal/paper"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// Entry is one waste that one service generated.
type Entry struct {
	Job           string // the job sheet's number: at most 64 bytes
	Revision      int    // of the job sheet, from 0; the highest counts, alone
	Line          int    // on the job sheet, 1 to 999
	Date          Date   // the day on which the waste arose, in the site's zone
	Stream        Stream
	Determination Determination
	Mass          drain.Estimate[units.MassUnit] // wet, as it is: see [drain.WetMass] and [Container.Net]
	Container     string                         // the label of what it was put into, at most 64 bytes; may be empty
}

// Limits of an entry. They keep a slip of the pen from becoming a month.
const (
	maxLabel    = 64 // of a job, of a container
	maxLines    = 999
	maxRevision = 1_000_000
)

// Check says what is wrong with an entry; nil where nothing is.
//
// Errors: *Error (drain.ErrMissing, units.ErrRange, units.ErrSyntax); *drain.InputError for a mass that
// is no estimate.
func (e Entry) Check() error {
	if err := checkJob(e.Job, e.Revision); err != nil {
		return err
	}
	switch {
	case e.Line < 1 || e.Line > maxLines:
		return refuse("entry", "line", strconv.Itoa(e.Line), "out of range", "1 to 999", units.ErrRange)
	case !e.Date.valid():
		return refuse("entry", "date", e.Date.String(), "no day of the calendar", "the day the waste arose", units.ErrRange)
	case !streams.Has(e.Stream):
		return refuse("entry", "stream", e.Stream.String(), "none given", "one of the streams", drain.ErrMissing)
	case !determinations.Has(e.Determination):
		return refuse("entry", "determination", e.Determination.String(), "none of the constants", "undetermined, hazardous or not counted", units.ErrRange)
	}
	if e.Container != "" {
		if err := checkLabel("entry", "container", e.Container); err != nil {
			return err
		}
	}
	return check("entry", "mass", e.Mass)
}

func checkJob(job string, revision int) error {
	if err := checkLabel("entry", "job", job); err != nil {
		return err
	}
	if revision < 0 || revision > maxRevision {
		return refuse("entry", "revision", strconv.Itoa(revision), "out of range", "0 to 1,000,000", units.ErrRange)
	}
	return nil
}

func checkLabel(what, field, label string) error {
	switch {
	case len(label) > maxLabel:
		return refuse(what, field, label, "longer than 64 bytes", "a shorter one", units.ErrRange)
	case plain.Blank(label) || strings.TrimSpace(label) != label:
		return refuse(what, field, label, "nothing there, or blanks around it", "a number or a name", drain.ErrMissing)
	case strings.ContainsFunc(label, func(r rune) bool { return r != ' ' && plain.IsBlank(r) }):
		return refuse(what, field, label, "a blank other than the space: two labels would look alike", "the space", units.ErrSyntax)
	}
	return seen(what, field, label)
}

// same reports whether two entries say the same, however they write it.
func (e Entry) same(f Entry) bool {
	return e.Job == f.Job && e.Revision == f.Revision && e.Line == f.Line && e.Date == f.Date &&
		e.Stream == f.Stream && e.Determination == f.Determination && e.Mass.From == f.Mass.From && e.Container == f.Container &&
		e.Mass.Low.Equal(f.Mass.Low) && e.Mass.Best.Equal(f.Mass.Best) && e.Mass.High.Equal(f.Mass.High)
}

// Ledger is what the services of one site generated. The same entry twice counts once; of a job
// only the highest revision counts, with all its lines and none of the earlier ones'. Neither the
// order in which entries come nor how they are grouped changes an answer.
//
// It holds the current entries in memory, by job and sorted by line, and drops what is
// superseded: memory grows with the jobs, not with how often they are sent. The zero Ledger is
// empty and ready. It is not for several goroutines at once.
type Ledger struct {
	jobs   map[string]*job
	labels map[string]string // one copy of every container's label
}

type job struct {
	revision  int
	withdrawn bool
	entries   []Entry // by line
}

// Add enters one waste. An entry of an earlier revision than the ledger's is passed over: it was
// superseded, and isn't compared with anything.
//
// Errors: as [Entry.Check]; *Error (ErrConflict) where the same job, revision and line is already
// there with other contents, or the revision was withdrawn. On an error the ledger is unchanged.
func (l *Ledger) Add(e Entry) error {
	if err := e.Check(); err != nil {
		return err
	}
	return l.add(e)
}

func (l *Ledger) add(e Entry) error {
	j := l.jobs[e.Job]
	if j != nil && e.Revision < j.revision {
		return nil
	}
	if j == nil || e.Revision > j.revision {
		j = l.open(e.Job, e.Revision)
	}
	if j.withdrawn {
		return refuse("entry", "job", e.Job, "revision "+strconv.Itoa(e.Revision)+" was withdrawn", "a higher revision", ErrConflict)
	}
	at, found := slices.BinarySearchFunc(j.entries, e.Line, func(f Entry, line int) int { return f.Line - line })
	if !found {
		e.Job, e.Container = l.name(j, e.Job), l.label(e.Container)
		j.entries = slices.Insert(j.entries, at, e)
		return nil
	}
	if !j.entries[at].same(e) {
		return refuse("entry", "job", e.Job, fmt.Sprintf("line %d of revision %d is already there with other contents", e.Line, e.Revision),
			"the same contents, or a higher revision", ErrConflict)
	}
	return nil
}

// open makes the job's record empty at a revision.
func (l *Ledger) open(name string, revision int) *job {
	if l.jobs == nil {
		l.jobs = make(map[string]*job)
	}
	j := l.jobs[name]
	if j == nil {
		j = &job{}
		l.jobs[strings.Clone(name)] = j // a part of a long line would keep the line alive
	}
	*j = job{revision: revision}
	return j
}

// name is a copy of the job's number that the job's entries share.
func (l *Ledger) name(j *job, given string) string {
	if len(j.entries) > 0 {
		return j.entries[0].Job
	}
	return strings.Clone(given)
}

// label is the one copy of a container's label.
func (l *Ledger) label(given string) string {
	if given == "" {
		return ""
	}
	kept, ok := l.labels[given]
	if !ok {
		if l.labels == nil {
			l.labels = make(map[string]string)
		}
		kept = strings.Clone(given)
		l.labels[kept] = kept
	}
	return kept
}

// Withdraw enters a revision that has no lines: the service didn't take place. What earlier
// revisions said no longer counts.
//
// Errors: as [Entry.Check] for the job and the revision; *Error (ErrConflict) where that revision
// has lines.
func (l *Ledger) Withdraw(name string, revision int) error {
	if err := checkJob(name, revision); err != nil {
		return err
	}
	return l.withdraw(name, revision)
}

func (l *Ledger) withdraw(name string, revision int) error {
	j := l.jobs[name]
	switch {
	case j != nil && revision < j.revision:
		return nil
	case j == nil || revision > j.revision:
		l.open(name, revision).withdrawn = true
	case !j.withdrawn:
		return refuse("entry", "job", name, "revision "+strconv.Itoa(revision)+" has lines", "a higher revision", ErrConflict)
	}
	return nil
}

// Merge enters all that another ledger holds.
//
// Errors: *Error (ErrConflict) as [Ledger.Add]; l is then unchanged.
func (l *Ledger) Merge(other *Ledger) error {
	for _, dry := range [...]bool{true, false} { // look first, so that nothing is half merged
		for name, theirs := range other.jobs {
			if err := l.mergeJob(name, theirs, dry); err != nil {
				return err
			}
		}
	}
	return nil
}

func (l *Ledger) mergeJob(name string, theirs *job, dry bool) error {
	target := l
	if dry {
		target = &Ledger{}
		if ours := l.jobs[name]; ours != nil {
			target.jobs = map[string]*job{name: {ours.revision, ours.withdrawn, slices.Clone(ours.entries)}}
		}
	}
	if theirs.withdrawn {
		return target.withdraw(name, theirs.revision)
	}
	for _, e := range theirs.entries {
		if err := target.add(e); err != nil {
			return err
		}
	}
	return nil
}

// Entries lists what counts, by job and line.
func (l *Ledger) Entries() []Entry {
	var all []Entry
	for _, j := range l.jobs {
		all = append(all, j.entries...)
	}
	slices.SortFunc(all, func(a, b Entry) int {
		if order := strings.Compare(a.Job, b.Job); order != 0 {
			return order
		}
		return a.Line - b.Line
	})
	return all
}

// Months lists the first days of the calendar months in which something arose, in order.
func (l *Ledger) Months() []Date {
	seen := map[Date]bool{}
	for _, j := range l.jobs {
		for _, e := range j.entries {
			seen[Date{e.Date.Year, e.Date.Month, 1}] = true
		}
	}
	months := make([]Date, 0, len(seen))
	for month := range seen {
		months = append(months, month)
	}
	slices.SortFunc(months, Date.Compare)
	return months
}

// sum adds kilograms exactly: in a quantity while 34 digits hold it, the rest as a fraction.
type sum struct {
	short units.Mass // zero value: 0 kg
	rest  *big.Rat
}

func (s *sum) add(m units.Mass) {
	if total, exact := s.short.Add(m); exact {
		s.short = total
		return
	}
	if s.rest == nil {
		s.rest = new(big.Rat)
	}
	s.rest.Add(s.rest, m.RatIn(units.Kilogram))
}

func (s *sum) rat() *big.Rat {
	x := s.short.RatIn(units.Kilogram)
	if s.rest != nil {
		x.Add(x, s.rest)
	}
	return x
}

// sums are an estimate's three, and how many entries made them.
type sums struct {
	low, best, high sum
	from            drain.Provenance
	entries         int
	containers      map[string]bool
}

func (s *sums) add(e Entry) {
	if e.Container != "" {
		if s.containers == nil {
			s.containers = make(map[string]bool)
		}
		s.containers[e.Container] = true
	}
	s.low.add(e.Mass.Low)
	s.best.add(e.Mass.Best)
	s.high.add(e.Mass.High)
	s.count(1, e.Mass.From)
}

// count keeps the weakest provenance: a total is no firmer than its weakest part.
func (s *sums) count(entries int, from drain.Provenance) {
	if entries == 0 {
		return
	}
	if s.entries == 0 {
		s.from = from
	}
	s.from = drain.Weakest(s.from, from)
	s.entries += entries
}

// exact is a total before any rounding; decisions are taken on it.
type exact struct {
	low, best, high *big.Rat
	from            drain.Provenance
}

func (s *sums) exact() exact {
	from := s.from
	if s.entries == 0 {
		from = drain.Measured // nothing was there to be seen
	}
	return exact{s.low.rat(), s.best.rat(), s.high.rat(), from}
}

func (x exact) estimate() (drain.Estimate[units.MassUnit], error) {
	return kilograms(x.low, x.best, x.high, x.from)
}

// merge adds other totals, still exactly.
func (s *sums) merge(t *sums) {
	for _, pair := range [...]struct{ into, from *sum }{{&s.low, &t.low}, {&s.best, &t.best}, {&s.high, &t.high}} {
		pair.into.add(pair.from.short)
		if pair.from.rest != nil {
			if pair.into.rest == nil {
				pair.into.rest = new(big.Rat)
			}
			pair.into.rest.Add(pair.into.rest, pair.from.rest)
		}
	}
	s.count(t.entries, t.from)
}

// StreamTotal is what one stream under one determination came to in the month.
type StreamTotal struct {
	Stream        Stream                         `json:"stream"`
	Determination Determination                  `json:"determination"`
	Entries       int                            `json:"entries"`
	Mass          drain.Estimate[units.MassUnit] `json:"mass"`
	Containers    []string                       `json:"containers,omitempty"` // the labels, sorted
}

// Statement is a month under a rule set. The totals are of what was generated, in kilograms, and
// exact wherever 34 digits hold them; the decisions are taken on the exact totals in any case.
type Statement struct {
	Year      int        `json:"year"`
	Month     time.Month `json:"month"`
	Rules     string     `json:"rules"`
	RulesAsOf Date       `json:"rulesAsOf"`
	RulesHash string     `json:"rulesHash"`

	Streams      []StreamTotal                  `json:"streams,omitempty"` // by stream and determination
	Hazardous    drain.Estimate[units.MassUnit] `json:"hazardous"`         // determined so: this counts
	Undetermined drain.Estimate[units.MassUnit] `json:"undetermined"`      // this may
	NotCounted   drain.Estimate[units.MassUnit] `json:"notCounted"`

	// Lowest is the category if nothing undetermined turns out hazardous and the low ends are
	// true; Highest if all does and the high ends are. Both are empty where the set has no
	// categories.
	Lowest  string `json:"lowest,omitempty"`
	Highest string `json:"highest,omitempty"`
	// ToDo is what is left to determine and, where an estimate lies on both sides of a limit, to
	// weigh. Also containers that more than one of the streams went into.
	ToDo   []string `json:"toDo,omitempty"`
	Notes  []Remark `json:"notes,omitempty"`
	Caveat string   `json:"caveat"`
}

// Decided reports whether the category is known: there is one, and it is the same at both ends.
func (s Statement) Decided() bool { return s.Lowest != "" && s.Lowest == s.Highest }

// Statement adds up a calendar month and judges it by a rule set. Only what was determined to be
// hazardous counts; what is undetermined makes the answer "either", with what to determine.
//
// Errors: as [RuleSet.Check]; *Error (units.ErrRange) for a month that is none, or totals past
// 10^24 kg.
func (l *Ledger) Statement(year int, month time.Month, rules RuleSet) (Statement, error) {
	if !(Date{year, month, 1}).valid() {
		return Statement{}, refuse("statement", "month", fmt.Sprintf("%d-%02d", year, int(month)), "no month of the calendar", "such as 2026-03", units.ErrRange)
	}
	hash, err := rules.Hash()
	if err != nil {
		return Statement{}, err
	}
	s := Statement{Year: year, Month: month, Rules: rules.Name, RulesAsOf: rules.AsOf, RulesHash: hash,
		Notes: slices.Clone(rules.Notes), Caveat: Caveat}
	var cells [OtherWaste + 1][NotCounted + 1]sums
	for _, j := range l.jobs {
		for _, e := range j.entries {
			if e.Date.Year == year && e.Date.Month == month {
				cells[e.Stream][e.Determination].add(e)
			}
		}
	}
	var totals [NotCounted + 1]sums
	for stream := range cells {
		for d := range cells[stream] {
			cell := &cells[stream][d]
			if cell.entries == 0 {
				continue
			}
			totals[d].merge(cell)
			mass, err := cell.exact().estimate()
			if err != nil {
				return Statement{}, err
			}
			s.Streams = append(s.Streams, StreamTotal{Stream(stream), Determination(d), cell.entries, mass,
				slices.Sorted(maps.Keys(cell.containers))})
		}
	}
	hazardous, undetermined, notCounted := totals[Hazardous].exact(), totals[Undetermined].exact(), totals[NotCounted].exact()
	var err1, err2, err3 error
	s.Hazardous, err1 = hazardous.estimate()
	s.Undetermined, err2 = undetermined.estimate()
	s.NotCounted, err3 = notCounted.estimate()
	if err := cmp.Or(err1, err2, err3); err != nil {
		return Statement{}, err
	}
	s.judge(rules, hazardous, undetermined)
	s.findMixed()
	return s, nil
}

// judge finds the categories at both ends, and what is left to do. What is undetermined is to be
// determined even where it can't change the category.
func (s *Statement) judge(rules RuleSet, hazardous, undetermined exact) {
	for _, t := range s.Streams {
		if t.Determination == Undetermined {
			s.ToDo = append(s.ToDo, "determine whether this is hazardous waste: "+t.Stream.String()+", "+paper.Spread(t.Mass))
		}
	}
	if len(rules.Categories) == 0 {
		return
	}
	least, most := rules.categoryOf(hazardous.low), rules.categoryOf(hazardous.high)
	s.Lowest = least.Name
	s.Highest = rules.categoryOf(new(big.Rat).Add(hazardous.high, undetermined.high)).Name
	if least.Name != most.Name {
		s.ToDo = append(s.ToDo, "weigh what was estimated: the determined hazardous waste, "+paper.Spread(s.Hazardous)+", lies on both sides of "+least.UpTo.String())
	}
}

// findMixed names the containers that would stand on more than one line of a paper.
func (s *Statement) findMixed() {
	in := map[string]int{}
	for _, t := range s.Streams {
		for _, label := range t.Containers {
			in[label]++
		}
	}
	for _, label := range slices.Sorted(maps.Keys(in)) {
		if in[label] > 1 {
			s.ToDo = append(s.ToDo, "look into "+label+": more than one of these went into it, and a mixture is a waste of its own to determine")
		}
	}
}

// categoryOf finds the category of a month's kilograms. The last category is open, so there is
// always one.
func (r RuleSet) categoryOf(kg *big.Rat) Category {
	for _, c := range r.Categories {
		order := -1
		if !c.Open {
			order = kg.Cmp(c.UpTo.RatIn(units.Kilogram))
		}
		if order < 0 || order == 0 && c.Including {
			return c
		}
	}
	return Category{}
}

// CategoryOf is the category of a calendar month's mass of hazardous waste, exactly: 100 kg is the
// first of the US federal set's, a milligram more the second.
//
// Errors: as [RuleSet.Check]; *Error: ErrNotCovered where the set has no categories, units.ErrRange
// below zero.
func (r RuleSet) CategoryOf(month units.Mass) (Category, error) {
	if err := r.Check(); err != nil {
		return Category{}, err
	}
	if !month.Valid() || month.Sign() < 0 {
		return Category{}, refuse("category", "mass", month.String(), "no mass", "zero or more", units.ErrRange)
	}
	if len(r.Categories) == 0 {
		return Category{}, refuse("category", "", "", r.Name+" has none", "a rule set that has categories", ErrNotCovered)
	}
	return r.categoryOf(month.RatIn(units.Kilogram)), nil
}

// Batches are the month's streams as the papers take them, the undetermined ones included, without
// containers and waste codes: those are the generator's to add.
func (s Statement) Batches() []Batch {
	batches := make([]Batch, 0, len(s.Streams))
	for _, t := range s.Streams {
		batches = append(batches, Batch{Description: t.Stream.String() + " (" + t.Determination.String() + ")", Stream: t.Stream, Mass: t.Mass})
	}
	return batches
}

// String is the statement for reading, to the gram, and ends with the [Caveat].
func (s Statement) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Generated in %04d-%02d, under %s as of %s\n  rules %s\n", s.Year, int(s.Month), s.Rules, s.RulesAsOf, s.RulesHash)
	for _, t := range s.Streams {
		fmt.Fprintf(&b, "  %-15s %-12s entries %d, %s%s\n", t.Stream, t.Determination, t.Entries, paper.Spread(t.Mass), t.in())
	}
	fmt.Fprintf(&b, "Hazardous as determined: %s\n", s.total(Hazardous, s.Hazardous))
	fmt.Fprintf(&b, "Undetermined: %s\n", s.total(Undetermined, s.Undetermined))
	fmt.Fprintf(&b, "Not counted, as determined by the generator: %s\n", s.total(NotCounted, s.NotCounted))
	switch {
	case s.Lowest == "":
		fmt.Fprintf(&b, "Generator category: none under %s\n", s.Rules)
	case s.Decided():
		fmt.Fprintf(&b, "By what is entered here, under %s, generator category: %s\n", s.Rules, s.Lowest)
	default:
		fmt.Fprintf(&b, "By what is entered here, under %s, generator category: undecided, from %s to %s\n", s.Rules, s.Lowest, s.Highest)
	}
	for _, todo := range s.ToDo {
		fmt.Fprintf(&b, "  to do: %s\n", todo)
	}
	for _, n := range s.Notes {
		fmt.Fprintf(&b, "  note: %s (%s)\n", n.Text, n.Source)
	}
	b.WriteString(Caveat)
	return b.String()
}

// total writes a total for reading; that nothing was entered is something else than a mass of 0.
func (s Statement) total(d Determination, m drain.Estimate[units.MassUnit]) string {
	if slices.ContainsFunc(s.Streams, func(t StreamTotal) bool { return t.Determination == d }) {
		return paper.Spread(m)
	}
	return "nothing entered"
}

// in names the containers, or counts them where they are many.
func (t StreamTotal) in() string {
	switch n := len(t.Containers); {
	case n == 0:
		return ""
	case n > 6:
		return fmt.Sprintf(", in %d containers", n)
	}
	return ", in " + strings.Join(t.Containers, ", ")
}

// MarshalJSON is always an error: the entries are what to store. A new ledger takes them in any order.
//
// Errors: *Error (units.ErrSyntax).
func (l Ledger) MarshalJSON() ([]byte, error) {
	return nil, refuse("ledger", "", "", "isn't stored as a whole", "its entries", units.ErrSyntax)
}
