package waste_test

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// refused holds every refusal to what an error owes: a sentinel, a type with fields, a short line.
func refused(t *testing.T, err, sentinel error, name string) {
	t.Helper()
	require.ErrorIs(t, err, sentinel, name)
	var own *waste.Error
	var input *drain.InputError
	var parse *units.ParseError
	require.True(t, errors.As(err, &own) || errors.As(err, &input) || errors.As(err, &parse), name)
	assert.Less(t, len(err.Error()), 400, name)
	if own != nil {
		assert.NotEmpty(t, own.Problem, name)
		assert.NotEmpty(t, own.Want, name)
		assert.LessOrEqual(t, len(own.Input), 51, "the input is cut: %s", name)
	}
}

var long = strings.Repeat("x", 1<<20)

func TestTextsRefused(t *testing.T) {
	for _, text := range []string{"", " ", "fuel", "drainedfuel", "drained fuel,", "no stream", long} {
		kept := waste.Gaskets
		refused(t, kept.UnmarshalText([]byte(text)), units.ErrSyntax, "stream")
	}
	for _, text := range []string{"", "yes", "non-hazardous", "not hazardous", "hazardous?", long} {
		kept := waste.Hazardous
		refused(t, kept.UnmarshalText([]byte(text)), units.ErrSyntax, "determination")
	}
	for _, text := range []string{"", "2026-3-1", "2026/03/01", "01-03-2026", "2026-03-01T00:00", "2026-03/01", "2026/03-01", "2026-03-011", "+026-03-01", "2026-0३-1", long} {
		_, err := waste.ParseDate(text)
		refused(t, err, units.ErrSyntax, "date")
	}
	for _, text := range []string{"2026-02-29", "2026-13-01", "2026-00-10", "2026-04-31", "0000-01-01", "2026-01-00", "2100-02-29"} {
		_, err := waste.ParseDate(text)
		refused(t, err, units.ErrRange, "date "+text)
	}
	assert.Panics(t, func() { waste.MustParseDate("2026-02-29") })
}

// Names are read with blanks around them and in any letter case.
func TestTextsRead(t *testing.T) {
	var stream waste.Stream
	require.NoError(t, stream.UnmarshalText([]byte(" \tDrained FUEL\n")))
	assert.Equal(t, waste.DrainedFuel, stream)
	var d waste.Determination
	require.NoError(t, d.UnmarshalText([]byte(" Not counted ")))
	assert.Equal(t, waste.NotCounted, d)
}

// What is as long as is allowed is allowed.
func TestLongestTexts(t *testing.T) {
	i := batch(waste.Gaskets, weighed("1 kg"))
	i.Description = strings.Repeat("x", 256)
	i.Codes = []string{"D001", "D002", "D003", "D018", "F001", "F002"}
	line, err := usfederal.NewManifestLine(i, usfederal.MetalDrums, usfederal.Kilograms)
	require.NoError(t, err)
	assert.Equal(t, i.Codes, line.WasteCodes)
	i.Description += "x"
	refused(t, i.Check(), units.ErrRange, "description")
	i.Description, i.Codes = "x", slices.Repeat([]string{"x"}, 64)
	require.NoError(t, i.Check())
	i.Codes = append(i.Codes, "x")
	refused(t, i.Check(), units.ErrRange, "65 codes")
	e := entry(strings.Repeat("J", 64), 1_000_000, 999, waste.DrainedFuel, waste.Hazardous, weighed("1 kg"))
	e.Container = strings.Repeat("C", 64)
	require.NoError(t, e.Check())
	r := usfederal.RuleSet()
	r.Notes[0].Text = strings.Repeat("x", 1000)
	r.Categories[1].Days, r.Categories[1].FarDays, r.Satellite.Days = 3660, 3660, 3660
	for len(r.Notes) < 1000 {
		r.Notes = append(r.Notes, r.Notes[0])
	}
	require.NoError(t, r.Check())
	r.Notes[0].Text += "x"
	refused(t, r.Check(), units.ErrRange, "note of 1,001 bytes")
}

