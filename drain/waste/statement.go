package waste

import (
	"cmp"
	"fmt"
	"maps"
	"math/big"
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste/internal/paper"
	"example.com/snugturn/units"
)

// sum adds exactly: in a quantity while 34 digits hold it, the rest as a fraction, both in the first unit of its
// kind, kg or m³.
type sum[U units.Unit] struct {
	short units.Quantity[U]
	rest  *big.Rat
}

func (s *sum[U]) add(m units.Quantity[U]) {
	if total, exact := s.short.Add(m); exact {
		s.short = total
		return
	}
	if s.rest == nil {
		s.rest = new(big.Rat)
	}
	s.rest.Add(s.rest, m.RatIn(s.short.Unit()))
}

func (s *sum[U]) rat() *big.Rat {
	x := s.short.RatIn(s.short.Unit())
	if s.rest != nil {
		x.Add(x, s.rest)
	}
	return x
}

// sums are an estimate's three, and how many entries made them.
type sums struct {
	low, best, high sum[units.MassUnit]
	from            drain.Provenance
	entries         int
}

func (s *sums) add(mass drain.Estimate[units.MassUnit]) {
	s.low.add(mass.Low)
	s.best.add(mass.Best)
	s.high.add(mass.High)
	s.count(1, mass.From)
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
	for _, pair := range [...]struct{ into, from *sum[units.MassUnit] }{{&s.low, &t.low}, {&s.best, &t.best}, {&s.high, &t.high}} {
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

// StreamTotal is what one stream under one determination came to, in a period or in a drum.
type StreamTotal struct {
	Stream        Stream                         `json:"stream"`
	Determination Determination                  `json:"determination"`
	Entries       int                            `json:"entries"`
	Mass          drain.Estimate[units.MassUnit] `json:"mass"`
	Containers    []string                       `json:"containers,omitempty"` // the labels, sorted
}

// cells are totals by stream and determination, and the containers they went into.
type cells struct {
	sums [OtherWaste + 1][NotCounted + 1]sums
	in   [OtherWaste + 1][NotCounted + 1]map[int32]bool
}

func (c *cells) add(k *kept) {
	c.sums[k.stream][k.determination].add(k.mass())
	in := &c.in[k.stream][k.determination]
	if *in == nil {
		*in = map[int32]bool{}
	}
	(*in)[k.in] = true
}

func (c *cells) totals(texts []string) (all []StreamTotal, err error) {
	for stream := range c.sums {
		for d := range c.sums[stream] {
			cell := &c.sums[stream][d]
			if cell.entries == 0 {
				continue
			}
			mass, err := cell.exact().estimate()
			if err != nil {
				return nil, err
			}
			total := StreamTotal{Stream: Stream(stream), Determination: Determination(d), Entries: cell.entries, Mass: mass}
			for id := range c.in[stream][d] {
				if id != 0 {
					total.Containers = append(total.Containers, texts[id])
				}
			}
			slices.Sort(total.Containers)
			all = append(all, total)
		}
	}
	return all, nil
}

// Statement is a period, for most rule sets a calendar month, under a rule set. The totals are of what was
// generated, in kilograms, and exact wherever 34 digits hold them; the decisions are taken on the exact
// totals in any case.
type Statement struct {
	First     Date   `json:"first"`
	Last      Date   `json:"last"`
	Rules     string `json:"rules"`
	RulesAsOf Date   `json:"rulesAsOf"`
	RulesHash string `json:"rulesHash"`

	Streams      []StreamTotal                  `json:"streams,omitempty"` // by stream and determination
	Hazardous    drain.Estimate[units.MassUnit] `json:"hazardous"`         // determined so: this counts
	Undetermined drain.Estimate[units.MassUnit] `json:"undetermined"`      // this may
	NotCounted   drain.Estimate[units.MassUnit] `json:"notCounted"`

	// Lowest is the category if nothing undetermined turns out hazardous and the low ends are
	// true; Highest if all does and the high ends are. Where both are the same the category is known. Both are
	// empty where the set has no categories.
	Lowest  string `json:"lowest,omitempty"`
	Highest string `json:"highest,omitempty"`
	// ToDo is what is left to determine and, where an estimate lies on both sides of a limit, to weigh. Also
	// containers that more than one of the streams went into.
	ToDo   []Notice `json:"toDo,omitempty"`
	Notes  []Remark `json:"notes,omitempty"`
	Caveat string   `json:"caveat"`
}

// Periods lists the first days of the periods of a rule set in which something arose, in order.
//
// Errors: as [RuleSet.Check].
func (l *Ledger) Periods(rules RuleSet) ([]Date, error) {
	if err := rules.Check(); err != nil {
		return nil, err
	}
	var firsts []Date
	day := int32(-1)
	for _, i := range l.byDay() {
		if k := l.at(i); k.date != day {
			day = k.date
			if first, _ := rules.Period.of(unpack(day)); len(firsts) == 0 || firsts[len(firsts)-1] != first {
				firsts = append(firsts, first)
			}
		}
	}
	return firsts, nil
}

// Statement adds up the period that a day is in and judges it by a rule set. Only what was determined to be
// hazardous counts; what is undetermined makes the answer "either", with what to determine.
//
// Errors: as [RuleSet.Check]; *Error (units.ErrRange) for an invalid day, or totals past 10^24 kg.
func (l *Ledger) Statement(day Date, rules RuleSet) (Statement, error) {
	if !day.valid() {
		return Statement{}, refuse("statement", "day", day.String(), "no day of the calendar", "such as 2026-03-01", units.ErrRange)
	}
	hash, err := rules.Hash()
	if err != nil {
		return Statement{}, err
	}
	s := Statement{Rules: rules.Name, RulesAsOf: rules.AsOf, RulesHash: hash, Notes: slices.Clone(rules.Notes), Caveat: Caveat}
	s.First, s.Last = rules.Period.of(day)
	var cells cells
	for _, i := range l.between(s.First, s.Last) {
		cells.add(l.at(i))
	}
	var totals [NotCounted + 1]sums
	for stream := range cells.sums {
		for d := range totals {
			totals[d].merge(&cells.sums[stream][d])
		}
	}
	hazardous, undetermined, notCounted := totals[Hazardous].exact(), totals[Undetermined].exact(), totals[NotCounted].exact()
	var err1, err2, err3, err4 error
	s.Streams, err1 = cells.totals(l.texts)
	s.Hazardous, err2 = hazardous.estimate()
	s.Undetermined, err3 = undetermined.estimate()
	s.NotCounted, err4 = notCounted.estimate()
	if err := cmp.Or(err1, err2, err3, err4); err != nil {
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
			s.ToDo = append(s.ToDo, Notice{Code: "do.determine", Stream: t.Stream, Mass: t.Mass})
		}
	}
	if len(rules.Categories) == 0 {
		return
	}
	least, most := rules.categoryOf(hazardous.low), rules.categoryOf(hazardous.high)
	s.Lowest = least.Name
	s.Highest = rules.categoryOf(new(big.Rat).Add(hazardous.high, undetermined.high)).Name
	if least.Name != most.Name {
		s.ToDo = append(s.ToDo, Notice{Code: "do.weigh-estimates", Mass: s.Hazardous, Limit: least.UpTo})
	}
}

// findMixed names the containers that would be on more than one line of a paper.
func (s *Statement) findMixed() {
	in := map[string]int{}
	for _, t := range s.Streams {
		for _, label := range t.Containers {
			in[label]++
		}
	}
	for _, label := range slices.Sorted(maps.Keys(in)) {
		if in[label] > 1 {
			s.ToDo = append(s.ToDo, Notice{Code: "ask.mixed", Drum: label})
		}
	}
}

// categoryOf finds the category of a period's kilograms in a set that has any: the last is open, so there is
// always one.
func (r RuleSet) categoryOf(kg *big.Rat) Category {
	return r.Categories[r.category(kg)]
}

// category is the index of a period's category; -1 where the set has none.
func (r RuleSet) category(kg *big.Rat) int {
	return slices.IndexFunc(r.Categories, func(c Category) bool {
		if c.Open {
			return true
		}
		order := kg.Cmp(c.UpTo.RatIn(units.Kilogram))
		return order < 0 || order == 0 && c.Including
	})
}

// CategoryOf is the category of a period's mass of hazardous waste, exactly: 100 kg is the
// first of the US federal set's, a milligram more the second.
//
// Errors: as [RuleSet.Check]; *Error: ErrNotCovered where the set has no categories, units.ErrRange
// below zero.
func (r RuleSet) CategoryOf(total units.Mass) (Category, error) {
	if err := r.Check(); err != nil {
		return Category{}, err
	}
	if !total.Valid() || total.Sign() < 0 {
		return Category{}, refuse("category", "mass", total.String(), "no mass", "zero or more", units.ErrRange)
	}
	if len(r.Categories) == 0 {
		return Category{}, refuse("category", "", "", r.Name+" has none", "a rule set that has categories", ErrNotCovered)
	}
	return r.categoryOf(total.RatIn(units.Kilogram)), nil
}

// String is the statement for reading, to the gram, and ends with the [Caveat].
func (s Statement) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Generated from %s to %s, under %s as of %s\n  rules %s\n", s.First, s.Last, s.Rules, s.RulesAsOf, s.RulesHash)
	for _, t := range s.Streams {
		fmt.Fprintf(&b, "  %-15s %-12s entries %d, %s%s\n", t.Stream, t.Determination, t.Entries, paper.Spread(t.Mass), t.in())
	}
	fmt.Fprintf(&b, "Hazardous as determined: %s\n", s.total(Hazardous, s.Hazardous))
	fmt.Fprintf(&b, "Undetermined: %s\n", s.total(Undetermined, s.Undetermined))
	fmt.Fprintf(&b, "Not counted, as determined by the generator: %s\n", s.total(NotCounted, s.NotCounted))
	switch {
	case s.Lowest == "":
		fmt.Fprintf(&b, "Generator category: none under %s\n", s.Rules)
	case s.Lowest == s.Highest:
		fmt.Fprintf(&b, "By what is entered here, under %s, generator category: %s\n", s.Rules, s.Lowest)
	default:
		fmt.Fprintf(&b, "By what is entered here, under %s, generator category: undecided, from %s to %s\n", s.Rules, s.Lowest, s.Highest)
	}
	for _, todo := range s.ToDo {
		fmt.Fprintf(&b, "  %s\n", todo)
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
