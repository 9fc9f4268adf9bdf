package service

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// codesOf is the codes of a section's items, in order.
func codesOf(p *Plan, code, station string) (codes []string) {
	for _, item := range section(p.Sheet(), code, station).Items {
		codes = append(codes, item.Code)
	}
	return codes
}

// assertOrder holds that some codes are among others, in that order.
func assertOrder(t *testing.T, codes, want []string, name string) {
	t.Helper()
	at := 0
	for _, code := range codes {
		if at < len(want) && code == want[at] {
			at++
		}
	}
	assert.Equal(t, len(want), at, "%s: %v, in that order, among %v", name, want, codes)
}

// Each way to tighten has its steps on the sheet, in the order of the work, and its blanks; and none of
// another way's.
func TestStepsOfEachWay(t *testing.T) {
	steps := map[string]struct{ steps, blanks []string }{
		"torque":               {[]string{"torque.by-hand", "turn.sense", "torque.tighten", "torque.pull", "torque.gap"}, []string{"record.torque", "record.gap"}},
		"torque, or seated":    {[]string{"torque.by-hand", "turn.sense", "torque.tighten", "torque.pull", "torque.or-seated"}, []string{"record.torque", "record.gap"}},
		"printed":              {[]string{"torque.by-hand", "turn.sense", "torque.tighten", "torque.pull", "torque.gap"}, []string{"record.torque", "record.gap"}},
		"turn, marks":          {[]string{"turn.to", "turn.draw", "turn.sense", "turn.further", "turn.stop", "turn.too-far"}, []string{"record.marks"}},
		"turn, marks, a range": {[]string{"turn.to", "turn.index", "turn.sense", "turn.further", "turn.marks", "turn.too-far"}, []string{"record.contact", "record.marks"}},
		"turn, counted":        {[]string{"turn.to", "turn.line", "turn.sense", "turn.further", "turn.too-far"}, []string{"record.turned"}},
		"sequence, in all":     {[]string{"torque.by-hand", "turn.sense", "sequence.snug", "torque.pull", "sequence.line", "sequence.stage", "sequence.stage", "sequence.within", "sequence.turn-alone", "sequence.start-over", "sequence.snug-band"}, []string{"record.snug", "record.angle"}},
		"seat":                 {[]string{"torque.by-hand", "turn.sense", "seat.until", "seat.look", "seat.gap-left", "seat.past-stop"}, []string{"record.gap"}},
		"seat, turns":          {[]string{"torque.by-hand", "seat.turns", "turn.sense", "seat.until", "seat.look", "seat.past-stop"}, []string{"record.turns-to-stop", "record.gap"}},
		"seat, torque":         {[]string{"torque.by-hand", "turn.sense", "seat.until", "torque.tighten", "seat.look", "seat.past-stop"}, []string{"record.torque", "record.gap"}},
	}
	owned := []string{"torque.gap", "torque.or-seated", "torque.unknown", "turn.to", "turn.line", "turn.draw", "turn.further", "turn.marks",
		"sequence.snug", "sequence.line", "sequence.stage", "seat.turns", "seat.until"}
	asked := []string{"record.torque", "record.gap", "record.contact", "record.marks", "record.turned", "record.snug", "record.angle", "record.turns-to-stop", "record.turns-to-contact"}
	for name, want := range steps {
		plan, _ := oneStation(t, ways()[name].tighten, StationDone{})
		codes, blanks := codesOf(plan, "station", "1"), codesOf(plan, "record", "")
		assertOrder(t, codes, append([]string{"off.relieve", "off.cool", "drain.step", "old.part", "on.drain-closed"}, want.steps...), name)
		for _, code := range owned {
			assert.Equal(t, slices.Contains(want.steps, code), slices.Contains(codes, code), "%s: %s", name, code)
		}
		for _, code := range asked {
			assert.Equal(t, slices.Contains(want.blanks, code), slices.Contains(blanks, code), "%s: %s", name, code)
		}
	}

	// Where the units of a printed limit disagree it is run up by hand, and there it stops.
	plan, _ := oneStation(t, Tighten{Printed: "40-50 N·m (40-50 ft-lb)"}, StationDone{})
	codes := codesOf(plan, "station", "1")
	assertOrder(t, codes, []string{"torque.by-hand", "torque.unknown"}, "disagree")
	assert.NotContains(t, codes, "torque.tighten")
}

// What a turn is counted from is a step of its own, and each datum has its own.
func TestStepToTheDatum(t *testing.T) {
	for datum, want := range map[string]string{"gasket contact": "gasket-contact", "finger tight": "finger-tight", "snug": "snug"} {
		plan, _ := oneStation(t, Tighten{Turn: turn.MustParseInstruction("1/2 turn after " + datum)}, StationDone{})
		var said []string
		for _, phase := range plan.Steps() {
			for _, step := range phase.Steps {
				if step.Code == "turn.to" {
					said = append(said, step.Variant)
				}
			}
		}
		assert.Equal(t, []string{want}, said, datum)
	}
}

