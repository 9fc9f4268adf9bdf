package waste_test

import (
	"encoding/json"
	"math"
	"strings"
	"sync"
	"testing"
	"time"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/europe"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func sets() []waste.RuleSet { return []waste.RuleSet{usfederal.RuleSet(), europe.RuleSet()} }

func TestSetsAreSoundAndHaveSources(t *testing.T) {
	for _, r := range sets() {
		require.NoError(t, r.Check())
		assert.NotEmpty(t, r.Questions)
		assert.NotEmpty(t, r.Notes)
		for _, q := range r.Questions {
			assert.Contains(t, q.Text, "?", "a hint is a question")
			assert.Contains(t, []string{"S", "S2", "D", "M"}, q.Source.Grade)
		}
		for _, n := range r.Notes {
			assert.Contains(t, []string{"S", "S2", "D", "M"}, n.Source.Grade)
		}
	}
}

// The exclusion names oil filters. Source: 40-cfr-261. Elements are undetermined until somebody determines
// them, and nothing here lets them out of the count.
func TestUsedOilFilterExclusionIsNotApplied(t *testing.T) {
	for _, stream := range []waste.Stream{waste.WetElement, waste.DrainedElement} {
		a, err := usfederal.RuleSet().Ask(stream)
		require.NoError(t, err)
		assert.Contains(t, a.String(), "not applied to fuel filters")
		var l waste.Ledger
		put(t, &l, entry("J1", 0, 1, stream, waste.Undetermined, weighed("150 kg")))
		s := statement(t, &l)
		assert.Equal(t, "SQG", s.Highest, "drained or not, it may count")
		assert.Equal(t, "VSQG", s.Lowest)
		put(t, &l, entry("J1", 1, 1, stream, waste.Hazardous, weighed("150 kg")))
		assert.Equal(t, "SQG", statement(t, &l).Lowest)
	}
}

func TestHashFollowsTheContents(t *testing.T) {
	first, err := usfederal.RuleSet().Hash()
	require.NoError(t, err)
	assert.Regexp(t, `^sha256:[0-9a-f]{64}$`, first)
	again, err := usfederal.RuleSet().Hash()
	require.NoError(t, err)
	assert.Equal(t, first, again)
	for name, change := range map[string]func(*waste.RuleSet){
		"limit":    func(r *waste.RuleSet) { r.Categories[0].UpTo = units.Kilogram.Of(99) },
		"whether":  func(r *waste.RuleSet) { r.Categories[0].Including = false },
		"days":     func(r *waste.RuleSet) { r.Categories[1].Days = 179 },
		"citation": func(r *waste.RuleSet) { r.Categories[1].Source.Cite = "elsewhere" },
		"date":     func(r *waste.RuleSet) { r.AsOf = waste.MustParseDate("2026-11-26") },
		"question": func(r *waste.RuleSet) { r.Questions = r.Questions[1:] },
		"note":     func(r *waste.RuleSet) { r.Notes[0].Text += "!" },
	} {
		r := usfederal.RuleSet()
		change(&r)
		hash, err := r.Hash()
		require.NoError(t, err)
		assert.NotEqual(t, first, hash, name)
	}
}

// The race detector holds it: no method changes the set that goroutines share.
func TestGoroutinesMayShareASet(t *testing.T) {
	rules, want := usfederal.RuleSet(), must(usfederal.RuleSet().Hash())
	var all sync.WaitGroup
	for range 8 {
		all.Add(1)
		go func() {
			defer all.Done()
			var own waste.Ledger
			_, err := own.Add(posting(entry("J1", 0, 1, waste.DrainedFuel, waste.Hazardous, weighed("91 kg"))))
			assert.NoError(t, err)
			s, err := own.Statement(waste.MustParseDate("2026-03-01"), rules)
			assert.NoError(t, err)
			assert.Equal(t, want, s.RulesHash)
			_, err = rules.Ask(waste.DrainedFuel)
			assert.NoError(t, err)
			state, err := rules.Derive("Invented State", rules.AsOf)
			assert.NoError(t, err)
			state.Categories[0].Name, state.Questions[0].Streams[0] = "changed", waste.OtherWaste
		}()
	}
	all.Wait()
	assert.Equal(t, want, must(rules.Hash()))
}

func TestDerivedSetSharesNothing(t *testing.T) {
	base := usfederal.RuleSet()
	before, err := base.Hash()
	require.NoError(t, err)
	state, err := base.Derive("Invented State", waste.MustParseDate("2026-12-01"))
	require.NoError(t, err)
	assert.Equal(t, before, state.Based)
	state.Categories[0].Name = "small"
	state.Questions[0].Streams[0] = waste.Gaskets
	state.Notes[0].Text = "changed"
	after, err := base.Hash()
	require.NoError(t, err)
	assert.Equal(t, before, after)

	// A state that knows no smallest category: what was VSQG is SQG there.
	state, err = base.Derive("Invented State", waste.MustParseDate("2026-12-01"))
	require.NoError(t, err)
	state.Categories = state.Categories[1:]
	require.NoError(t, state.Check())
	c, err := state.CategoryOf(units.Kilogram.Of(1))
	require.NoError(t, err)
	assert.Equal(t, "SQG", c.Name)

	_, err = base.Derive("", waste.MustParseDate("2026-12-01"))
	refused(t, err, drain.ErrMissing, "no name")
	_, err = base.Derive("x", waste.Date{})
	refused(t, err, units.ErrRange, "no date")
	_, err = waste.RuleSet{}.Derive("x", waste.MustParseDate("2026-12-01"))
	refused(t, err, drain.ErrMissing, "no set")
}

func TestSetsComeBackFromJSON(t *testing.T) {
	for _, r := range sets() {
		data, err := json.Marshal(r)
		require.NoError(t, err)
		back, err := waste.ParseRuleSet(data)
		require.NoError(t, err)
		want, err := r.Hash()
		require.NoError(t, err)
		got, err := back.Hash()
		require.NoError(t, err)
		assert.Equal(t, want, got)
		again, err := json.Marshal(back)
		require.NoError(t, err)
		assert.Equal(t, string(data), string(again), "one set, one form")

		var inside struct {
			Rules waste.RuleSet `json:"rules"`
		}
		require.NoError(t, json.Unmarshal([]byte(`{"rules":`+string(data)+`}`), &inside))
		assert.Equal(t, back, inside.Rules)
		err = json.Unmarshal([]byte(`{"rules":{"name":"x","limit":3}}`), &inside)
		refused(t, err, units.ErrSyntax, "strict inside a document too")
		assert.Equal(t, back, inside.Rules, "as it was")
	}
	good, err := json.Marshal(usfederal.RuleSet())
	require.NoError(t, err)
	for name, c := range map[string]struct {
		text string
		want error
	}{
		"nothing":       {"", units.ErrSyntax},
		"null":          {"null", units.ErrSyntax},
		"array":         {"[]", units.ErrSyntax},
		"unknown field": {`{"name":"x","asOf":"2026-01-01","limit":3}`, units.ErrSyntax},
		"null inside":   {strings.Replace(string(good), `"including":true`, `"including":null`, 1), units.ErrSyntax},
		"twice":         {strings.Replace(string(good), `"open":false`, `"open":false,"open":true`, 1), units.ErrSyntax},
		"in two cases":  {strings.Replace(string(good), `"upTo"`, `"UP_TO":"1 kg","upTo"`, 1), units.ErrSyntax},
		"in a long s":   {strings.Replace(string(good), `"notes"`, `"noteſ":[],"notes"`, 1), units.ErrSyntax},
		"bare number":   {`{"name":"x","asOf":"2026-01-01","categories":[{"name":"a","upTo":100}]}`, units.ErrSyntax},
		"two":           {string(good) + string(good), units.ErrSyntax},
		"no date":       {`{"name":"x"}`, units.ErrRange},
		"long":          {strings.Repeat(" ", 1<<20+1), units.ErrRange},
		"deep":          {strings.Repeat("[", 1<<19), units.ErrSyntax},
	} {
		_, err := waste.ParseRuleSet([]byte(c.text))
		refused(t, err, c.want, name)
	}
}

func TestUnsoundSetsRefused(t *testing.T) {
	source := waste.Source{Cite: "invented", Grade: "M"}
	for name, c := range map[string]struct {
		change func(*waste.RuleSet)
		want   error
	}{
		"no name":             {func(r *waste.RuleSet) { r.Name = "" }, drain.ErrMissing},
		"no date":             {func(r *waste.RuleSet) { r.AsOf = waste.Date{} }, units.ErrRange},
		"unnamed category":    {func(r *waste.RuleSet) { r.Categories[0].Name = "" }, drain.ErrMissing},
		"falling limits":      {func(r *waste.RuleSet) { r.Categories[1].UpTo = units.Kilogram.Of(100) }, units.ErrRange},
		"no open end":         {func(r *waste.RuleSet) { r.Categories = r.Categories[:2] }, units.ErrRange},
		"open in the middle":  {func(r *waste.RuleSet) { r.Categories[1].Open = true; r.Categories[1].UpTo = units.Mass{} }, units.ErrRange},
		"limit when open":     {func(r *waste.RuleSet) { r.Categories[2].UpTo = units.Kilogram.Of(1) }, units.ErrRange},
		"no limit":            {func(r *waste.RuleSet) { r.Categories[0].UpTo = units.Mass{} }, units.ErrRange},
		"negative on site":    {func(r *waste.RuleSet) { r.Categories[0].OnSite = units.MustParseMass("-1 kg") }, units.ErrRange},
		"same name":           {func(r *waste.RuleSet) { r.Categories[1].Name = "VSQG" }, units.ErrRange},
		"negative days":       {func(r *waste.RuleSet) { r.Categories[1].Days = -1 }, units.ErrRange},
		"endless days":        {func(r *waste.RuleSet) { r.Categories[1].Days = 1 << 30 }, units.ErrRange},
		"far is shorter":      {func(r *waste.RuleSet) { r.Categories[1].FarDays = 10 }, units.ErrRange},
		"far without why":     {func(r *waste.RuleSet) { r.Categories[1].Far = "" }, drain.ErrMissing},
		"no source":           {func(r *waste.RuleSet) { r.Categories[0].Source = waste.Source{} }, drain.ErrMissing},
		"no source of days":   {func(r *waste.RuleSet) { r.Categories[1].DaysFrom = waste.Source{} }, drain.ErrMissing},
		"no source of limit":  {func(r *waste.RuleSet) { r.Categories[1].LimitFrom.Grade = "" }, units.ErrRange},
		"satellite limit":     {func(r *waste.RuleSet) { r.Satellite.Limit = units.Volume{} }, units.ErrRange},
		"negative satellite":  {func(r *waste.RuleSet) { r.Satellite.Limit = units.MustParseVolume("-1 L") }, units.ErrRange},
		"stray satellite":     {func(r *waste.RuleSet) { r.Satellite.Limit = units.VolumeUnit(99).Of(1) }, units.ErrRange},
		"satellite backwards": {func(r *waste.RuleSet) { r.Satellite.Days = -1 }, units.ErrRange},
		"endless satellite":   {func(r *waste.RuleSet) { r.Satellite.Days = 3661 }, units.ErrRange},
		"endless far days":    {func(r *waste.RuleSet) { r.Categories[1].FarDays = 3661 }, units.ErrRange},
		"negative far days":   {func(r *waste.RuleSet) { r.Categories[1].FarDays = -1 }, units.ErrRange},
		"far days, no source": {func(r *waste.RuleSet) { r.Categories[1].Days = 0; r.Categories[1].DaysFrom = waste.Source{} }, drain.ErrMissing},
		"satellite, source":   {func(r *waste.RuleSet) { r.Satellite.Limit = units.Volume{}; r.Satellite.Days = 0 }, units.ErrRange},
		"satellite, days":     {func(r *waste.RuleSet) { r.Satellite = waste.RuleSet{}.Satellite; r.Satellite.Days = 3 }, units.ErrRange},
		"stray on site":       {func(r *waste.RuleSet) { r.Categories[0].OnSite = units.MassUnit(99).Of(1) }, units.ErrRange},
		"condition of no day": {func(r *waste.RuleSet) { r.Categories[0].Far = "a\nb" }, units.ErrSyntax},
		"grade of no days":    {func(r *waste.RuleSet) { r.Categories[0].DaysFrom = waste.Source{Cite: "invented"} }, units.ErrRange},
		"far days unsourced": {func(r *waste.RuleSet) {
			r.Categories[0].Far = "far"
			r.Categories[0].FarDays = 9
			r.Categories[0].DaysFrom = waste.Source{}
		}, drain.ErrMissing},
		"based on no hash":    {func(r *waste.RuleSet) { r.Based = "sha256:1234" }, units.ErrSyntax},
		"satellite source":    {func(r *waste.RuleSet) { r.Satellite.Source = waste.Source{} }, drain.ErrMissing},
		"no way to fill":      {func(r *waste.RuleSet) { r.Fill.By = "to the brim" }, units.ErrRange},
		"unsourced fill":      {func(r *waste.RuleSet) { r.Fill.Source = waste.Source{} }, drain.ErrMissing},
		"stray grade":         {func(r *waste.RuleSet) { r.Satellite.Source.Grade = "A" }, units.ErrRange},
		"stray hash":          {func(r *waste.RuleSet) { r.Based = "sha256:x" }, units.ErrSyntax},
		"hidden in far":       {func(r *waste.RuleSet) { r.Categories[1].Far = "far\u202e" }, units.ErrSyntax},
		"empty question":      {func(r *waste.RuleSet) { r.Questions[0].Text = "" }, drain.ErrMissing},
		"question on nothing": {func(r *waste.RuleSet) { r.Questions[0].Streams = nil }, drain.ErrMissing},
		"stray stream":        {func(r *waste.RuleSet) { r.Questions[0].Streams = []waste.Stream{99} }, units.ErrRange},
		"unsourced question":  {func(r *waste.RuleSet) { r.Questions[0].Source = waste.Source{} }, drain.ErrMissing},
		"untitled category":   {func(r *waste.RuleSet) { r.Categories[0].Title = "" }, drain.ErrMissing},
		"lines in a name":     {func(r *waste.RuleSet) { r.Name = "a\nb" }, units.ErrSyntax},
		"lines in a note":     {func(r *waste.RuleSet) { r.Notes[0].Text = "a\rb" }, units.ErrSyntax},
		"lines in a code":     {func(r *waste.RuleSet) { r.Questions[0].Code = "D001\n" }, units.ErrSyntax},
		"endless question":    {func(r *waste.RuleSet) { r.Questions[0].Text = long }, units.ErrRange},
		"endless list":        {func(r *waste.RuleSet) { r.Notes = make([]waste.Remark, 1001) }, units.ErrRange},
		"stray candidate":     {func(r *waste.RuleSet) { r.Candidates = []waste.Candidate{{Source: source}} }, units.ErrRange},
		"candidate unnamed": {func(r *waste.RuleSet) {
			r.Candidates = []waste.Candidate{{Stream: waste.Gaskets, Title: "x", Source: source}}
		}, drain.ErrMissing},
		"unsourced candidate": {func(r *waste.RuleSet) {
			r.Candidates = []waste.Candidate{{Stream: waste.Gaskets, Code: "x", Title: "x"}}
		}, drain.ErrMissing},
		"empty note":     {func(r *waste.RuleSet) { r.Notes[0].Text = "" }, drain.ErrMissing},
		"unsourced note": {func(r *waste.RuleSet) { r.Notes[0].Source = waste.Source{} }, drain.ErrMissing},
	} {
		r := usfederal.RuleSet()
		c.change(&r)
		refused(t, r.Check(), c.want, name)
		_, err := r.Hash()
		refused(t, err, c.want, name)
	}
}

func TestDatesCountAsTheCalendarDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := time.Date(rapid.IntRange(1, 9000).Draw(t, "year"), time.Month(rapid.IntRange(1, 12).Draw(t, "month")), rapid.IntRange(1, 28).Draw(t, "day"), 0, 0, 0, 0, time.UTC)
		n := rapid.IntRange(0, 3660).Draw(t, "days")
		from, err := waste.DateIn(start, time.UTC)
		require.NoError(t, err)
		to, err := waste.DateIn(start.Add(time.Duration(n)*24*time.Hour), time.UTC) // UTC has no other days
		require.NoError(t, err)
		assert.Equal(t, to, from.AddDays(n))
		assert.Equal(t, from, to.AddDays(-n))
		assert.Equal(t, n, from.DaysUntil(to))
		assert.Equal(t, min(n, 1), to.Compare(from))
		assert.Equal(t, -min(n, 1), from.Compare(to))
		back, err := waste.ParseDate(to.String())
		require.NoError(t, err)
		assert.Equal(t, to, back)
	})
	assert.Equal(t, waste.Date{}, waste.Date{}.AddDays(1))
	assert.Equal(t, waste.Date{}, waste.MustParseDate("2026-01-01").AddDays(1<<30))
	assert.Zero(t, waste.Date{}.DaysUntil(waste.MustParseDate("2026-01-01")))
	for _, c := range []struct {
		from   string
		months int
		want   string
	}{
		{"2026-01-31", 1, "2026-02-28"}, {"2028-01-31", 1, "2028-02-29"}, {"2026-01-28", 1, "2026-02-28"}, {"2026-03-31", 1, "2026-04-30"},
		{"2026-12-15", 1, "2027-01-15"}, {"2026-03-31", -1, "2026-02-28"}, {"2024-02-29", 12, "2025-02-28"}, {"2026-05-31", 0, "2026-05-31"},
	} { // as the calendar has them
		assert.Equal(t, waste.MustParseDate(c.want), waste.MustParseDate(c.from).AddMonths(c.months), c.from)
	}
	assert.Zero(t, waste.Date{}.AddMonths(1))
	assert.Zero(t, waste.MustParseDate("9999-12-31").AddMonths(1))
	assert.Zero(t, waste.MustParseDate("2026-01-01").AddMonths(math.MaxInt32))
}

