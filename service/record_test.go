package service

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/internal/strictjson"
	"example.com/snugturn/units"
)

var updateRecord = flag.Bool("update-record", false, "write testdata/record*.json anew, to be read before it is kept")

func benchRecord(t testing.TB) []byte {
	t.Helper()
	text, err := reviewWith(t).Record()
	require.NoError(t, err)
	return text
}

// The bytes that one machine wrote are the bytes that every other writes.
func TestRecordIsTheSameEverywhere(t *testing.T) {
	for file, text := range map[string][]byte{
		"testdata/record.json": benchRecord(t), "testdata/record-month.json": monthRecord(t, "US federal"),
	} {
		if *updateRecord {
			require.NoError(t, os.WriteFile(file, []byte(string(text)+"\n"), 0o644))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, strings.TrimSuffix(string(want), "\n"), string(text), file)
	}
}

func TestRecordHasNeitherFloatsNorUnsortedKeys(t *testing.T) {
	text := benchRecord(t)
	outsideStrings := regexp.MustCompile(`"(\\.|[^"\\])*"`).ReplaceAllString(string(text), `""`)
	assert.NotRegexp(t, `[.eE]\d|null|\n`, outsideStrings)
	var tree any
	require.NoError(t, json.Unmarshal(text, &tree))
	sorted, err := strictjson.Canonical(tree)
	require.NoError(t, err)
	assert.Equal(t, string(sorted), string(text))
}

// A record holds what it needs to be judged again, and is judged alike.
func TestRecordJudgedAgain(t *testing.T) {
	text := benchRecord(t)
	record, err := ReadRecord(text)
	require.NoError(t, err)
	assert.Equal(t, Release, record.Release)
	assert.True(t, record.Complete)
	for range 3 {
		review, err := record.Review()
		require.NoError(t, err)
		again, err := review.Record()
		require.NoError(t, err)
		require.Equal(t, string(text), string(again))
		record, err = ReadRecord(again)
		require.NoError(t, err)
	}
}

// Whatever the readings: the record is read back and gives the same bytes, and is complete
// exactly when nothing that is needed is open.
func TestRecordRoundTripProperty(t *testing.T) {
	plan, rules := benchPlan(t), rulesWith(t)
	rapid.Check(t, func(t *rapid.T) {
		done := anyReadings(t)
		review, err := plan.reviewBy(done, rules)
		require.NoError(t, err)
		require.Equal(t, len(review.Open()) == 0, review.Complete)
		for _, l := range review.Lines {
			require.NotEmpty(t, l.ReasonText)
			_, err := l.Verdict.MarshalText()
			require.NoError(t, err)
		}
		text, err := review.Record()
		require.NoError(t, err)
		record, err := ReadRecord(text)
		require.NoError(t, err)
		again, err := record.Review()
		require.NoError(t, err)
		rewritten, err := again.Record()
		require.NoError(t, err)
		require.Equal(t, string(text), string(rewritten))
	})
}

// Readings that complete a job don't without any one of those that are needed.
func TestLessReadingsNeverComplete(t *testing.T) {
	plan, rules := benchPlan(t), rulesWith(t)
	for name, without := range map[string]func(*AsDone){
		"a station":   func(d *AsDone) { d.Stations = d.Stations[1:] },
		"drag":        func(d *AsDone) { d.Stations[0].Dragged = nil },
		"torque":      func(d *AsDone) { d.Stations[0].Torque = nil },
		"uncertainty": func(d *AsDone) { d.Stations[0].Torque.Expanded = units.Torque{} },
		"gap":         func(d *AsDone) { d.Stations[0].Seated = nil },
		"marks":       func(d *AsDone) { d.Stations[1].Marks = nil },
		"all leaks":   func(d *AsDone) { d.Stations[0].Leaks = LeakCheck{} },
		"priming":     func(d *AsDone) { d.Stations[1].Leaks.Priming = nil },
		"hot":         func(d *AsDone) { d.Stations[1].Leaks.Hot = nil },
		"a thing":     func(d *AsDone) { d.Restored = d.Restored[1:] },
	} {
		done := doneWith(t)
		review, err := plan.reviewBy(done, rules)
		require.NoError(t, err)
		require.True(t, review.Complete)
		without(&done)
		review, err = plan.reviewBy(done, rules)
		require.NoError(t, err, name)
		assert.False(t, review.Complete, name)
	}
}

