package waste_test

import (
	"encoding/json"
	"fmt"
	"math/big"
	"slices"
	"testing"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/europe"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func entry(job string, revision, line int, stream waste.Stream, d waste.Determination, m drain.Estimate[units.MassUnit]) waste.Entry {
	return waste.Entry{Job: job, Revision: revision, Line: line, Date: waste.MustParseDate("2026-03-15"),
		Stream: stream, Determination: d, Mass: m}
}

// posting is an entry as it is put down on its day.
func posting(e waste.Entry) waste.Posting {
	return waste.Posting{At: noon(e.Date), By: "Ann", Entry: &e}
}

func noon(d waste.Date) time.Time { return time.Date(d.Year, d.Month, d.Day, 12, 0, 0, 0, time.UTC) }

func withdrawal(job string, revision int) waste.Posting {
	return waste.Posting{At: noon(waste.MustParseDate("2026-03-20")), By: "Ann", Withdrawal: &waste.Withdrawal{Job: job, Revision: revision}}
}

func put(t require.TestingT, l *waste.Ledger, e waste.Entry) {
	_, err := l.Add(posting(e))
	require.NoError(t, err)
}

func statement(t require.TestingT, l *waste.Ledger) waste.Statement {
	s, err := l.Statement(waste.MustParseDate("2026-03-01"), usfederal.RuleSet())
	require.NoError(t, err)
	return s
}

// allStreams are those there are, in the order of their constants.
func allStreams() (all []waste.Stream) {
	for s := waste.DrainedFuel; s <= waste.OtherWaste; s++ {
		all = append(all, s)
	}
	return all
}

// drawMass draws an estimate in any unit of mass, some with far more digits than anybody weighs.
func drawMass(t *rapid.T) drain.Estimate[units.MassUnit] {
	var all []units.MassUnit
	for u := range units.All[units.MassUnit]() {
		all = append(all, u)
	}
	three := rapid.SliceOfN(rapid.Int64Range(0, 1<<60), 3, 3).Draw(t, "coefficients")
	slices.Sort(three)
	places := rapid.SampledFrom([]int32{0, 1, 3, 12, 40, 60}).Draw(t, "places")
	unit := rapid.SampledFrom(all).Draw(t, "unit")
	var q [3]units.Mass
	for i, c := range three {
		m, err := units.New(decimal.New(c, -places), unit)
		require.NoError(t, err)
		q[i] = m
	}
	e, err := drain.NewEstimate(q[0], q[1], q[2], rapid.SampledFrom([]drain.Provenance{drain.Weighed, drain.Measured, drain.Stated, drain.Assumed}).Draw(t, "from"))
	require.NoError(t, err)
	return e
}

// drawEntries draws consistent entries: of a job, revision and line there is one content.
func drawEntries(t *rapid.T) []waste.Entry {
	n := rapid.IntRange(1, 12).Draw(t, "entries")
	seen := map[string]bool{}
	var all []waste.Entry
	for range n {
		e := entry(fmt.Sprintf("J%d", rapid.IntRange(1, 4).Draw(t, "job")), rapid.IntRange(0, 2).Draw(t, "revision"), rapid.IntRange(1, 4).Draw(t, "line"),
			rapid.SampledFrom(allStreams()).Draw(t, "stream"),
			rapid.SampledFrom([]waste.Determination{waste.Undetermined, waste.Hazardous, waste.NotCounted}).Draw(t, "determination"), drawMass(t))
		e.Container = rapid.SampledFrom([]string{"", "DM 1", "DM 2", "BA 1"}).Draw(t, "container")
		e.Date.Month = time.Month(rapid.IntRange(2, 4).Draw(t, "month"))
		key := fmt.Sprint(e.Job, e.Revision, e.Line)
		if !seen[key] {
			seen[key] = true
			all = append(all, e)
		}
	}
	return all
}

func ledgerOf(t require.TestingT, entries []waste.Entry) *waste.Ledger {
	var l waste.Ledger
	for _, e := range entries {
		put(t, &l, e)
	}
	return &l
}

