package service

import (
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/drain/waste/usfederal"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// leaves are the values of a struct that a caller can set, with those that pointers and lists lead to.
func leaves(v reflect.Value, each func(reflect.Value)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			leaves(v.Elem(), each)
		}
		each(v)
	case reflect.Slice:
		for i := range v.Len() {
			leaves(v.Index(i), each)
		}
		each(v)
	case reflect.Struct:
		inner := false
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				inner = true
				leaves(v.Field(i), each)
			}
		}
		if !inner {
			each(v)
		}
	default:
		each(v)
	}
}

// wipe sets everything that a value shares with its copies to nothing.
func wipe(of any) {
	leaves(reflect.ValueOf(of).Elem(), func(v reflect.Value) { v.SetZero() })
}

// shopJobs are the invented jobs of testdata, with those of the tests.
func shopJobs(t testing.TB) map[string][]byte {
	t.Helper()
	jobs := map[string][]byte{"bench": []byte(bench), "cover and cap": []byte(coverAndCap),
		"with wrenches": []byte(strings.NewReplacer(withWrenches(wide)...).Replace(bench))}
	names, err := filepath.Glob("testdata/jobs/*.json")
	require.NoError(t, err)
	for _, name := range names {
		if jobs[name], err = os.ReadFile(name); err != nil {
			t.Fatal(err)
		}
	}
	require.Greater(t, len(jobs), 5)
	return jobs
}

func TestPlanOwnsItsData(t *testing.T) {
	set, err := usfederal.RuleSet().Derive("Invented State", waste.MustParseDate("2026-12-01"))
	require.NoError(t, err)
	month := `"waste": {"month": {"rules": "Invented State", "soFar": {"low": "40 kg", "best": "42 kg", "high": "45 kg", "from": "weighed"}},`
	job, err := ReadJob([]byte(strings.Replace(bench, `"waste": {`, month, 1)), set)
	require.NoError(t, err)
	rules, done := rulesWith(t), doneWith(t)
	plan, err := NewPlan(job, rules, set)
	require.NoError(t, err)
	sheet, page := plan.Text(), htmlOf(t, plan)
	review, err := plan.Review(done)
	require.NoError(t, err)
	record, err := review.Record()
	require.NoError(t, err)

	wipe(&job)
	wipe(&rules)
	wipe(&set)
	assert.Equal(t, sheet, plan.Text())
	assert.Equal(t, page, htmlOf(t, plan))
	again, err := plan.Review(done)
	require.NoError(t, err)
	wipe(&done)
	for _, r := range []Review{review, again} {
		text, err := r.Record()
		require.NoError(t, err)
		assert.Equal(t, string(record), string(text))
	}
	wipe(&review)
	assert.Equal(t, sheet, plan.Text(), "nor with a review")
	text, err := again.Record()
	require.NoError(t, err)
	assert.Equal(t, string(record), string(text), "nor one review with another")
}