func anyReadings(t *rapid.T) AsDone {
	truth := func(name string) *bool {
		return rapid.SampledFrom([]*bool{nil, ptr(true), ptr(false)}).Draw(t, name)
	}
	done := AsDone{Version: Version, Job: "T-1", Revision: 1, Date: waste.Date{Year: 2026, Month: 3, Day: rapid.IntRange(1, 31).Draw(t, "day")},
		By: rapid.StringMatching(`[A-Za-zÄé<>&"\\][A-Za-zÄé<>&"\\ ]{0,9}`).Draw(t, "by"), Source: "invented"}
	bowl := StationDone{ID: "1", Dragged: truth("dragged"), Seated: truth("seated"), PastStop: rapid.Bool().Draw(t, "past")}
	if rapid.Bool().Draw(t, "torqued") {
		bowl.Torque = &TorqueReading{Tool: "W", Value: milli(rapid.IntRange(20000, 40000).Draw(t, "torque"))}
		if u := rapid.IntRange(0, 4000).Draw(t, "U"); u > 0 {
			bowl.Torque.Expanded = milli(u)
		}
	}
	canister := StationDone{ID: "2", Dragged: truth("dragged 2")}
	if rapid.Bool().Draw(t, "turned") {
		label := rapid.SampledFrom([]string{"N", "E", "S", "W"})
		canister.Marks = &MarksSeen{Before: MarkSeen{Mark: label.Draw(t, "before")}, After: MarkSeen{Mark: label.Draw(t, "after")},
			Passes: rapid.SampledFrom([]*int{nil, ptr(0), ptr(1)}).Draw(t, "passes")}
	}
	done.Stations = []StationDone{bowl, canister}
	done.KeyCycles = rapid.SampledFrom([]*int{nil, ptr(0), ptr(3), ptr(9)}).Draw(t, "cycles")
	if rapid.Bool().Draw(t, "looked") {
		done.Stations[0].Leaks = LeakCheck{Priming: truth("priming"), Running: truth("running"), Hot: truth("hot")}
		done.Stations[1].Leaks = LeakCheck{Priming: truth("priming 2"), Hot: truth("hot 2")}
	}
	for _, what := range []string{"battery", "automatic start"} {
		if back := truth(what); back != nil {
			done.Restored = append(done.Restored, Restored{what, *back})
		}
	}
	return done
}

func ptr[T any](v T) *T { return &v }

func TestAlteredRecords(t *testing.T) {
	text := string(benchRecord(t))
	for _, c := range []struct {
		name, old, new string
		want           error
	}{
		{"a verdict", `"verdict":"pass"`, `"verdict":"fail"`, ErrAltered},
		{"a reading", `"value":"21"`, `"value":"20"`, ErrAltered},
		{"whether it is complete", `"complete":true`, `"complete":false`, ErrAltered},
		{"the rule", `"torque":"guarded by U"`, `"torque":"simple acceptance"`, ErrAltered},
		{"what the rules say", `"code":"seat.turns"`, `"code":"seat.count"`, ErrAltered},
		{"a field", `"complete":true`, `"complete":true,"novelty":1`, errUnknownField},
		{"a field twice", `"complete":true`, `"complete":true,"complete":true`, errDuplicateField},
		{"a blank", `"complete":true`, `"complete": true`, ErrAltered},
		{"a missing part", `"complete":true,`, ``, errMissingField},
		{"a job that can't be", `"panHolds":{"unit":"L","value":"10"}`, `"panHolds":{"unit":"L","value":"-10"}`, nil},
		{"readings that can't be", `"by":"invented"`, `"by":""`, errMissingField},
		{"the end", `"verdict":"pass"`, `"verdict"`, ErrJSON},
	} {
		require.Contains(t, text, c.old, c.name)
		record, err := ReadRecord([]byte(strings.Replace(text, c.old, c.new, 1)))
		var all JobErrors
		require.ErrorAs(t, err, &all, c.name)
		if c.want != nil {
			assert.ErrorIs(t, err, c.want, c.name)
		}
		assert.Empty(t, record.Lines, c.name)
	}
	_, err := ReadRecord([]byte(strings.Replace(text, `"panHolds":{"unit":"L","value":"10"}`, `"panHolds":{"unit":"L","value":"-10"}`, 1)))
	assert.ErrorContains(t, err, "job.shop.panHolds")
}