// record is everything a statement says.
func record(t require.TestingT, l *waste.Ledger) string {
	s := statement(t, l)
	data, err := json.Marshal(s)
	require.NoError(t, err)
	return s.String() + string(data)
}

// The oracle adds plain fractions over the entries of each job's highest revision.
func TestTotalsAreThoseOfPlainFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		entries := drawEntries(t)
		s := statement(t, ledgerOf(t, entries))
		highest := map[string]int{}
		for _, e := range entries {
			highest[e.Job] = max(highest[e.Job], e.Revision)
		}
		var low, high [3]*big.Rat
		for i := range low {
			low[i], high[i] = new(big.Rat), new(big.Rat)
		}
		for _, e := range entries {
			if e.Revision == highest[e.Job] && e.Date.Month == time.March {
				low[e.Determination].Add(low[e.Determination], e.Mass.Low.RatIn(units.Kilogram))
				high[e.Determination].Add(high[e.Determination], e.Mass.High.RatIn(units.Kilogram))
			}
		}
		for i, total := range []drain.Estimate[units.MassUnit]{s.Undetermined, s.Hazardous, s.NotCounted} {
			assert.LessOrEqual(t, total.Low.RatIn(units.Kilogram).Cmp(low[i]), 0, "a low that doesn't fit goes down")
			assert.GreaterOrEqual(t, total.High.RatIn(units.Kilogram).Cmp(high[i]), 0, "a high that doesn't fit goes up")
			assert.True(t, close34(total.Low, low[i]) && close34(total.High, high[i]), "to 34 digits")
		}
		assert.Equal(t, category(low[1]), s.Lowest)
		assert.Equal(t, category(new(big.Rat).Add(high[1], high[0])), s.Highest)
	})
}

// close34 reports whether q is x to one part in 10^32, or exactly.
func close34(q units.Mass, x *big.Rat) bool {
	gap := new(big.Rat).Sub(q.RatIn(units.Kilogram), x)
	limit := new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(32), nil))
	least := new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(60), nil))
	return gap.Abs(gap).Cmp(limit.Mul(limit, x)) <= 0 || gap.Cmp(least) <= 0
}

// category is the rule written out by hand. Source: 40-cfr-260.
func category(kg *big.Rat) string {
	switch {
	case kg.Cmp(big.NewRat(100, 1)) <= 0:
		return "VSQG"
	case kg.Cmp(big.NewRat(1000, 1)) < 0:
		return "SQG"
	}
	return "LQG"
}

func TestRoundingLinesChangesNoTotal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := ledgerOf(t, drawEntries(t))
		before := record(t, l)
		s := statement(t, l)
		sum := new(big.Rat)
		for _, total := range s.Streams {
			item := waste.Batch{Description: "invented waste", Stream: total.Stream, Mass: total.Mass, Containers: []waste.Container{{}}}
			for _, unit := range []usfederal.UnitCode{usfederal.Kilograms, usfederal.Pounds} {
				line, err := usfederal.NewManifestLine(item, usfederal.MetalDrums, unit)
				if err != nil {
					require.ErrorIs(t, err, units.ErrRange, "only a drawn mass past a billion")
					continue
				}
				assert.True(t, line.Mass.Best.Equal(item.Mass.Best), "the line keeps what it was rounded from")
			}
			sum.Add(sum, item.Mass.Best.RatIn(units.Kilogram))
		}
		assert.Equal(t, before, record(t, l))
		total, err := drain.Sum(units.Kilogram, s.Hazardous, s.Undetermined, s.NotCounted)
		require.NoError(t, err)
		// Each of up to 24 stream totals, and each of three, may be rounded at its 34th digit.
		assert.True(t, close34(total.Best, sum), "%s", total.Best)
	})
}

