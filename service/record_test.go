package service

import (
	"encoding/json"
	"flag"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/drain"
	"example.com/snugturn/units"
)

var updateRecord = flag.Bool("update-record", false, "write testdata/record.json anew, to be read before it is kept")

func benchRecord(t testing.TB) []byte {
	t.Helper()
	text, err := reviewWith(t).Record()
	require.NoError(t, err)
	return text
}

// The bytes that one machine wrote are the bytes that every other writes.
func TestRecordIsTheSameEverywhere(t *testing.T) {
	text := benchRecord(t)
	if *updateRecord {
		require.NoError(t, os.WriteFile("testdata/record.json", append(text, '\n'), 0o644))
	}
	want, err := os.ReadFile("testdata/record.json")
	require.NoError(t, err)
	assert.Equal(t, strings.TrimSuffix(string(want), "\n"), string(text))
}

func TestRecordHasNeitherFloatsNorUnsortedKeys(t *testing.T) {
	text := benchRecord(t)
	outsideStrings := regexp.MustCompile(`"(\\.|[^"\\])*"`).ReplaceAllString(string(text), `""`)
	assert.NotRegexp(t, `[.eE]\d|null|\n`, outsideStrings)
	var tree any
	require.NoError(t, json.Unmarshal(text, &tree))
	sorted, err := canonical(tree)
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
		review, err := plan.Review(done, rules)
		require.NoError(t, err)
		require.Equal(t, len(review.Open()) == 0, review.Complete)
		for _, l := range review.Lines {
			require.NotEmpty(t, l.Reason)
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

// Taking a reading away never turns what is open into what is done, except where the reading was
// what spoilt it.
func TestLessReadingsNeverComplete(t *testing.T) {
	plan, rules := benchPlan(t), rulesWith(t)
	rapid.Check(t, func(t *rapid.T) {
		done := anyReadings(t)
		done.Restored = nil
		review, err := plan.Review(done, rules)
		require.NoError(t, err)
		require.False(t, review.Complete)
	})
}

func anyReadings(t *rapid.T) AsDone {
	truth := func(name string) *bool {
		return rapid.SampledFrom([]*bool{nil, ptr(true), ptr(false)}).Draw(t, name)
	}
	done := AsDone{Version: Version, Job: "T-1", Revision: 1, Date: Date{Year: 2026, Month: 3, Day: rapid.IntRange(1, 31).Draw(t, "day")},
		By: rapid.StringMatching(`[A-Za-zÄé<>&"\\ ]{1,10}`).Draw(t, "by"), Source: "invented"}
	bowl := StationDone{ID: "1", Dragged: truth("dragged"), Seated: truth("seated"), PastStop: rapid.Bool().Draw(t, "past")}
	if rapid.Bool().Draw(t, "torqued") {
		bowl.Torque = &TorqueReading{Tool: "W", Value: milli(rapid.IntRange(20000, 40000).Draw(t, "torque"))}
		if u := rapid.IntRange(0, 4000).Draw(t, "U"); u > 0 {
			bowl.Torque.Expanded = ptr(milli(u))
		}
	}
	canister := StationDone{ID: "2", Dragged: truth("dragged 2")}
	if rapid.Bool().Draw(t, "turned") {
		label := rapid.SampledFrom([]string{"A", "B", "C", "D"})
		canister.Marks = &MarksSeen{Before: MarkSeen{Mark: label.Draw(t, "before")}, After: MarkSeen{Mark: label.Draw(t, "after")},
			Passes: rapid.SampledFrom([]*int{nil, ptr(0), ptr(1)}).Draw(t, "passes")}
	}
	done.Stations = []StationDone{bowl, canister}
	done.KeyCycles = rapid.SampledFrom([]*int{nil, ptr(0), ptr(3), ptr(9)}).Draw(t, "cycles")
	if rapid.Bool().Draw(t, "looked") {
		done.Suction = &LeakCheck{ColdLeak: truth("cold"), HotLeak: truth("hot")}
		done.Pressure = &LeakCheck{ColdLeak: truth("cold 2"), HotLeak: truth("hot 2")}
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
		{"a reading", `"value":"30"`, `"value":"29"`, ErrAltered},
		{"whether it is complete", `"complete":true`, `"complete":false`, ErrAltered},
		{"the rule", `"torque":"guarded by U"`, `"torque":"simple acceptance"`, ErrHash},
		{"what the rules say", `a bowl is seated when`, `a bowl is seated where`, ErrHash},
		{"a field", `"complete":true`, `"complete":true,"novelty":1`, ErrUnknownField},
		{"a field twice", `"complete":true`, `"complete":true,"complete":true`, ErrDuplicateField},
		{"a blank", `"complete":true`, `"complete": true`, ErrAltered},
		{"a missing part", `"complete":true,`, ``, ErrMissingField},
		{"a job that can't be", `"panHolds":{"unit":"L","value":"10"}`, `"panHolds":{"unit":"L","value":"-10"}`, nil},
		{"readings that can't be", `"by":"invented"`, `"by":""`, ErrMissingField},
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

// Another release may word a reason in another way. Its record is read, its rules are held to
// their hash, and it can be judged again; that the bytes are the same is then not to be asked.
func TestRecordOfAnotherRelease(t *testing.T) {
	text := strings.Replace(string(benchRecord(t)), `"release":"`+Release+`"`, `"release":"0.0.1"`, 1)
	text = strings.Replace(text, "it ran up free", "ran up free", 1)
	record, err := ReadRecord([]byte(text))
	require.NoError(t, err)
	assert.Equal(t, "0.0.1", record.Release)
	assert.Equal(t, "ran up free", record.Lines[0].Reason)
	review, err := record.Review()
	require.NoError(t, err)
	assert.True(t, review.Complete)
}

// A job made in Go may have lists that are nil; its record still reads back.
func TestRecordOfAJobMadeInGo(t *testing.T) {
	plan := benchPlan(t)
	plan.Job.Stations[0].Seals = nil
	review, err := plan.Review(doneWith(t), rulesWith(t))
	require.NoError(t, err)
	text, err := review.Record()
	require.NoError(t, err)
	assert.Contains(t, string(text), `"seals":[]`)
	_, err = ReadRecord(text)
	require.NoError(t, err)
}

func TestRecordTooLargeToRead(t *testing.T) {
	done := doneWith(t)
	for range 3000 {
		done.Remarks = append(done.Remarks, strings.Repeat("x", 400))
	}
	review, err := benchPlan(t).Review(done, rulesWith(t))
	require.NoError(t, err)
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
		if _, err := plan.Review(done, rules); err != nil {
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
	plan, err := NewPlan(job)
	require.NoError(t, err)
	water, err := drain.Within(units.Millilitre.Of(60), units.Millilitre.Of(5), drain.Measured)
	require.NoError(t, err)
	scale, err := drain.Within(units.Gram.Of(61), units.Gram.Of(1), drain.Weighed)
	require.NoError(t, err)
	done := AsDone{Version: Version, Job: job.ID, Revision: job.Revision, Date: job.Date, By: "invented", Source: "invented", Strokes: ptr(60),
		Stations: []StationDone{{ID: job.Stations[0].ID, Water: &VolumeTaken{water, units.MustParseTemperature("20 °C")}}},
		Weights:  []Weight{{What: "fuel-wet water of station " + job.Stations[0].ID, Scale: &scale}}}
	review, err := plan.Review(done, rulesWith(t))
	require.NoError(t, err)
	assert.Equal(t, Pass, lineOf(t, review, "stations[0].water").Verdict)
	assert.Equal(t, ByScale, review.Totals[1].Basis)
	assert.Contains(t, lineOf(t, review, "weights[0]").Want, "scale shows")
	text, err := review.Record()
	require.NoError(t, err)
	_, err = ReadRecord(text)
	require.NoError(t, err)

	done.Weights = nil
	review, err = plan.Review(done, rulesWith(t))
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