// monthRecord is a record of a job whose month is counted, by the rules of that name: given ones or the library's.
func monthRecord(t *testing.T, name string, sets ...waste.RuleSet) []byte {
	t.Helper()
	month := `"waste": {"month": {"rules": "` + name + `", "soFar": {"low": "40 kg", "best": "42 kg", "high": "45 kg", "from": "weighed"}},`
	job, err := ReadJob([]byte(strings.Replace(bench, `"waste": {`, month, 1)), sets...)
	require.NoError(t, err)
	plan, err := NewPlan(job, Rules{}, sets...)
	require.NoError(t, err)
	review, err := plan.reviewBy(doneWith(t), rulesWith(t))
	require.NoError(t, err)
	text, err := review.Record()
	require.NoError(t, err)
	return text
}

func monthLine(t *testing.T, r Record) Line {
	t.Helper()
	review, err := r.Review()
	require.NoError(t, err)
	return lineOf(t, review, "totals")
}

// The rules of the month are in the record, whole, and the hash is taken of them too.
func TestRecordCarriesTheRulesOfTheMonth(t *testing.T) {
	text := monthRecord(t, "US federal")
	record, err := ReadRecord(text)
	require.NoError(t, err)
	require.NotNil(t, record.WasteRules)
	want, err := usfederal.RuleSet().Hash()
	require.NoError(t, err)
	got, err := record.WasteRules.Hash()
	require.NoError(t, err)
	assert.Equal(t, want, got, "limits, days, questions, sources and dates: all of it")
	assert.Contains(t, monthLine(t, record).ReasonText, "the site stays VSQG")
	assert.Contains(t, monthLine(t, record).ReasonText, waste.Caveat)

	for _, c := range []struct {
		name, old, new string
		want           error
	}{
		{"a limit", `"upTo":{"unit":"kg","value":"100"}`, `"upTo":{"unit":"kg","value":"10"}`, ErrAltered},
		{"whether the limit is within", `"including":true`, `"including":false`, ErrAltered},
		{"days", `"days":180`, `"days":18`, ErrAltered},
		{"a source", `40 CFR 262.16(b)`, `40 CFR 262.61(b)`, ErrAltered},
		{"the day", `"asOf":"2026-11-25"`, `"asOf":"2026-11-26"`, ErrAltered},
		{"an unknown field", `"asOf":`, `"colour":"red","asOf":`, units.ErrSyntax},
		{"no rules", `,"waste":{"asOf"`, `,"wasted":{"asOf"`, errUnknownField},
		{"another name", `"name":"US federal","notes"`, `"name":"Some State","notes"`, errContradiction},
		{"rules that can't be", `"farDays":270`, `"farDays":-270`, units.ErrRange},
	} {
		require.Contains(t, string(text), c.old, c.name)
		_, err := ReadRecord([]byte(strings.Replace(string(text), c.old, c.new, 1)))
		assert.ErrorIs(t, err, c.want, c.name)
	}
	start := strings.Index(string(text), `,"waste":{"asOf"`)
	end := strings.Index(string(text), `},"rulesSHA256"`)
	_, err = ReadRecord([]byte(string(text[:start]) + string(text[end:])))
	assert.ErrorIs(t, err, errMissingField, "a job that counts a month, and no rules")
	assert.ErrorContains(t, err, "rules.waste")

	bare := string(benchRecord(t))
	_, err = ReadRecord([]byte(strings.Replace(bare, `},"rulesSHA256"`, string(text[start:end])+`},"rulesSHA256"`, 1)))
	assert.ErrorIs(t, err, errContradiction, "rules, and a job that counts no month")
}

