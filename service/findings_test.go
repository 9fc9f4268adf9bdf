package service

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/units"
)

// Invented wrenches of an invented shop.
const (
	wide  = `{"id": "W-1", "lowest": "10 N·m", "highest": "60 N·m", "step": "0.5 N·m", "deviation": "4 %", "length": "300 mm", "calibratedUntil": "2026-12-31"}`
	old   = `{"id": "W-2", "lowest": "20 N·m", "highest": "40 N·m", "step": "0.2 N·m", "deviation": "3 %", "calibratedUntil": "2026-03-08"}`
	heavy = `{"id": "W-3", "lowest": "80 N·m", "highest": "400 N·m", "step": "5 N·m", "deviation": "4 %", "calibratedUntil": "2026-12-31"}`
	fine  = `{"id": "W-4", "lowest": "90 in-lb", "highest": "360 in-lb", "step": "1 in-lb", "deviation": "3 %", "calibratedUntil": "2026-03-09"}`
)

func withWrenches(list ...string) []string {
	return []string{`"panHolds": "10 L"`, `"panHolds": "10 L", "wrenches": [` + strings.Join(list, ",") + `]`}
}

func TestWrenchIsChosenByItsMargin(t *testing.T) {
	plan := benchPlan(t, withWrenches(wide, old, heavy, fine)...)
	set := plan.Stations[0].Torque.Set
	require.NotNil(t, set)
	assert.Equal(t, "W-4", set.Wrench.Name, "on its last day of calibration it still serves")
	band := plan.Stations[0].Torque.Stated
	assert.True(t, band.Contains(set.Setting.Least) && band.Contains(set.Setting.Most), "%+v", set.Setting)

	gone := finding(plan, "wrench.out-of-calibration")
	require.NotNil(t, gone)
	assert.Equal(t, Caution, gone.Level)
	assert.Equal(t, "shop.wrenches[1]", gone.Where)

	plan = benchPlan(t, withWrenches(wide, old, heavy)...)
	assert.Equal(t, "W-1", plan.Stations[0].Torque.Set.Wrench.Name)
}

func TestNoWrenchFits(t *testing.T) {
	plan := benchPlan(t, withWrenches(old, heavy)...)
	assert.Nil(t, plan.Stations[0].Torque.Set)
	stop := finding(plan, "wrench.none-fits")
	require.NotNil(t, stop)
	assert.Equal(t, Stop, stop.Level)
	assert.Contains(t, stop.Words, "W-2: ")
	assert.Contains(t, stop.Words, "2026-03-08")
	assert.Contains(t, stop.Words, "W-3: ")
}

// 40 lb-ft through a 12 in wrench and a 4 in adapter straight on reads 30. Source: tm-9-2350-277.
func TestAdapterChangesTheDial(t *testing.T) {
	const tool = `{"id": "W-5", "lowest": "10 ft-lb", "highest": "60 ft-lb", "step": "1 ft-lb", "deviation": "1 %", "length": "12 in", "calibratedUntil": "2026-12-31"}`
	edits := append(withWrenches(tool), `"torque": "150 to 230 in-lb"`,
		`"torque": "36 to 44 ft-lb", "adapter": {"name": "bowl wrench", "lever": {"offset": "4 in", "angle": "0 °"}}`)
	plan := benchPlan(t, edits...)
	require.NotNil(t, plan.Stations[0].Torque.Set)
	assert.Equal(t, "30 ft-lb", plan.Stations[0].Torque.Set.Setting.Dial.String())

	noLever := strings.Replace(tool, `"length": "12 in", `, "", 1)
	edits[1] = withWrenches(noLever)[1]
	plan = benchPlan(t, edits...)
	assert.NotNil(t, finding(plan, "wrench.none-fits"), "a lever that isn't known can't be corrected for")
}

