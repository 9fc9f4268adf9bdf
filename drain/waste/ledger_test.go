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

func statement(t require.TestingT, l *waste.Ledger) waste.Statement {
	s, err := l.Statement(2026, time.March, usfederal.RuleSet())
	require.NoError(t, err)
	return s
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
			rapid.SampledFrom(waste.Streams()).Draw(t, "stream"),
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
		require.NoError(t, l.Add(e))
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

func TestOrderGroupingAndRepetitionChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		entries := drawEntries(t)
		want := record(t, ledgerOf(t, entries))

		shuffled := rapid.Permutation(entries).Draw(t, "order")
		assert.Equal(t, want, record(t, ledgerOf(t, shuffled)), "order")
		assert.Equal(t, want, record(t, ledgerOf(t, append(slices.Clone(shuffled), entries...))), "repetition")

		cut := rapid.IntRange(0, len(entries)).Draw(t, "cut")
		left, right := ledgerOf(t, shuffled[:cut]), ledgerOf(t, shuffled[cut:])
		require.NoError(t, left.Merge(right))
		require.NoError(t, left.Merge(right))
		assert.Equal(t, want, record(t, left), "grouping")
	})
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
		assert.Equal(t, s.Lowest == s.Highest, s.Decided())
	})
}

// close34 reports whether q is x to one part in 10^32, or exactly.
func close34(q units.Mass, x *big.Rat) bool {
	gap := new(big.Rat).Sub(q.RatIn(units.Kilogram), x)
	limit := new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(32), nil))
	least := new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(60), nil))
	return gap.Abs(gap).Cmp(limit.Mul(limit, x)) <= 0 || gap.Cmp(least) <= 0
}

// category is 40 CFR 260.10 written out by hand (S).
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
		for _, item := range s.Batches() {
			item.Containers = []waste.Container{{}}
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
		require.NoError(t, l.Add(e))
	}
	s := statement(t, &l)
	assert.Equal(t, []string{"BA 0", "BA 1", "BA 2", "BA 3"}, s.Streams[0].Containers)
	assert.Contains(t, s.String(), "in BA 0, BA 1, BA 2, BA 3")
	assert.Empty(t, s.ToDo)

	e := entry("J2", 0, 1, waste.Absorbents, waste.Hazardous, weighed("1 kg"))
	e.Container = "BA 2"
	require.NoError(t, l.Add(e))
	s = statement(t, &l)
	require.Len(t, s.ToDo, 1, "a bag on two lines")
	assert.Contains(t, s.ToDo[0], "BA 2")
}

// Three lines of 0.4 kg print as 0 each and total 1.2 kg: a sum of printed lines would be 0.
func TestLinesOfZeroStillCount(t *testing.T) {
	var l waste.Ledger
	for line := 1; line <= 3; line++ {
		require.NoError(t, l.Add(entry("J1", 0, line, waste.Gaskets, waste.Hazardous, weighed("0.4 kg"))))
	}
	s := statement(t, &l)
	assert.Equal(t, "1.2 kg", s.Hazardous.Best.String())
	assert.Equal(t, 3, s.Streams[0].Entries)
}

// EPA FAQ (S): 75 kg generated each month and 900 kg shipped in December leave a very small
// quantity generator what it is. Counted is what is generated.
func TestCountedIsWhatIsGenerated(t *testing.T) {
	var l waste.Ledger
	for month := time.January; month <= time.December; month++ {
		e := entry(fmt.Sprintf("J%d", month), 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("75 kg"))
		e.Date.Month = month
		require.NoError(t, l.Add(e))
	}
	require.Len(t, l.Months(), 12)
	for _, m := range l.Months() {
		s, err := l.Statement(m.Year, m.Month, usfederal.RuleSet())
		require.NoError(t, err)
		assert.True(t, s.Decided())
		assert.Equal(t, "VSQG", s.Lowest)
		assert.Equal(t, "75 kg", s.Hazardous.Best.String())
	}
}