// A record is judged by the rules in it: those of a state, which the library doesn't have, or
// those that the library had under the same name when it was made.
func TestRecordIsJudgedByItsOwnRules(t *testing.T) {
	own, err := usfederal.RuleSet().Derive("Invented State", waste.MustParseDate("2026-12-01"))
	require.NoError(t, err)
	own.Categories = own.Categories[1:] // a state without the smallest category
	own.Notes[0].Text = strings.Repeat("long ", 190)
	own.Categories[0].Title = strings.Repeat("long, ", 140)
	own.Categories[0].Source.Cite = strings.Repeat("40 CFR ", 140)
	before := usfederal.RuleSet()
	before.Categories[0].UpTo = units.Kilogram.Of(43)
	for _, c := range []struct {
		rules waste.RuleSet
		want  string
	}{{own, "the site stays SQG"}, {before, "the site may move from VSQG to SQG"}} {
		text := monthRecord(t, c.rules.Name, c.rules)
		record, err := ReadRecord(text)
		require.NoError(t, err, c.rules.Name)
		assert.Equal(t, c.rules, *record.WasteRules)
		line := monthLine(t, record)
		assert.Contains(t, line.ReasonText, c.want)
		assert.Contains(t, line.WantText, c.rules.Name+", as of "+c.rules.AsOf.String())
		review, err := record.Review()
		require.NoError(t, err)
		again, err := review.Record()
		require.NoError(t, err)
		assert.Equal(t, string(text), string(again))
	}
	job := benchPlan(t).Job
	job.Waste.Month = &Month{Rules: "Invented State", SoFar: drain.Estimate[units.MassUnit]{Low: units.Kilogram.Of(1), Best: units.Kilogram.Of(1), High: units.Kilogram.Of(1), From: drain.Weighed}}
	_, err = NewPlan(job, Rules{})
	assert.ErrorIs(t, err, units.ErrSyntax, "a name that nobody knows")
	own.Categories[0].Source = waste.Source{}
	_, err = NewPlan(job, Rules{}, own)
	assert.ErrorIs(t, err, drain.ErrMissing, "rules without a source")
	assert.ErrorContains(t, err, "waste.month.rules")
}

// Another release may word a reason in another way. Its record is read, its rules are held to
// their hash, and it can be judged again; that the bytes are the same is then not to be asked.
func TestRecordOfAnotherRelease(t *testing.T) {
	text := strings.Replace(string(benchRecord(t)), `"release":"`+Release+`"`, `"release":"0.0.1"`, 1)
	text = strings.Replace(text, "it ran up free", "ran up free", 1)
	record, err := ReadRecord([]byte(text))
	require.NoError(t, err)
	assert.Equal(t, "0.0.1", record.Release)
	assert.Equal(t, "ran up free", record.Lines[0].ReasonText)
	review, err := record.Review()
	require.NoError(t, err)
	assert.True(t, review.Complete)
}

// A job made in Go may have lists that are nil; its record still reads back.
func TestRecordOfAJobMadeInGo(t *testing.T) {
	plan := benchPlan(t)
	plan.Job.Stations[0].Seals = nil
	review, err := plan.reviewBy(doneWith(t), rulesWith(t))
	require.NoError(t, err)
	text, err := review.Record()
	require.NoError(t, err)
	assert.Contains(t, string(text), `"seals":[]`)
	_, err = ReadRecord(text)
	require.NoError(t, err)
}

// Texts of the longest kind go into lines together and still read back; what doesn't print is refused.
func TestRecordReadsItsTextsBack(t *testing.T) {
	long := strings.Repeat("é", 250)
	plan := benchPlan(t)
	for i := range plan.Job.Isolate {
		plan.Job.Isolate[i].What = long[:498] + string('0'+rune(i))
	}
	plan.Job.Source = long
	done := doneWith(t, `"tool": "W-1"`, `"tool": "`+long+`"`)
	for i, isolated := range plan.Job.Isolate {
		done.Restored[len(done.Restored)-1-i].What = isolated.What
	}
	plan, err := NewPlan(plan.Job, Rules{})
	require.NoError(t, err)
	review, err := plan.reviewBy(done, rulesWith(t))
	require.NoError(t, err)
	text, err := review.Record()
	require.NoError(t, err)
	back, err := ReadRecord(text)
	require.NoError(t, err)
	assert.Equal(t, review.Lines, back.Lines)

	for path, spoil := range map[string]func(*Job, *AsDone){
		"machine":                      func(j *Job, _ *AsDone) { j.Machine = "a\nb" },
		"stations[1].seals[0].part":    func(j *Job, _ *AsDone) { j.Stations[1].Seals[0].Part = strings.Repeat("x", 501) },
		"stations[0].torque.tool":      func(_ *Job, d *AsDone) { d.Stations[0].Torque.Tool = "\u202eW" },
		"remarks[0]":                   func(_ *Job, d *AsDone) { d.Remarks = []string{"\xff"} },
		"stations[0].marks.after.mark": func(_ *Job, d *AsDone) { d.Stations[0].Marks = &MarksSeen{After: MarkSeen{Mark: "A\u200b"}} },
	} {
		job, done := benchPlan(t).Job, doneWith(t)
		spoil(&job, &done)
		plan, err := NewPlan(job, Rules{})
		if err == nil {
			_, err = plan.reviewBy(done, rulesWith(t))
		}
		var all JobErrors
		require.ErrorAs(t, err, &all, path)
		assert.Equal(t, path, all[len(all)-1].Path)
	}
}