func TestFailedDecodesChangeNothing(t *testing.T) {
	stream, d, date := waste.Gaskets, waste.Hazardous, waste.MustParseDate("2026-01-02")
	for _, target := range []interface{ UnmarshalText([]byte) error }{&stream, &d, &date} {
		require.Error(t, target.UnmarshalText([]byte("nonsense")))
		require.Error(t, target.UnmarshalText([]byte(long)))
	}
	assert.Equal(t, waste.Gaskets, stream)
	assert.Equal(t, waste.Hazardous, d)
	assert.Equal(t, waste.MustParseDate("2026-01-02"), date)
}

func TestStrayValuesAreNotEncoded(t *testing.T) {
	for _, v := range []any{waste.Stream(0), waste.Stream(99), waste.Determination(99), waste.Date{Year: 2026, Month: 2, Day: 30}} {
		_, err := json.Marshal(v)
		require.ErrorIs(t, err, units.ErrRange, "%v", v)
		assert.NotEmpty(t, v.(interface{ String() string }).String())
	}
	assert.False(t, waste.Stream(99).Liquid())
}

func TestEncodedValuesComeBack(t *testing.T) {
	for _, s := range allStreams() {
		var back waste.Stream
		text, err := s.MarshalText()
		require.NoError(t, err)
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, s, back)
	}
	for d := waste.Undetermined; d <= waste.NotCounted; d++ {
		var back waste.Determination
		text, err := d.MarshalText()
		require.NoError(t, err)
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, d, back)
	}
	for _, d := range []waste.Date{{}, waste.MustParseDate("2024-02-29")} {
		back := waste.MustParseDate("2026-01-01")
		text, err := d.MarshalText()
		require.NoError(t, err)
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, d, back)
	}
}

func TestEntriesRefused(t *testing.T) {
	good := entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("1 kg"))
	for _, c := range []struct {
		name   string
		change func(*waste.Entry)
		want   error
	}{
		{"no job", func(e *waste.Entry) { e.Job = "" }, drain.ErrMissing},
		{"blanks around the job", func(e *waste.Entry) { e.Job = " J1" }, drain.ErrMissing},
		{"long job", func(e *waste.Entry) { e.Job = long }, units.ErrRange},
		{"two lines of job", func(e *waste.Entry) { e.Job = "J\n1" }, units.ErrSyntax},
		{"negative revision", func(e *waste.Entry) { e.Revision = -1 }, units.ErrRange},
		{"huge revision", func(e *waste.Entry) { e.Revision = 1_000_001 }, units.ErrRange},
		{"line 0", func(e *waste.Entry) { e.Line = 0 }, units.ErrRange},
		{"line 1000", func(e *waste.Entry) { e.Line = 1000 }, units.ErrRange},
		{"no date", func(e *waste.Entry) { e.Date = waste.Date{} }, units.ErrRange},
		{"30 February", func(e *waste.Entry) { e.Date = waste.Date{Year: 2026, Month: 2, Day: 30} }, units.ErrRange},
		{"no stream", func(e *waste.Entry) { e.Stream = 0 }, drain.ErrMissing},
		{"stray stream", func(e *waste.Entry) { e.Stream = 99 }, drain.ErrMissing},
		{"stray determination", func(e *waste.Entry) { e.Determination = 99 }, units.ErrRange},
		{"blanks around the container", func(e *waste.Entry) { e.Container = "DM 1 " }, drain.ErrMissing},
		{"long container", func(e *waste.Entry) { e.Container = long }, units.ErrRange},
		{"two lines of container", func(e *waste.Entry) { e.Container = "DM\r1" }, units.ErrSyntax},
		{"no mass", func(e *waste.Entry) { e.Mass = drain.Estimate[units.MassUnit]{} }, drain.ErrMissing},
		{"no provenance", func(e *waste.Entry) { e.Mass.From = 0 }, drain.ErrMissing},
		{"negative mass", func(e *waste.Entry) { e.Mass.Low = units.MustParseMass("-1 kg") }, units.ErrRange},
		{"low above high", func(e *waste.Entry) { e.Mass.Low = units.MustParseMass("3 lb") }, drain.ErrOrder},
		{"stray unit", func(e *waste.Entry) { e.Mass.High = units.MassUnit(99).Of(1) }, drain.ErrMissing},
	} {
		e := good
		c.change(&e)
		var l waste.Ledger
		_, err := l.Add(posting(e))
		refused(t, err, c.want, c.name)
		refused(t, e.Check(), c.want, c.name)
		_, err = posting(e).MarshalJSON()
		require.Error(t, err, "what can't come back isn't written: %s", c.name)
		assert.Empty(t, slices.Collect(l.Entries()), c.name)
	}
	var l waste.Ledger
	_, err := l.Add(withdrawal("", 0))
	refused(t, err, drain.ErrMissing, "withdraw")
	_, err = l.Statement(waste.Date{Year: 2026, Month: 13, Day: 1}, usfederal.RuleSet())
	refused(t, err, units.ErrRange, "month 13")
	_, err = l.Statement(waste.MustParseDate("2026-03-01"), waste.RuleSet{})
	refused(t, err, drain.ErrMissing, "no rules")
}

