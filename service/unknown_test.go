package service

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/units"
)

// without is the job of two stations, with a hand primer next to its pump, less some fields: paths such as
// "stations.0.drain.out".
func without(t *testing.T, paths ...string) Job {
	t.Helper()
	var job map[string]any
	require.NoError(t, json.Unmarshal([]byte(fileOf(t, "testdata/jobs/two-stations.json")), &job))
	job["prime"].(map[string]any)["handPrimer"] = map[string]any{"stroke": map[string]any{"low": "20 mL", "best": "25 mL", "high": "30 mL", "from": "stated"}, "efficiency": "80 %"}
	for _, path := range paths {
		var at any = job
		keys := strings.Split(path, ".")
		for _, key := range keys[:len(keys)-1] {
			if list, ok := at.([]any); ok {
				at = list[key[0]-'0']
			} else {
				at = at.(map[string]any)[key]
			}
		}
		last := keys[len(keys)-1]
		require.Contains(t, at, last)
		delete(at.(map[string]any), last)
		if last == "water" {
			at.(map[string]any)["waterUnknown"] = true
		}
	}
	text, err := json.Marshal(job)
	require.NoError(t, err)
	read, err := ReadJob(text)
	require.NoError(t, err, paths)
	return read
}

// What each estimate that is left out makes unknown, and that nothing else becomes so.
var leftOut = []struct {
	path                        string
	missing                     string   // as the plan names it
	wastes                      []string // that are unknown then
	findings                    string   // that say so
	noFuel, noCycles, noStrokes bool
}{
	{path: "stations.0.drain.water", missing: "stations[0].drain.water", wastes: []string{"fuel-water mix A"}, findings: "pan.unknown month.unknown"},
	{path: "stations.1.drain.out", missing: "stations[1].drain.out", wastes: []string{"drained fuel "}, findings: "pan.unknown drum.unknown month.unknown", noFuel: true},
	{path: "stations.0.element.dry", missing: "stations[0].element.dry", wastes: []string{"wet element A"}, findings: "month.unknown"},
	{path: "stations.1.element.retains", missing: "stations[1].element.retains", wastes: []string{"wet element B"}, findings: "month.unknown"},
	{path: "prime.void", missing: "prime.void", noCycles: true, noStrokes: true},
	{path: "prime.pump.flow", missing: "prime.pump.flow", noCycles: true},
	{path: "prime.handPrimer.stroke", missing: "prime.handPrimer.stroke", noStrokes: true},
	{path: "waste.other.0.mass", missing: "waste.other[0].mass", wastes: []string{"wipes, fuel-wet "}, findings: "month.unknown"},
	{path: "waste.month.soFar", missing: "waste.month.soFar", findings: "month.unknown"},
	{path: "waste.drum.inside", missing: "waste.drum.inside", findings: "drum.unknown"},
}

func TestLeftOutIsUnknown(t *testing.T) {
	whole, err := NewPlan(without(t), Rules{})
	require.NoError(t, err)
	assert.NotContains(t, flat(whole.Text()), "unknown")
	for _, c := range leftOut {
		plan, err := NewPlan(without(t, c.path), Rules{})
		require.NoError(t, err, c.path)
		var codes, wastes []string
		for _, f := range plan.Findings {
			if strings.HasSuffix(f.Code, ".unknown") {
				codes = append(codes, f.Code)
				assert.Equal(t, []string{c.missing}, f.Values.Get("unknown"), "%s: %s says why", c.path, f.Code)
				assert.Equal(t, Caution, f.Level)
			}
		}
		assert.Equal(t, c.findings, strings.Join(codes, " "), c.path)
		for _, w := range plan.Waste {
			if w.Unknown == nil {
				assert.NoError(t, w.Mass.Check(), w.What)
				continue
			}
			wastes = append(wastes, w.known()+" "+w.Station)
			assert.Equal(t, []string{c.missing}, w.Unknown)
			assert.ErrorContains(t, w.Mass.Check(), "doesn't say where it comes from", "no sum takes it for nothing")
		}
		assert.Equal(t, c.wastes, wastes, c.path)
		assert.Equal(t, c.noFuel, plan.FuelOut.Unknown != nil, c.path)
		assert.Equal(t, c.noFuel, !given(plan.FuelOut.Volume), c.path)
		assert.Equal(t, c.noCycles, plan.Prime.Cycles == nil, c.path)
		assert.Equal(t, c.noStrokes, plan.Prime.Strokes == nil, c.path)
		assert.Equal(t, c.noCycles || c.noStrokes, plan.Prime.Unknown != nil, c.path)

		sheet := flat(plan.Text())
		assert.Contains(t, sheet, c.missing, "%s: the sheet says why", c.path)
		assert.NotContains(t, sheet, " 0 / 0 / 0", c.path)
		said := 0
		for _, item := range allItems(plan.Sheet()) {
			if strings.Contains(item.Values["unknown"], c.missing) {
				said++
			}
		}
		assert.Positive(t, said, "%s: and its JSON, as a value", c.path)
	}
}

func allItems(s Sheet) []Item {
	all := append(append([]Item{}, s.Notices...), s.Findings...)
	for _, section := range s.Sections {
		all = append(all, section.Items...)
	}
	return all
}