func TestRecordTooLargeToRead(t *testing.T) {
	job := benchPlan(t).Job
	seals := make([]Seal, maxListed)
	for i := range seals {
		seals[i] = Seal{Part: strings.Repeat("x", 500), Where: strings.Repeat("y", 500), Dry: true}
	}
	for len(job.Stations) < 40 {
		station := job.Stations[0]
		station.ID, station.Seals = fmt.Sprint(len(job.Stations)+1), seals
		job.Stations = append(job.Stations, station)
	}
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	review, err := plan.reviewBy(doneWith(t), rulesWith(t))
	require.NoError(t, err)
	_, err = review.Record()
	assert.ErrorIs(t, err, ErrSize)

	review.Done.Remarks = make([]string, strictjson.MaxItems+1)
	_, err = review.Record()
	assert.ErrorIs(t, err, ErrSize)
}

func FuzzReadRecord(f *testing.F) {
	f.Add([]byte(benchRecord(f)))
	f.Add([]byte(`{"version":1,"rules":{"agreed":{}}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		record, err := ReadRecord(data)
		if err == nil && record.Release == "" && record.Complete {
			t.Fatal("a record of no release")
		}
	})
}

func BenchmarkReview(b *testing.B) {
	plan, done, rules := benchPlan(b), doneWith(b), rulesWith(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := plan.reviewBy(done, rules); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReadRecord(b *testing.B) {
	text := benchRecord(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ReadRecord(text); err != nil {
			b.Fatal(err)
		}
	}
}

func milli(n int) units.Torque {
	q, _ := units.New(decimal.New(int64(n), -3), units.NewtonMetre) // few digits
	return q
}

// Water, a vessel, wrenches, a hand primer, other waste: a record of a job that has all of it.
func TestRecordOfAFullJob(t *testing.T) {
	demo, err := os.ReadFile("../examples/servicesheet/demo.json")
	require.NoError(t, err)
	job, err := ReadJob(demo)
	require.NoError(t, err)
	stroke, err := drain.Exactly(units.Millilitre.Of(40), drain.Stated)
	require.NoError(t, err)
	job.Prime.HandPrimer = &HandPrimer{Stroke: stroke, Efficiency: job.Prime.Pump.Efficiency}
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	water, err := drain.PlusMinus(units.Millilitre.Of(60), units.Millilitre.Of(5), drain.Measured)
	require.NoError(t, err)
	scale, err := drain.PlusMinus(units.Gram.Of(61), units.Gram.Of(1), drain.Weighed)
	require.NoError(t, err)
	done := AsDone{Version: Version, Job: job.ID, Revision: job.Revision, Date: job.Date, By: "invented", Source: "invented", Strokes: ptr(60),
		Stations: []StationDone{{ID: job.Stations[0].ID, Water: &VolumeTaken{Volume: water, At: units.MustParseTemperature("20 °C")}}},
		Weights:  []Weight{{Stream: waste.FuelWaterMix, Station: job.Stations[0].ID, Scale: scale}}}
	review, err := plan.reviewBy(done, rulesWith(t))
	require.NoError(t, err)
	assert.Equal(t, Pass, lineOf(t, review, "stations[0].water").Verdict)
	assert.Equal(t, ByScale, review.Totals[1].Basis)
	assert.Contains(t, lineOf(t, review, "weights[0]").WantText, "scale shows")
	text, err := review.Record()
	require.NoError(t, err)
	_, err = ReadRecord(text)
	require.NoError(t, err)

	done.Weights = nil
	review, err = plan.reviewBy(done, rulesWith(t))
	require.NoError(t, err)
	assert.Equal(t, ByVolume, review.Totals[1].Basis)
	for i, total := range review.Totals {
		assert.Equal(t, i+1, total.Line)
		assert.NoError(t, total.Mass.Check())
	}
	for _, e := range review.Entries() {
		assert.NoError(t, e.Check())
	}
}