func TestContainersAreNamedOnceAndSorted(t *testing.T) {
	var l waste.Ledger
	for line := 1; line <= 9; line++ {
		e := entry("J1", 0, line, waste.Gaskets, waste.Hazardous, weighed("1 kg"))
		e.Container = fmt.Sprintf("BA %d", (10-line)%4)
		put(t, &l, e)
	}
	s := statement(t, &l)
	assert.Equal(t, []string{"BA 0", "BA 1", "BA 2", "BA 3"}, s.Streams[0].Containers)
	assert.Contains(t, s.String(), "in BA 0, BA 1, BA 2, BA 3")
	assert.Empty(t, s.ToDo)

	e := entry("J2", 0, 1, waste.Absorbents, waste.Hazardous, weighed("1 kg"))
	e.Container = "BA 2"
	put(t, &l, e)
	s = statement(t, &l)
	require.Len(t, s.ToDo, 1, "a bag on two lines")
	assert.Equal(t, waste.Notice{Code: "ask.mixed", Drum: "BA 2"}, s.ToDo[0])
}

// Three lines of 0.4 kg print as 0 each and total 1.2 kg: a sum of printed lines would be 0.
func TestLinesOfZeroStillCount(t *testing.T) {
	var l waste.Ledger
	for line := 1; line <= 3; line++ {
		put(t, &l, entry("J1", 0, line, waste.Gaskets, waste.Hazardous, weighed("0.4 kg")))
	}
	s := statement(t, &l)
	assert.Equal(t, "1.2 kg", s.Hazardous.Best.String())
	assert.Equal(t, 3, s.Streams[0].Entries)
}

// 75 kg generated each month and 900 kg shipped in December leave a very small quantity generator what it is.
// Counted is what is generated. Source: epa-faq.
func TestCountedIsWhatIsGenerated(t *testing.T) {
	var l waste.Ledger
	for month := time.January; month <= time.December; month++ {
		e := entry(fmt.Sprintf("J%d", month), 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("75 kg"))
		e.Date.Month = month
		put(t, &l, e)
	}
	months, err := l.Periods(usfederal.RuleSet())
	require.NoError(t, err)
	require.Len(t, months, 12)
	for _, m := range months {
		s, err := l.Statement(m, usfederal.RuleSet())
		require.NoError(t, err)
		assert.Equal(t, "VSQG", s.Highest)
		assert.Equal(t, "VSQG", s.Lowest)
		assert.Equal(t, "75 kg", s.Hazardous.Best.String())
	}
}

func TestUndeterminedMakesItEither(t *testing.T) {
	var l waste.Ledger
	put(t, &l, entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("90 kg")))
	put(t, &l, entry("J1", 0, 2, waste.DrainedElement, waste.Undetermined, weighed("12 kg")))
	put(t, &l, entry("J1", 0, 3, waste.Absorbents, waste.NotCounted, weighed("5000 kg")))
	s := statement(t, &l)
	assert.Equal(t, "VSQG", s.Lowest)
	assert.Equal(t, "SQG", s.Highest)
	require.Len(t, s.ToDo, 1)
	assert.Equal(t, waste.Notice{Code: "do.determine", Stream: waste.DrainedElement, Mass: weighed("12 kg")}, s.ToDo[0])

	// Determined, the answer is one: at 102 kg the second category.
	put(t, &l, entry("J1", 1, 1, waste.DrainedFuel, waste.Hazardous, weighed("90 kg")))
	put(t, &l, entry("J1", 1, 2, waste.DrainedElement, waste.Hazardous, weighed("12 kg")))
	s = statement(t, &l)
	assert.Equal(t, []string{"SQG", "SQG"}, []string{s.Lowest, s.Highest})
	assert.Empty(t, s.ToDo)
	assert.Equal(t, "0 kg", s.NotCounted.Best.String(), "revision 1 has no third line, and revision 0 no longer counts")
}

func TestAnEstimateAcrossALimitIsToBeWeighed(t *testing.T) {
	var l waste.Ledger
	put(t, &l, entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, mass(t, "95 kg", "99 kg", "104 kg", drain.Assumed)))
	s := statement(t, &l)
	assert.NotEqual(t, s.Lowest, s.Highest, "its best is below 100 kg, its high isn't")
	require.Len(t, s.ToDo, 1)
	assert.Equal(t, "do.weigh-estimates", s.ToDo[0].Code)
	assert.Equal(t, "100 kg", s.ToDo[0].Limit.String())
}

