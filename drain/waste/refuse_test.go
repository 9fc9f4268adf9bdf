package waste_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
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
		_, err := waste.ParseStream(text)
		refused(t, err, units.ErrSyntax, "stream")
	}
	for _, text := range []string{"", "yes", "non-hazardous", "not hazardous", "hazardous?", long} {
		_, err := waste.ParseDetermination(text)
		refused(t, err, units.ErrSyntax, "determination")
	}
	for _, text := range []string{"", "D", "DMM", "XX", "??", long} {
		_, err := waste.ParseContainerCode(text)
		refused(t, err, units.ErrSyntax, "container code")
	}
	for _, text := range []string{"", "KG", "X", "?", "lb", long} {
		_, err := waste.ParseFormUnit(text)
		refused(t, err, units.ErrSyntax, "unit code")
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

// Names are read with blanks around them and in any letter case, codes too.
func TestTextsRead(t *testing.T) {
	stream, err := waste.ParseStream(" \tDrained FUEL\n")
	require.NoError(t, err)
	assert.Equal(t, waste.DrainedFuel, stream)
	d, err := waste.ParseDetermination(" Not counted ")
	require.NoError(t, err)
	assert.Equal(t, waste.NotCounted, d)
	code, err := waste.ParseContainerCode(" dm ")
	require.NoError(t, err)
	assert.Equal(t, waste.MetalDrums, code)
	unit, err := waste.ParseFormUnit(" k ")
	require.NoError(t, err)
	assert.Equal(t, waste.FormKilograms, unit)
}

// What is as long as is allowed is allowed.
func TestLongestTexts(t *testing.T) {
	i := item(waste.Gaskets, weighed("1 kg"))
	i.Description = strings.Repeat("x", 256)
	i.WasteCodes = []string{"D001", "D002", "D003", "D018", "F001", "F002"}
	line, err := i.Line(waste.FormKilograms)
	require.NoError(t, err)
	assert.Equal(t, i.WasteCodes, line.WasteCodes)
	i.Description += "x"
	_, err = i.Consign(0)
	refused(t, err, units.ErrRange, "description of a consignment")
	e := entry(strings.Repeat("J", 64), 1_000_000, 999, waste.DrainedFuel, waste.Hazardous, weighed("1 kg"))
	e.Container = strings.Repeat("C", 64)
	require.NoError(t, e.Check())
	r := waste.USFederal()
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
	stream, d, c, u, date := waste.Gaskets, waste.Hazardous, waste.Bags, waste.FormPounds, waste.MustParseDate("2026-01-02")
	for _, target := range []interface{ UnmarshalText([]byte) error }{&stream, &d, &c, &u, &date} {
		require.Error(t, target.UnmarshalText([]byte("nonsense")))
		require.Error(t, target.UnmarshalText([]byte(long)))
	}
	assert.Equal(t, waste.Gaskets, stream)
	assert.Equal(t, waste.Hazardous, d)
	assert.Equal(t, waste.Bags, c)
	assert.Equal(t, waste.FormPounds, u)
	assert.Equal(t, waste.MustParseDate("2026-01-02"), date)
}

func TestStrayValuesAreNotEncoded(t *testing.T) {
	for _, v := range []any{waste.Stream(0), waste.Stream(99), waste.Determination(99), waste.ContainerCode(0),
		waste.ContainerCode(99), waste.FormUnit(0), waste.FormUnit(99), waste.Date{Year: 2026, Month: 2, Day: 30}} {
		_, err := json.Marshal(v)
		require.ErrorIs(t, err, units.ErrRange, "%v", v)
		assert.NotEmpty(t, v.(interface{ String() string }).String())
	}
	assert.Equal(t, "no container", waste.ContainerCode(99).Name())
	assert.Equal(t, "no unit", waste.FormUnit(99).Name())
	assert.False(t, waste.Stream(99).Liquid())
	assert.False(t, waste.FormUnit(99).LiquidsOnly() || waste.FormUnit(99).BulkOnly())
}

func TestEncodedValuesComeBack(t *testing.T) {
	for _, s := range waste.Streams() {
		var back waste.Stream
		text, err := s.MarshalText()
		require.NoError(t, err)
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, s, back)
	}
	for d := waste.Undetermined; d.Valid(); d++ {
		var back waste.Determination
		text, err := d.MarshalText()
		require.NoError(t, err)
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, d, back)
	}
	for c := waste.MetalDrums; c.Valid(); c++ {
		var back waste.ContainerCode
		text, err := c.MarshalText()
		require.NoError(t, err)
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, c, back)
	}
	for u := waste.FormKilograms; u.Valid(); u++ {
		var back waste.FormUnit
		text, err := u.MarshalText()
		require.NoError(t, err)
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, u, back)
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
		{"no job", func(e *waste.Entry) { e.Job = "" }, waste.ErrMissing},
		{"blanks around the job", func(e *waste.Entry) { e.Job = " J1" }, waste.ErrMissing},
		{"long job", func(e *waste.Entry) { e.Job = long }, units.ErrRange},
		{"two lines of job", func(e *waste.Entry) { e.Job = "J\n1" }, units.ErrSyntax},
		{"negative revision", func(e *waste.Entry) { e.Revision = -1 }, units.ErrRange},
		{"huge revision", func(e *waste.Entry) { e.Revision = 1_000_001 }, units.ErrRange},
		{"line 0", func(e *waste.Entry) { e.Line = 0 }, units.ErrRange},
		{"line 1000", func(e *waste.Entry) { e.Line = 1000 }, units.ErrRange},
		{"no date", func(e *waste.Entry) { e.Date = waste.Date{} }, units.ErrRange},
		{"30 February", func(e *waste.Entry) { e.Date = waste.Date{Year: 2026, Month: 2, Day: 30} }, units.ErrRange},
		{"no stream", func(e *waste.Entry) { e.Stream = 0 }, waste.ErrMissing},
		{"stray stream", func(e *waste.Entry) { e.Stream = 99 }, waste.ErrMissing},
		{"stray determination", func(e *waste.Entry) { e.Determination = 99 }, units.ErrRange},
		{"blanks around the container", func(e *waste.Entry) { e.Container = "DM 1 " }, waste.ErrMissing},
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
		refused(t, l.Add(e), c.want, c.name)
		refused(t, e.Check(), c.want, c.name)
		assert.Empty(t, l.Entries(), c.name)
	}
	var l waste.Ledger
	refused(t, l.Withdraw("", 0), waste.ErrMissing, "withdraw")
	_, err := l.Statement(2026, 13, waste.USFederal())
	refused(t, err, units.ErrRange, "month 13")
	_, err = l.Statement(0, time.March, waste.USFederal())
	refused(t, err, units.ErrRange, "year 0")
	_, err = l.Statement(2026, time.March, waste.RuleSet{})
	refused(t, err, waste.ErrMissing, "no rules")
}

