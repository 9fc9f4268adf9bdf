package sheet

import (
	"encoding/json"
	"fmt"
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/snugturn/drain"
	"example.com/snugturn/service"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// everyJob is the jobs there are in files, and variants that set off the findings.
func everyJob(t *testing.T) map[string]service.Job {
	t.Helper()
	jobs := map[string]service.Job{}
	files, err := filepath.Glob("../testdata/jobs/*.json")
	require.NoError(t, err)
	for _, file := range append(files, "../../examples/servicesheet/demo.json") {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		job, err := service.ReadJob(text)
		require.NoError(t, err)
		jobs[file] = job
	}
	jobs["bench"] = benchPlan(t).Job
	warm := benchPlan(t, append(withWrenches(`{"id": "W-1.5", "lowest": "2.5 N·m", "highest": "9.5 N·m", "step": "0.5 N·m", "deviation": "4 %", "calibratedUntil": "2026-12-31"}`,
		`{"id": "W-2.5", "lowest": "2.5 N·m", "highest": "9.5 N·m", "step": "0.5 N·m", "deviation": "4 %", "calibratedUntil": "2025-12-31"}`),
		`"caughtAt": "60 °C"`, `"caughtAt": "41.5 °C"`, `"measuredAt": "60 °C"`, `"measuredAt": "40.5 °C"`,
		`"waste": {`, `"waste": {"month": {"rules": "US federal", "soFar": {"low": "99.5 kg", "best": "99.6 kg", "high": "99.7 kg", "from": "weighed"}},
			"drum": {"capacity": "20.5 L", "inside": {"low": "17.5 L", "best": "18.5 L", "high": "19.5 L", "from": "measured"}, "filledAt": "20.5 °C"},`)...).Job
	warm.Shop.PanHolds = units.MustParseVolume("1.25 L")
	jobs["warm, small pan, no wrench"] = warm
	jobs["two units"] = benchPlan(t, `"torque": "150 to 230 in-lb"`, `"printed": "22-29 ft-lb (29-39 N·m)"`).Job
	jobs["units that disagree"] = benchPlan(t, `"torque": "150 to 230 in-lb"`, `"printed": "1820.5-1840.5 lb-ft (2712-2740 N·m)"`).Job
	jobs["another unit meant"] = benchPlan(t, append(withWrenches(wide), `"150 to 230 in-lb"`, `"150.5 to 230.5 ft-lb"`)...).Job
	jobs["more than a turn"] = benchPlan(t, `"3/4 turn after gasket contact"`, `"1 1/4 to 1 1/2 turns after gasket contact"`).Job
	return jobs
}

// decoyed puts a number with a point into every word that the job says.
func decoyed(t *testing.T, job service.Job) service.Job {
	t.Helper()
	n := 0
	decoy := func(text string) string {
		n++
		return fmt.Sprintf("M20x1.5 no. %d.%d%s", n, n, strings.ReplaceAll(text, ".", ""))
	}
	stud, err := turn.ParseThread("M20x1.5")
	require.NoError(t, err)
	text, err := json.Marshal(job) // a copy that shares nothing
	require.NoError(t, err)
	job, err = service.ReadJob(text)
	require.NoError(t, err)
	for _, s := range []*string{&job.ID, &job.Machine, &job.Place, &job.Source, &job.Shop.LocalRules, &job.Fuel.Grade, &job.Fuel.FlashSource, &job.Waste.Into} {
		*s = decoy(*s)
	}
	for i := range job.Shop.Wrenches {
		job.Shop.Wrenches[i].Name = decoy(job.Shop.Wrenches[i].Name)
	}
	for i := range job.Isolate {
		job.Isolate[i].What, job.Isolate[i].How = decoy(job.Isolate[i].What), decoy(job.Isolate[i].How)
	}
	for i := range job.Cautions {
		job.Cautions[i] = decoy(job.Cautions[i])
	}
	for i := range job.Waste.Other {
		job.Waste.Other[i].What = decoy(job.Waste.Other[i].What)
	}
	for i := range job.Stations {
		s := &job.Stations[i]
		s.ID, s.Name, s.Element.Part = decoy(s.ID), decoy(s.Name), decoy(s.Element.Part)
		for k := range s.Connectors {
			s.Connectors[k] = decoy(s.Connectors[k])
		}
		for k := range s.Drain.Steps {
			s.Drain.Steps[k] = decoy(s.Drain.Steps[k])
		}
		for k := range s.Seals {
			s.Seals[k] = service.Seal{Part: decoy(s.Seals[k].Part), Where: decoy(s.Seals[k].Where), Wet: decoy(s.Seals[k].Wet)}
		}
		if a := s.Tighten.Adapter; a != nil {
			a.Name = decoy(a.Name)
		}
		if seat := s.Tighten.Seat; seat != nil {
			seat.Gap = decoy(seat.Gap)
		}
		if m := s.Tighten.Marks; m != nil {
			m.Index = decoy(m.Index)
			for k := range m.Labels {
				m.Labels[k] = fmt.Sprintf("no. %d.%d", k, k)
			}
			if m.AtContact != "" {
				m.AtContact = "no. 0.0"
			}
		}
		if s.Tighten.Thread == turn.RightHand && s.Tighten.Turn != (turn.Instruction{}) {
			s.Tighten.Stud = stud // and the canister, where one is stated, doesn't fit
		}
	}
	return job
}

var (
	pointed = regexp.MustCompile(`(\d)\.(\d)`)
	// What isn't a number although it looks like one: threads, the decoys, a standard's name, and
	// what is quoted from a paper.
	named = regexp.MustCompile(`"[^"]*"|M20x1\.5|no\. \d+\.\d+|11\.1-2004`)
)

func itemsOf(s Sheet) (items []Item) {
	for _, page := range s.Pages {
		for _, part := range page.Sections {
			items = append(items, part.Items...)
		}
	}
	return items
}

// A comma is in every number that is printed and in nothing else; values keep their points.
func TestDecimalComma(t *testing.T) {
	codes := map[string]bool{}
	for name, job := range everyJob(t) {
		job = decoyed(t, job)
		prefer := service.Preferences{}
		if job.Preferences != nil {
			prefer = *job.Preferences
		}
		prefer.DecimalComma = false
		job.Preferences = &prefer
		plan, err := service.NewPlan(job, service.Rules{})
		require.NoError(t, err, name)
		point := English().Sheet(plan, true)
		local := prefer
		local.DecimalComma = true
		job.Preferences = &local
		plan, err = service.NewPlan(job, service.Rules{})
		require.NoError(t, err, name)
		comma := English().Sheet(plan, true)

		before, after := itemsOf(point), itemsOf(comma)
		require.Len(t, after, len(before))
		for i, it := range after {
			codes[it.Code] = true
			assert.Equal(t, before[i].Values, it.Values, "%s: %s: the same in every language", name, it.Code)
			assert.Equal(t, before[i].Table, it.Table, "marks are names")
			assert.Equal(t, before[i].Source, it.Source)
			texts := [][2]string{{before[i].Words, it.Words}}
			if it.Picture != nil {
				texts = append(texts, [2]string{before[i].Picture.Words, it.Picture.Words})
				old, now := English().draw(before[i].Picture), English().draw(it.Picture)
				for k, shape := range now.Shapes {
					texts = append(texts, [2]string{old.Shapes[k].Text, shape.Text})
					assert.Equal(t, old.Shapes[k].Path, shape.Path, "coordinates are no numbers of the sheet")
				}
			}
			for _, text := range texts {
				assert.Equal(t, withCommas(text[0]), text[1], "%s: %s", name, it.Code)
			}
		}
		assert.Equal(t, strings.Count(point.Text(), "M20x1.5"), strings.Count(comma.Text(), "M20x1.5"), name)
		assert.NotEqual(t, point.Text(), comma.Text(), name)
		page, err := comma.HTML()
		require.NoError(t, err)
		wellFormed(t, page)
	}
	for _, code := range []string{"fuel.near-flash-point", "pan.too-small", "drum.over-limit", "month.category", "wrench.none-fits",
		"torque.third-unit", "thread.mismatch", "torque.set", "torque.with-adapter", "prime.cycles-from", "prime.strokes-from",
		"sequence.snug-stated", "seat.until", "torque.units-disagree", "torque.unit-slip", "turn.ambiguous"} {
		assert.True(t, codes[code], "no job here has %s", code)
	}
}

// withCommas is the slow way: what isn't a name and has a point between digits gets a comma.
func withCommas(text string) string {
	var b strings.Builder
	at := 0
	numbers := func(text string) string { return pointed.ReplaceAllString(text, "$1,$2") }
	for _, name := range named.FindAllStringIndex(text, -1) {
		b.WriteString(numbers(text[at:name[0]]) + text[name[0]:name[1]])
		at = name[1]
	}
	return b.String() + numbers(text[at:])
}

func TestPreferredUnits(t *testing.T) {
	job := benchPlan(t).Job
	for _, unit := range []string{"US gal", "lb", "°F", "in", "ft-lb"} {
		require.NoError(t, job.PrintIn(unit))
	}
	assert.Equal(t, service.Preferences{Volume: ptr(units.USGallon), Mass: ptr(units.Pound), Temperature: ptr(units.Fahrenheit), Length: ptr(units.Inch)}, *job.Preferences)
	assert.Equal(t, units.FootPound, job.Shop.TorqueUnit)
	assert.Nil(t, job.Shop.TorquePlaces)
	plan, err := service.NewPlan(job, service.Rules{})
	require.NoError(t, err)
	text := flat(English().Sheet(plan, true).Text())
	for _, want := range []string{
		"0.39 / 0.40 / 0.40 US gal, rounded from 1.5 L (measured)", // 1.5 L is 0.396258 US gal (1 US gal = 3.785412 L). Source: nist-sp811-b8.
		"pan that holds 2.64 US gal (rounded from 10 L)",           // 2.641720 down
		"Volume is read at 140 °F; density there",                  // 60 °C
		"kg/m³ at 59 °F",             // 15 °C
		"Least flash point 125.6 °F", // 52 °C
	} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, " L (measured); rounded", "no second system beside the one asked for")
	assert.NotContains(t, text, "in pounds")
	for _, it := range itemsOf(English().Sheet(plan, true)) {
		if it.Code == "sources.fuel" {
			assert.Equal(t, units.MustParseTemperature("15 °C"), it.Values.Get("density-at"), "values are as stated")
		}
	}

	before := *job.Preferences
	for bad, want := range map[string]error{"bar": units.ErrOtherKind, "gal": units.ErrAmbiguous, "nm": units.ErrAmbiguous,
		"": units.ErrNoUnit, "furlongs": units.ErrUnknownUnit, strings.Repeat("x", 1000): nil} {
		var parse *units.ParseError
		err := job.PrintIn(bad)
		require.ErrorAs(t, err, &parse, bad)
		if want != nil {
			assert.ErrorIs(t, err, want, bad)
		}
		assert.Equal(t, before, *job.Preferences)
		assert.Less(t, len(err.Error()), 250)
	}
}