func TestBatchesRefused(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*waste.Batch)
		want   error
	}{
		{"no description", func(b *waste.Batch) { b.Description = " " }, drain.ErrMissing},
		{"long description", func(b *waste.Batch) { b.Description = long }, units.ErrRange},
		{"two lines", func(b *waste.Batch) { b.Description = "a\nb" }, units.ErrSyntax},
		{"no stream", func(b *waste.Batch) { b.Stream = 0 }, drain.ErrMissing},
		{"an empty code", func(b *waste.Batch) { b.Codes = []string{""} }, units.ErrSyntax},
		{"blanks around a code", func(b *waste.Batch) { b.Codes = []string{"D001", " D018"} }, units.ErrSyntax},
		{"best from nowhere", func(b *waste.Batch) { b.Mass = drain.Estimate[units.MassUnit]{Best: units.Kilogram.Of(1)} }, drain.ErrMissing},
		{"high from nowhere", func(b *waste.Batch) { b.Mass = drain.Estimate[units.MassUnit]{High: units.Kilogram.Of(1)} }, drain.ErrMissing},
		{"no containers", func(b *waste.Batch) { b.Containers = nil }, drain.ErrMissing},
		{"nothing known", func(b *waste.Batch) { b.Mass = drain.Estimate[units.MassUnit]{} }, drain.ErrMissing},
		{"no provenance", func(b *waste.Batch) { b.Mass.From = 0 }, drain.ErrMissing},
		{"negative", func(b *waste.Batch) { b.Mass.Low = units.MustParseMass("-1 kg") }, units.ErrRange},
		{"negative volume", func(b *waste.Batch) {
			b.Volume = volume("1 L", drain.Measured)
			b.Volume.Low = units.MustParseVolume("-1 L")
		}, units.ErrRange},
		{"volume from nowhere", func(b *waste.Batch) { b.Volume = volume("1 L", 0) }, drain.ErrMissing},
	} {
		b := batch(waste.DrainedElement, weighed("10 kg"))
		c.change(&b)
		refused(t, b.Check(), c.want, c.name)
	}
}