func TestUndeterminedMakesItEither(t *testing.T) {
	var l waste.Ledger
	require.NoError(t, l.Add(entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("90 kg"))))
	require.NoError(t, l.Add(entry("J1", 0, 2, waste.DrainedElement, waste.Undetermined, weighed("12 kg"))))
	require.NoError(t, l.Add(entry("J1", 0, 3, waste.Absorbents, waste.NotCounted, weighed("5000 kg"))))
	s := statement(t, &l)
	assert.False(t, s.Decided())
	assert.Equal(t, "VSQG", s.Lowest)
	assert.Equal(t, "SQG", s.Highest)
	require.Len(t, s.ToDo, 1)
	assert.Contains(t, s.ToDo[0], "drained element, 12 kg")

	// Determined, the answer is one: at 102 kg the second category.
	require.NoError(t, l.Add(entry("J1", 1, 1, waste.DrainedFuel, waste.Hazardous, weighed("90 kg"))))
	require.NoError(t, l.Add(entry("J1", 1, 2, waste.DrainedElement, waste.Hazardous, weighed("12 kg"))))
	s = statement(t, &l)
	assert.True(t, s.Decided())
	assert.Equal(t, "SQG", s.Highest)
	assert.Empty(t, s.ToDo)
	assert.Equal(t, "0 kg", s.NotCounted.Best.String(), "revision 1 has no third line, and revision 0 no longer counts")
}

func TestAnEstimateAcrossALimitIsToBeWeighed(t *testing.T) {
	var l waste.Ledger
	require.NoError(t, l.Add(entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, mass(t, "95 kg", "99 kg", "104 kg", drain.Assumed))))
	s := statement(t, &l)
	assert.False(t, s.Decided(), "its best is below 100 kg, its high isn't")
	require.Len(t, s.ToDo, 1)
	assert.Contains(t, s.ToDo[0], "weigh")
}

func TestRevisionsAndWithdrawal(t *testing.T) {
	var l waste.Ledger
	first := entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("12.50 kg"))
	require.NoError(t, l.Add(first))
	again := first
	again.Mass = weighed("12500 g") // the same, otherwise written
	require.NoError(t, l.Add(again))
	assert.Equal(t, "12.5 kg", statement(t, &l).Hazardous.Best.String())

	other := first
	other.Mass = weighed("12.6 kg")
	err := l.Add(other)
	require.ErrorIs(t, err, waste.ErrConflict)
	var e *waste.Error
	require.ErrorAs(t, err, &e)
	assert.Equal(t, "J1", e.Input)
	assert.Equal(t, "12.5 kg", statement(t, &l).Hazardous.Best.String(), "nothing changed")

	other = first
	other.Container = "DM 2"
	require.ErrorIs(t, l.Add(other), waste.ErrConflict, "another drum is another content")

	other = first
	other.Date = waste.MustParseDate("2026-03-16")
	require.ErrorIs(t, l.Add(other), waste.ErrConflict, "another day is another content")

	other.Revision = 2
	other.Date = waste.MustParseDate("2026-04-01") // it was April after all
	require.NoError(t, l.Add(other))
	require.NoError(t, l.Add(first), "superseded, passed over")
	assert.Equal(t, "0 kg", statement(t, &l).Hazardous.Best.String())
	require.ErrorIs(t, l.Withdraw("J1", 2), waste.ErrConflict)
	require.NoError(t, l.Withdraw("J1", 1), "superseded, passed over")
	require.Len(t, l.Entries(), 1)
	require.NoError(t, l.Withdraw("J1", 3))
	require.NoError(t, l.Withdraw("J1", 3))
	assert.Empty(t, l.Entries())
	late := other
	late.Revision = 3
	require.ErrorIs(t, l.Add(late), waste.ErrConflict)
}

// Whatever an entry says is part of its contents: the same line with anything else in it is a conflict.
func TestWhateverAnEntrySaysIsItsContents(t *testing.T) {
	first := entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, mass(t, "1 kg", "2 kg", "3 kg", drain.Weighed))
	first.Container = "DM 1"
	for name, change := range map[string]func(*waste.Entry){
		"year": func(e *waste.Entry) { e.Date.Year++ }, "month": func(e *waste.Entry) { e.Date.Month++ }, "day": func(e *waste.Entry) { e.Date.Day++ },
		"stream": func(e *waste.Entry) { e.Stream = waste.DrainedElement }, "determination": func(e *waste.Entry) { e.Determination = waste.NotCounted },
		"container": func(e *waste.Entry) { e.Container = "DM 2" }, "no container": func(e *waste.Entry) { e.Container = "" },
		"provenance": func(e *waste.Entry) { e.Mass.From = drain.Assumed }, "low": func(e *waste.Entry) { e.Mass.Low = units.Gram.Of(999) },
		"best": func(e *waste.Entry) { e.Mass.Best = units.Gram.Of(2001) }, "high": func(e *waste.Entry) { e.Mass.High = units.Gram.Of(3001) },
	} {
		var l waste.Ledger
		require.NoError(t, l.Add(first))
		require.NoError(t, l.Add(first), "the same twice counts once")
		other := first
		change(&other)
		require.ErrorIs(t, l.Add(other), waste.ErrConflict, name)
		assert.Equal(t, []waste.Entry{first}, l.Entries(), name)
	}
}