// counts is what counts, and the codes of what doesn't and of what is doubted.
func counts(t require.TestingT, l *waste.Ledger) (entries []waste.Entry, codes []string) {
	todo, err := l.ToDo(europe.RuleSet(), waste.MustParseDate("2026-04-30"))
	require.NoError(t, err)
	for _, n := range append(l.Changes(), todo...) {
		if n.Code != "do.determine" {
			codes = append(codes, n.Code)
		}
	}
	return slices.Collect(l.Entries()), codes
}

func TestRevisionsAndWithdrawal(t *testing.T) {
	var l waste.Ledger
	first := entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("12.50 kg"))
	put(t, &l, first)
	again := first
	again.Mass = weighed("12500 g") // the same, otherwise written
	put(t, &l, again)
	assert.Equal(t, "12.5 kg", statement(t, &l).Hazardous.Best.String())
	_, codes := counts(t, &l)
	assert.Empty(t, codes)

	second := first
	second.Revision, second.Date = 2, waste.MustParseDate("2026-04-01") // it was April after all
	put(t, &l, second)
	isNew, err := l.Add(posting(first))
	require.NoError(t, err)
	assert.False(t, isNew, "sent again")
	assert.Equal(t, "0 kg", statement(t, &l).Hazardous.Best.String())
	entries, codes := counts(t, &l)
	assert.Equal(t, []waste.Entry{second}, entries)
	assert.Equal(t, []string{"change.replaced"}, codes)

	_, err = l.Add(withdrawal("J1", 1))
	require.NoError(t, err)
	entries, _ = counts(t, &l)
	require.Len(t, entries, 1, "an earlier revision was withdrawn")
	_, err = l.Add(withdrawal("J1", 3))
	require.NoError(t, err)
	entries, codes = counts(t, &l)
	assert.Empty(t, entries)
	assert.Equal(t, []string{"change.withdrawn", "change.withdrawn", "doubt.clocks"}, codes, "withdrawn on 20 March, and put down on 1 April")
	late := second
	late.Revision = 3
	put(t, &l, late)
	entries, codes = counts(t, &l)
	assert.Equal(t, []waste.Entry{late}, entries, "lines count before a withdrawal")
	assert.Contains(t, codes, "doubt.withdrawn-with-lines")
}

// Whatever an entry says is part of its contents: the same line with anything else in it is a conflict, of
// which the higher mass counts, or what counts more.
func TestWhateverAnEntrySaysIsItsContents(t *testing.T) {
	first := entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, mass(t, "1 kg", "2 kg", "3 kg", drain.Weighed))
	first.Container, first.Volume, first.VolumeAt = "DM 1", volume("2 L", drain.Measured), units.MustParseTemperature("20 °C")
	for name, c := range map[string]struct {
		change func(*waste.Entry)
		wins   bool
	}{
		"year": {func(e *waste.Entry) { e.Date.Year++ }, false}, "month": {func(e *waste.Entry) { e.Date.Month-- }, true}, "day": {func(e *waste.Entry) { e.Date.Day++ }, false},
		"stream": {func(e *waste.Entry) { e.Stream = waste.SpentCleaner }, false}, "determination": {func(e *waste.Entry) { e.Determination = waste.NotCounted }, false},
		"container": {func(e *waste.Entry) { e.Container = "DM 2" }, false}, "no container": {func(e *waste.Entry) { e.Container = "" }, true},
		"provenance": {func(e *waste.Entry) { e.Mass.From = drain.Assumed }, false}, "low": {func(e *waste.Entry) { e.Mass.Low = units.Gram.Of(999) }, false},
		"best": {func(e *waste.Entry) { e.Mass.Best = units.Gram.Of(2001) }, true}, "high": {func(e *waste.Entry) { e.Mass.High = units.Gram.Of(3001) }, true},
		"volume": {func(e *waste.Entry) { e.Volume = volume("2.1 L", drain.Measured) }, true}, "temperature": {func(e *waste.Entry) { e.VolumeAt = units.MustParseTemperature("19 °C") }, false},
	} {
		other := first
		c.change(&other)
		want, lost := first, other
		if c.wins {
			want, lost = other, first
		}
		for _, order := range [][]waste.Entry{{first, other}, {other, first}, {first, first, other, first}} {
			l := ledgerOf(t, order)
			entries, codes := counts(t, l)
			assert.Equal(t, []waste.Entry{want}, entries, name)
			assert.Subset(t, codes, []string{"change.conflict", "doubt.conflict"}, name)
			assert.Equal(t, lost, *l.Changes()[0].About.Entry, name)
			assert.Equal(t, want, *l.Changes()[0].Other.Entry, name)
		}
	}
}

