package service

import (
	"bytes"
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
	var sorted bytes.Buffer // keys are ASCII, so that the order of bytes is theirs
	e := json.NewEncoder(&sorted)
	e.SetEscapeHTML(false)
	require.NoError(t, e.Encode(tree))
	assert.Equal(t, strings.TrimSuffix(sorted.String(), "\n"), string(text))
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
			require.NotEmpty(t, l.Reasons)
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
	done := AsDone{Version: AsDoneVersion, Job: "T-1", Revision: 1, Date: waste.Date{Year: 2026, Month: 3, Day: rapid.IntRange(1, 31).Draw(t, "day")},
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

// resealed is a record with another text in it and the hash of that, as whoever changes one on purpose would
// write it, or another release.
func resealed(t testing.TB, record, old, new string) []byte {
	t.Helper()
	root, ok := records.Parse([]byte(edited(t, record, old, new)), "", func(path, problem, _ string, _ error) { t.Fatal(path, problem) })
	require.True(t, ok)
	sealed, err := root.Sealed(sealKey)
	require.NoError(t, err)
	return sealed.JSON()
}

// refused is what reading gives for what is no record, or not the one that was written.
func refused(t *testing.T, text []byte, want error, name string) {
	t.Helper()
	record, err := ReadRecord(text)
	var all JobErrors
	require.ErrorAs(t, err, &all, name)
	assert.ErrorIs(t, err, want, name)
	assert.Equal(t, Record{}, record, name)
}

func TestAlteredRecords(t *testing.T) {
	text := string(benchRecord(t))
	for _, c := range []struct {
		name, old, new string
		plain, sealed  error // with the hash as it was, and with a new one
	}{
		{"a verdict", `"verdict":"pass"`, `"verdict":"fail"`, ErrAltered, ErrAltered},
		{"a reading", `"value":"21"`, `"value":"20"`, ErrAltered, ErrAltered},
		{"whether it is complete", `"complete":true`, `"complete":false`, ErrAltered, ErrAltered},
		{"the rule", `"torque":"guarded by U"`, `"torque":"simple acceptance"`, ErrAltered, ErrAltered},
		{"a field more", `"complete":true`, `"complete":true,"novelty":1`, ErrAltered, ErrAltered},
		{"a field more, inside", `readings","stations":[{`, `readings","stations":[{"novelty":[],`, ErrAltered, ErrAltered},
		{"an invalid number", `"revision":1`, `"revision":9007199254740993`, ErrAltered, nil},
		{"invalid text", `"by":"invented"`, `"by":"\ud800"`, ErrAltered, nil},
		{"a field twice", `"complete":true`, `"complete":true,"complete":true`, errDuplicateField, nil},
		{"a missing part", `"complete":true,`, ``, ErrAltered, errMissingField},
		{"no hash", `"sha256":`, `"sha512":`, ErrAltered, nil},
		{"a job that can't be", `"panHolds":{"unit":"L","value":"10"}`, `"panHolds":{"unit":"L","value":"-10"}`, ErrAltered, units.ErrRange},
		{"readings that can't be", `"by":"invented"`, `"by":""`, ErrAltered, errMissingField},
		{"readings of another job", `"job":"T-1"`, `"job":"T-2"`, ErrAltered, errContradiction},
		{"a malformed release", `"release":"0.1.0"`, `"release":"0.1"`, ErrAltered, units.ErrSyntax},
		{"another", `"release":"0.1.0"`, `"release":"0.1.x"`, ErrAltered, units.ErrSyntax},
		{"the end", `"verdict":"pass"`, `"verdict"`, ErrJSON, nil},
	} {
		refused(t, []byte(edited(t, text, c.old, c.new)), c.plain, c.name)
		if c.sealed != nil {
			refused(t, resealed(t, text, c.old, c.new), c.sealed, c.name+", sealed again")
		}
	}
	_, err := ReadRecord(resealed(t, text, `"panHolds":{"unit":"L","value":"10"}`, `"panHolds":{"unit":"L","value":"-10"}`))
	assert.Contains(t, pathsOf(t, err), "job.shop.panHolds")
	_, err = ReadRecord(resealed(t, text, `"by":"invented"`, `"by":""`))
	assert.Contains(t, pathsOf(t, err), "asDone.by")
	_, err = ReadRecord(resealed(t, text, `"eye":"1/24 turn","name"`, `"eye":"1/2 turn","name"`))
	assert.Contains(t, pathsOf(t, err), "rules.eye")
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

// The rules of the month are in the record, whole, and the hash is taken of them too. What is exchanged in one is
// no citation.
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
	assert.Contains(t, monthLine(t, record).String(), "why.month/stays rules=US federal category=VSQG")

	for _, c := range []struct {
		name, old, new string
		sealed         error
	}{
		{"a limit", `"upTo":{"unit":"kg","value":"100"}`, `"upTo":{"unit":"kg","value":"10"}`, ErrAltered},
		{"whether the limit is within", `"including":true`, `"including":false`, nil}, // decides nothing here
		{"days", `"days":180`, `"days":18`, nil},
		{"a source", `262.16(b)`, `262.61(b)`, nil},
		{"the day", `"asOf":"2026-11-25"`, `"asOf":"2026-11-26"`, ErrAltered},
		{"no rules", `"wasteRules":{`, `"wastedRules":{`, errContradiction},
		{"no object", `"wasteRules":{"asOf"`, `"wasteRules":null,"wastedRules":{"asOf"`, errType},
		{"another name", `"name":"US federal","notes"`, `"name":"Some State","notes"`, errContradiction},
		{"rules that can't be", `"farDays":270`, `"farDays":-270`, units.ErrRange},
	} {
		refused(t, []byte(edited(t, string(text), c.old, c.new)), ErrAltered, c.name)
		if c.sealed != nil {
			refused(t, resealed(t, string(text), c.old, c.new), c.sealed, c.name+", sealed again")
		}
	}
	rules := text[bytes.Index(text, []byte(`,"wasteRules":`)) : len(text)-1]
	bare := string(benchRecord(t))
	refused(t, resealed(t, bare, `,"sha256":`, string(rules)+`,"sha256":`), errContradiction, "rules, and a job that counts no month")
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
	}{{own, "why.month/stays rules=Invented State category=SQG"}, {before, "why.month/moves rules=US federal before=VSQG after=SQG"}} {
		text := monthRecord(t, c.rules.Name, c.rules)
		record, err := ReadRecord(text)
		require.NoError(t, err, c.rules.Name)
		assert.Equal(t, c.rules, *record.WasteRules)
		line := monthLine(t, record)
		assert.Contains(t, line.String(), c.want)
		assert.Equal(t, c.rules.Name, line.Want.Values.Get("rules"))
		assert.Equal(t, c.rules.AsOf, line.Want.Values.Get("as-of"))
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

// What another release wrote is judged again, and the verdicts that differ are listed. What it writes and this one
// doesn't know is passed over and kept.
func TestRecordOfAnotherRelease(t *testing.T) {
	const file = "testdata/other-release.json"
	if *updateRecord { // as an earlier release might have written it
		review := reviewWith(t)
		for i := range review.Lines {
			switch l := &review.Lines[i]; l.Where {
			case "stations[0].seated":
				l.Verdict = Pass
			case "stations[1].leaks.hot":
				l.Where = "stations[1].leaks.late"
			}
		}
		text, err := review.Record()
		require.NoError(t, err)
		text = resealed(t, string(text), `"release":"`+Release+`"`, `"release":"0.0.9"`)
		text = resealed(t, string(text), `"needed":true`, `"mood":"good","needed":true`)
		text = resealed(t, string(text), `"machine":"Invented engine"`, `"machine":"Invented engine","mill":{"number":1}`)
		require.NoError(t, os.WriteFile(file, text, 0o644))
	}
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	record, err := ReadRecord(text)
	require.NoError(t, err)
	assert.Equal(t, "0.0.9", record.Release)
	assert.False(t, record.Verified)
	assert.Equal(t, []Difference{
		{"stations[0].seated", "seat", Pass, Seated},
		{"stations[1].leaks.late", "leak.hot", Pass, 0},
		{"stations[1].leaks.hot", "leak.hot", 0, Pass},
	}, record.Differences)
	assert.Equal(t, "stations[0].seated, seat: pass before, now seated", record.Differences[0].String())
	assert.Equal(t, "stations[1].leaks.late, leak.hot: pass before, now no line", record.Differences[1].String())
	again, err := record.MarshalJSON()
	require.NoError(t, err)
	assert.Equal(t, string(text), string(again), "with the fields that aren't known")

	later, err := ReadRecord(resealed(t, string(benchRecord(t)), `"release":"`+Release+`"`, `"release":"9.0.0"`))
	require.NoError(t, err)
	assert.False(t, later.Verified, "and no difference, but nobody here knows what it would have judged")
	assert.Empty(t, later.Differences)
	refused(t, []byte(strings.Replace(string(benchRecord(t)), `"release":"`+Release+`"`, `"release":"9.0.0"`, 1)), ErrAltered, "a release written into it")
	for part, newer := range map[string][2]string{
		"job.version": {`"version":1,"waste":`, `"version":2,"waste":`}, "asDone.version": {`"version":1,"weights":`, `"version":2,"weights":`},
		"rules.version": {`"version":1},"sha256"`, `"version":2},"sha256"`},
	} {
		_, err := ReadRecord(resealed(t, string(benchRecord(t)), newer[0], newer[1]))
		assert.ErrorIs(t, err, ErrNewerVersion, part)
		assert.Equal(t, []string{part}, pathsOf(t, err))
	}
}

func TestDifferences(t *testing.T) {
	line := func(where string, v Verdict) Line { return Line{Where: where, Code: "c", Verdict: v} }
	old := []Line{line("a", Pass), line("a", Fail), line("b", Pass), line("d", Undecided)}
	assert.Empty(t, Differences(old, old))
	assert.Empty(t, Differences(nil, nil))
	assert.Equal(t, []Difference{{"a", "c", Fail, Pass}, {"b", "c", Pass, 0}, {"e", "c", 0, Fail}},
		Differences(old, []Line{line("d", Undecided), line("a", Pass), line("a", Pass), line("e", Fail)}), "of two of one place, each by itself")
	assert.Equal(t, Pass, old[0].Verdict, "as they were")
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
	want, err := json.Marshal(review.Lines)
	require.NoError(t, err)
	got, err := json.Marshal(back.Lines)
	require.NoError(t, err)
	assert.JSONEq(t, strings.ReplaceAll(string(want), `"reasons":null`, `"reasons":[]`), string(got))

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
	done := AsDone{Version: AsDoneVersion, Job: job.ID, Revision: job.Revision, Date: job.Date, By: "invented", Source: "invented", Strokes: ptr(60),
		Stations: []StationDone{{ID: job.Stations[0].ID, Water: &VolumeTaken{Volume: water, At: units.MustParseTemperature("20 °C")}}},
		Weights:  []Weight{{Stream: waste.FuelWaterMix, Station: job.Stations[0].ID, Scale: scale}}}
	review, err := plan.reviewBy(done, rulesWith(t))
	require.NoError(t, err)
	assert.Equal(t, Pass, lineOf(t, review, "stations[0].water").Verdict)
	assert.Equal(t, ByScale, review.Totals[1].Basis)
	assert.Equal(t, "want.scale", lineOf(t, review, "weights[0]").Want.Code)
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

// What reading costs is held against encoding/json's reading of the same bytes into maps and lists.
func BenchmarkUnmarshal(b *testing.B) {
	for name, text := range map[string][]byte{"job": []byte(bench), "record": benchRecord(b)} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				var any any
				if err := json.Unmarshal(text, &any); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