func TestItemsRefused(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*waste.Item)
		unit   waste.FormUnit
		want   error
	}{
		{"no description", func(i *waste.Item) { i.Description = " " }, waste.FormKilograms, waste.ErrMissing},
		{"long description", func(i *waste.Item) { i.Description = long }, waste.FormKilograms, units.ErrRange},
		{"two lines", func(i *waste.Item) { i.Description = "a\nb" }, waste.FormKilograms, units.ErrSyntax},
		{"no stream", func(i *waste.Item) { i.Stream = 0 }, waste.FormKilograms, waste.ErrMissing},
		{"seven codes", func(i *waste.Item) { i.WasteCodes = make([]string, 7) }, waste.FormKilograms, units.ErrRange},
		{"an empty code", func(i *waste.Item) { i.WasteCodes = []string{""} }, waste.FormKilograms, units.ErrSyntax},
		{"blanks around a code", func(i *waste.Item) { i.WasteCodes = []string{"D001", " D018"} }, waste.FormKilograms, units.ErrSyntax},
		{"best from nowhere", func(i *waste.Item) { i.Mass = drain.Estimate[units.MassUnit]{Best: units.Kilogram.Of(1)} }, waste.FormKilograms, drain.ErrMissing},
		{"high from nowhere", func(i *waste.Item) { i.Mass = drain.Estimate[units.MassUnit]{High: units.Kilogram.Of(1)} }, waste.FormKilograms, drain.ErrMissing},
		{"no containers", func(i *waste.Item) { i.Containers = nil }, waste.FormKilograms, waste.ErrMissing},
		{"container without code", func(i *waste.Item) { i.Containers = []waste.Container{{}} }, waste.FormKilograms, waste.ErrMissing},
		{"mixed containers", func(i *waste.Item) { i.Containers = []waste.Container{{Code: waste.Bags}, {Code: waste.MetalDrums}} }, waste.FormKilograms, units.ErrRange},
		{"nothing known", func(i *waste.Item) { i.Mass = drain.Estimate[units.MassUnit]{} }, waste.FormKilograms, waste.ErrMissing},
		{"no provenance", func(i *waste.Item) { i.Mass.From = 0 }, waste.FormKilograms, drain.ErrMissing},
		{"a billion", func(i *waste.Item) { i.Mass = weighed("1000000000 kg") }, waste.FormKilograms, units.ErrRange},
		{"beyond an int64", func(i *waste.Item) { i.Mass = weighed("99999999999999999999999 kg") }, waste.FormKilograms, units.ErrRange},
		{"negative", func(i *waste.Item) { i.Mass.Low = units.MustParseMass("-1 kg") }, waste.FormKilograms, units.ErrRange},
		{"negative volume", func(i *waste.Item) {
			i.Volume = volume("1 L", drain.Measured)
			i.Volume.Low = units.MustParseVolume("-1 L")
		}, waste.FormKilograms, units.ErrRange},
		{"volume from nowhere", func(i *waste.Item) { i.Volume = volume("1 L", 0) }, waste.FormKilograms, drain.ErrMissing},
		{"no unit", func(*waste.Item) {}, 0, waste.ErrMissing},
		{"stray unit", func(*waste.Item) {}, 99, waste.ErrMissing},
		{"gallons of elements", func(*waste.Item) {}, waste.FormGallons, waste.ErrLiquidsOnly},
		{"cubic yards of drums", func(*waste.Item) {}, waste.FormCubicYards, waste.ErrBulkOnly},
	} {
		i := item(waste.DrainedElement, weighed("10 kg"))
		c.change(&i)
		_, err := i.Line(c.unit)
		refused(t, err, c.want, c.name)
	}
	for _, places := range []int{-1, 4, 1 << 30} {
		_, err := item(waste.Gaskets, weighed("1 kg")).Consign(places)
		refused(t, err, units.ErrRange, "places")
	}
	_, err := item(waste.Gaskets, weighed("10000000 kg")).Consign(3)
	refused(t, err, units.ErrRange, "too large at three places")
}