// Whatever the unit, what is printed of an estimate holds it: low not above, high not below.
func TestPreferredUnitsRoundOutward(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Int64Range(1000, 1_000_000).Draw(t, "low")
		best := low + rapid.Int64Range(0, 1_000_000).Draw(t, "more")
		high := best + rapid.Int64Range(0, 1_000_000).Draw(t, "most")
		stated := rapid.SampledFrom([]units.VolumeUnit{units.Litre, units.Millilitre, units.USGallon}).Draw(t, "stated")
		asked := rapid.SampledFrom([]units.VolumeUnit{units.Litre, units.Millilitre, units.USGallon, units.USQuart}).Draw(t, "asked")
		of := func(n int64) units.Volume {
			q, _ := units.New(decimal.New(n, -3), stated) // few digits
			return q
		}
		text := string(English().printer(&service.Preferences{Volume: &asked}).volumes(drain.Estimate[units.VolumeUnit]{Low: of(low), Best: of(best), High: of(high), From: drain.Measured}))
		fields := strings.Fields(text)
		value := func(s string) *big.Rat {
			x, ok := new(big.Rat).SetString(s)
			require.True(t, ok, text)
			return x
		}
		require.LessOrEqual(t, value(fields[0]).Cmp(of(low).RatIn(asked)), 0, text)
		require.GreaterOrEqual(t, value(fields[4]).Cmp(of(high).RatIn(asked)), 0, text)
		off := new(big.Rat).Sub(value(fields[2]), of(best).RatIn(asked))
		off.Quo(off.Abs(off), of(best).RatIn(asked))
		require.LessOrEqual(t, off.Cmp(big.NewRat(1, 100)), 0, text)
	})
}