// Entries come by job and line, however they came in.
func TestEntriesComeByJobAndLine(t *testing.T) {
	var l waste.Ledger
	var want, got []string
	for n := range 60 {
		job, line := (n*7)%20, (n*11)%3 // each pair once
		require.NoError(t, l.Add(entry(fmt.Sprintf("J%02d", job), 0, line+1, waste.DrainedFuel, waste.Hazardous, weighed("1 kg"))))
		want = append(want, fmt.Sprintf("J%02d/%d", n/3, n%3+1))
	}
	for _, e := range l.Entries() {
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
		require.NoError(t, l.Add(e))
	}
	for _, c := range []struct {
		year  int
		month time.Month
		want  string
	}{{2025, time.March, "1 kg"}, {2026, time.February, "2 kg"}, {2026, time.March, "12 kg"}, {2026, time.April, "16 kg"}, {2027, time.March, "32 kg"}, {2024, time.March, "0 kg"}} {
		s, err := l.Statement(c.year, c.month, usfederal.RuleSet())
		require.NoError(t, err)
		assert.Equal(t, c.want, s.Hazardous.Best.String(), "%d-%02d", c.year, c.month)
	}
}

func TestMergeIsAllOrNothing(t *testing.T) {
	var ours, theirs waste.Ledger
	require.NoError(t, ours.Add(entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("1 kg"))))
	require.NoError(t, theirs.Add(entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("2 kg"))))
	for n := range 20 {
		require.NoError(t, theirs.Add(entry(fmt.Sprintf("K%d", n), 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("1 kg"))))
	}
	for range 10 { // a map has another order each time
		require.ErrorIs(t, ours.Merge(&theirs), waste.ErrConflict)
		require.Len(t, ours.Entries(), 1)
	}

	var gone waste.Ledger
	require.NoError(t, gone.Withdraw("J1", 1))
	require.NoError(t, ours.Merge(&gone))
	assert.Empty(t, ours.Entries())
}

func TestTotalsPastThirtyFourDigits(t *testing.T) {
	// 100 kg and 10^-60 kg: no quantity holds the sum, and none of it may be lost to a decision.
	rules := usfederal.RuleSet()
	var l waste.Ledger
	require.NoError(t, l.Add(entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("100 kg"))))
	tiny := weighed("0." + fmt.Sprintf("%060d", 1) + " kg")
	require.NoError(t, l.Add(entry("J1", 0, 2, waste.DrainedFuel, waste.Hazardous, tiny)))
	s, err := l.Statement(2026, time.March, rules)
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
		require.NoError(t, l.Add(entry("J1", 0, 2*n+1, stream, waste.Hazardous, whole)))
		require.NoError(t, l.Add(entry("J1", 0, 2*n+2, stream, waste.Hazardous, half)))
	}
	s := statement(t, &l)
	assert.Equal(t, "SQG", s.Lowest, "more than 100 kg")
	assert.True(t, s.Hazardous.Best.Equal(units.Kilogram.Of(100)))
}

func TestTotalsTooLargeForAQuantity(t *testing.T) {
	var l waste.Ledger
	for line := 1; line <= 2; line++ {
		require.NoError(t, l.Add(entry("J1", 0, line, waste.DrainedFuel, waste.Hazardous, weighed("999999999999999999999999 kg"))))
	}
	_, err := l.Statement(2026, time.March, usfederal.RuleSet())
	refused(t, err, units.ErrRange, "2·10^24 kg")
}

func TestAnEmptyMonth(t *testing.T) {
	var l waste.Ledger
	s := statement(t, &l)
	assert.Equal(t, "VSQG", s.Highest)
	assert.Equal(t, "0 kg", s.Hazardous.High.String())
	assert.Empty(t, s.Batches())
}

func TestAListWithoutCategories(t *testing.T) {
	var l waste.Ledger
	require.NoError(t, l.Add(entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("500 kg"))))
	s, err := l.Statement(2026, time.March, europe.RuleSet())
	require.NoError(t, err)
	assert.False(t, s.Decided())
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
		entries[i] = entry(fmt.Sprintf("J%05d", i/4), 0, i%4+1, waste.Streams()[i%8], waste.Hazardous,
			drain.Estimate[units.MassUnit]{Low: m, Best: m, High: m, From: drain.Weighed})
	}
	b.ReportAllocs()
	for b.Loop() {
		var l waste.Ledger
		for _, e := range entries {
			if err := l.Add(e); err != nil {
				b.Fatal(err)
			}
		}
		if _, err := l.Statement(2026, time.March, usfederal.RuleSet()); err != nil {
			b.Fatal(err)
		}
	}
}