// The globals of the decimal package change nothing that is written here.
func TestDecimalsGlobalsChangeNothing(t *testing.T) {
	everything := func() string {
		var b strings.Builder
		put := func(v any, err error) {
			if err != nil {
				b.WriteString(err.Error())
			}
			if text, ok := v.([]byte); ok {
				v = string(text)
			}
			data, err := json.Marshal(v)
			require.NoError(t, err)
			b.Write(data)
			b.WriteByte('\n')
		}
		for _, text := range []string{"220.00 in-lb", "0.000000000000000000001 N·m", "12345678901234567890123 oz-in"} {
			q := units.MustParseTorque(text)
			put(q, nil)
			put(q.String()+q.In(units.NewtonMetre).String()+q.RoundIn(units.FootPound, 3, units.ToNearestEven).String(), nil)
		}
		put(units.MustParseTemperature("140.00 °F").In(units.Celsius), nil)
		put(units.New(decimal.New(1, 40), units.Kilogram))
		_, err := drain.ParseStatedDensity("-900000 °API")
		put("gravity", err)
		put(units.MustParseShare("4.50 %"), nil)
		put(torque.MustParseBand("25.0 N·m ± 4 %").String(), nil)
		put(turn.MustParseInstruction("0.750 turn after gasket contact"), nil)
		put(turn.MustParseThread("M20x1.50"), nil)
		mass, err := drain.Exactly(units.MustParseMass("31.20 kg"), drain.Weighed)
		require.NoError(t, err)
		put(mass, nil)
		scaled, err := mass.Scale(decimal.New(1, -1))
		put(scaled, err)
		var ledger waste.Ledger
		_, err = ledger.Add(posted(waste.Entry{Job: "W-1", Line: 1, Date: waste.MustParseDate("2026-03-31"), Stream: waste.Absorbents, Mass: mass}))
		require.NoError(t, err)
		month, err := ledger.Statement(waste.MustParseDate("2026-03-01"), usfederal.RuleSet())
		put(month.String(), err)
		put(month, nil)
		jobs := shopJobs(t)
		for _, name := range slices.Sorted(maps.Keys(jobs)) {
			job, err := ReadJob(jobs[name])
			require.NoError(t, err)
			put(job, nil)
		}
		review := reviewWith(t)
		record, err := review.Record()
		put(record, err)
		plan := benchPlan(t, withWrenches(wide)...)
		put(plan.Text()+htmlOf(t, plan), nil)
		put(plan.Sheet(), nil)
		return b.String()
	}
	want := everything()
	for name, set := range map[string]func() func(){
		"DivisionPrecision": func() func() {
			old := decimal.DivisionPrecision
			decimal.DivisionPrecision = 1
			return func() { decimal.DivisionPrecision = old }
		},
		"MarshalJSONWithoutQuotes": func() func() {
			decimal.MarshalJSONWithoutQuotes = true
			return func() { decimal.MarshalJSONWithoutQuotes = false }
		},
		"TrimTrailingZeros": func() func() { decimal.TrimTrailingZeros = false; return func() { decimal.TrimTrailingZeros = true } },
		"UseScientificNotation": func() func() {
			decimal.UseScientificNotation = true
			return func() { decimal.UseScientificNotation = false }
		},
		"ExpMaxIterations": func() func() { decimal.ExpMaxIterations = 1; return func() { decimal.ExpMaxIterations = 1000 } },
		"PowPrecisionNegativeExponent": func() func() {
			decimal.PowPrecisionNegativeExponent = 1
			return func() { decimal.PowPrecisionNegativeExponent = 16 }
		},
	} {
		t.Run(name, func(t *testing.T) {
			defer set()()
			assert.Equal(t, want, everything())
		})
	}
}

// Whatever is set in a job in Go: Check refuses it where NewPlan does, what is planned can be written
// and is read and planned the same, and what reads can be planned or says why.
func TestCheckAndPlanAcceptTheSameJobs(t *testing.T) {
	jobs := shopJobs(t)
	names := slices.Sorted(maps.Keys(jobs))
	var accepted, refused int
	rapid.Check(t, func(t *rapid.T) {
		job, err := ReadJob(jobs[rapid.SampledFrom(names).Draw(t, "job")])
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 3).Draw(t, "changes") {
			var all []reflect.Value
			leaves(reflect.ValueOf(&job).Elem(), func(v reflect.Value) { all = append(all, v) })
			mutate(t, all[rapid.IntRange(0, len(all)-1).Draw(t, "leaf")])
		}
		plan, err := NewPlan(job, Rules{})
		if errCheck := job.Check(); (errCheck == nil) != (err == nil) {
			t.Fatalf("Check says %v, NewPlan %v", errCheck, err)
		}
		text, errWrite := json.Marshal(job)
		if err != nil {
			refused++
			if back, errRead := ReadJob(text); errWrite == nil && errRead == nil {
				if _, errPlan := NewPlan(back, Rules{}); errPlan == nil {
					t.Fatalf("refused in Go, %v, and read from %s", err, text)
				}
			}
			return
		}
		accepted++
		if errWrite != nil {
			t.Fatalf("planned, and not written: %v", errWrite)
		}
		back, err := ReadJob(text)
		if err != nil {
			t.Fatalf("planned, and not read: %v", err)
		}
		again, err := NewPlan(back, Rules{})
		if err != nil {
			t.Fatalf("planned, and not planned when read: %v", err)
		}
		if plan.Text() != again.Text() {
			t.Fatal("another sheet when it is read")
		}
	})
	if !testing.Short() { // a fifth of the cases then
		assert.Positive(t, accepted)
		assert.Positive(t, refused)
	}
}