// A table prints 1820 (2712): 1820 lb-ft are 2467.6 N·m, and 2712 N·m are
// 2000 lb-ft. The first stated governs, by analogy. Sources: tm-10-4320-346, 16-cfr-1211.
func TestPrintedInTwoUnits(t *testing.T) {
	printed := func(text string) []string {
		return []string{`"torque": "150 to 230 in-lb"`, `"printed": "` + text + `"`}
	}
	plan := benchPlan(t, printed("1820-1840 lb-ft (2712-2740 N·m)")...)
	stop := finding(plan, "torque.units-disagree")
	require.NotNil(t, stop)
	assert.Equal(t, Stop, stop.Level)
	assert.Equal(t, "stations[0].tighten.printed", stop.Where)
	assert.Contains(t, stop.Words, "apart by")
	assert.Empty(t, stop.Sources, "it is arithmetic")
	assert.Equal(t, "1820-1840 lb-ft (2712-2740 N·m)", stop.Values["printed"])
	assert.Nil(t, plan.Stations[0].Torque, "neither is planned with")
	sheet := plan.Sheet()
	for text := range strings.Lines(sheet.Text()) {
		assert.NotRegexp(t, ">>> .*[0-9]", text)
	}
	assert.Contains(t, sheet.Text(), "how far isn't known")
	review, err := plan.reviewBy(doneWith(t), rulesWith(t))
	require.NoError(t, err)
	assert.Equal(t, Undecided, lineOf(t, review, "stations[0].torque").Verdict)
	assert.False(t, review.Complete)
	review, err = plan.reviewBy(doneWith(t, torqued("", "", "")...), rulesWith(t))
	require.NoError(t, err)
	assert.Equal(t, NotRecorded, lineOf(t, review, "stations[0].torque").Verdict)

	// Nor does a gap that was seen closed stand for a band that nobody knows.
	orSeated := printed("1820-1840 lb-ft (2712-2740 N·m)")
	orSeated[1] += `, "orSeated": true`
	review, err = benchPlan(t, orSeated...).reviewBy(doneWith(t), rulesWith(t))
	require.NoError(t, err)
	assert.Equal(t, Undecided, lineOf(t, review, "stations[0].torque").Verdict)
	assert.Equal(t, Seated, lineOf(t, review, "stations[0].seated").Verdict)
	assert.False(t, review.Complete)

	plan = benchPlan(t, printed("150-230 in-lb (17-26 N·m)")...)
	assert.Nil(t, finding(plan, "torque.third-unit"))
	assert.Equal(t, "16.95 to 25.98 N·m", plan.Stations[0].Torque.Wrench.String(), "the governing unit, not the rounded one")
}

func TestDrumLimit(t *testing.T) {
	drum := func(inside string) []string {
		return []string{`"into": "drum"`, `"into": "drum", "drum": {"capacity": "208 L", "filledAt": "15 °C",
			"inside": {"low": "` + inside + `", "best": "` + inside + `", "high": "` + inside + `", "from": "measured"}}`}
	}
	// 4.1.1.4 (b) allows fuel of 840 kg/m³ at 15 °C 95.08 % of 208 L, that is 197.7 L
	// (0.98 of the factors at 50 and 15 °C, computed); 2 to 2.5 L come. Sources: adr-2013, 49-cfr-173, oracle-fuel.
	assert.Nil(t, finding(benchPlan(t, drum("195 L")...), "drum.over-limit"))
	may := finding(benchPlan(t, drum("195.5 L")...), "drum.over-limit")
	require.NotNil(t, may)
	assert.Equal(t, Caution, may.Level)
	would := finding(benchPlan(t, drum("196 L")...), "drum.over-limit")
	require.NotNil(t, would)
	assert.Equal(t, Stop, would.Level)
	assert.Contains(t, would.Words, "197.7 L of 208 L")

	// The fuel comes out at 60 °C, where 2.5 L are what 2.40 L are at 15 °C (factor 0.96163 for 840 kg/m³,
	// derived as above): with 195.3 L inside that is 197.70 L.
	assert.Nil(t, finding(benchPlan(t, drum("195.3 L")...), "drum.over-limit"))
	// What isn't to be full at 55 °C may be filled to 96.59 % at 15 °C (derived likewise), 200.9 L.
	us := func(inside string) []string {
		d := drum(inside)
		d[1] += `, "month": {"rules": "US federal", "soFar": {"low": "0 kg", "best": "0 kg", "high": "0 kg", "from": "measured"}}`
		return d
	}
	assert.Nil(t, finding(benchPlan(t, us("198.4 L")...), "drum.over-limit"))
	over := finding(benchPlan(t, us("199 L")...), "drum.over-limit")
	require.NotNil(t, over)
	assert.Contains(t, over.Words, "200.9 L of 208 L")
	assert.Equal(t, []string{"49 CFR 173.24a(d)", fromMemory}, over.Sources)
	assert.Equal(t, []string{"ADR 2013, 4.1.1.4 (b)", textSeen}, would.Sources)
}