// What the sheet has done instead, and asks to be written down.
func TestUnknownIsAskedFor(t *testing.T) {
	var paths []string
	for _, c := range leftOut {
		paths = append(paths, c.path)
	}
	plan, err := NewPlan(without(t, paths...), Rules{})
	require.NoError(t, err)
	for _, asked := range []string{"drain.water/unknown", "drain.fuel/unknown", "prime.void/unknown", "prime.cycles/unknown", "prime.strokes/unknown",
		"waste.mass/unknown", "record.water", "record.cycles", "record.strokes"} {
		assert.True(t, asks(plan, asked), asked)
	}
	require.NotNil(t, finding(plan, "drum.unknown"))
	assert.Equal(t, "stations[1].drain.out, waste.drum.inside", finding(plan, "drum.unknown").Values["unknown"])
	require.NotNil(t, finding(plan, "month.unknown"))
	assert.Nil(t, finding(plan, "month.category"))
}

// A review counts nothing for what nobody knows: the total, the month and the ledger stay open until it
// is weighed.
func TestUnknownInReview(t *testing.T) {
	rules := rulesWith(t)
	done := AsDone{Version: AsDoneVersion, Job: "FIELD-0093", Revision: 1, By: "invented", Source: "invented"}
	done.Date = without(t).Date
	for _, c := range leftOut {
		plan, err := NewPlan(without(t, c.path), rules)
		require.NoError(t, err)
		review, err := plan.Review(done)
		require.NoError(t, err, c.path)
		unknown := 0
		for i, total := range review.Totals {
			if total.Basis != NotStated {
				assert.NoError(t, total.Mass.Check())
				continue
			}
			unknown++
			assert.False(t, given(total.Mass), c.path)
			assert.Equal(t, "total.unknown", total.Notes[0].Code)
			assert.Equal(t, c.missing, strings.Join(total.Notes[0].Values.Get("unknown").([]string), ", "))
			entry := review.Entries()[i]
			var ledger waste.Ledger
			_, err = ledger.Add(posted(entry))
			assert.Error(t, err, "a ledger doesn't count it as nothing")
			assert.Empty(t, slices.Collect(ledger.Entries()))
		}
		assert.Equal(t, len(c.wastes), unknown, c.path)
		month := lineOf(t, review, "totals")
		if strings.Contains(c.findings, "month") {
			assert.Equal(t, Undecided, month.Verdict, c.path)
			assert.Equal(t, "found.month/unknown", month.Found.String())
			assert.Equal(t, "unknown", month.Reasons[0].Variant)
		} else {
			assert.NotContains(t, month.Found.String()+month.String(), "unknown", c.path)
		}
		text, err := review.Record()
		require.NoError(t, err)
		record, err := ReadRecord(text)
		require.NoError(t, err, "%s: a record holds what is unknown", c.path)
		assert.Equal(t, unknown, strings.Count(string(text), `"basis":"not stated"`))
		assert.Len(t, record.Totals, len(review.Totals))
	}
}

// What was read or weighed is in the place of what was unknown.
func TestReadingEndsUnknown(t *testing.T) {
	plan, err := NewPlan(without(t, "stations.0.drain.water", "stations.0.drain.out", "stations.1.element.dry", "prime.void"), rulesWith(t))
	require.NoError(t, err)
	litres := func(text string) *VolumeTaken {
		v := units.MustParseVolume(text)
		return &VolumeTaken{Volume: drain.Estimate[units.VolumeUnit]{Low: v, Best: v, High: v, From: plan.Job.Stations[1].Drain.Out.From}, At: plan.Job.Fuel.MeasuredAt}
	}
	n := 3
	done := AsDone{Version: AsDoneVersion, Job: plan.Job.ID, Revision: 1, Date: plan.Job.Date, By: "invented", Source: "invented", KeyCycles: &n,
		Stations: []StationDone{{ID: "A", Out: litres("1 L"), Water: litres("0.1 L")}}}
	review, err := plan.Review(done)
	require.NoError(t, err)
	bases := map[string]Basis{}
	for _, total := range review.Totals {
		bases[total.Stream.String()+total.Station] = total.Basis
	}
	assert.Equal(t, map[string]Basis{"drained fuel": ByPart, "fuel-water mixA": ByVolume, "wet elementA": AsPlanned, "wet elementB": NotStated, "absorbents": AsPlanned}, bases)
	for _, where := range []string{"stations[0].out", "stations[0].water", "keyCycles"} {
		l := lineOf(t, review, where)
		assert.Equal(t, Undecided, l.Verdict, where)
		assert.Equal(t, "want.unknown", l.Want.Code, where)
	}
	assert.Equal(t, "why.month/unknown unknown=[stations[1].element.dry]", lineOf(t, review, "totals").Reasons[0].String())

	// One figure off a jug whose error nobody knows is no range, and the plan has none to widen it by.
	read := done.Stations[0]
	done.Stations[0].Water = &VolumeTaken{Read: units.MustParseVolume("0.1 L"), At: plan.Job.Fuel.MeasuredAt}
	loose, err := plan.Review(done)
	require.NoError(t, err)
	assert.Equal(t, NotStated, loose.Totals[1].Basis)
	assert.False(t, given(loose.Totals[1].Mass))
	done.Stations[0] = read

	mass := plan.Job.Waste.Month.SoFar
	done.Weights = []Weight{{Stream: waste.WetElement, Station: "B", Mass: mass}}
	review, err = plan.Review(done)
	require.NoError(t, err)
	assert.NotNil(t, lineOf(t, review, "totals").Found.Values.Get("mass"))
	for _, entry := range review.Entries() {
		assert.NoError(t, entry.Check())
	}
}