// Entries come by job and line, however they came in.
func TestEntriesComeByJobAndLine(t *testing.T) {
	var l waste.Ledger
	var want, got []string
	for n := range 60 {
		job, line := (n*7)%20, (n*11)%3 // each pair once
		put(t, &l, entry(fmt.Sprintf("J%02d", job), 0, line+1, waste.DrainedFuel, waste.Hazardous, weighed("1 kg")))
		want = append(want, fmt.Sprintf("J%02d/%d", n/3, n%3+1))
	}
	for e := range l.Entries() {
		got = append(got, fmt.Sprintf("%s/%d", e.Job, e.Line))
	}
	assert.Equal(t, want, got)
}

// A month is one of a year: what arose a year before or after isn't in it.
func TestAMonthIsOneOfAYear(t *testing.T) {
	var l waste.Ledger
	for line, date := range []string{"2025-03-15", "2026-02-28", "2026-03-01", "2026-03-31", "2026-04-01", "2027-03-15"} {
		e := entry("J1", 0, line+1, waste.DrainedFuel, waste.Hazardous, weighed(fmt.Sprintf("%d kg", 1<<line)))
		e.Date = waste.MustParseDate(date)
		put(t, &l, e)
	}
	for day, want := range map[string]string{"2025-03-31": "1 kg", "2026-02-01": "2 kg", "2026-03-15": "12 kg", "2026-04-30": "16 kg", "2027-03-01": "32 kg", "2024-03-01": "0 kg"} {
		s, err := l.Statement(waste.MustParseDate(day), usfederal.RuleSet())
		require.NoError(t, err)
		assert.Equal(t, want, s.Hazardous.Best.String(), day)
	}
}

// What nobody can mean is refused, so that no line and no job makes a ledger slow.
func TestBounds(t *testing.T) {
	var l waste.Ledger
	for n := range 64 {
		put(t, &l, entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed(fmt.Sprintf("%d kg", n+1))))
	}
	put(t, &l, entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("64 kg")))
	_, err := l.Add(posting(entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("65 kg"))))
	refused(t, err, waste.ErrConflict, "65 for one line")
	assert.Equal(t, "64 kg", statement(t, &l).Hazardous.Best.String())
	for n := range 10_000 {
		put(t, &l, entry("J2", n/999, n%999+1, waste.DrainedFuel, waste.Hazardous, weighed("1 kg")))
	}
	_, err = l.Add(posting(entry("J2", 11, 1, waste.DrainedFuel, waste.Hazardous, weighed("1 kg"))))
	refused(t, err, waste.ErrConflict, "10,001 of one job")
	for n := range 10_000 {
		add(t, &l, withdrawal("J3", n), revised(event("closed", "2026-03-20", nil), 10_000-n))
	}
	_, err = l.Add(withdrawal("J3", 10_000))
	assert.EqualError(t, err, `posting: job "J3": has more than 10000 that differ; want one, and corrections of it`)
	_, err = l.Add(event("closed", "2026-03-20", nil))
	assert.EqualError(t, err, `posting: drum "D": has more than 10000 that differ; want one, and corrections of it`)
}