func TestContainersRefused(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*waste.Container)
		want   error
	}{
		{"no code", func(c *waste.Container) { c.Code = 0 }, waste.ErrMissing},
		{"blanks around its label", func(c *waste.Container) { c.ID = "A " }, waste.ErrMissing},
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
		refused(t, bad.Check(), c.want, c.name)
		_, err := bad.Net(weighed("20 kg"))
		refused(t, err, c.want, c.name)
		_, err = bad.Gross(weighed("20 kg"))
		refused(t, err, c.want, c.name)
		_, err = waste.USFederal().Due("SQG", false, waste.MustParseDate("2026-01-01"), 1, []waste.Container{bad})
		refused(t, err, c.want, c.name)
	}
	brim := drum("A")
	brim.FillLimit = brim.Capacity
	require.NoError(t, brim.Check(), "to the brim is no more than it holds")
	bare := waste.Container{Code: waste.Bags}
	require.NoError(t, bare.Check())
	_, err := bare.Net(weighed("20 kg"))
	refused(t, err, waste.ErrMissing, "no tare")
	_, err = bare.Gross(weighed("20 kg"))
	refused(t, err, waste.ErrMissing, "no tare")
	_, err = drum("A").Net(drain.Estimate[units.MassUnit]{})
	refused(t, err, drain.ErrMissing, "no gross")
}