// Preferences change the sheet and nothing that is decided.
func TestPreferencesDecideNothing(t *testing.T) {
	for name, job := range everyJob(t) {
		job.Preferences = nil
		plain, err := service.NewPlan(job, service.Rules{})
		require.NoError(t, err)
		job.Preferences = &service.Preferences{Volume: ptr(units.USGallon), Mass: ptr(units.Pound), Temperature: ptr(units.Fahrenheit), Length: ptr(units.Inch), DecimalComma: true}
		preferred, err := service.NewPlan(job, service.Rules{})
		require.NoError(t, err)
		require.Len(t, preferred.Findings, len(plain.Findings), name)
		for i, f := range preferred.Findings {
			assert.Equal(t, plain.Findings[i].Code, f.Code)
			assert.Equal(t, plain.Findings[i].Level, f.Level)
		}
		assert.Equal(t, plain.Waste, preferred.Waste)
	}
}

// Beside a small volume stands one of its size in the other system, not hundredths of a gallon.
// 1 US fl oz is 231/128 in³, 29.5735295625 mL. Source: nist-hb44-c.
func TestVolumesBesideOneAnother(t *testing.T) {
	of := func(unit units.VolumeUnit, low, best, high int64) drain.Estimate[units.VolumeUnit] {
		return drain.Estimate[units.VolumeUnit]{Low: unit.Of(low), Best: unit.Of(best), High: unit.Of(high), From: drain.Assumed}
	}
	for _, c := range []struct {
		e    drain.Estimate[units.VolumeUnit]
		want string
	}{
		{of(units.Millilitre, 20, 60, 150), "20 / 60 / 150 mL (assumed); rounded from that, 0.6 / 2.0 / 5.1 US fl oz"},
		{of(units.USFluidOunce, 0, 2, 6), "0 / 2 / 6 US fl oz (assumed); rounded from that, 0 / 59 / 178 mL"},
		{of(units.Litre, 1, 2, 3), "1 / 2 / 3 L (assumed); rounded from that, 0.26 / 0.53 / 0.80 US gal"},
		{of(units.USQuart, 1, 2, 4), "1 / 2 / 4 US qt (assumed); rounded from that, 0.94 / 1.89 / 3.79 L"},
	} {
		assert.Equal(t, c.want, string(English().printer(nil).volumes(c.e)))
	}
}