// Of what says the same the earlier is kept, then that of the first name, whichever comes first; of a volume, how
// that one wrote it.
func TestTheEarlierIsKept(t *testing.T) {
	volume := func(text string) drain.Estimate[units.VolumeUnit] {
		v, err := units.ParseVolume(text)
		require.NoError(t, err)
		return drain.MustExactly(v, drain.Measured)
	}
	put := func(p waste.Posting, by string, minutes int, zone *time.Location) waste.Posting {
		p.By, p.At = by, p.At.Add(time.Duration(minutes)*time.Minute).In(zone)
		return p
	}
	line := func(mass, litres string) waste.Posting {
		e := entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed(mass))
		e.Volume, e.VolumeAt = volume(litres), units.Celsius.Of(20)
		return posting(e)
	}
	east := time.FixedZone("", 60)
	for _, pair := range [][2]waste.Posting{
		{put(line("8 kg", "10 L"), "Bo", 0, time.UTC), put(line("8 kg", "0.01 m³"), "Ann", 1, time.UTC)},
		{put(line("8 kg", "10 L"), "Ann", 0, time.UTC), put(line("8 kg", "10 L"), "Bo", 0, time.UTC)},
		{put(line("8 kg", "10 L"), "Ann", 0, time.UTC), put(line("8 kg", "10 L"), "Ann", 0, east)},
		{put(line("8 kg", "10 L"), "Ann", 0, time.UTC), put(line("8.0 kg", "10 L"), "Ann", 0, time.UTC)},
		{put(withdrawal("J1", 1), "Ann", 0, east), put(withdrawal("J1", 1), "Bo", 0, east)},
		{put(openedOn("2026-03-02"), "Ann", 0, time.UTC), put(openedOn("2026-03-02"), "Bo", 0, time.UTC)},
	} {
		var one, other waste.Ledger
		add(t, &one, pair[0], pair[1])
		add(t, &other, pair[1], pair[0])
		assert.Equal(t, []waste.Posting{pair[0]}, slices.Collect(one.Postings()))
		assert.Equal(t, []waste.Posting{pair[0]}, slices.Collect(other.Postings()))
	}
}

// What was added and what is given back is nobody's way into the ledger.
func TestALedgerSharesNothing(t *testing.T) {
	postings := []waste.Posting{into("J1", "2026-03-10", "1 kg"), withdrawal("J2", 1), openedOn("2026-03-02")}
	var l waste.Ledger
	add(t, &l, postings...)
	want, err := l.MarshalText()
	require.NoError(t, err)
	change := func(p waste.Posting) {
		switch {
		case p.Entry != nil:
			p.Entry.Revision = 7
		case p.Withdrawal != nil:
			p.Withdrawal.Revision = 7
		default:
			p.Drum.Revision = 7
		}
	}
	for _, p := range postings {
		change(p)
	}
	for p := range l.Postings() {
		change(p)
	}
	text, err := l.MarshalText()
	require.NoError(t, err)
	assert.Equal(t, string(want), string(text))
}

func TestALoopOverALedgerCanStop(t *testing.T) {
	for _, p := range []waste.Posting{into("J", "2026-03-10", "1 kg"), withdrawal("J", 1), openedOn("2026-03-02")} {
		var l waste.Ledger
		other := p
		if p.Entry != nil {
			other = into("J", "2026-03-10", "1 kg")
			other.Entry.Line = 2
		} else if p.Withdrawal != nil {
			other = withdrawal("K", 1)
		} else {
			other = event("closed", "2026-03-20", nil)
		}
		add(t, &l, p, other)
		for first := range l.Postings() {
			assert.NotNil(t, first.At)
			break
		}
		for e := range l.Entries() {
			assert.Equal(t, "J", e.Job)
			break
		}
	}
}

func TestRowsAreCounted(t *testing.T) {
	var l, read waste.Ledger
	add(t, &l, into("J1", "2026-03-10", "1 kg"), into("J2", "2026-03-10", "1 kg"))
	text, err := l.MarshalText()
	require.NoError(t, err)
	require.NoError(t, read.UnmarshalText(text))
	var rows []int
	for p := range read.Postings() {
		rows = append(rows, p.Row)
	}
	assert.Equal(t, []int{1, 2}, rows)
}