func TestMassesRefused(t *testing.T) {
	negative := weighed("1 kg")
	negative.Low = units.MustParseMass("-1 kg")
	_, err := waste.Wet(negative, volume("1 L", drain.Measured), density("840 kg/m³"))
	refused(t, err, units.ErrRange, "dry")
	_, err = waste.Wet(nothing(), drain.Estimate[units.VolumeUnit]{}, density("840 kg/m³"))
	refused(t, err, drain.ErrMissing, "retained")
	_, err = waste.Wet(nothing(), volume("1 L", drain.Measured), drain.Estimate[units.DensityUnit]{})
	refused(t, err, drain.ErrMissing, "density")
	_, err = waste.Wet(nothing(), volume("100000000000000000000000 m³", drain.Measured), density("840 kg/m³"))
	refused(t, err, units.ErrRange, "too large")
	_, err = waste.Settle(negative, weighed("1 kg"))
	refused(t, err, units.ErrRange, "estimated")
	_, err = waste.Settle(weighed("1 kg"), negative)
	refused(t, err, units.ErrRange, "weighed")
}

func TestClocksRefused(t *testing.T) {
	rules, day := waste.USFederal(), waste.MustParseDate("2026-01-01")
	_, err := rules.OffSiteBy("XQG", day, false)
	refused(t, err, waste.ErrNoRule, "unknown category")
	_, err = rules.OffSiteBy("VSQG", day, false)
	refused(t, err, waste.ErrNoRule, "no days")
	_, err = rules.OffSiteBy("LQG", day, true)
	refused(t, err, waste.ErrNoRule, "no longer time")
	_, err = rules.OffSiteBy("SQG", waste.Date{}, false)
	refused(t, err, units.ErrRange, "no date")
	_, err = rules.OffSiteBy("SQG", waste.MustParseDate("9999-12-01"), false)
	refused(t, err, units.ErrRange, "past the calendar")
	_, err = rules.MoveBy(waste.Date{})
	refused(t, err, units.ErrRange, "no date")
	_, err = waste.EuropeanList().MoveBy(day)
	refused(t, err, waste.ErrNoRule, "no satellite rule")
	_, err = waste.RuleSet{}.MoveBy(day)
	refused(t, err, waste.ErrMissing, "no rules")
	_, err = waste.RuleSet{}.OffSiteBy("SQG", day, false)
	refused(t, err, waste.ErrMissing, "no rules")
	_, err = rules.OnSite("LQG", weighed("1 kg"))
	refused(t, err, waste.ErrNoRule, "no limit")
	_, err = rules.OnSite("XQG", weighed("1 kg"))
	refused(t, err, waste.ErrNoRule, "unknown category")
	_, err = rules.OnSite("SQG", drain.Estimate[units.MassUnit]{})
	refused(t, err, drain.ErrMissing, "no mass")
	_, err = rules.Due("SQG", false, waste.Date{}, 1, nil)
	refused(t, err, units.ErrRange, "no today")
	_, err = rules.Due("VSQG", false, day, 1, nil)
	refused(t, err, waste.ErrNoRule, "no days")
	_, err = rules.CategoryOf(units.MustParseMass("-1 kg"))
	refused(t, err, units.ErrRange, "negative mass")
	_, err = waste.RuleSet{}.CategoryOf(units.Kilogram.Of(1))
	refused(t, err, waste.ErrMissing, "no rules")
	_, err = rules.Ask(0)
	refused(t, err, units.ErrRange, "no stream")
	_, err = waste.RuleSet{}.Ask(waste.Gaskets)
	refused(t, err, waste.ErrMissing, "no rules")
	_, err = waste.DateIn(time.Time{}, nil)
	refused(t, err, waste.ErrMissing, "no zone")
	_, err = waste.DateIn(time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC), time.UTC)
	refused(t, err, units.ErrRange, "year 10000")
}