// Water that is measured below freezing is told of, and counted as it is at 0 °C, 999.84 kg/m³. Source: water-tanaka.
func TestWaterBelowFreezing(t *testing.T) {
	job := benchPlan(t).Job
	water := drain.Estimate[units.VolumeUnit]{Low: units.Litre.Of(1), Best: units.Litre.Of(1), High: units.Litre.Of(1), From: drain.Measured}
	job.Stations[0].Drain.Water = water
	job.Fuel.MeasuredAt, job.Fuel.CaughtAt = units.Celsius.Of(-5), units.Celsius.Of(-5)
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	cold := finding(plan, "water.frozen")
	require.NotNil(t, cold)
	assert.Equal(t, Caution, cold.Level)
	assert.Equal(t, "stations[0].drain.water", cold.Where)
	line := plan.Waste[1]
	assert.Equal(t, "0.99984 kg", line.Mass.Best.RoundIn(units.Kilogram, 5, units.ToNearestEven).String())

	done := doneWith(t)
	done.Stations[0].Water = &VolumeTaken{Volume: water, At: units.Celsius.Of(-2)}
	review, err := plan.reviewBy(done, rulesWith(t))
	require.NoError(t, err)
	assert.Equal(t, Pass, lineOf(t, review, "stations[0].water").Verdict)

	job.Fuel.MeasuredAt = units.Celsius.Of(0)
	plan, err = NewPlan(job, Rules{})
	require.NoError(t, err)
	assert.Nil(t, finding(plan, "water.frozen"), "at 0 °C it is water still")
}

func TestPrefillWithLiftPump(t *testing.T) {
	plan := benchPlan(t, `"fill": "dry",
      "tighten": {"torque"`, `"fill": "prefill", "prefillWith": "0.4 L", "tighten": {"torque"`)
	caution := finding(plan, "fill.with-lift-pump")
	require.NotNil(t, caution)
	assert.Equal(t, "stations[0].fill", caution.Where)
}

func far(text string) units.Length { return units.MustParseLength(text) }

func TestNextDue(t *testing.T) {
	day := func(y int, m time.Month, d int) waste.Date { return waste.Date{Year: y, Month: m, Day: d} }
	for _, c := range []struct {
		job      waste.Date
		interval Interval
		want     waste.Date
	}{
		{day(2026, 3, 9), Interval{Months: 12}, day(2027, 3, 9)},
		{day(2026, 1, 31), Interval{Months: 1}, day(2026, 2, 28)},
		{day(2027, 12, 31), Interval{Months: 2}, day(2028, 2, 29)},
		{day(2026, 3, 9), Interval{Hours: 500, HoursPerWeek: 50, Months: 12}, day(2026, 5, 18)},                               // 70 days
		{day(2026, 3, 9), Interval{Hours: 500, HoursPerWeek: 3, Months: 12}, day(2027, 3, 9)},                                 // use comes later
		{day(2026, 3, 9), Interval{Hours: 100, HoursPerWeek: 60}, day(2026, 3, 20)},                                           // 11.67 days: not the twelfth
		{day(2026, 3, 9), Interval{Distance: far("60000 km"), DistancePerWeek: far("2500 km"), Months: 12}, day(2026, 8, 24)}, // 168 days
		{day(2026, 3, 9), Interval{Distance: far("25000 mi"), DistancePerWeek: far("2500 km")}, day(2026, 6, 29)},             // 112.65 days
		{day(2026, 3, 9), Interval{Distance: far("60000 km"), DistancePerWeek: far("2500 km"), Hours: 500, HoursPerWeek: 50}, day(2026, 5, 18)},
		{day(2026, 3, 9), Interval{Distance: far("60000 km"), DistancePerWeek: far("2500 km"), Hours: 500, HoursPerWeek: 5}, day(2026, 8, 24)},
	} {
		p := &Plan{Job: Job{Date: c.job, Interval: &c.interval}}
		p.due()
		assert.Equal(t, c.want, p.Due.Date, "%+v", c)
	}
	p := &Plan{Job: Job{Date: day(2026, 3, 9), Interval: &Interval{Hours: 500}}}
	p.due()
	assert.Equal(t, NextService{AfterHours: 500}, *p.Due, "without recent use there is no day to forecast")
	p = &Plan{Job: Job{Date: day(2026, 3, 9), Interval: &Interval{Distance: far("60000 km"), DistancePerWeek: far("1 mm")}}}
	p.due()
	assert.Equal(t, NextService{AfterDistance: far("60000 km")}, *p.Due, "it hardly moves: no day to forecast")
}