func mutate(t *rapid.T, v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(rapid.SampledFrom([]string{"", " ", "x", "\x1b", "N\u200b", "UTC", "A", strings.Repeat("y", 501)}).Draw(t, "text"))
	case reflect.Int:
		v.SetInt(rapid.SampledFrom([]int64{-1, 0, 1, 2, 30, 13, 1 << 31}).Draw(t, "count"))
	case reflect.Int64:
		v.SetInt(rapid.SampledFrom([]int64{-1, 0, 1, int64(time.Second), int64(25 * time.Hour)}).Draw(t, "time"))
	case reflect.Uint8:
		v.SetUint(rapid.SampledFrom([]uint64{0, 1, 2, 3, 99}).Draw(t, "constant"))
	case reflect.Bool:
		v.SetBool(!v.Bool())
	case reflect.Slice:
		if v.Len() > 0 && rapid.Bool().Draw(t, "shorter") {
			v.Set(v.Slice(0, v.Len()-1))
		} else if v.Len() > 0 {
			v.Set(reflect.Append(v, v.Index(0)))
		}
	default:
		v.SetZero()
	}
}

// Readings set in Go: what a review takes can be written down and read as the same record, and what
// it refuses is refused when it is read as well.
func TestReviewTakesWhatReadsBack(t *testing.T) {
	var accepted, refused int
	rules := rulesWith(t)
	plan, err := NewPlan(benchPlan(t, withWrenches(wide)...).Job, rules)
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		done, err := ReadAsDone([]byte(benchDone))
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 2).Draw(t, "changes") {
			var all []reflect.Value
			leaves(reflect.ValueOf(&done).Elem(), func(v reflect.Value) { all = append(all, v) })
			mutate(t, all[rapid.IntRange(0, len(all)-1).Draw(t, "leaf")])
		}
		review, err := plan.Review(done)
		if err != nil {
			refused++
			text, errWrite := json.Marshal(done)
			if back, errRead := ReadAsDone(text); errWrite == nil && errRead == nil {
				if _, errAgain := plan.Review(back); errAgain == nil {
					t.Fatalf("refused in Go, %v, and read from %s", err, text)
				}
			}
			return
		}
		accepted++
		record, err := review.Record()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := ReadRecord(record); err != nil {
			t.Fatalf("reviewed, and its record isn't read: %v", err)
		}
	})
	if !testing.Short() { // a fifth of the cases then
		assert.Positive(t, accepted)
		assert.Positive(t, refused)
	}
}

// A job made in Go that says nothing of how warm the fuel is has no plan, and no sheet that clears it.
func TestTemperaturesMustBeGiven(t *testing.T) {
	for path, forget := range map[string]func(*Job){
		"fuel.caughtAt":        func(j *Job) { j.Fuel.CaughtAt = units.Temperature{} },
		"fuel.measuredAt":      func(j *Job) { j.Fuel.MeasuredAt = units.Temperature{} },
		"fuel.densityAt":       func(j *Job) { j.Fuel.DensityAt = units.Temperature{} },
		"fuel.leastFlashPoint": func(j *Job) { j.Fuel.LeastFlashPoint = units.Temperature{} },
	} {
		job := benchPlan(t).Job
		forget(&job)
		_, err := NewPlan(job, Rules{})
		assert.ErrorContains(t, err, path+": ")
	}
}