// A seal that goes on dry isn't wetted, whatever else is.
func TestDrySeal(t *testing.T) {
	job := benchPlan(t).Job
	job.Stations[0].Seals = []Seal{{Part: "packing", Where: "groove", Dry: true}, {Part: "ring", Where: "rim", Wet: "engine oil"}}
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	assertOrder(t, codesOf(plan, "station", "1"), []string{"old.seals", "seal.dry", "seal.wet", "fill.dry"}, "seals")
	for _, item := range section(plan.Sheet(), "station", "1").Items {
		switch item.Code {
		case "seal.dry":
			assert.Equal(t, Texts{"where": "groove", "part": "packing"}, item.Values)
		case "seal.wet":
			assert.Equal(t, Texts{"where": "rim", "part": "ring", "with": "engine oil"}, item.Values)
		}
	}
}

// Each limit of an interval is on the sheet, next to the day that follows from it.
func TestDueLines(t *testing.T) {
	far, week := units.MustParseLength("20000 km"), units.MustParseLength("700 km")
	for _, c := range []struct {
		interval Interval
		want     []string
	}{
		{Interval{Months: 6}, []string{"next.date"}},
		{Interval{Hours: 400}, []string{"next.hours"}},
		{Interval{Hours: 400, HoursPerWeek: 30}, []string{"next.date", "next.hours"}},
		{Interval{Distance: far}, []string{"next.distance"}},
		{Interval{Distance: far, DistancePerWeek: week, Months: 6}, []string{"next.date", "next.earlier", "next.distance"}},
		{Interval{Hours: 400, Distance: far}, []string{"next.hours", "next.distance"}},
	} {
		job := benchPlan(t).Job
		job.Interval = &c.interval
		plan, err := NewPlan(job, Rules{})
		require.NoError(t, err)
		assert.Equal(t, append(c.want, "next.reorder"), codesOf(plan, "next", ""), "%+v", c.interval)
		for _, item := range section(plan.Sheet(), "next", "").Items {
			switch item.Code {
			case "next.hours":
				assert.Equal(t, "400", item.Values["hours"])
			case "next.distance":
				assert.Equal(t, "20000 km", item.Values["distance"])
			case "next.date":
				assert.Equal(t, plan.Due.Date.String(), item.Values["date"])
			}
		}
	}
}

// A warning in a preferred unit is in that unit, and never says less than the figure it was made from
// nor more than the limit: 1.7 L is 0.4491 US gal, 1.2 L is 0.3170 and the month's 99.7 kg and more are
// over 219.8 lb. Source: nist-sp811-b8.
func TestWarningsInPreferredUnits(t *testing.T) {
	job := benchPlan(t).Job
	job.Stations = job.Stations[:1]
	litres := func(text string) units.Volume { return units.MustParseVolume(text) }
	out := drain.Estimate[units.VolumeUnit]{Low: litres("1 L"), Best: litres("1.5 L"), High: litres("1.7 L"), From: job.Stations[0].Drain.Out.From}
	job.Stations[0].Drain.Out = out
	job.Shop.PanHolds = litres("1.2 L")
	soFar := units.MustParseMass("99.7 kg")
	job.Waste.Month = &Month{Rules: "US federal", SoFar: drain.Estimate[units.MassUnit]{Low: soFar, Best: soFar, High: soFar, From: job.Stations[0].Element.Dry.From}}
	job.Preferences = &Preferences{Volume: ptr(units.USGallon), Mass: ptr(units.Pound)}
	plan, err := NewPlan(job, Rules{})
	require.NoError(t, err)
	pan := finding(plan, "pan.too-small")
	require.NotNil(t, pan)
	may := units.MustParseVolume(between(pan.Words, "Up to ", " may"))
	assert.Equal(t, units.USGallon, may.Unit())
	assert.True(t, !may.Less(out.High) && may.Less(litres("1.72 L")), "%v", may)
	month := finding(plan, "month.category")
	require.NotNil(t, month)
	most := units.MustParseMass(between(month.Words, "come to ", ". By"))
	assert.Equal(t, units.Pound, most.Unit())
	assert.True(t, soFar.Less(most) && most.Less(units.MustParseMass("102.1 kg")), "%v", most)
}

// 55 °C are 131 °F; 30 °F less, the margin of (a)(19), are 101 °F exactly and 38.3… °C. Source: 29-cfr-1910.
func TestFuelIsCoolBelow(t *testing.T) {
	job := benchPlan(t).Job
	job.Fuel.LeastFlashPoint = units.MustParseTemperature("55 °C")
	for scale, want := range map[units.TemperatureScale]string{units.Fahrenheit: "101 °F", units.Celsius: "38 °C"} {
		job.Preferences = &Preferences{Temperature: &scale}
		plan, err := NewPlan(job, Rules{})
		require.NoError(t, err)
		assert.Equal(t, want, plan.coolBelow().String())
	}
}