func TestNewFieldsRefuse(t *testing.T) {
	for _, c := range []struct{ old, new, path string }{
		{withWrenches()[0], withWrenches(strings.Replace(wide, `"4 %"`, `"0 %"`, 1))[1], "shop.wrenches[0].deviation"},
		{withWrenches()[0], withWrenches(strings.Replace(wide, `"0.5 N·m"`, `"0 N·m"`, 1))[1], "shop.wrenches[0].step"},
		{withWrenches()[0], withWrenches(strings.Replace(wide, `"60 N·m"`, `"6 N·m"`, 1))[1], "shop.wrenches[0]"},
		{withWrenches()[0], withWrenches(strings.Replace(wide, `"300 mm"`, `"0 mm"`, 1))[1], "shop.wrenches[0].length"},
		{withWrenches()[0], withWrenches(wide, wide)[1], "shop.wrenches[1].id"},
		{withWrenches()[0], `"panHolds": "10 L", "gauges": [{"id": "G", "calibratedUntil": "2026-12-31"}, {"id": "G", "calibratedUntil": "2026-12-31"}]`, "shop.gauges[1].id"},
		{withWrenches()[0], `"panHolds": "10 L", "gauges": [{"id": "", "calibratedUntil": "2026-12-31"}]`, "shop.gauges[0].id"},
		{withWrenches()[0], `"panHolds": "10 L", "gauges": [{"id": "G"}]`, "shop.gauges[0].calibratedUntil"},
		{`"torque": "150 to 230 in-lb"`, `"printed": "150 to 230 in-lb"`, "stations[0].tighten.printed"},
		{`"turn": "3/4`, `"orSeated": true, "turn": "3/4`, "stations[1].tighten.orSeated"},
		{`"torque": "150 to 230 in-lb"`, `"printed": "17-26 N·m (150-230 in-lb)", "torque": "17 to 26 N·m"`, "stations[0].tighten"},
		{`"turn": "3/4`, `"adapter": {"name": "x", "lever": {"offset": "1 in", "angle": "0 °"}}, "turn": "3/4`, "stations[1].tighten.adapter"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum"}, "interval": {}`, "interval"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum"}, "interval": {"months": 241}`, "interval.months"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum"}, "interval": {"months": 100001}`, "interval.months"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum"}, "interval": {"months": -1}`, "interval.months"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum"}, "interval": {"distancePerWeek": "1 km"}`, "interval"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum"}, "interval": {"distance": "1 km", "distancePerWeek": "100001 km"}`, "interval.distancePerWeek"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum"}, "interval": {"hours": 5, "hoursPerWeek": 169}`, "interval.hoursPerWeek"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum"}, "interval": {"distance": "0 km"}`, "interval.distance"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum"}, "interval": {"distance": "10000001 km"}`, "interval.distance"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum"}, "interval": {"distance": "60000"}`, "interval.distance"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum"}, "interval": {"months": 1, "distancePerWeek": "-1 km"}`, "interval.distancePerWeek"},
		{`"waste": {"into": "drum"}`, `"waste": {"into": "drum", "drum": {"capacity": "0 L", "filledAt": "15 °C", "inside": {"low": "0 L", "best": "0 L", "high": "0 L", "from": "measured"}}}`, "waste.drum.capacity"},
	} {
		require.Contains(t, bench, c.old)
		_, err := ReadJob([]byte(strings.Replace(bench, c.old, c.new, 1)))
		var all JobErrors
		require.ErrorAs(t, err, &all, c.path)
		assert.Equal(t, c.path, all[0].Path, err)
		assert.Len(t, all, 1, "said once: %v", err)
	}
}

// At most 100 kg in a calendar month is a very small quantity generator. Source: 40-cfr-260. The job
// brings 3.44 kg at most.
func TestMonthMayChangeCategory(t *testing.T) {
	month := func(soFar string) []string {
		return []string{`"into": "drum"`, `"into": "drum", "month": {"rules": "US federal",
			"soFar": {"low": "` + soFar + `", "best": "` + soFar + `", "high": "` + soFar + `", "from": "weighed"}}`}
	}
	plan := benchPlan(t, month("96.5 kg")...)
	assert.Nil(t, finding(plan, "month.category"))
	plan = benchPlan(t, month("97 kg")...)
	may := finding(plan, "month.category")
	require.NotNil(t, may)
	assert.Contains(t, may.Words, "from VSQG to SQG")
	assert.Contains(t, may.Words, "determination is the generator's")
	assert.Contains(t, may.Sources[0], "260.10")
	_, err := ReadJob([]byte(strings.Replace(bench, month("1 kg")[0], strings.Replace(month("1 kg")[1], "US federal", "nowhere", 1), 1)))
	assert.ErrorContains(t, err, "waste.month.rules")
}

// A canister for 13/16-16 on an M20 × 1.5 stud may spin home and let go; the other way round it
// should not start. Common practice, no source.
func TestNearMatchThreads(t *testing.T) {
	threads := func(stud, canister string) []string {
		return []string{`"turn": "3/4`, `"stud": "` + stud + `", "canister": "` + canister + `", "turn": "3/4`}
	}
	plan := benchPlan(t, threads("M20x1.5", "13/16-16 UN")...)
	stop := finding(plan, "thread.mismatch")
	require.NotNil(t, stop)
	assert.Equal(t, Stop, stop.Level)
	assert.Contains(t, stop.Words, "let go")
	assert.Contains(t, finding(benchPlan(t, threads("13/16-16 UN", "M20x1.5")...), "thread.mismatch").Words, "should not start")
	plan = benchPlan(t, threads("1-14 UNF", "1-14 UNS")...)
	assert.Nil(t, finding(plan, "thread.mismatch"))
	require.NotNil(t, finding(plan, "thread.misnamed"), "1-14 is UNS") // Source: asme-b1-1.

	_, err := ReadJob([]byte(strings.NewReplacer(threads("M20x1.5-LH", "M20x1.5")...).Replace(bench)))
	assert.ErrorIs(t, err, errContradiction)
	assert.ErrorContains(t, err, "stations[1].tighten.stud")
}

// A gasket that comes with its canister is on the bench and isn't ordered a second time.
func TestRestock(t *testing.T) {
	job := benchPlan(t).Job
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	assert.Equal(t, []string{"element", "O-ring", "canister", "gasket"}, plan.Restock)
	job.Stations[1].Seals[0].WithElement = true
	plan, err = NewPlan(job, Rules{})
	require.NoError(t, err)
	assert.Equal(t, []string{"element", "O-ring", "canister"}, plan.Restock)
	assert.NotContains(t, plan.Text(), "station 2: gasket", "it is on the bench with the canister")
}

// Water where the job lists none is no wrong reading: it is told of, keeps the job from having gone as planned,
// and is counted with the waste of the month. 1 L at 20 °C is 0.9982 kg. Source: water-table.
func TestWaterWhereNoneIsExpected(t *testing.T) {
	plan := benchPlan(t)
	require.Zero(t, plan.Job.Stations[0].Drain.Water)
	done := doneWith(t)
	litre := units.Litre.Of(1)
	done.Stations[0].Water = &VolumeTaken{Volume: drain.Estimate[units.VolumeUnit]{Low: litre, Best: litre, High: litre, From: drain.Measured}, At: units.Celsius.Of(20)}
	review, err := plan.reviewBy(done, rulesWith(t))
	require.NoError(t, err)
	line := lineOf(t, review, "stations[0].water")
	assert.Equal(t, Fail, line.Verdict)
	assert.Equal(t, "want.no-water", line.Want.Code)
	assert.Equal(t, "why.water/found", line.Reasons[0].String())
	assert.False(t, line.Needed)
	assert.False(t, review.AsPlanned)
	assert.Contains(t, review.Departures(), line)
	last := review.Totals[len(review.Totals)-1]
	assert.Equal(t, len(plan.Waste)+1, last.Line)
	assert.Equal(t, waste.FuelWaterMix, last.Stream)
	assert.Equal(t, "1", last.Station)
	assert.Equal(t, ByVolume, last.Basis)
	assert.Equal(t, "0.9982 kg", last.Mass.Best.RoundIn(units.Kilogram, 4, units.ToNearestEven).String())
	assert.Len(t, plan.Waste, last.Line-1, "the plan stays as it was")
	record, err := review.Record()
	require.NoError(t, err)
	_, err = ReadRecord(record)
	require.NoError(t, err)

	weighed := last.Mass
	weighed.From = drain.Weighed
	done.Weights = append(done.Weights, Weight{Stream: last.Stream, Station: "1", Mass: weighed})
	review, err = plan.reviewBy(done, rulesWith(t))
	require.NoError(t, err)
	assert.Equal(t, ByMass, review.Totals[len(review.Totals)-1].Basis)
	assert.Equal(t, Pass, lineOf(t, review, fmt.Sprintf("weights[%d]", len(done.Weights)-1)).Verdict)

	none := units.Litre.Of(0)
	done = doneWith(t)
	done.Stations[0].Water = &VolumeTaken{Volume: drain.Estimate[units.VolumeUnit]{Low: none, Best: none, High: none, From: drain.Measured}, At: units.Celsius.Of(20)}
	review, err = plan.reviewBy(done, rulesWith(t))
	require.NoError(t, err)
	assert.Equal(t, Pass, lineOf(t, review, "stations[0].water").Verdict)
	assert.Len(t, review.Totals, len(plan.Waste))
}

// A density may be on a scale of the trade, which is at 60 °F: 35.2 °API are 141.5/(35.2 + 131.5) times 999.016
// kg/m³ there, and 0.845 is so many times that (11.1.5.1; Source: api-11-1). The sheet has what
// was written.
func TestDensityOnAScale(t *testing.T) {
	const stated = "\"density\": \"840 kg/m³\",\n    \"densityAt\": \"15 °C\""
	for fuel, c := range map[string]struct{ same, words string }{
		`"density": "35.2 °API"`:                                                {"847.994985002999400119976004799 kg/m³", "35.2 °API at 60 °F"},
		`"density": "35.2 deg API", "densityAt": "60 °F"`:                       {"847.994985002999400119976004799 kg/m³", "35.2 °API at 60 °F"},
		`"density": "0.845 (60/60 °F)"`:                                         {"844.16852 kg/m³", "0.845 (60/60 °F) at 60 °F"},
		`"density": {"value": "0.84417", "unit": "kg/L"}, "densityAt": "60 °F"`: {"844.17 kg/m³", "0.84417 kg/L at 60 °F"},
	} {
		plan := benchPlan(t, stated, fuel)
		want := benchPlan(t, stated, `"density": "`+c.same+`", "densityAt": "60 °F"`)
		assert.Equal(t, want.FuelOut.Mass.RoundIn(units.Kilogram, 9).String(), plan.FuelOut.Mass.RoundIn(units.Kilogram, 9).String(), fuel)
		assert.Contains(t, flat(plan.Text()), c.words, fuel)
		text, err := json.Marshal(plan.Job)
		require.NoError(t, err)
		again, err := ReadJob(text)
		require.NoError(t, err, string(text))
		assert.Equal(t, plan.Job.Fuel, again.Fuel)
	}
	for fuel, c := range map[string]struct {
		path string
		want error
	}{
		`"density": "840 kg/m³"`:                       {"fuel.densityAt", errMissingField},
		`"density": "35.2 °API", "densityAt": "15 °C"`: {"fuel.densityAt", errContradiction},
		`"density": "35.2 °API at 90 °F"`:              {"fuel.density", units.ErrSyntax},
		`"density": "0.845 relative"`:                  {"fuel.density", units.ErrAmbiguous},
		`"density": "35.2 °C", "densityAt": "15 °C"`:   {"fuel.density", units.ErrOtherKind},
		`"density": "-131.5 °API"`:                     {"fuel.density", units.ErrRange},
		`"density": "135.2 °API"`:                      {"fuel.density", drain.ErrDensity},
		`"density": 35.2`:                              {"fuel.density", errType},
		`"density": null`:                              {"fuel.density", errType},
		`"density": "", "densityAt": "15 °C"`:          {"fuel.density", units.ErrSyntax},
	} {
		_, err := ReadJob([]byte(strings.Replace(bench, stated, fuel, 1)))
		var all JobErrors
		require.ErrorAs(t, err, &all, fuel)
		assert.Equal(t, c.path, all[0].Path, err)
		assert.ErrorIs(t, err, c.want, fuel)
		assert.Len(t, all, 1, err)
	}
}