func TestTotalsPastThirtyFourDigits(t *testing.T) {
	// 100 kg and 10^-60 kg: no quantity holds the sum, and none of it may be lost to a decision.
	rules := usfederal.RuleSet()
	var l waste.Ledger
	put(t, &l, entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("100 kg")))
	tiny := weighed("0." + fmt.Sprintf("%060d", 1) + " kg")
	put(t, &l, entry("J1", 0, 2, waste.DrainedFuel, waste.Hazardous, tiny))
	s, err := l.Statement(waste.MustParseDate("2026-03-01"), rules)
	require.NoError(t, err)
	assert.Equal(t, "SQG", s.Lowest, "100 kg and the least mass there is are more than 100 kg")
	assert.True(t, s.Hazardous.Low.Equal(units.Kilogram.Of(100)))
	assert.True(t, units.Kilogram.Of(100).Less(s.Hazardous.High))
}

// Two streams of which neither total fits 34 digits: nothing of either is lost to the sum. 33 kg and
// 66 kg and twice half a kilogram are 100 kg, and each half has 10^-34 kg too much.
func TestTotalsPastThirtyFourDigitsAddUp(t *testing.T) {
	var l waste.Ledger
	half := weighed("0.5" + fmt.Sprintf("%033d", 1) + " kg")
	for n, stream := range []waste.Stream{waste.DrainedFuel, waste.DrainedElement} {
		whole := weighed(fmt.Sprintf("%d kg", 33*(n+1)))
		put(t, &l, entry("J1", 0, 2*n+1, stream, waste.Hazardous, whole))
		put(t, &l, entry("J1", 0, 2*n+2, stream, waste.Hazardous, half))
	}
	s := statement(t, &l)
	assert.Equal(t, "SQG", s.Lowest, "more than 100 kg")
	assert.True(t, s.Hazardous.Best.Equal(units.Kilogram.Of(100)))
}

func TestTotalsTooLargeForAQuantity(t *testing.T) {
	var l waste.Ledger
	for line := 1; line <= 2; line++ {
		put(t, &l, entry("J1", 0, line, waste.DrainedFuel, waste.Hazardous, weighed("999999999999999999999999 kg")))
	}
	_, err := l.Statement(waste.MustParseDate("2026-03-01"), usfederal.RuleSet())
	refused(t, err, units.ErrRange, "2·10^24 kg")
}

func TestAnEmptyMonth(t *testing.T) {
	var l waste.Ledger
	s := statement(t, &l)
	assert.Equal(t, "VSQG", s.Highest)
	assert.Equal(t, "0 kg", s.Hazardous.High.String())
	assert.Empty(t, s.Streams)
}

// Source: list-of-waste.
func TestAListWithoutCategories(t *testing.T) {
	var l waste.Ledger
	put(t, &l, entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("500 kg")))
	s, err := l.Statement(waste.MustParseDate("2026-03-01"), europe.RuleSet())
	require.NoError(t, err)
	assert.Empty(t, s.Lowest)
	assert.Contains(t, s.String(), "none under European List of Waste, metric")
	_, err = europe.RuleSet().CategoryOf(units.Kilogram.Of(1))
	require.ErrorIs(t, err, waste.ErrNotCovered)
}

// BenchmarkLedger adds a year of a busy fleet: 100,000 lines of 25,000 services.
func BenchmarkLedger(b *testing.B) {
	entries := make([]waste.Entry, 100_000)
	for i := range entries {
		m := units.MustParseMass(fmt.Sprintf("%d.%03d kg", i%7, i%1000))
		entries[i] = entry(fmt.Sprintf("J%05d", i/4), 0, i%4+1, allStreams()[i%8], waste.Hazardous,
			drain.Estimate[units.MassUnit]{Low: m, Best: m, High: m, From: drain.Weighed})
	}
	at := noon(entries[0].Date)
	b.ReportAllocs()
	for b.Loop() {
		var l waste.Ledger
		for _, e := range entries {
			if _, err := l.Add(waste.Posting{At: at, By: "Ann", Entry: &e}); err != nil {
				b.Fatal(err)
			}
		}
		if _, err := l.Statement(waste.MustParseDate("2026-03-01"), usfederal.RuleSet()); err != nil {
			b.Fatal(err)
		}
	}
}