// The pan is held against the most that may come out, of a station and of all.
func TestPanIsHeldAgainstTheMost(t *testing.T) {
	job := benchPlan(t).Job
	litres := func(text string) units.Volume { return units.MustParseVolume(text) }
	range_ := func(low, best, high string) drain.Estimate[units.VolumeUnit] {
		return drain.Estimate[units.VolumeUnit]{Low: litres(low), Best: litres(best), High: litres(high), From: job.Stations[0].Drain.Out.From}
	}
	job.Stations[0].Drain.Out, job.Stations[1].Drain.Out = range_("1 L", "1.5 L", "2 L"), range_("0.2 L", "0.3 L", "0.4 L")
	for _, c := range []struct {
		pan            string
		water          drain.Estimate[units.VolumeUnit] // of station 1
		tooSmall, fill bool
	}{
		{"1.999 L", drain.Estimate[units.VolumeUnit]{}, true, true}, {"2 L", drain.Estimate[units.VolumeUnit]{}, false, true}, {"2.399 L", drain.Estimate[units.VolumeUnit]{}, false, true}, {"2.4 L", drain.Estimate[units.VolumeUnit]{}, false, false},
		{"2.049 L", range_("0 L", "0.01 L", "0.05 L"), true, true}, {"2.05 L", range_("0 L", "0.01 L", "0.05 L"), false, true},
		{"2.449 L", range_("0 L", "0.01 L", "0.05 L"), false, true}, {"2.45 L", range_("0 L", "0.01 L", "0.05 L"), false, false},
	} {
		job.Shop.PanHolds, job.Stations[0].Drain.Water = litres(c.pan), c.water
		plan, err := NewPlan(job, Rules{})
		require.NoError(t, err)
		assert.Equal(t, c.tooSmall, finding(plan, "pan.too-small") != nil, "%s: one", c.pan)
		assert.Equal(t, c.fill, finding(plan, "pan.fills") != nil, "%s: all", c.pan)
	}
}

// A slip of the unit is asked about where the torque is off every scale and would be on one in another
// unit; not where a wrench is too coarse for the band.
func TestUnitSlipOfThePaper(t *testing.T) {
	tool := func(step, highest string) Wrench {
		return Wrench{Wrench: torque.Wrench{Name: "T", Lowest: units.MustParseTorque("10 N·m"), Highest: units.MustParseTorque(highest), Step: units.MustParseTorque(step),
			Deviation: units.Percent.Of(1)}, CalibratedUntil: waste.Date{Year: 2099, Month: 1, Day: 1}}
	}
	coarse := tool("100 N·m", "310 N·m") // 110 and 210 N·m: on its scale, and no step of it in the band
	coarse.Name = "C"
	for _, c := range []struct {
		band   string
		wrench Wrench
		want   string
		more   []Wrench
	}{
		{"300 to 900 N·m", tool("1 N·m", "60 N·m"), "in-lb", nil},              // 33.9 to 101.7 N·m: reached at its low end alone
		{"31 to 34 N·m", tool("5 N·m", "60 N·m"), "", nil},                     // on the scale, and no step of it in the band; in ft-lb there were one
		{"2 to 3 N·m", tool("1 N·m", "60 N·m"), "", nil},                       // nor in ft-lb
		{"30 to 40 N·m", tool("1 N·m", "60 N·m"), "", nil},                     // reached
		{"95 to 110 ft-lb", tool("1 N·m", "120 N·m"), "N·m", nil},              // 128.8 to 149.1 N·m
		{"95 to 110 ft-lb", tool("1 N·m", "120 N·m"), "N·m", []Wrench{coarse}}, // the last wrench isn't the only one asked
	} {
		job := benchPlan(t).Job
		job.Stations = job.Stations[:1]
		job.Shop.Wrenches = append([]Wrench{c.wrench}, c.more...)
		band := torque.MustParseBand(c.band)
		job.Stations[0].Tighten.Torque = band
		plan, err := NewPlan(job, Rules{})
		require.NoError(t, err, c.band)
		slip := finding(plan, "torque.unit-slip")
		if c.want == "" {
			assert.Nil(t, slip, c.band)
			continue
		}
		require.NotNil(t, slip, c.band)
		assert.Equal(t, c.want, slip.Values["unit"], c.band)
		assert.Equal(t, "T", slip.Values["wrench"])
	}
}

func between(text, before, after string) string {
	_, text, _ = strings.Cut(text, before)
	text, _, _ = strings.Cut(text, after)
	return text
}