// Half past midnight on 1 April in one zone is still March in another: the month it counts in
// depends on the site.
func TestTheZoneDecidesTheMonth(t *testing.T) {
	instant := time.Date(2026, 4, 1, 0, 30, 0, 0, time.UTC)
	for offset, want := range map[int]string{0: "2026-04-01", -6 * 3600: "2026-03-31", 12 * 3600: "2026-04-01"} {
		d, err := waste.DateIn(instant, time.FixedZone("site", offset))
		require.NoError(t, err)
		assert.Equal(t, want, d.String())
	}
}

func FuzzParseRuleSet(f *testing.F) {
	for _, r := range sets() {
		data, err := json.Marshal(r)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(`{"name":"x","asOf":"2026-01-01"}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := waste.ParseRuleSet(data)
		if err != nil {
			assert.Less(t, len(err.Error()), 400)
			return
		}
		for _, category := range r.Categories {
			assert.Empty(t, plain.Hidden(strings.ReplaceAll(category.String(), "\n", " ")))
		}
		if answers, err := r.Ask(waste.DrainedElement); err == nil {
			assert.Empty(t, plain.Hidden(strings.ReplaceAll(answers.String(), "\n", " ")))
		}
		again, err := json.Marshal(r)
		require.NoError(t, err)
		back, err := waste.ParseRuleSet(again)
		require.NoError(t, err)
		one, err := r.Hash()
		require.NoError(t, err)
		two, err := back.Hash()
		require.NoError(t, err)
		assert.Equal(t, one, two, "a set comes back from its JSON as it was")
	})
}