func TestContainersRefused(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*waste.Container)
		want   error
	}{
		{"blanks around its label", func(c *waste.Container) { c.ID = "A " }, drain.ErrMissing},
		{"a label of two lines", func(c *waste.Container) { c.ID = "A\nB" }, units.ErrSyntax},
		{"a long label", func(c *waste.Container) { c.ID = long }, units.ErrRange},
		{"negative capacity", func(c *waste.Container) { c.Capacity = units.MustParseVolume("-1 L") }, units.ErrRange},
		{"stray unit", func(c *waste.Container) { c.Capacity = units.VolumeUnit(99).Of(1) }, units.ErrRange},
		{"negative fill limit", func(c *waste.Container) { c.FillLimit = units.MustParseVolume("-1 L") }, units.ErrRange},
		{"fill limit above the brim", func(c *waste.Container) { c.FillLimit = units.USGallon.Of(56) }, units.ErrRange},
		{"no such day", func(c *waste.Container) { c.Started = waste.Date{Year: 2026, Month: 2, Day: 30} }, units.ErrRange},
		{"tare below zero", func(c *waste.Container) { c.Tare.Low = units.MustParseMass("-1 kg") }, units.ErrRange},
		{"tare from nowhere", func(c *waste.Container) { c.Tare.From = 0 }, drain.ErrMissing},
	} {
		bad := drum("A")
		c.change(&bad)
		b := batch(waste.DrainedFuel, weighed("1 kg"))
		b.Containers = append(b.Containers, bad)
		refused(t, b.Check(), c.want, c.name)
		_, err := bad.Net(weighed("20 kg"))
		refused(t, err, c.want, c.name)
	}
	brim := drum("A")
	brim.FillLimit = brim.Capacity
	bare := waste.Container{}
	b := batch(waste.DrainedFuel, weighed("1 kg"))
	b.Containers = []waste.Container{brim, bare}
	require.NoError(t, b.Check(), "to the brim is no more than it holds")
	_, err := bare.Net(weighed("20 kg"))
	refused(t, err, drain.ErrMissing, "no tare")
	_, err = drum("A").Net(drain.Estimate[units.MassUnit]{})
	refused(t, err, drain.ErrMissing, "no gross")
}

func TestClocksRefused(t *testing.T) {
	rules, day := usfederal.RuleSet(), waste.MustParseDate("2026-01-01")
	_, err := rules.OffSiteBy("XQG", day, false)
	refused(t, err, waste.ErrNotCovered, "unknown category")
	_, err = rules.OffSiteBy("VSQG", day, false)
	refused(t, err, waste.ErrNotCovered, "no days")
	_, err = rules.OffSiteBy("LQG", day, true)
	refused(t, err, waste.ErrNotCovered, "no longer time")
	_, err = rules.OffSiteBy("SQG", waste.Date{}, false)
	refused(t, err, units.ErrRange, "no date")
	_, err = rules.OffSiteBy("SQG", waste.MustParseDate("9999-12-01"), false)
	refused(t, err, units.ErrRange, "past the calendar")
	_, err = waste.RuleSet{}.OffSiteBy("SQG", day, false)
	refused(t, err, drain.ErrMissing, "no rules")
	var l waste.Ledger
	_, err = l.ToDo(rules, waste.Date{})
	refused(t, err, units.ErrRange, "no today")
	_, err = l.ToDo(waste.RuleSet{}, day)
	refused(t, err, drain.ErrMissing, "no rules")
	_, err = l.Periods(waste.RuleSet{})
	refused(t, err, drain.ErrMissing, "no rules")
	_, err = rules.CategoryOf(units.MustParseMass("-1 kg"))
	refused(t, err, units.ErrRange, "negative mass")
	_, err = waste.RuleSet{}.CategoryOf(units.Kilogram.Of(1))
	refused(t, err, drain.ErrMissing, "no rules")
	_, err = rules.Ask(0)
	refused(t, err, units.ErrRange, "no stream")
	_, err = waste.RuleSet{}.Ask(waste.Gaskets)
	refused(t, err, drain.ErrMissing, "no rules")
	_, err = waste.DateIn(time.Time{}, nil)
	refused(t, err, drain.ErrMissing, "no zone")
	_, err = waste.DateIn(time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC), time.UTC)
	refused(t, err, units.ErrRange, "year 10000")
}
